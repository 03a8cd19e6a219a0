"""The verbs that answer without a collection, and their JSON: one object a line, in the order of the input."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner
from PIL import Image

from solander.cli.main import solander
from solander.imaging.simulate import Paper, Placement, Stage, drawn_picture, simulate_capture

WORKED = Path(__file__).parents[1] / "core" / "data" / "dating-worked.json"


def answered(*arguments: object, status: int = 0) -> list[dict]:
    """The objects on stdout; anything else there fails to be read."""
    result = CliRunner().invoke(solander, [str(argument) for argument in arguments])
    assert result.exit_code == status, result.output
    return [json.loads(line) for line in result.stdout.splitlines()]


@pytest.fixture(scope="module")
def image(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, list]:
    """A capture of one print, and its true corners."""
    paper = Paper(drawn_picture(1, (480, 340)), (96, 68), seed=1)
    seen = simulate_capture([paper], [Placement((360, 270), 2.0, 4.6)], Stage("grey"), size=(720, 540), seed=1)
    path = tmp_path_factory.mktemp("image") / "print.png"
    Image.fromarray(seen.rgb).save(path)
    return path, seen.truths[0].tolist()


def test_outlines_of_good_and_bad_files_in_their_order(image: tuple[Path, list], tmp_path: Path) -> None:
    path, truth = image
    (tmp_path / "empty.jpg").touch()
    inputs = [tmp_path / "missing.jpg", path, tmp_path / "empty.jpg"]
    found = answered("outline", *inputs, "--json", status=1)
    assert [one["image"] for one in found] == [str(each) for each in inputs]
    assert [set(one) == {"image", "error"} for one in found] == [True, False, True]
    good = found[1]
    assert (set(good), good["width"], good["height"]) == ({"image", "width", "height", "prints", "ms"}, 720, 540)
    (only,) = good["prints"]
    assert set(only) == {"corners", "confidence"}
    assert np.abs(np.array(only["corners"]) - truth).max() < 1.5


def test_a_stage_that_cannot_be_read_stops_before_the_first_image(
    image: tuple[Path, list], tmp_path: Path
) -> None:
    result = CliRunner().invoke(
        solander, ["outline", str(image[0]), "--stage", str(tmp_path / "no.jpg"), "--json"]
    )
    assert result.stdout == ""
    assert result.exception is not None
    assert getattr(result.exception, "exit", None) == 2


def test_phrases_become_readings_best_first() -> None:
    summer, both, nothing = answered("date", "summer 1958", "3/7/48", "the year of the flood", "--json")
    assert summer == {
        "phrase": "summer 1958",
        "readings": [{"edtf": "1958-22", "earliest": "1958-06-01", "latest": "1958-08-31"}],
        "unused": [],
    }
    assert both["phrase"] == "3/7/48"
    assert both["readings"]
    assert (nothing["readings"], bool(nothing["unused"])) == ([], True)


def test_the_language_can_be_told() -> None:
    (read,) = answered("date", "Sommer 1958", "--language", "de", "--json")
    assert read["readings"][0]["edtf"] == "1958-22"


def test_one_problem_that_is_wrong_leaves_the_others(tmp_path: Path) -> None:
    data = json.loads(WORKED.read_text(encoding="utf-8"))
    data["examples"] = [data["examples"][0], {"id": "wrong", "statements": 7}, data["examples"][1]]
    path = tmp_path / "problems.json"
    path.write_text(json.dumps(data), encoding="utf-8")
    first, wrong, last = answered("chronology", path, "--json", status=1)
    assert ("error" in first, set(wrong), "error" in last) == (False, {"id", "error"}, False)


def test_the_version_is_told() -> None:
    assert CliRunner().invoke(solander, ["--version"]).stdout.startswith("Solander ")


def test_evidence_is_found_by_what_one_sees() -> None:
    """The thesis on deckle edges (A. Krentz, Ryerson University, 2014) is a row of the table."""
    (fact,) = answered("evidence", "deckle", "edge", "--json")
    assert (fact["id"], fact["earliest"], fact["bounds"], fact["binds"]) == ("E124", "1930", "printing", False)
    assert "Krentz" in fact["source"]
    assert len(answered("evidence", "--json")) == 169


def test_evidence_that_nobody_knows_ends_with_1() -> None:
    result = CliRunner().invoke(solander, ["evidence", "unicorn"])
    assert result.exit_code == 1
    assert "Nothing is known of “unicorn”" in result.output


def test_evidence_that_is_nearly_known_is_asked_about() -> None:
    result = CliRunner().invoke(solander, ["evidence", "scalloped", "edge"])
    assert result.exit_code == 1
    assert result.output.splitlines()[:2] == [
        "Nothing is known of “scalloped edge”. Did you mean:",
        "  E063  cabinet card: scalloped edges, 1888 to 1903",
    ]
    assert answered("evidence", "scalloped", "edge", "--json", status=1) == []


def test_all_evidence_is_a_line_each_under_its_kind() -> None:
    lines = CliRunner().invoke(solander, ["evidence"]).output.splitlines()
    assert max(map(len, lines)) <= 80
    assert len([line for line in lines if line.startswith("  E")]) == 169
    kinds = [line for line in lines if not line.startswith("  ")]
    assert len(set(kinds)) == len(kinds) == 14
    assert "  E124  deckle (ragged) edge, 1930 to 1969" in lines
    assert "  E008  gelatin silver developing-out paper (monochrome), 1874 to …" in lines


def test_evidence_in_full_names_its_source_and_repeats_no_years() -> None:
    output = CliRunner().invoke(solander, ["evidence", "E077"]).output
    assert "1904 to 1918: dates the paper" in output
    assert "mostly" not in output
    assert "Source: EdinPhoto: Real photo post cards: stamp boxes" in output
    assert max(map(len, output.splitlines())) <= 80
