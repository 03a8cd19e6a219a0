"""Whether somebody can be in a picture of a certain date, and how old then."""

from __future__ import annotations

from functools import lru_cache

from attrs import frozen

from solander.core.ages import Age
from solander.core.birthdays import age_on
from solander.core.dates import Bounds, Dated, Edtf, age_words, parse_edtf
from solander.core.people import Life, Person, life_of
from solander.core.sentence import Sentence

__all__ = ["NOT_THEN", "Then", "life_then"]

_OLD = 100
_GROWN = 14
"""Below this nobody is addressed as Mr or Mrs, or is an uncle to be named so (our choice, no source)."""

NOT_THEN = 0.45
"""So much less does somebody fit who was not born or had died."""
_HARDLY = 0.8


@frozen
class Then:
    """What a date says of somebody's being in a picture: a factor up to 1, and why in words, may be empty."""

    factor: float = 1.0
    why: str = ""
    impossible: bool = False


def life_then(
    person: Person, on: Bounds | None, *, life: Life | None = None, grown: bool = False, age: Age | None = None
) -> Then:
    """How plausible a person is in a picture of that date; `grown` when addressed as one who is, `age` as said.

    `life` spares looking up the days of the person's life, where they are at hand.
    """
    if on is None:
        return Then()
    life = life or life_of(person)
    if life.born_from is None and life.born_to is None and life.died_to is None:
        return Then()
    if on.latest is not None and life.born_from is not None and life.born_from > on.latest:
        return Then(NOT_THEN, Sentence("was born only %(date)s", date=Dated(person.born)), True)
    if on.earliest is not None and life.died_to is not None and life.died_to < on.earliest:
        return Then(NOT_THEN, Sentence("had died %(date)s", date=Dated(person.died)), True)
    span = _ages(life, on)
    if span is None:
        return Then(1.0, Sentence("was alive then") if life.died_to is not None else "")
    return _of_age(span, _then(person, on), grown=grown, age=age)


@lru_cache(maxsize=1 << 16)
def _born(edtf: str) -> Edtf:
    return parse_edtf(edtf)


def _then(person: Person, on: Bounds) -> str:
    age = age_words(_born(person.born), on)
    return Sentence("was %(age)s then", age=age) if age else ""


def _ages(life: Life, on: Bounds) -> tuple[int, int] | None:
    if life.born_from is None or life.born_to is None or on.earliest is None or on.latest is None:
        return None
    return max(age_on(life.born_to, on.earliest), 0), age_on(life.born_from, on.latest)


def _of_age(span: tuple[int, int], then: str, *, grown: bool, age: Age | None) -> Then:
    youngest, oldest = span
    if youngest > _OLD:
        return Then(_HARDLY, then)
    if grown and oldest < _GROWN:
        return Then(_HARDLY, then)
    if age is not None:
        apart = max(youngest - age.oldest, age.youngest - oldest, 0)
        return Then(max(1 - 0.03 * apart, NOT_THEN), then)
    return Then(1.0, then)
