"""Other spellings are those of Unicode's own tables, and found words are marked without changing a letter."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solander.core.found_words import beginnings, holds, marked
from solander.core.spellings import other_spellings, plain

# CLDR, common/transforms/Latin-ASCII.xml (read 2026-11-26): letters that are no letter with an accent.
LATIN_ASCII = {
    "ß": "ss", "æ": "ae", "ø": "o", "ð": "d", "þ": "th", "đ": "d", "ħ": "h", "ı": "i", "ł": "l", "ŋ": "n",
    "œ": "oe", "ŧ": "t", "ĳ": "ij", "ſ": "s",
}  # fmt: skip
# CLDR, common/transforms/de-ASCII.xml (read 2026-11-26).
DE_ASCII = {"ä": "ae", "ö": "oe", "ü": "ue"}


@pytest.mark.parametrize(("letter", "spelt"), LATIN_ASCII.items())
def test_letters_are_spelt_as_cldr_spells_them_in_ascii(letter: str, spelt: str) -> None:
    assert f"x{spelt}x" in other_spellings(f"x{letter}x")


@pytest.mark.parametrize(("letter", "spelt"), DE_ASCII.items())
def test_umlauts_are_spelt_as_cldr_spells_german_in_ascii(letter: str, spelt: str) -> None:
    for form in (letter, letter.upper(), unicodedata.normalize("NFD", letter)):
        assert other_spellings(f"M{form}ller") == (f"m{spelt}ller",)


def test_what_has_one_spelling_has_no_other() -> None:
    assert [other_spellings(word) for word in ("Anna", "Émile", "Надя", "写真", "", "Zoë")] == [()] * 6


@given(st.text())
def test_any_word_may_be_spelt(word: str) -> None:
    assert all(spelt and spelt != plain(word) for spelt in other_spellings(word) if word.strip())


@given(st.text(), st.lists(st.text(max_size=8), max_size=4))
def test_the_pieces_join_up_to_the_text(text: str, sought: list[str]) -> None:
    starts = beginnings(sought)
    pieces = marked(text, starts)
    assert "".join(piece.text for piece in pieces) == text
    assert any(piece.found for piece in pieces) == holds(text, starts)


@pytest.mark.parametrize(
    ("sought", "found"),
    [
        ("mueller", ["Müllers"]),
        ("MÜLLER", ["Müllers"]),
        ("muller see", ["Müllers", "See"]),
        ("14", ["0014"]),
        ("oot", []),
        ("boot łodz", ["Boot"]),
    ],
)
def test_words_are_marked_in_any_of_their_spellings(sought: str, found: list[str]) -> None:
    pieces = marked("Müllers Boot am See, 0014", beginnings(sought.split()))
    assert [piece.text for piece in pieces if piece.found] == found
