"""Narrowing down who may be named in a phrase never loses anybody whom reading with everybody would find."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solander.core.people import Person
from solander.core.phrases import read_date
from solander.core.phrases.sought import NameIndex, names_of_one_word, words_of_name
from solander.core.phrases.tokens import tokens_of

TODAY = date(2026, 3, 1)
PEOPLE = (
    Person("Anna Weber", ("Nan", "Oma Anna"), born="1921-05-12", died="1996"),
    Person("Anna Moor", ("Nana",), born="1950"),
    Person("Jan", (), born="1930"),
    Person("Åse-Marie O'Brien", ("Ása",), born="1901"),
    Person("Нана", ("Анна Вебер",), born="1935"),
    Person("Tom Berg", ("Tom",), born="1940-02-29"),
    *(Person(f"Other {number}", born="1900") for number in range(20)),
)
PHRASES = (
    "when Nan was six",
    "Nan's wedding year, about 1945",
    "before Anna Weber died",
    "als Oma Anna klein war",
    "als Anna Weber sechs war",
    "kiedy Jan miał sześć lat",
    "kiedy Nana była mała",
    "när Nana var sex",
    "quand Åse-Marie O'Brien avait dix ans",
    "когда Нане было шесть",
    "after Tom's birth",
    "summer 1952",
)


@pytest.mark.parametrize("phrase", PHRASES)
def test_a_phrase_is_read_alike_with_those_who_may_be_named(phrase: str) -> None:
    index = NameIndex(PEOPLE)
    everybody = read_date(phrase, today=TODAY, people={one.name: one for one in PEOPLE})
    few = {one.name: one for one in index.named_in(phrase)}
    assert read_date(phrase, today=TODAY, people=few) == everybody
    assert len(few) < len(PEOPLE) / 2


def test_somebody_is_named_in_most_of_these_phrases() -> None:
    """Else the test above would compare nothing with nothing."""
    found = [phrase for phrase in PHRASES if NameIndex(PEOPLE).named_in(phrase)]
    assert set(PHRASES) - set(found) == {"summer 1952"}


letters = st.characters(categories=["L"], max_codepoint=0x5FF) | st.sampled_from(" '’-.")


@settings(deadline=None)
@given(st.text(letters, max_size=20))
def test_the_words_of_a_name_are_those_of_its_tokens(name: str) -> None:
    """Names of letters and blanks take a short way, which must lead to the same place."""
    assert words_of_name(name) == tuple(token.folded for token in tokens_of(name))


def test_a_page_of_letters_without_a_blank_is_sought_as_it_stands_alone() -> None:
    assert names_of_one_word("x" * 10_000) == {"x" * 10_000}
    assert len(names_of_one_word("x" * 64)) > 64
