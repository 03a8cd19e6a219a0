"""Containers as they are said; what the words stand for is our own choice, as the letters of codes are."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solander.core.container_words import CONTAINER_WORDS, container_said
from solander.core.phrases.languages import LANGUAGES


@pytest.mark.parametrize(
    ("words", "within", "code"),
    [
        ("envelope five", "", "E5"),
        ("Envelope five", "B2/E3", "B2/E5"),
        ("envelope five", "B2/E3/P7", "B2/E5"),
        ("page twenty-four", "A1/P3", "A1/P24"),
        ("page 24", "B2/A1", "B2/A1/P24"),
        ("box two, envelope five", "A1", "B2/E5"),
        ("box two", "B1/E3", "B2"),
        ("album one page three", "B2/E5", "A1/P3"),
        ("next envelope", "B2/E3", "B2/E4"),
        ("next page", "A1", "A1/P1"),
        ("Umschlag fünf", "B2", "B2/E5"),
        ("nächste Seite", "A1/P3", "A1/P4"),
        ("boîte deux, enveloppe trois", "", "B2/E3"),
        ("enveloppe suivante", "B2/E3", "B2/E4"),
        ("b2/e5", "A1", "B2/E5"),
        ("B2 E5", "", "B2/E5"),
    ],
)
def test_what_is_said_is_a_code(words: str, within: str, code: str) -> None:
    assert container_said(words, within) == code


@pytest.mark.parametrize("words", ["", "envelope", "five", "Bergen", "summer 1958", "envelope of Anna"])
def test_other_words_are_none(words: str) -> None:
    assert container_said(words, "B2") is None


_NUMBERS = {n: w.split("|")[0] for w, n in LANGUAGES["en"].numbers.items() if 0 < n < 100}


@given(st.sampled_from(sorted(CONTAINER_WORDS)), st.sampled_from(sorted(_NUMBERS)), st.data())
def test_a_number_in_words_means_what_it_means_in_figures(letter: str, number: int, data: st.DataObject) -> None:
    word = data.draw(st.sampled_from(CONTAINER_WORDS[letter]))
    assert container_said(f"{word} {_NUMBERS[number]}") == f"{letter}{number}"
    assert container_said(f"{word} {number}") == f"{letter}{number}"
