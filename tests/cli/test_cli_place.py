"""`solander place`: its JSON keeps to the form that is agreed, and people read it in 80 columns."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

from solander.cli.main import solander
from solander.core.errors import CannotBegin


def run(*arguments: str, status: int = 0) -> str:
    result = CliRunner().invoke(solander, ["place", *arguments])
    assert result.exit_code == status, result.output
    return result.stdout


def test_candidates_come_best_first_one_object_a_line_in_the_order_of_the_input() -> None:
    first, second = map(json.loads, run("Gorky, USSR", "near Bergen", "--json").splitlines())
    assert first["phrase"] == "Gorky, USSR"
    best = first["candidates"][0]
    assert {"name", "country", "latitude", "longitude", "radius_m", "score"} <= best.keys()
    assert (best["name"], best["country"]) == ("Nizhniy Novgorod", "RU")
    assert best["latitude"] == pytest.approx(56.33, abs=0.1)
    scores = [one["score"] for one in second["candidates"]]
    assert scores == sorted(scores, reverse=True)
    assert second["unused"] == []


def test_a_phrase_that_names_nothing_is_an_error_in_its_place_and_the_rest_goes_on() -> None:
    bad, good = map(json.loads, run("?", "Bergen", "--json", status=1).splitlines())
    assert bad.keys() == {"phrase", "error"}
    assert good["candidates"][0]["name"] == "Bergen"


def test_a_place_that_no_table_knows_has_no_candidates() -> None:
    assert json.loads(run("Xyzzyqwert", "--json")) == {"phrase": "Xyzzyqwert", "candidates": [], "unused": []}


def test_a_date_that_is_none_stops_it_before_it_begins() -> None:
    result = CliRunner().invoke(solander, ["place", "Bergen", "--on", "19x"])
    assert isinstance(result.exception, CannotBegin)
    assert result.exception.exit == 2


def test_a_person_reads_it_in_eighty_columns() -> None:
    said = run("Gorky, USSR", "Llanfairpwllgwyngyll", "Springfield", "the beach at Scheveningen, Holland")
    assert max(map(len, said.splitlines())) <= 80
    assert "it was called Gorky 1932–1990" in said
    assert "not understood: beach" in said


def test_values_after_two_hyphens_may_begin_with_one() -> None:
    assert json.loads(run("--json", "--", "-Bergen"))["candidates"]
