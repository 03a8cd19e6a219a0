"""Dates as a person reads them."""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise

from attrs import frozen

from solander.core.birthdays import age_on
from solander.core.dates.edtf import Bounds, Edtf, End, Form, Moment, Span, joined
from solander.core.dates.forms import edtf_of_range
from solander.core.dates.parse import parse_edtf
from solander.core.dates.stretches import PARTS_OF_YEAR, year_number, years
from solander.core.dates.tongues import TONGUES, Tongue
from solander.core.days import day, from_day, month_length
from solander.core.errors import InvalidValue
from solander.core.sentence import Sentence

__all__ = ["age_words", "range_words", "words"]

_WIDEST_AGE = 10
"""A wider span of years says nothing of an age (common practice, no source)."""

_TOLD_IN_YEARS, _TOLD_IN_MONTHS = 2 * 365, 92
"""Days from which the ends of a range that was worked out are told in years, in months (our choice)."""


def words(edtf: Edtf | str, language: str = "en") -> str:
    """The date in words: `summer 1958`, `about 1963`, `between 1948 and 1952`, `7 March or 3 July 1948`.

    In English (`en`), German (`de`) or French (`fr`). What is kept is always said in English.

    Raises
    ------
    InvalidValue
        When the text is no EDTF, or the language is not there.
    """
    if language not in TONGUES:
        raise InvalidValue(
            Sentence("Dates can't be written in “%(language)s” yet", language=language),
            todo=Sentence("Choose %(languages)s", languages=" or ".join(TONGUES)),
        )
    return _written(edtf, language) if isinstance(edtf, str) else _Writer(TONGUES[language]).date(edtf)


@lru_cache(maxsize=16_384)
def _written(edtf: str, language: str) -> str:
    """Kept, for a collection says the same few dates of very many prints."""
    return _Writer(TONGUES[language]).date(parse_edtf(edtf))


