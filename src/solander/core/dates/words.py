"""Dates as a person reads them."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from itertools import pairwise

from solander.core.birthdays import age_on
from solander.core.dates.edtf import Bounds, Edtf, End, Form, Moment, Span, joined
from solander.core.dates.forms import edtf_of_range
from solander.core.dates.parse import parse_edtf
from solander.core.dates.stretches import PARTS_OF_YEAR, year_number, years
from solander.core.days import day, from_day, month_length
from solander.core.errors import InvalidValue

__all__ = ["age_words", "range_words", "words"]

_MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
_SEASONS = ("spring", "summer", "autumn", "winter")
_NUMBERS = ("first", "second", "third", "fourth")
_QUALIFIED = {"": "{}", "~": "about {}", "?": "perhaps {}", "%": "perhaps about {}"}
_WIDEST_AGE = 10
"""A wider span of years says nothing of an age (common practice, no source)."""

_TOLD_IN_YEARS, _TOLD_IN_MONTHS = 2 * 365, 92
"""Days from which the ends of a range that was worked out are told in years, in months (our choice)."""


def words(edtf: Edtf | str, language: str = "en") -> str:
    """The date in words: `summer 1958`, `about 1963`, `between 1948 and 1952`, `7 March or 3 July 1948`.

    Only English (`en`) so far.

    Raises
    ------
    InvalidValue
        When the text is no EDTF, or the language is not there.
    """
    if language not in _WRITERS:
        raise InvalidValue(f"Dates can't be written in “{language}” yet", todo="Choose en")
    return _written(edtf, language) if isinstance(edtf, str) else _WRITERS[language](edtf)


@lru_cache(maxsize=16_384)
def _written(edtf: str, language: str) -> str:
    """Kept, for a collection says the same few dates of very many prints."""
    return _WRITERS[language](parse_edtf(edtf))


def _english(value: Edtf) -> str:
    if value.form is Form.INTERVAL:
        return _interval(value.members[0])
    link = "and" if value.form is Form.ALL_OF else "or"
    said = [_moment(member) if isinstance(member, Moment) else _range(member) for member in value.members]
    return _listed(_shortened(value.members, said), link)


def _listed(said: list[str], link: str) -> str:
    if len(said) == 1:
        return said[0]
    return f"{', '.join(said[:-1])} {link} {said[-1]}"


def _shortened(members: tuple[Moment | Span, ...], said: list[str]) -> list[str]:
    """`7 March 1948`, `3 July 1948` as `7 March`, `3 July 1948`: what the next says again is said once."""
    dates = [member for member in members if isinstance(member, Moment)]
    if len(dates) != len(said):
        return said
    return [*(_without_tail(a, b) for a, b in pairwise(dates)), said[-1]]


def _without_tail(date: Moment, following: Moment) -> str:
    if any(date.marks) or any(following.marks) or bool(date.day) != bool(following.day):
        return _moment(date)
    if (
        not date.month
        or not following.month
        or date.year != following.year
        or date.is_season != following.is_season
    ):
        return _moment(date)
    if date.is_season or "X" in date.year + date.month + date.day + following.month + following.day:
        return _moment(date)
    if date.day and date.month == following.month:
        return str(int(date.day))
    return f"{int(date.day)} {_month(date.month)}" if date.day else _month(date.month)


def _moment(date: Moment) -> str:
    return _QUALIFIED[joined(set(date.marks))].format(_plain(date))


def _plain(date: Moment) -> str:
    if date.significant:
        found = years(date.year, date.significant)
        return f"about {_year(date.year)} (between {_number(found[0])} and {_number(found[-1])})"
    if date.is_season:
        return _part_of_year(date)
    if not date.month or (date.month == "XX" and date.day in ("", "XX")):
        return _year(date.year)
    if "X" in date.month:
        return _some_month(date)
    if date.day in ("", "XX"):
        return f"{_month(date.month)} {_year(date.year, within=True)}"
    return _day(date)


def _day(date: Moment) -> str:
    time = f", {date.time[1:9]}" if date.time else ""
    if "X" in date.day:
        return f"a day from {_span_of(date)}"
    return f"{int(date.day)} {_month(date.month)} {_year(date.year, within=True)}{time}"


def _span_of(date: Moment) -> str:
    (y1, m1, d1), (y2, m2, d2) = from_day(date.first_day()), from_day(date.last_day())
    return f"{d1} {_MONTHS[m1 - 1]} {_number(y1)} to {d2} {_MONTHS[m2 - 1]} {_number(y2)}"


def _some_month(date: Moment) -> str:
    if "X" in date.year or date.day not in ("", "XX"):
        return f"a day from {_span_of(date)}"
    names = [_MONTHS[from_day(first)[1] - 1] for first, _ in date.stretches()]
    first, last = names[0], _MONTHS[from_day(date.last_day())[1] - 1]
    return f"between {first} and {last} {_year(date.year)}"


def _month(month: str) -> str:
    return _MONTHS[int(month) - 1]


def _year(year: str, *, within: bool = False) -> str:
    """The year, decade or span of years; `within` after a month or a day."""
    if "X" not in year:
        return _number(year_number(year))
    found = years(year)
    if set(year) <= {"X", "-"}:
        return "of an unknown year" if within else "an unknown year"
    if not within and len(found) == 10 and found[0] % 100 and found[0] > 0:
        return f"the {found[0]}s"
    span = f"between {_number(found[0])} and {_number(found[-1])}"
    return f"of a year {span}" if within else span


def _number(year: int) -> str:
    return str(year) if year > 0 else f"{1 - year} BC"


def _part_of_year(date: Moment) -> str:
    code, year = int(date.month), _year(date.year, within=True)
    if code <= 32:
        place = ("", " (northern)", " (southern)")[(code - 21) // 4]
        if PARTS_OF_YEAR[date.month][0] == 12 and "X" not in date.year and date.month != "22":
            year = _over_new_year(year_number(date.year))
        return f"{_SEASONS[(code - 21) % 4]} {year}{place}"
    first, name = (33, "quarter") if code < 37 else (37, "third") if code < 40 else (40, "half")
    return f"the {_NUMBERS[code - first]} {name} of {_year(date.year)}"


def _over_new_year(year: int) -> str:
    if year < 1 or (year + 1) % 100 == 0:
        return f"{_number(year)}–{_number(year + 1)}"
    return f"{year}–{(year + 1) % 100:02d}"


def _interval(span: Moment | Span) -> str:
    assert isinstance(span, Span)
    start, end = (None if isinstance(side, End) else _moment(side) for side in (span.start, span.end))
    if start and end:
        return f"from {start} to {end}"
    if start:
        return f"from {start} on" if span.end is End.OPEN else f"from {start}, end unknown"
    if end:
        return f"until {end}" if span.start is End.OPEN else f"until {end}, beginning unknown"
    return "at any time"


def _range(span: Span) -> str:
    start, end = span.start, span.end
    if isinstance(start, Moment) and isinstance(end, Moment):
        return f"between {_without_tail(start, end)} and {_moment(end)}"
    if isinstance(end, Moment):
        return f"before {_next(end)}" if _counts(end) else f"{_moment(end)} or before"
    assert isinstance(start, Moment)
    return f"after {_next(start, -1)}" if _counts(start) else f"{_moment(start)} or after"


def _counts(date: Moment) -> bool:
    """Whether a person would name the neighbour: a plain year, month or day after the year 1."""
    written = date.year + date.month + date.day
    plain = not any(date.marks) and not date.significant and not date.time and not date.is_season
    return plain and written.isdecimal() and int(date.year) > 1


def _next(date: Moment, step: int = 1) -> str:
    """The year, month or day after (or before) a plain one, in words."""
    year, month, day = from_day(date.last_day() + 1 if step > 0 else date.first_day() - 1)
    if date.day:
        return f"{day} {_MONTHS[month - 1]} {year}"
    return f"{_MONTHS[month - 1]} {year}" if date.month else str(year)


def range_words(earliest: int | None, latest: int | None) -> str:
    """A range of days that was worked out, in words; empty when nothing bounds it.

    A long one is told in whole years or months, wider rather than narrower: its days mean nothing to anybody.
    """
    if earliest is not None and latest is not None:
        earliest, latest = _rounded(earliest, latest)
    edtf = edtf_of_range(earliest, latest)
    return words(edtf) if edtf else ""


def _rounded(earliest: int, latest: int) -> tuple[int, int]:
    (first_year, first_month, _), (last_year, last_month, _) = from_day(earliest), from_day(latest)
    if latest - earliest > _TOLD_IN_YEARS:
        return day(first_year, 1, 1), day(last_year, 12, 31)
    if latest - earliest > _TOLD_IN_MONTHS:
        return day(first_year, first_month, 1), day(last_year, last_month, month_length(last_year, last_month))
    return earliest, latest


_WRITERS: dict[str, Callable[[Edtf], str]] = {"en": _english}


def age_words(born: Edtf, at: Bounds) -> str:
    """The age of a person then: `31`, `5 or 6`, `about 40`, `under 1`; empty when it can't be told.

    From the first and last possible birthday and the first and last possible day; "about" when three to eleven
    ages are possible or the birth itself is qualified.
    """
    birth = born.bounds()
    if birth.earliest is None or birth.latest is None or at.earliest is None or at.latest is None:
        return ""
    youngest, oldest = age_on(birth.latest, at.earliest), age_on(birth.earliest, at.latest)
    if oldest < 0 or oldest - max(youngest, 0) > _WIDEST_AGE:
        return ""
    return _age_in_words(max(youngest, 0), oldest, sure=not born.qualifiers)


def _age_in_words(youngest: int, oldest: int, *, sure: bool) -> str:
    if oldest == 0:
        return "under 1"
    if youngest == oldest:
        return str(oldest) if sure else f"about {oldest}"
    if oldest - youngest == 1 and sure:
        return f"{youngest} or {oldest}"
    return f"about {(youngest + oldest) // 2}"
