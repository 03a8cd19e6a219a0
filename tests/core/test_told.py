"""Names as values of statements, and what is believed of several claims; the rules are ours, so no source outside
checks them, but the strokes around a surname, which are GEDCOM's."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solander.core.people import Name, NameKind, Person
from solander.core.statements import Says, Statement, Sure
from solander.core.told import Told, believed, name_of, name_value, stated

TEXTS = st.text(st.sampled_from("Ab /|é"), max_size=8)


@given(TEXTS, TEXTS, TEXTS, st.sampled_from(NameKind))
def test_a_name_comes_back_from_its_value_whatever_signs_are_in_it(
    before: str, surname: str, after: str, kind: NameKind
) -> None:
    name = Name(before + surname + after, kind, surname)
    found = name_of(name_value(name))
    assert (found.text, found.kind) == (name.text, kind)
    assert found.surname in (surname, "")
    if surname and "/" not in name.text:
        assert found.surname == surname


@pytest.mark.parametrize(
    ("value", "name"),
    [
        ("birth|Anna /Weber/ jr", Name("Anna Weber jr", NameKind.BIRTH, "Weber")),
        ("other|Anna/Nan Weber", Name("Anna/Nan Weber")),
        ("other|Anna", Name("Anna")),
    ],
)
def test_values_that_were_kept_before_are_read(value: str, name: Name) -> None:
    assert name_of(value) == name


def born(value: str, sure: Sure, entered: str, *, withdrawn: str | None = None) -> Statement:
    said = stated(Told(Says.BORN, value, value, sure), "Anna", "tree.ged", entered)
    return Statement("", said.about, said.subject, said.says, value, value, sure, "tree.ged", entered, withdrawn)


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ([born("1921", Sure.LIKELY, "1"), born("1922", Sure.CERTAIN, "1")], "1922"),
        ([born("1921", Sure.CERTAIN, "1"), born("1922", Sure.CERTAIN, "2")], "1922"),
        ([born("1921", Sure.CERTAIN, "1"), born("1922", Sure.CERTAIN, "1")], "1921"),
        ([born("1921", Sure.GUESS, "1"), born("1922", Sure.CERTAIN, "2", withdrawn="3")], "1921"),
        ([], ""),
    ],
)
def test_the_surest_is_believed_of_those_the_newest_of_those_the_first(
    said: list[Statement], expected: str
) -> None:
    assert believed("Anna", said) == Person("Anna", born=expected)
