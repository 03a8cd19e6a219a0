"""The days that a relative date means: what lies next before, next after or within another date.

Common practice, no source: years and months are counted in the calendar ("two years after" a day of 1945 is
1947), weeks to half a week either way, days exactly; "a few" are 2–5, "a couple" 2–3; "just before" is within a
year. A season counts as the one
before or after a day that lies in it when more than half of it does; the other way is a second reading.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from functools import lru_cache

from attrs import evolve

from solander.core.birthdays import years_later
from solander.core.dates import parse_edtf
from solander.core.days import day, from_day, month_length
from solander.core.errors import InvalidValue
from solander.core.phrases.parts import Parts, Relative, Stretch
from solander.core.phrases.terms import Kind
from solander.core.phrases.values import values_of

__all__ = ["beside"]

_MOST_PIECES = 12
"""More choices than these are told as no date."""

_Days = tuple[int, int]


def beside(relative: Relative, today: date) -> tuple[Parts, ...]:
    """The meanings of a relative date whose anchor is settled, best first; none where it has no days."""
    anchor = _stretch(relative.anchor, today)
    if anchor is None:
        return ()
    if relative.what is not None:
        return _returning(relative, relative.what, anchor)
    first, last = _counted(relative, anchor)
    return (Parts(relative=None, pieces=((first, last),)),) if first <= last else ()


def _stretch(anchor: Parts, today: date) -> Stretch | None:
    if anchor.stretch is not None:
        return anchor.stretch
    try:
        values = values_of(anchor, today)
        first, last = parse_edtf(values[0].first).bounds().earliest, parse_edtf(values[-1].last).bounds().latest
    except InvalidValue:
        # Such a day does not exist, or what is open has no end to count from.
        return None
    return None if first is None or last is None else Stretch(first, last, first, last)


# -- so and so many years, months, weeks, days ---------------------------------------------------------------


def _counted(relative: Relative, anchor: Stretch) -> _Days:
    least, most = max(relative.least, 1), max(relative.most, 1)
    if relative.toward is Kind.BEFORE:
        first, last, least, most = anchor.first, anchor.begun, -most, -least
    else:
        first, last = anchor.ended, anchor.last
    match relative.unit:
        case "year":
            return day(from_day(first)[0] + least, 1, 1), day(from_day(last)[0] + most, 12, 31)
        case "month":
            return _month(first, least)[0], _month(last, most)[1]
        case "week":
            return _weeks(first, last, least, most)
        case "day":
            return first + least, last + most
    return (years_later(first, -1), last - 1) if least < 0 else (first + 1, years_later(last, 1))


def _weeks(first: int, last: int, least: int, most: int) -> _Days:
    """ "The week before" ends on the eve; "three weeks before" is that day, half a week either way."""
    if (least, most) == (-1, -1):
        return first - 7, last - 1
    if (least, most) == (1, 1):
        return first + 1, last + 7
    return first + 7 * least - 3, last + 7 * most + 3


def _month(ordinal: int, months: int) -> _Days:
    year, month, _ = from_day(ordinal)
    over, month = divmod(month - 1 + months, 12)
    return day(year + over, month + 1, 1), day(year + over, month + 1, month_length(year + over, month + 1))


# -- seasons, feasts and months ------------------------------------------------------------------------------


def _returning(relative: Relative, what: Parts, anchor: Stretch) -> tuple[Parts, ...]:
    span = 2 + relative.most
    years = range(from_day(anchor.first)[0] - span, from_day(anchor.last)[0] + span + 1)
    times, approximate = _times(what, years)
    if relative.toward is Kind.DURING:
        choices = [_within(times, anchor, number=relative.least, told=relative.anchor.stretch is not None)]
    elif relative.toward is Kind.BEFORE:
        choices = [_before(times, anchor, relative.least, rule) for rule in _RULES]
    else:
        choices = [_after(times, anchor, relative.least, rule) for rule in _RULES]
    kept = [tuple(pieces) for pieces in choices if 0 < len(pieces) <= _MOST_PIECES]
    return tuple(Parts(pieces=pieces, approximate=approximate) for pieces in dict.fromkeys(kept))


def _within(times: list[_Days], anchor: Stretch, *, number: int, told: bool) -> list[_Days]:
    """Those that share a day with the anchor; of a life or an occasion that was told, or else those that lie in
    its years: the summer of a birthday in May."""
    first, last = anchor.first, anchor.last
    shared = [time for time in times if time[0] <= last and time[1] >= first]
    if told and not shared and number == 0:
        first, last = day(from_day(first)[0], 1, 1), day(from_day(last)[0], 12, 31)
        shared = [time for time in times if first <= time[0] <= last]
    return _nth(shared, number)


def _nth(times: list[_Days], number: int) -> list[_Days]:
    """All of them where no number was told; −1 is the last."""
    if number == 0:
        return times
    return times[-1:] if number < 0 else times[number - 1 : number]


def _times(what: Parts, years: Iterable[int]) -> tuple[list[_Days], bool]:
    """All times that it came round in some years, and whether only the time about the day is meant."""
    found = [time for year in years if (time := _time(evolve(what, year=year))) is not None]
    return [days for days, _ in found], any(approximate for _, approximate in found)


@lru_cache(maxsize=1024)
def _time(what: Parts) -> tuple[_Days, bool] | None:
    try:
        value = values_of(what, date.max)[0]
        first, last = parse_edtf(value.first).bounds().earliest, parse_edtf(value.last).bounds().latest
    except InvalidValue:
        # 29 February, or a year that the calendar of feasts does not know.
        return None
    return None if first is None or last is None else ((first, last), value.approximate)


_RULES: tuple[Callable[[_Days], _Days], ...] = (
    lambda time: ((time[0] + time[1] + 1) // 2, (time[0] + time[1]) // 2),
    lambda time: (time[1], time[0]),
    lambda time: time,
)
"""By what day a time counts as before something, and from what day as after it: half, wholly, or in part."""


def _before(times: list[_Days], anchor: Stretch, number: int, rule: Callable[[_Days], _Days]) -> list[_Days]:
    """The last before each day on which the anchor may have begun."""
    past = sum(rule(time)[0] < anchor.first for time in times)
    most = sum(rule(time)[0] < anchor.begun for time in times)
    found = times[max(past - number, 0) : most - number + 1]
    return [(first, min(last, anchor.begun - 1)) for first, last in found]


def _after(times: list[_Days], anchor: Stretch, number: int, rule: Callable[[_Days], _Days]) -> list[_Days]:
    """The first after each day on which the anchor may have ended."""
    past = sum(rule(time)[1] <= anchor.ended for time in times)
    most = sum(rule(time)[1] <= anchor.last for time in times)
    found = times[past + number - 1 : most + number]
    return [(max(first, anchor.ended + 1), last) for first, last in found]
