"""What README and docs tell to type is there: every verb with its options is looked for in the program itself."""

from __future__ import annotations

import re
from pathlib import Path

import click
import pytest

from solander.cli.main import solander

ROOT = Path(__file__).parents[2]
DOCUMENTS = [ROOT / "README.md", ROOT / "CONTRIBUTING.md", *sorted((ROOT / "docs").glob("*.md"))]
COMMAND = re.compile(r"(?:\./run|solander) ([a-z][a-z-]+(?: [^`|#]*)?)")


def faults_in(line: str) -> list[str]:
    """Verbs and options of commands in a line that the program does not have."""
    faults = []
    for words in (typed.split() for typed in COMMAND.findall(line)):
        verb = solander.get_command(click.Context(solander), words[0])
        if verb is None:
            faults.append(f"no verb {words[0]}")
            continue
        known = {option for each in verb.params for option in (*each.opts, *each.secondary_opts)} | {"--help"}
        options = [re.sub(r"[=.,;:)].*", "", word) for word in words if word.startswith("--")]
        faults += [f"{words[0]} has no {option}" for option in options if option not in known]
    return faults


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: path.name)
def test_every_command_that_a_document_tells_is_there(document: Path) -> None:
    lines = document.read_text(encoding="utf-8").splitlines()
    assert [(number, fault) for number, line in enumerate(lines, 1) for fault in faults_in(line)] == []


def test_what_is_not_there_is_seen() -> None:
    assert faults_in("Type `./run accesion box` or `./run date --loud summer`.") == [
        "no verb accesion",
        "date has no --loud",
    ]
    assert sum(len(COMMAND.findall(each.read_text(encoding="utf-8"))) for each in DOCUMENTS) > 60
