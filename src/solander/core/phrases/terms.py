"""What the words and numbers of a phrase may mean."""

from __future__ import annotations

from enum import Enum, auto
from typing import Any

from attrs import frozen

__all__ = ["STRANGE", "UNITS", "Kind", "Term"]


class Kind(Enum):
    """What a term means."""

    WORD = auto()
    SEPARATOR = auto()
    FILLER = auto()  # its value is the unit of time that the word may also be
    NUMBER = auto()  # digits as written
    SPOKEN = auto()  # a number in words
    ORDINAL = auto()  # a day of the month
    NUMBERS = auto()  # two or three numbers with what parts them
    SHORT_YEAR = auto()  # two digits after an apostrophe
    ABOUT_YEAR = auto()  # "1930ish", its digits
    MONTH = auto()
    SEASON = auto()  # its number and a third of it, or None
    FEAST = auto()
    WEEKDAY = auto()
    EVENT = auto()
    LIFE = auto()  # what was said of a known person's life
    NAMED = auto()  # a known occasion
    DECADE = auto()  # first year of a decade: 1950, or 50 where the century is not said
    HUNDREDS = auto()  # first year of a century
    DECADE_WORD = auto()  # its value is the unit of time that the word may also be
    CENTURY = auto()
    UNIT = auto()  # year, month, week, day
    FEW = auto()  # the least and the most that is meant
    JUST = auto()  # shortly before or after
    NEAREST = auto()  # "last" and "next", and "first" where it is no day
    STREETS = auto()  # behind them a date is a name
    STREET = auto()  # before it a date is a name
    OWN = auto()  # her, his, their
    ABOUT = auto()
    ABOUT_AFTER = auto()
    MAYBE = auto()
    PART = auto()  # 0 early, 1 mid, 2 late; 3 first half, 4 second half
    BETWEEN = auto()
    BOTH = auto()
    EITHER = auto()
    TO = auto()
    BEFORE = auto()
    AFTER = auto()
    UNTIL = auto()
    SINCE = auto()
    OR_BEFORE = auto()
    OR_AFTER = auto()
    DURING = auto()
    WAS = auto()
    WEEK_OF = auto()
    WEEK_ENDING = auto()
    LAB = auto()
    CORRECTION = auto()  # its value is "not" where it may also deny what follows
    NOT = auto()


STRANGE = (Kind.WORD, Kind.OWN, Kind.STREETS, Kind.STREET, Kind.UNIT, Kind.NEAREST)
"""What makes a phrase more than a date when no date takes it up."""


UNITS = (Kind.UNIT, Kind.FILLER, Kind.DECADE_WORD)
"""What may be a unit of time: then it is its value, `years` where several are meant."""


@frozen
class Term:
    """A meaning of tokens `first` … `last` − 1."""

    kind: Kind
    value: Any
    first: int
    last: int
