"""The page of one print: its slip opens, what is typed is kept beside other views, and forms do all of it."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from print_bench import PrintBench, print_collection

from solander.core.statements import Says, Sure
from solander.tasks.collection import Collection

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def filled(tmp_path_factory) -> Path:
    """The collection as all tests find it; each works on a copy of its own."""
    root = tmp_path_factory.mktemp("filled") / "box"
    print_collection(root).close()
    return root


@pytest.fixture
def bench(filled, tmp_path, monkeypatch) -> Iterator[PrintBench]:
    monkeypatch.setenv("SOLANDER_GAZETTEER", str(tmp_path / "none.db"))
    with Collection.open(shutil.copytree(filled, tmp_path / "box")) as collection:
        yield PrintBench(collection)


def said(bench: PrintBench, accession: str = "B1-0001") -> list[tuple[Says, str, Sure, str]]:
    there = bench.collection.catalogue.statements(subject=accession)
    return [(one.says, one.words, one.sure, one.source) for one in there]


def test_every_part_of_the_slip_has_its_key_and_opens_by_a_link(bench):
    page = bench.get("/print/B1-0001").text
    for key, field in enumerate(("date", "place", "people", "occasion", "caption", "note", "back", "seen"), 1):
        assert f'href="/print/B1-0001?say={field}" data-key="{key}"' in page
    assert page.count(" hidden disabled>") == 8
    opened = bench.get("/print/B1-0001?say=people").text
    assert opened.count(" hidden disabled>") == 7
    assert 'name="said" aria-label="Who"' in opened


def test_a_date_is_kept_told_and_taken_back(bench):
    page = bench.post("/print/B1-0001/say", field="date", said="summer 58", by="Aunt Vera", sure="likely")
    assert page.url.path == "/print/B1-0001"
    assert said(bench) == [(Says.EXPOSURE, "summer 58", Sure.LIKELY, "Aunt Vera")]
    assert "Summer 1958, likely" in page.text
    assert "date “summer 58”, as Aunt Vera says." in page.text
    act = str(page.url.params["done"])
    bench.post("/undo", act=act, then="/print/B1-0001")
    assert said(bench) == []


def test_a_note_is_kept_to_its_last_letter_however_long_it_is(bench):
    letter = "Dear Nils, we went down to the boathouse again. " * 200
    bench.post("/print/B1-0001/say", field="note", said=letter)
    assert [one[1] for one in said(bench)] == [letter.strip()]
    assert bench.get(f"/print/B1-0001/understood?field=note&said={letter}").status_code == 200


def test_who_says_so_may_be_typed_and_goes_before_who_was_chosen(bench):
    bench.post("/print/B1-0001/say", field="note", said="a boat", **{"by": "Aunt Vera", "by-typed": "Uncle  Joe "})
    assert said(bench) == [(Says.NOTE, "a boat", Sure.CERTAIN, "Uncle Joe")]


@pytest.mark.slow
def test_keeping_may_lead_to_the_next_print_with_the_same_part_open(bench):
    bench.post("/print/B1-0001/say", field="date", said="1940")
    page = bench.post("/print/B1-0001/say", field="people", said="Nan", next="1")
    assert page.url.path == "/print/B1-0002"
    assert page.url.params["say"] == "people"
    assert "Take it back" in page.text


def test_what_is_understood_is_shown_without_being_kept(bench):
    told = bench.get("/print/B1-0001/understood?field=date&said=between+Whitsun+1936+and+the+war").text
    assert "Between about 31 May 1936" in told
    assert 'class="strip"' in told
    assert 'data-sure="likely"' in told
    looked = bench.post("/print/B1-0001/say", field="date", said="summer 58", look="1")
    assert looked.status_code == 200
    assert 'value="summer 58"' in looked.text
    assert "Summer 1958" in looked.text
    assert said(bench) == []


def test_nothing_is_lost_where_nothing_could_be_kept(bench):
    page = bench.post("/print/B1-0001/say", field="seen", said="dekle edge")
    assert page.status_code == 400
    assert 'value="dekle edge"' in page.text
    assert "deckle (ragged) edge" in page.text
    assert said(bench) == []


def test_people_are_parted_with_their_ages(bench):
    told = bench.get("/print/B1-0002/understood?field=people&said=Nan+%2B+Uncle+Joe").text
    assert "Ingrid Sollihøgda (24 or 25)" in told
    assert "Joseph Weber (46 or 47)" in told


def test_a_place_lies_on_the_map_with_its_radius(bench):
    told = bench.get("/print/B1-0001/understood?field=place&said=the+boathouse").text
    assert "data-map=" in told
    assert "within 30 m" in told


@pytest.mark.slow
def test_what_cannot_be_true_as_well_is_said_before_and_shown_with_what_could_give_way(bench):
    told = bench.get("/print/B1-0002/understood?field=seen&said=50-star+US+flag").text
    assert "can’t be true together with: dated “1952”" in told
    page = bench.post("/print/B1-0002/say", field="seen", said="50-star US flag").text
    assert "These can’t all be true" in page
    assert page.count("Not so any more</button>") >= 3
    page = bench.post("/print/B1-0002/not-so", said="slip").text
    assert "These can’t all be true" not in page
    assert ": “1952”.</p>" in page


@pytest.mark.slow
def test_views_stand_side_by_side_with_who_holds_them(bench):
    bench.post("/print/B1-0002/say", field="date", said="1958", by="Aunt Vera", sure="likely")
    page = bench.get("/print/B1-0002").text
    views = page.partition('id="says"')[2].partition("</section>")[0]
    assert views.index("slip file a.csv") < views.index("Aunt Vera")
    assert "“1958”, likely" in views
    assert "left out: can’t be true together with: dated “1952”" in views


@pytest.mark.slow
def test_what_may_be_seen_is_chosen_from_a_list_by_where_one_looks(bench):
    page = bench.get("/print/B1-0002/seen").text
    assert page.count('type="checkbox"') == 169
    assert page.index("Edges and corners</h2>") < page.index("The back</h2>") < page.index("In the picture</h2>")
    assert "It can’t be true as well: the print is believed to be from 1952" in page
    done = bench.post("/print/B1-0002/seen", **{"seen-E124": "on", "sure": "likely", "by": "Aunt Vera"})
    assert done.url.path == "/print/B1-0002"
    assert said(bench, "B1-0002")[1:] == [(Says.EVIDENCE, "deckle (ragged) edge", Sure.LIKELY, "Aunt Vera")]
    assert 'name="seen-E124" checked disabled' in bench.get("/print/B1-0002/seen").text


def test_names_from_outside_are_words_and_nothing_else(bench):
    evil = "<b onmouseover=alert(1)>100 % “Vera”</b>"
    bench.post("/print/B1-0001/say", field="note", said=evil, by=evil)
    page = bench.get("/print/B1-0001?say=note").text
    assert "<b onmouseover" not in page
    assert "100 % “Vera”" in page


def test_a_number_that_is_not_there_says_so_in_one_sentence(bench):
    for answer in (
        bench.get("/print/B9-0001"),
        bench.get("/print/B9-0001/seen"),
        bench.post("/print/B9-0001/say", field="note", said="x"),
    ):
        assert answer.status_code == 404
        assert "no print" in answer.text.lower()


@pytest.mark.slow
def test_the_room_opens_the_print_last_looked_at_or_the_first(bench):
    assert bench.get("/print").url.path == "/print/B1-0001"
    assert bench.get("/print", cookie="print=B1-0003").url.path == "/print/B1-0003"
    assert bench.get("/print", cookie="print=B9-0003").url.path == "/print/B1-0001"


def test_what_another_changed_meanwhile_is_not_written_over(bench):
    before = str(bench.collection.catalogue.last_change())
    bench.post("/print/B1-0001/say", field="date", said="1958", by="Aunt Vera")
    answer = bench.post("/print/B1-0001/say", field="date", said="1960", seen=before)
    assert answer.status_code == 409
    assert [one[1] for one in said(bench)] == ["1958"]
    assert "1960" in answer.text
