"""Simple dates of family-tree files: calendar, day, month, year, epoch."""

from __future__ import annotations

import re

from attrs import evolve, frozen

from solander.core.dates.forms import edtf_of_range
from solander.core.dates.gedcom_calendars import LAST_FRENCH_YEAR, MONTHS, Calendar, days_of
from solander.core.days import day_text, from_day
from solander.core.errors import InvalidValue
from solander.core.sentence import Sentence

__all__ = ["Payload", "SimpleDate", "calendar_named", "names_a_calendar", "refused", "simple_date"]

SIMPLE = re.compile(
    r"(?:(?:(?P<day>[0-9]{1,3}) )?(?P<month>[^0-9 ]+) )?"
    r"(?P<year>[0-9]{1,6})(?:/(?P<dual>[0-9]{1,4}))?(?P<bce> BCE)?"
)
_MONTH_NAMES = (
    *("JANUARY", "FEBRUARY", "MARCH", "APRIL", "MAY", "JUNE"),
    *("JULY", "AUGUST", "SEPTEMBER", "OCTOBER", "NOVEMBER", "DECEMBER"),
)
_WESTERN = (Calendar.GREGORIAN, Calendar.JULIAN)
_CALENDARS = frozenset((*Calendar, "ROMAN", "UNKNOWN"))
_LAST_YEAR = 9999
"""EDTF writes years with four digits, on both sides of the year 0; no photograph is older or younger."""
_WRITTEN_LENGTH = (len("YYYY"), len("YYYY-MM"), len("YYYY-MM-DD"))


@frozen
class SimpleDate:
    """First and last day, and each end as EDTF; the ends differ when no one EDTF date says it."""

    first: int
    last: int
    start: str
    end: str


@frozen
class Payload:
    """A tidied payload or a part of one: upper case, single blanks; with what its errors tell."""

    text: str
    original: str
    calendar: Calendar = Calendar.GREGORIAN

    def part(self, text: str) -> Payload:
        """The same with a part of the text."""
        return evolve(self, text=text.strip())

    def refused(self, why: str) -> InvalidValue:
        """The error that names the whole payload."""
        return refused(self.original, why)


def refused(
    text: str, why: str, todo: str = "Write for instance 12 JUL 1952 or BET 1950 AND 1952"
) -> InvalidValue:
    """The error for a payload."""
    return InvalidValue(Sentence("“%(text)s” is no date that a family-tree file can have", text=text), why, todo)


def simple_date(payload: Payload) -> SimpleDate:
    """The days of a date without a word before it; see `read_gedcom_date` for what is read and what refused."""
    name, _, rest = payload.text.partition(" ")
    if rest and names_a_calendar(name):
        payload = evolve(payload, calendar=calendar_named(name, payload), text=rest)
    found = SIMPLE.fullmatch(payload.text)
    if found is None:
        raise payload.refused(_form_fault(payload.text))
    month = _month(found["month"], payload)
    dates = [_days(year, month, payload, day=found["day"]) for year in _years(found, month, payload)]
    return evolve(dates[0], last=dates[-1].last, end=dates[-1].end)


def names_a_calendar(word: str) -> bool:
    """Whether the word stands for a calendar, also for one that is not known here."""
    return word in _CALENDARS or word.startswith("_")


def calendar_named(name: str, payload: Payload) -> Calendar:
    """The calendar of that name in GEDCOM 7; refused when its days are not known."""
    if name in set(Calendar):
        return Calendar(name)
    plain = name.replace("_", " ").strip().lower() or "without a name"
    raise refused(
        payload.original,
        f"the days of the calendar “{plain}” are not known here",
        "Give the date in the Gregorian, Julian, Hebrew or French Republican calendar, or in words as a phrase",
    )


def _form_fault(text: str) -> str:
    if not text:
        return "a date is missing"
    if re.fullmatch(r"(?:[0-9]{1,2} )?[^0-9 ]+", text):
        return "it has no year"
    return "it is not day, month and year in this order, the month as three letters"


def _month(word: str | None, payload: Payload) -> int:
    """The number of the month in the order of its year; 0 for none."""
    if not word:
        return 0
    calendar, word = payload.calendar, word.rstrip(".")
    if calendar in _WESTERN and len(word) > 3 and any(name.startswith(word) for name in _MONTH_NAMES):
        word = word[:3]
    if word not in MONTHS[calendar]:
        raise payload.refused(f"“{word}” is no month of the calendar {calendar}")
    return MONTHS[calendar].index(word) + 1


def _years(found: re.Match[str], month: int, payload: Payload) -> tuple[int, ...]:
    """The year, or the first and last that a dual year leaves open; with a year 0 for 1 BC."""
    year = int(found["year"])
    if year == 0:
        raise payload.refused("there is no year 0; the year before the year 1 is 1 BCE")
    if (found["bce"] or found["dual"]) and payload.calendar not in _WESTERN:
        raise payload.refused(f"a year of the calendar {payload.calendar} takes neither BCE nor a second year")
    if found["dual"]:
        return _dual_years(found, month, payload)
    return (1 - year if found["bce"] else year,)


def _dual_years(found: re.Match[str], month: int, payload: Payload) -> tuple[int, ...]:
    year, second = int(found["year"]), _second_year(found["year"], found["dual"])
    # A year alone with a later one (1950/53) is a span, as GEDCOM 7 notes of such slashes.
    if found["bce"] or second <= year or (month and second != year + 1):
        raise payload.refused(f"“{found['year']}/{found['dual']}” does not name a year and the one after it")
    return (second,) if 1 <= month <= 3 else (year, second)


def _second_year(year: str, dual: str) -> int:
    """The year behind the slash: its digits replace the last of the first year or are those of the next."""
    following = str(int(year) + 1)
    return int(following if following.endswith(dual) else year[: -len(dual)] + dual)


def _days(year: int, month: int, payload: Payload, *, day: str | None) -> SimpleDate:
    days = None if day and int(day) == 0 else days_of(payload.calendar, year, month, day_of_month=int(day or 0))
    if days is None:
        raise payload.refused(_no_such_day(payload.calendar, year))
    if max(abs(from_day(each)[0]) for each in days) > _LAST_YEAR:
        raise payload.refused("the year has more than four digits")
    if payload.calendar is Calendar.GREGORIAN:
        text = day_text(days[0])[: _WRITTEN_LENGTH[bool(month) + bool(day)] + (year < 0)]
        return SimpleDate(*days, text, text)
    return _of_days(*days)


def _of_days(first: int, last: int) -> SimpleDate:
    whole = edtf_of_range(first, last)
    start, end = (day_text(first), day_text(last)) if whole.startswith("[") else (whole, whole)
    return SimpleDate(first, last, start, end)


def _no_such_day(calendar: Calendar, year: int) -> str:
    if calendar is Calendar.FRENCH and year > LAST_FRENCH_YEAR:
        return f"the French Republican calendar ended with its year {LAST_FRENCH_YEAR}"
    return "there is no such day"
