"""What a piece of evidence is: a bound or a difference in time, why it holds, and how far it is believed."""

from __future__ import annotations

from attrs import frozen

from solander.core.chronology import Between, Difference, Months, Pieces
from solander.core.chronology.guess import Weight
from solander.core.descriptions import Reason
from solander.core.statements import Sure

__all__ = [
    "Constraint",
    "Evidence",
    "Family",
    "Weight",
    "moment_thing",
    "occasion_thing",
    "page_thing",
    "printing_of",
    "rank_of",
    "roll_thing",
    "soft_rank",
    "weaker",
]

_PRINTING = " printing"

Constraint = Between | Difference | Months | Pieces


@frozen
class Evidence:
    """One bound or difference with its reason.

    `rank` orders what is believed first when two contradict: the surer statement, and what is said of a print
    itself before what follows from its company. What is `soft` is a rule of thumb: it comes after all else,
    and gives way without a question. `weight` says more about the days than the bound does, for a best guess.
    `shared` is the id of the one thing that is said of several prints (an occasion's date, somebody's life);
    else empty.
    """

    constraint: Constraint
    reason: Reason
    rank: int
    soft: bool = False
    weight: Weight | None = None
    shared: str = ""

    @property
    def about(self) -> str:
        """The accession number of the print that it binds."""
        thing = self.constraint.b if isinstance(self.constraint, Difference) else self.constraint.x
        return thing.removesuffix(_PRINTING)


class Family:
    """Within one degree of belief, what counts first."""

    ALWAYS = -1
    OWN, LIFE, AGE, OCCASION, PAPER, COMPANY, ROLL, ORDER, NAME, SIZE = range(10)


_RANK_OF_SURE = {Sure.CERTAIN: 0, Sure.LIKELY: 10, Sure.GUESS: 20}
_FIRST_SOFT = 30


def rank_of(sure: Sure, family: int) -> int:
    """The place of what somebody states: certain 0–9, likely 10–19, guesses 20–29."""
    return _RANK_OF_SURE[sure] + family


def weaker(*degrees: Sure) -> Sure:
    """The least sure of several: a chain is as sure as its weakest link."""
    return max(degrees, key=list(Sure).index)


def soft_rank(trust: float, family: int) -> int:
    """The place of a rule of thumb, after all that is stated: 30 and up, the more trusted first."""
    return _FIRST_SOFT + 10 * round((1 - trust) * 10) + family


def printing_of(accession: str) -> str:
    """The name of a print's second thing in time, the making of this paper."""
    return accession + _PRINTING


def occasion_thing(name: str) -> str:
    """The name of an occasion's beginning as a thing in time."""
    return f"occasion {name}"


def roll_thing(name: str) -> str:
    """The name of a roll's first picture as a thing in time."""
    return f"roll {name}"


def page_thing(page: str) -> str:
    """The name of the moment after which an album page was filled no more."""
    return f"end of page {page}"


def moment_thing(before: str, after: str, where: str) -> str:
    """The name of the moment between the pictures of one number and those of the next."""
    return f"between {before} and {after} {where}".rstrip()
