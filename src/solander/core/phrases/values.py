"""What was said of one date to EDTF."""

from __future__ import annotations

from datetime import date

from attrs import evolve, frozen

from solander.core.dates import day_text, edtf_of_range, parse_edtf
from solander.core.days import day, from_day, month_length
from solander.core.errors import InvalidValue
from solander.core.phrases.feasts import FEASTS, feast_day
from solander.core.phrases.parts import Parts, Stretch
from solander.core.sentence import Sentence

__all__ = ["Value", "values_of"]

_DECADE_PARTS = ((0, 3), (4, 6), (7, 9), (0, 4), (5, 9))
_CENTURY_PARTS = ((0, 33), (34, 66), (67, 99), (0, 49), (50, 99))
_YEAR_PARTS = ((1, 4), (5, 8), (9, 12), (1, 6), (7, 12))
_SIXTHS = ((0, 2), (2, 4), (4, 6), (0, 3), (3, 6))
_MONTH_PARTS = ((1, 10), (11, 20), (21, 31), (1, 15), (16, 31))
"""Early, mid, late, first and second half (the thirds of a decade as in shared/standards/date-phrases.csv)."""


@frozen
class Value:
    """One date in EDTF: `first` and `last` are the same unless it is a stretch.

    `stretch` holds its days where their ends are in doubt.
    """

    first: str
    last: str
    approximate: bool = False
    stretch: Stretch | None = None


def values_of(parts: Parts, today: date) -> list[Value]:
    """The date, or the several dates of which it is one, in EDTF.

    Raises
    ------
    InvalidValue
        When there is no such day.
    """
    if parts.pieces:
        return [_days(first, last, parts.approximate) for first, last in parts.pieces]
    return [_value(parts, today)]


def _days(first: int, last: int, approximate: bool) -> Value:
    ends = edtf_of_range(first, last).strip("[]").split("..")
    return Value(ends[0], ends[-1], approximate)


def _value(parts: Parts, today: date) -> Value:
    value = _plain_value(parts)
    if not parts.short or parts.year is None:
        return value
    first = parse_edtf(value.first).bounds().earliest
    if first is not None and first > today.toordinal():
        return _plain_value(evolve(parts, year=parts.year - 100))
    return value


def _plain_value(parts: Parts) -> Value:
    if parts.relative is not None:
        raise InvalidValue(Sentence("There are no days beside it"))
    if parts.stretch is not None:
        whole = _days(parts.stretch.first, parts.stretch.last, parts.approximate)
        return evolve(whole, stretch=parts.stretch)
    if parts.spans and parts.year is not None:
        return _in_year(parts.spans[0], parts.year)
    if parts.spans and parts.part is not None:
        return _part_of_span(parts)
    if parts.spans:
        return Value(*parts.spans[0])
    if parts.century is not None:
        return _stretch(parts.century, parts, _CENTURY_PARTS, f"{parts.century // 100:02d}XX")
    if parts.decade is not None:
        return _stretch(parts.decade, parts, _DECADE_PARTS, f"{parts.decade // 10:03d}X")
    if parts.feast is not None:
        return _feast(parts.feast, parts.year)
    year = "XXXX" if parts.year is None else f"{parts.year:04d}"
    if parts.season is not None:
        return _season(parts, year)
    if parts.month is None:
        return Value(year, year, parts.approximate) if parts.part is None else _part_of_year(year, parts)
    month = f"{year}-{parts.month:02d}"
    if parts.week is not None:
        length = month_length(parts.year or 0, parts.month)
        last = length if parts.week < 0 else min(7 * parts.week, length)
        return Value(f"{month}-{length - 6 if parts.week < 0 else 7 * parts.week - 6:02d}", f"{month}-{last:02d}")
    if parts.day is not None:
        return _same(f"{month}-{parts.day:02d}")
    return _same(month) if parts.part is None or parts.year is None else _part_of_month(parts, month)


def _in_year(span: tuple[str, str], year: int) -> Value:
    """What of an event lies in a year: "the war, 1943", "the coronation, 1937"."""
    first, last = max(_first(span[0]), day(year, 1, 1)), min(_last(span[1]), day(year, 12, 31))
    return _days(first, last, approximate=False)


def _part_of_span(parts: Parts) -> Value:
    """ "Late in the war", "fine Ottocento": by thirds or halves of its days."""
    first, last = _first(parts.spans[0][0]), _last(parts.spans[0][1])
    sixth = (last - first + 1) / 6
    begin, end = _part(parts, _SIXTHS)
    return _days(first + round(begin * sixth), first + round(end * sixth) - 1, approximate=False)


def _first(text: str) -> int:
    return parse_edtf(text).bounds().earliest or 0


def _last(text: str) -> int:
    return parse_edtf(text).bounds().latest or 0


def _same(text: str) -> Value:
    return Value(text, text)


def _stretch(start: int, parts: Parts, stretches: tuple[tuple[int, int], ...], whole: str) -> Value:
    if parts.part is None:
        return _same(whole)
    first, last = _part(parts, stretches)
    return Value(f"{start + first:04d}", f"{start + last:04d}")


def _part(parts: Parts, stretches: tuple[tuple[int, int], ...]) -> tuple[int, int]:
    """The first and last year, month or day of a part, or of one part to another."""
    part = parts.part or 0
    return stretches[part][0], stretches[part if parts.to_part is None else max(part, parts.to_part)][1]


def _feast(name: str, year: int | None) -> Value:
    approximate, name = name.endswith("~"), name.rstrip("~")
    if year is None:
        return _same_feast(name, approximate)
    text = day_text(feast_day(name, year))
    return Value(text, text, approximate)


def _same_feast(name: str, approximate: bool) -> Value:
    """A feast of an unknown year, when it does not move."""
    rule = FEASTS[name]
    if not isinstance(rule, tuple):
        raise InvalidValue(Sentence("%(name)s without a year is no date", name=name))
    text = f"XXXX-{rule[0]:02d}-{rule[1]:02d}"
    return Value(text, text, approximate)


def _season(parts: Parts, year: str) -> Value:
    if parts.part is None or parts.part > 2 or parts.year is None or parts.season is None:
        return _same(f"{year}-{parts.season}")
    first = parse_edtf(f"{year}-{parts.season}").bounds().earliest or 0
    start, month, _ = from_day(first)
    over, month = divmod(month - 1 + parts.part, 12)
    return _same(f"{start + over:04d}-{month + 1:02d}")


def _part_of_year(year: str, parts: Parts) -> Value:
    first, last = _part(parts, _YEAR_PARTS)
    return Value(f"{year}-{first:02d}", f"{year}-{last:02d}")


def _part_of_month(parts: Parts, month: str) -> Value:
    first, last = _part(parts, _MONTH_PARTS)
    last = min(last, month_length(parts.year or 0, parts.month or 1))
    return Value(f"{month}-{first:02d}", f"{month}-{last:02d}")