@frozen
class _Writer:
    """Writes dates in one language."""

    tongue: Tongue

    def date(self, value: Edtf) -> str:
        if value.form is Form.INTERVAL:
            return self._interval(value.members[0])
        link = self._say("and") if value.form is Form.ALL_OF else self._say("or")
        said = [self._moment(one) if isinstance(one, Moment) else self._range(one) for one in value.members]
        return _listed(self._shortened(value.members, said), link)

    def _say(self, what: str, *places: str, **named: str) -> str:
        return self.tongue.say[what].format(*places, **named)

    def _shortened(self, members: tuple[Moment | Span, ...], said: list[str]) -> list[str]:
        """`7 March 1948`, `3 July 1948` as `7 March`, `3 July 1948`: what the next says again is said once."""
        dates = [member for member in members if isinstance(member, Moment)]
        if len(dates) != len(said):
            return said
        return [*(self._without_tail(a, b) for a, b in pairwise(dates)), said[-1]]

    def _without_tail(self, date: Moment, following: Moment) -> str:
        if not _says_again(date, following):
            return self._moment(date)
        if date.day and date.month == following.month:
            return self.tongue.alone(int(date.day))
        month = self._month(date.month)
        return f"{self.tongue.day(int(date.day))} {month}" if date.day else month

    def _moment(self, date: Moment) -> str:
        marks = joined(set(date.marks))
        return self._say(marks, self._plain(date)) if marks else self._plain(date)

    def _plain(self, date: Moment) -> str:
        if date.significant:
            found = years(date.year, date.significant)
            first, last = self._number(found[0]), self._number(found[-1])
            return self._say("about", year=self._year(date.year), first=first, last=last)
        if date.is_season:
            return self._part_of_year(date)
        if not date.month or (date.month == "XX" and date.day in ("", "XX")):
            return self._year(date.year)
        if "X" in date.month:
            return self._some_month(date)
        if date.day in ("", "XX"):
            return f"{self._month(date.month)} {self._year(date.year, within=True)}"
        return self._day(date)

    def _day(self, date: Moment) -> str:
        time = f", {date.time[1:9]}" if date.time else ""
        if "X" in date.day:
            return self._some_day(date)
        day = self.tongue.day(int(date.day))
        return f"{day} {self._month(date.month)} {self._year(date.year, within=True)}{time}"

    def _some_day(self, date: Moment) -> str:
        first, last = (self._calendar_day(*from_day(end)) for end in (date.first_day(), date.last_day()))
        return self._say("some day", first=first, last=last)

    def _calendar_day(self, year: int, month: int, day: int) -> str:
        return f"{self.tongue.day(day)} {self.tongue.months[month - 1]} {self._number(year)}"

    def _some_month(self, date: Moment) -> str:
        if "X" in date.year or date.day not in ("", "XX"):
            return self._some_day(date)
        first, last = (from_day(end)[1] for end in (next(iter(date.stretches()))[0], date.last_day()))
        months = self.tongue.months
        return self._say("months", first=months[first - 1], last=months[last - 1], year=self._year(date.year))

    def _month(self, month: str) -> str:
        return self.tongue.months[int(month) - 1]

    def _year(self, year: str, *, within: bool = False) -> str:
        """The year, decade or span of years; `within` after a month or a day."""
        if "X" not in year:
            return self._number(year_number(year))
        found = years(year)
        if set(year) <= {"X", "-"}:
            return self._say("of unknown" if within else "unknown")
        if not within and len(found) == 10 and found[0] % 100 and found[0] > 0:
            return self._say("decade", str(found[0]))
        span = {"first": self._number(found[0]), "last": self._number(found[-1])}
        return self._say("of years" if within else "years", **span)

    def _number(self, year: int) -> str:
        return str(year) if year > 0 else self._say("bc", str(1 - year))

    def _part_of_year(self, date: Moment) -> str:
        code, year = int(date.month), self._year(date.year, within=True)
        if code > _LAST_SEASON:
            return f"{self.tongue.parts[code - _LAST_SEASON - 1]} {self._year(date.year)}"
        place = ("", self._say("northern"), self._say("southern"))[(code - 21) // 4]
        if PARTS_OF_YEAR[date.month][0] == 12 and "X" not in date.year and date.month != "22":
            year = self._over_new_year(year_number(date.year))
        return f"{self.tongue.seasons[(code - 21) % 4]} {year}{place}"

    def _over_new_year(self, year: int) -> str:
        if year < 1 or (year + 1) % 100 == 0:
            return f"{self._number(year)}–{self._number(year + 1)}"
        return f"{year}–{(year + 1) % 100:02d}"

    def _interval(self, span: Moment | Span) -> str:
        assert isinstance(span, Span)
        start, end = (None if isinstance(side, End) else self._moment(side) for side in (span.start, span.end))
        told = {"start": self.tongue.from_(start or ""), "end": self.tongue.to(end or "")}
        if start and end:
            return self._say("from to", **told)
        if start:
            return self._say("from" if span.end is End.OPEN else "from unknown", start=told["start"])
        if end:
            return self._say("to" if span.start is End.OPEN else "to unknown", end=told["end"])
        return self._say("any")

    def _range(self, span: Span) -> str:
        start, end = span.start, span.end
        if isinstance(start, Moment) and isinstance(end, Moment):
            first, last = self._without_tail(start, end), self._moment(end)
            return self._say("between", start=self.tongue.at(first), end=self.tongue.at(last))
        if isinstance(end, Moment):
            return self._beyond(end, 1, "before", "or before")
        assert isinstance(start, Moment)
        return self._beyond(start, -1, "after", "or after")

    def _beyond(self, date: Moment, step: int, neighbour: str, itself: str) -> str:
        if _counts(date):
            return self._say(neighbour, self.tongue.by(self._next(date, step)))
        return self._say(itself, self._moment(date))

    def _next(self, date: Moment, step: int) -> str:
        """The year, month or day after (or before) a plain one, in words."""
        year, month, day = from_day(date.last_day() + 1 if step > 0 else date.first_day() - 1)
        if date.day:
            return self._calendar_day(year, month, day)
        return f"{self.tongue.months[month - 1]} {year}" if date.month else str(year)


_LAST_SEASON = 32
"""The codes after it are quarters, thirds and halves of a year (EDTF, ISO 8601-2)."""


def _listed(said: list[str], link: str) -> str:
    if len(said) == 1:
        return said[0]
    return f"{', '.join(said[:-1])} {link} {said[-1]}"


def _says_again(date: Moment, following: Moment) -> bool:
    """Whether the following date says the year of this one again, so that it may be said once."""
    if any(date.marks) or any(following.marks) or bool(date.day) != bool(following.day):
        return False
    if not date.month or not following.month or date.year != following.year:
        return False
    if date.is_season or following.is_season:
        return False
    return "X" not in date.year + date.month + date.day + following.month + following.day


def _counts(date: Moment) -> bool:
    """Whether a person would name the neighbour: a plain year, month or day after the year 1."""
    written = date.year + date.month + date.day
    plain = not any(date.marks) and not date.significant and not date.time and not date.is_season
    return plain and written.isdecimal() and int(date.year) > 1


def range_words(earliest: int | None, latest: int | None, language: str = "en") -> str:
    """A range of days that was worked out, in words; empty when nothing bounds it.

    A long one is told in whole years or months, wider rather than narrower: its days mean nothing to anybody.
    """
    if earliest is not None and latest is not None:
        earliest, latest = _rounded(earliest, latest)
    edtf = edtf_of_range(earliest, latest)
    return words(edtf, language) if edtf else ""


def _rounded(earliest: int, latest: int) -> tuple[int, int]:
    (first_year, first_month, _), (last_year, last_month, _) = from_day(earliest), from_day(latest)
    if latest - earliest > _TOLD_IN_YEARS:
        return day(first_year, 1, 1), day(last_year, 12, 31)
    if latest - earliest > _TOLD_IN_MONTHS:
        return day(first_year, first_month, 1), day(last_year, last_month, month_length(last_year, last_month))
    return earliest, latest


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
        return Sentence("under 1")
    if youngest == oldest:
        return str(oldest) if sure else Sentence("about %(age)s", age=oldest)
    if oldest - youngest == 1 and sure:
        return Sentence("%(age)s or %(other)s", age=youngest, other=oldest)
    return Sentence("about %(age)s", age=(youngest + oldest) // 2)
