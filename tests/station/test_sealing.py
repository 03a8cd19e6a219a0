"""A form counts when a page of this sitting sent it, and when nobody changed meanwhile what it is about."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import pytest
from named_box import Workbench, opened

from solander.core.statements import Says
from solander.station.guard import TOKEN_HEADER
from solander.station.sealing import seal
from solander.tasks.keep_people import say_date

INGRID = "/person/Ingrid%20Sollih%C3%B8gda"
TEMPLATES = Path(__file__).parents[2] / "src/solander/station/templates"
FORM = re.compile(r"<form(?:[^>{]|\{\{.*?\}\}|\{%.*?%\})*>", re.DOTALL)
FIELD = re.compile(r'<input type="hidden" name="(\w+)" value="([^"]*)">')


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Workbench]:
    with opened(tmp_path / "box") as made:
        yield made


def form_of(page: str, action: str) -> dict[str, str]:
    """The hidden fields of the form that leads to an address."""
    form = re.search(rf'<form[^>]*action="{re.escape(action)}"[^>]*>(.*?)</form>', page, re.DOTALL)
    assert form, f"no form leads to {action}"
    return {name: unescape(text) for name, text in FIELD.findall(form[1])}


def died(bench: Workbench) -> list[str]:
    said = bench.collection.catalogue.said_of_person("Ingrid Sollihøgda")
    return [one.words for one in said if one.says is Says.DIED]


OF_PHONES = ("pair.html",)
"""Served to phones alone, where there is no sitting yet: its form bears a code that is good for once."""

OF_THE_WORKBENCH = sorted(path for path in TEMPLATES.glob("*.html") if path.name not in OF_PHONES)


@pytest.mark.parametrize("template", OF_THE_WORKBENCH, ids=lambda path: path.stem)
def test_every_form_that_changes_something_is_sealed(template):
    text = template.read_text(encoding="utf-8")
    forms = [found for found in FORM.finditer(text) if re.search(r'method="?post', found[0], re.IGNORECASE)]
    bare = [found[0] for found in forms if not text[found.end() :].lstrip().startswith("{{ sealed(")]
    assert bare == []


def test_a_page_carries_the_word_and_the_last_change(bench):
    fields = form_of(bench.get(INGRID).text, f"{INGRID}/date")
    assert fields["token"] == seal()
    assert int(fields["seen"]) == bench.collection.catalogue.last_change()


@pytest.mark.parametrize("token", ["", "x", seal()[:-1], seal() + "x"], ids=("none", "another", "short", "long"))
def test_without_the_word_nothing_is_written_and_what_was_typed_is_shown_again(bench, token):
    fields = {"says": "died", "date": "12 May 1999", "token": token}
    answer = bench.send(f"{INGRID}/date", fields, {"origin": "http://127.0.0.1"})
    assert answer.status_code == 409
    assert "12 May 1999" in answer.text
    assert died(bench) == []
    again = form_of(answer.text, f"{INGRID}/date")
    assert again.pop("token") == seal()
    assert bench.post(f"{INGRID}/date", **again).status_code == 200
    assert died(bench) == ["12 May 1999"]


def test_what_somebody_else_changed_meanwhile_is_not_overwritten(bench):
    """Two windows show one person; the second to save sees both versions, and nothing is lost."""
    mine = form_of(bench.get(INGRID).text, f"{INGRID}/date")
    theirs = dict(mine)
    assert bench.post(f"{INGRID}/date", says="died", date="1997", **theirs).status_code == 200
    answer = bench.post(f"{INGRID}/date", says="died", date="12 May 1999", **mine)
    assert answer.status_code == 409
    assert "Somebody else changed the same" in answer.text
    assert re.search(r"<dd>[^<]*died: 1997", answer.text)
    assert re.search(r"<dd>12 May 1999</dd>", answer.text)
    assert died(bench) == ["1997"]
    again = form_of(answer.text, f"{INGRID}/date")
    assert bench.post(f"{INGRID}/date", **again).status_code == 200
    assert "12 May 1999" in died(bench)


def test_a_change_of_something_else_is_no_hindrance(bench):
    mine = form_of(bench.get(INGRID).text, f"{INGRID}/date")
    say_date(bench.collection, "Olav Sollihøgda", Says.DIED, "1972")
    assert bench.post(f"{INGRID}/date", says="died", date="1999", **mine).status_code == 200
    assert died(bench) == ["1999"]


def test_a_program_may_send_the_word_in_a_header_of_its_own(bench):
    def send(**headers: str) -> int:
        return bench.send(f"{INGRID}/date", {"says": "died", "date": "1999"}, headers).status_code

    assert send() == 403
    assert send(**{TOKEN_HEADER: "guessed"}) == 409
    assert send(**{TOKEN_HEADER: seal(), "origin": "https://evil.example"}) == 403
    assert send(**{TOKEN_HEADER: seal(), "sec-fetch-site": "cross-site"}) == 403
    assert died(bench) == []
    assert send(**{TOKEN_HEADER: seal()}) in (200, 303)
    assert died(bench) == ["1999"]
