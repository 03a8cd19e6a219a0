"""Search finds every word said of a print, whatever is typed."""

from __future__ import annotations

import unicodedata

import made_records as made
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from solander.catalogue.store import Catalogue
from solander.core.people import Person
from solander.core.statements import About, Says


@pytest.fixture
def told(box: Catalogue) -> Catalogue:
    """The box with something said of each print."""
    said = [
        made.a_statement("1", "B1-0001", Says.CAPTION, "Müllers Boot am See"),
        made.a_statement("2", "B1-0001", Says.NOTE, "torn corner; see the harbour print"),
        made.a_statement("3", "B1-0002", Says.TRANSCRIPTION, "Harbour, 14 July '52"),
        made.a_statement("4", "B1-0002", Says.PERSON, "Ida Holm", words="Granny H."),
        made.a_statement("5", "B1-0003", Says.PLACE, "Vik"),
        made.a_statement("6", "B1-0003", Says.OCCASION, "Midsummer"),
        made.a_statement("7", "Midsummer", Says.PLACE, "Harbour of Vik", about=About.OCCASION),
    ]
    with box.act("Ada", "described") as act, act.work() as work:
        work.keep_person(Person("Ida Holm", ("Aunt Idi",)))
        for statement in said:
            work.state(statement)
        work.commit()
    return box


FOUND = {
    "boot": ["B1-0001"],
    "muller": ["B1-0001"],
    "MÜLLER SEE": ["B1-0001"],
    unicodedata.normalize("NFD", "Müller"): ["B1-0001"],
    "granny": ["B1-0002"],
    "idi": ["B1-0002"],
    "'52": ["B1-0002"],
    "vik midsum": ["B1-0003"],
    "harbour of vik": ["B1-0003"],
    "B1-0002": ["B1-0002"],
    "b1 0003": ["B1-0003"],
    "boot vik": [],
    "oot": [],
    "": [],
    '"': [],
    "*": [],
    "caption:boot": [],
    "NOT boot": [],
}


@pytest.mark.parametrize(("sought", "found"), FOUND.items())
def test_search(told: Catalogue, sought: str, found: list[str]) -> None:
    assert told.search(sought) == found


def test_what_a_print_is_called_goes_before_what_a_note_mentions(box: Catalogue) -> None:
    with box.act("Ada", "described") as act, act.work() as work:
        for number, says in ((1, Says.NOTE), (2, Says.CAPTION), (3, Says.NOTE)):
            work.state(made.a_statement(str(number), f"B1-000{number}", says, "harbour"))
        work.commit()
    assert box.search("harbour") == ["B1-0002", "B1-0001", "B1-0003"]
    assert box.search("harbour", limit=2) == ["B1-0002", "B1-0001"]


def test_a_withdrawn_statement_is_not_found(told: Catalogue) -> None:
    with told.act("Ada", "withdrew") as act, act.work() as work:
        work.withdraw("1")
        work.withdraw("7")
        work.commit()
    assert (told.search("boot"), told.search("harbour of vik")) == ([], [])


def test_the_index_is_whole_after_changes(told: Catalogue) -> None:
    told.undo("Ada")
    with told._engine.connect() as connection:
        connection.exec_driver_sql("INSERT INTO search(search, rank) VALUES ('integrity-check', 1)")
        documents = connection.exec_driver_sql("SELECT count(*) FROM search_documents").scalar()
    assert documents == 3


@pytest.fixture(scope="module")
def asked():  # type: ignore[no-untyped-def]
    """One catalogue for many questions."""
    with made.empty_catalogue() as catalogue:
        with catalogue.act("Ada", "took in") as act, act.work() as work:
            work.add_print(made.a_print(1))
            work.state(made.a_statement("1", "B1-0001", Says.CAPTION, "On the lake"))
            work.commit()
        yield catalogue


@settings(max_examples=300, deadline=None)
@given(st.text() | st.text(alphabet="\"*^():-+{}ANDORNEARNOT \0'", max_size=40))
@example('"""')
@example("lake AND")
@example("\ud800 lake")
@example("NEAR(lake, 2)")
@example("word " * 5000)
@example("²½٣ ⁴")
def test_no_text_is_too_odd_to_search_for(asked: Catalogue, text: str) -> None:
    assert asked.search(text) in ([], ["B1-0001"])


@pytest.mark.slow
@settings(max_examples=100, deadline=None)
@given(st.text(st.characters(categories=["L", "Nd"]), min_size=1, max_size=20))
def test_what_was_said_is_found_by_its_words(word: str) -> None:
    with made.empty_catalogue() as catalogue:
        with catalogue.act("Ada", "took in") as act, act.work() as work:
            work.add_print(made.a_print(1))
            work.state(made.a_statement("1", "B1-0001", Says.CAPTION, f"before {word} after"))
            work.commit()
        assert catalogue.search(word) == ["B1-0001"]
