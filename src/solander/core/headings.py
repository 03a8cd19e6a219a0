"""Headings: the one name by which a collection speaks of a person and of nobody else.

As library authority files do it (common practice; the rules of AACR2 22.17 from memory): the name alone where one
person bears it, told apart by the years of life where several do, by a place where the years are not enough.
"""

from __future__ import annotations

from collections.abc import Container

from solander.core.dates import parse_edtf, words
from solander.core.days import from_day
from solander.core.people import Person

__all__ = ["heading_of", "life_years"]

_UNNAMED = "Unnamed"
_FEW_YEARS = 30
"""Years wider apart than this tell nobody from anybody (our choice)."""


def heading_of(name: str, person: Person, *, taken: Container[str], shared: bool = False) -> str:
    """A heading for a person of that name which is not `taken`; `shared` when others get one of the name too."""
    name = " ".join(name.split()) or _UNNAMED
    if not shared and name not in taken:
        return name
    years = life_years(person)
    ways = [f"{name}, {years}"] if years else []
    ways += [f"{name}, born {words(person.born)}"] if person.born else []
    ways += [f"{name}, {years}, {person.born_at}".replace(", ,", ",")] if person.born_at else []
    ways += [f"{name}, of {person.died_at}"] if person.died_at and not years else []
    for way in [*ways, name]:
        if way not in taken:
            return way
    stem, number = (ways or [name])[-1], 2
    while f"{stem} ({number})" in taken:
        number += 1
    return f"{stem} ({number})"


def life_years(person: Person) -> str:
    """`1881–1950`, `born 1881`, `died about 1950`, or nothing; for telling people of one name apart."""
    born, died = _year(person.born), _year(person.died)
    if born and died:
        return f"{born}–{died}"
    return f"born {born}" if born else f"died {died}" if died else ""


def _year(edtf: str) -> str:
    """The year of a date, with a word where it is not that for sure; empty where there is no one year."""
    if not edtf:
        return ""
    value = parse_edtf(edtf)
    bounds = value.bounds()
    first, last = (None if each is None else _year_of(each) for each in (bounds.earliest, bounds.latest))
    if first is not None and first == last:
        return f"about {first}" if value.qualifiers else str(first)
    if first is not None and last is not None and last - first > _FEW_YEARS:
        return ""
    if first is None or last is None:
        return f"before {last + 1}" if last is not None else f"after {first - 1}" if first is not None else ""
    return f"{first} or {last}" if last == first + 1 else f"about {(first + last) // 2}"


def _year_of(ordinal: int) -> int:
    return from_day(ordinal)[0]
