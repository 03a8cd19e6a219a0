"""What is said on screens is said in German and in French too, all of it."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable
from functools import cache
from pathlib import Path

import pytest
from messages import collected, kept, missing

CODES = ("de", "fr")
PLACE = re.compile(r"%\(\w+\)s|%%")


def pairs(code):
    """Each message with what it becomes, one pair for each form of a plural."""
    for message in kept(code):
        if message.id:
            told = message.string if isinstance(message.string, (tuple, list)) else (message.string,)
            asked = message.id if isinstance(message.id, (tuple, list)) else (message.id,)
            for said in told:
                yield asked, said


def ids(catalogue) -> set[object]:
    return {message.id for message in catalogue if message.id}


@cache
def in_the_sources() -> set[object]:
    return ids(collected())


@pytest.mark.parametrize("code", CODES)
def test_the_message_file_is_in_step_with_the_sources(code):
    """Otherwise: .venv/bin/python tools/messages.py."""
    assert ids(kept(code)) == in_the_sources()


def test_no_message_hides_in_a_string_with_places():
    """There the collection of messages does not see it."""
    hidden = re.compile(r"\{(_n?|Sentence|Counted)\(['\"]")
    source = Path(__file__).parents[2] / "src"
    assert [path.name for path in source.rglob("*.py") if hidden.search(path.read_text(encoding="utf-8"))] == []


@pytest.mark.parametrize("code", CODES)
def test_every_message_is_translated_and_none_is_only_a_guess(code):
    assert missing(kept(code)) == []
    assert [message.id for message in kept(code) if message.id and message.fuzzy] == []


@pytest.mark.parametrize("code", CODES)
def test_every_place_of_a_message_is_in_its_translation(code):
    """A place that is missing loses what stood there; one too many stops the page."""
    wrong = []
    for asked, said in pairs(code):
        allowed = {place for form in asked for place in PLACE.findall(form)}
        if set(PLACE.findall(said)) - allowed or (len(asked) == 1 and set(PLACE.findall(said)) != allowed):
            wrong.append((asked, said))
    assert wrong == []


@pytest.mark.parametrize("code", CODES)
def test_no_translation_brings_a_tag_that_the_message_has_not(code):
    """Messages are taken for HTML as they are; what is put into their places is escaped."""
    tags = re.compile(r"<[^>]*>")
    assert [
        (asked, said) for asked, said in pairs(code) if set(tags.findall(said)) - set(tags.findall(asked[0]))
    ] == []


TROUBLES = {"Trouble", "InvalidValue", "NotFound", "CannotBegin", "Damaged", "WorkerDied"}
SHOWN = ("tasks", "station", "catalogue", "core", "authorities", "vault", "intake", "reading")
"""Folders whose troubles and acts reach pages."""

ONLY_COMMANDS = {
    "core/chronology",
    "authorities/gazetteer/build.py",
    "tasks/chronology.py",
    "tasks/coarsen.py",
} | {
    "tasks/release.py",
    "tasks/sheet.py",
    "tasks/verify.py",
}
"""What is met at the command line alone speaks English."""


def spoken(call: ast.Call) -> Iterable[ast.expr]:
    """What a call says to people: all that a trouble tells, the sentence of an act."""
    name = call.func.id if isinstance(call.func, ast.Name) else getattr(call.func, "attr", "")
    return call.args if name in TROUBLES else call.args[1:2] if name == "act" else ()


def is_english_alone(said: ast.expr) -> bool:
    words = [
        part.value for part in ast.walk(said) if isinstance(part, ast.Constant) and isinstance(part.value, str)
    ]
    return isinstance(said, (ast.Constant, ast.JoinedStr)) and any(re.search("[a-z]{2}", each) for each in words)


def test_what_is_raised_and_what_is_done_can_be_told_in_each_language():
    """Otherwise: make it a `Sentence` (core/sentence.py)."""
    source = Path(__file__).parents[2] / "src" / "solander"
    english = []
    for file in (file for folder in SHOWN for file in (source / folder).rglob("*.py")):
        where = file.relative_to(source).as_posix()
        if not where.startswith(tuple(ONLY_COMMANDS)):
            calls = (node for node in ast.walk(ast.parse(file.read_text("utf-8"))) if isinstance(node, ast.Call))
            english += [
                f"{where}:{said.lineno}" for call in calls for said in spoken(call) if is_english_alone(said)
            ]
    assert english == []
