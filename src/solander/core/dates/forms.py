"""Other forms of a date: what is certain of it for ordinary readers, and the shortest value for a range."""

from __future__ import annotations

from solander.core.dates.edtf import Edtf, Moment
from solander.core.dates.parse import parse_edtf
from solander.core.dates.stretches import PARTS_OF_YEAR
from solander.core.days import from_day, month_length
from solander.core.errors import InvalidValue
from solander.core.sentence import Sentence

__all__ = ["edtf_of_range", "truncated"]


def truncated(edtf: Edtf | str) -> str:
    """What an ordinary reader may get: `1952`, `1952-07`, `1952-07-03`, or nothing.

    Truncate, never invent: the part that the first and the last day of the value share, so `1952-06~/1952-08~`
    gives `1952`, `1958-22` (a summer) `1958`, and `195X`, an open end or a winter across the new year nothing.
    A month or a day that is qualified is not certain and falls away with all that is finer (`1962-12-25~` gives
    `1962-12`); the year stays, as in the first example. Years outside 0001–9999 give nothing.
    """
    value = parse_edtf(edtf) if isinstance(edtf, str) else edtf
    bounds = value.bounds()
    if bounds.earliest is None or bounds.latest is None:
        return ""
    first, last = from_day(bounds.earliest), from_day(bounds.latest)
    if first[0] != last[0] or not 1 <= first[0] <= 9999:
        return ""
    kept = min(_shared(first, last), *(_certain_parts(moment) for moment in value.moments))
    return f"{first[0]:04d}" + "".join(f"-{part:02d}" for part in first[1:kept])


def _shared(first: tuple[int, int, int], last: tuple[int, int, int]) -> int:
    if first[1] != last[1]:
        return 1
    return 3 if first == last else 2


def _certain_parts(moment: Moment) -> int:
    """How many of year, month, day stand: what is qualified falls away with all that is finer, the year stays."""
    if moment.day and not any(moment.marks[:4]):
        return 2 if any(moment.marks) else 3
    return 1 if moment.month and any(moment.marks) else 3


def edtf_of_range(earliest: int | None, latest: int | None, *, southern: bool = False) -> str:
    """A moment that lies somewhere in a range of days, as the shortest EDTF; empty when nothing bounds it.

    A year, month, day, season, decade or century where the range is just that; otherwise `[a..b]`, `[a..]`,
    `[..b]` with ends as short as the range allows. Read with the same `southern` it gives the same days again;
    in years of more than four digits, which EDTF gives no months, it is widened to whole years.

    Raises
    ------
    InvalidValue
        When the range ends before it begins.
    """
    if earliest is None and latest is None:
        return ""
    if earliest is None or latest is None:
        return f"[{_end(earliest, 0)}..{_end(latest, 1)}]"
    if earliest > latest:
        raise InvalidValue(Sentence("The range ends before it begins"), todo=Sentence("Put the earlier day first"))
    first, last = from_day(earliest), from_day(latest)
    return _single(first, last, southern) or _between(first, last)


def _single(first: tuple[int, int, int], last: tuple[int, int, int], southern: bool) -> str:
    if first == last:
        return _text(first, 3)
    if first[2] != 1 or last[2] != month_length(*last[:2]):
        return ""
    if first[:2] == last[:2]:
        return _text(first, 2)
    if first[1] == 1 and last[1] == 12:
        return _years(first[0], last[0])
    return _season(first, last, southern)


def _years(first: int, last: int) -> str:
    if first == last:
        return _year(first)
    for width, unknown in ((10, "X"), (100, "XX")):
        if 0 <= first <= 9999 and first % width == 0 and last == first + width - 1:
            return f"{first // width:0{4 - len(unknown)}d}{unknown}"
    return ""


def _season(first: tuple[int, int, int], last: tuple[int, int, int], southern: bool) -> str:
    months = (last[0] - first[0]) * 12 + last[1] - first[1] + 1
    if months != 3:
        return ""
    if abs(first[0]) > 9999:
        return ""
    for code in ("29", "30", "31", "32") if southern else ("21", "22", "23", "24"):
        if PARTS_OF_YEAR[code][0] == first[1]:
            # South of the equator 29–32 become 21–24, which the collection's setting reads again as southern.
            return f"{_year(first[0])}-{int(code) - 8 if southern else code}"
    return ""


def _between(first: tuple[int, int, int], last: tuple[int, int, int]) -> str:
    if first[1:] == (1, 1) and last[1:] == (12, 31):
        parts = 1
    elif first[2] == 1 and last[2] == month_length(*last[:2]):
        parts = 2
    else:
        parts = 3
    start, end = _text(first, parts), _text(last, parts)
    return start if start == end else f"[{start}..{end}]"


def _end(ordinal: int | None, side: int) -> str:
    """One end of an open range, as short as it can be."""
    if ordinal is None:
        return ""
    date = from_day(ordinal)
    if date[1:] == ((1, 1), (12, 31))[side]:
        return _text(date, 1)
    whole_month = date[2] == (1, month_length(*date[:2]))[side]
    return _text(date, 2 if whole_month else 3)


def _text(date: tuple[int, int, int], parts: int) -> str:
    if abs(date[0]) > 9999:
        return _year(date[0])
    return _year(date[0]) + "".join(f"-{part:02d}" for part in date[1:parts])


def _year(year: int) -> str:
    if abs(year) > 9999:
        return f"Y{year}"
    return f"{'-' if year < 0 else ''}{abs(year):04d}"
