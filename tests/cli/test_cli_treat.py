"""`solander treat`: lists, proposes, gives and withdraws; JSON as the manual says, lines that fit a terminal."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from solander.cli import treat as treat_verb
from solander.cli.main import solander
from solander.core.errors import CannotBegin
from solander.engine.local import SerialExecutor
from solander.tasks.collection import Collection
from solander.tasks.prepare import view_paths

sys.path.insert(0, str(Path(__file__).parents[1] / "tasks"))

from yellow_box import enter_prints, view_of


@pytest.fixture
def box(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(treat_verb, "local_executor", SerialExecutor)
    with Collection.create(tmp_path / "box") as collection:
        enter_prints(collection)
    return tmp_path / "box"


def ran(*arguments: object) -> Result:
    given = ["treat", *(str(argument) for argument in arguments)]
    return CliRunner().invoke(solander, given, standalone_mode=False)


def told(*arguments: object) -> list[dict[str, object]]:
    """The objects on stdout; nothing else is there."""
    return [json.loads(line) for line in ran(*arguments, "--json").stdout.splitlines()]


def test_it_proposes_and_gives_what_was_proposed_when_asked(box):
    proposed = told(box, "--container", "B1", "--propose")
    assert [one["print"] for one in proposed] == ["B1-0001", "B1-0002", "B1-0003"]
    assert proposed[0]["treatment"] == ["yellow stain taken off, the tone kept"]
    assert proposed[0]["asks_neutral"] is False
    assert told(box) == []
    assert [one["print"] for one in told(box, "--accept", "--print", "B1-0002")] == ["B1-0002"]
    (listed,) = told(box)
    assert (listed["print"], listed["side"]) == ("B1-0002", "recto")
    assert listed["steps"][0]["name"] == "yellowing"


def test_it_gives_switches_off_and_withdraws(box):
    given = ran(box, "--give", "density=-0.1", "--give", "neutral", "--container", "B2")
    assert "Done: treated the front of B2-0001" in given.stdout
    ran(box, "--off", "neutral")
    assert ran(box).stdout.splitlines()[:2] == ["B2-0001 recto", "  paper border made neutral (off)"]
    ran(box, "--on", "neutral")
    ran(box, "--withdraw", "density")
    assert told(box)[0]["treatment"] == ["paper border made neutral"]
    assert "withdrew the treatment" in ran(box, "--withdraw", "all").stdout
    assert ran(box, "--withdraw", "all").stdout == "Nothing had to change.\n"


def test_a_picture_that_can_t_be_looked_at_keeps_no_other_from_what_is_proposed(box):
    ran(box, "--propose")
    next(box.glob(f"views/*/{view_of(1).key}.proposal.json")).unlink()
    for path in view_paths(box / "views", view_of(1).key):
        path.unlink()
    lines = told(box, "--accept", "--container", "b1")
    assert [one["print"] for one in lines] == ["B1-0002", "B1-0003", "B1-0001"]
    assert "error" in lines[2]


def test_a_print_that_can_t_is_told_and_the_others_go_on(box):
    result = ran(box, "--container", "B1", "--give", "texture", "--json")
    assert result.exit_code == 1
    lines = [json.loads(line) for line in result.stdout.splitlines()]
    assert lines[0] == {"print": "B1-0001", "error": "no pattern repeats all over its paper"}
    assert len(lines) == 4


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        (("--give", "density=much"), "its value is no number and no JSON"),
        (("--give", "density=3"), "must be a number from -0.4 to 0.4"),
        (("--off", "shine"), "is no step of a treatment"),
        (("--off", "all"), "is no step of a treatment"),
        (("--on", "all"), "is no step of a treatment"),
        (("--give", f'density={{"by": 1{"0" * 400}}}'), "must be a number from -0.4 to 0.4"),
        (("--give", "shine"), "is no step of a treatment"),
        (("--give", "density=0.1", "--withdraw", "all"), "more than one thing was asked for"),
    ],
)
def test_what_can_t_be_is_refused_before_anything_is_done(box, arguments, why):
    result = ran(box, *arguments)
    assert isinstance(result.exception, CannotBegin)
    assert why in str(result.exception)


def test_lines_fit_a_terminal_of_80_columns(box):
    texts = [ran("--help").stdout, ran(box, "--propose").stdout, ran(box).stdout]
    lines = [line for text in texts for line in text.splitlines() if str(box) not in line]
    assert max(map(len, lines)) <= 80
