"""Date expressions to EDTF."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from attrs import evolve, frozen

from solander.core.dates import day_text, edtf_of_range, parse_edtf
from solander.core.days import from_day, month_length
from solander.core.errors import InvalidValue
from solander.core.phrases.feasts import FEASTS, feast_day
from solander.core.phrases.parts import Expression, Parts
from solander.core.phrases.records import Reading
from solander.core.phrases.terms import Kind
from solander.core.statements import Sure

__all__ = ["readings_of"]

_DECADE_PARTS = ((0, 3), (4, 6), (7, 9), (0, 4), (5, 9))
_CENTURY_PARTS = ((0, 33), (34, 66), (67, 99), (0, 49), (50, 99))
_YEAR_PARTS = ((1, 4), (5, 8), (9, 12), (1, 6), (7, 12))
_MONTH_PARTS = ((1, 10), (11, 20), (21, 31), (1, 15), (16, 31))
"""Early, mid, late, first and second half (the thirds of a decade as in shared/standards/date-phrases.csv)."""


@frozen
class _Value:
    """One date in EDTF: `first` and `last` are the same unless it is a stretch."""

    first: str
    last: str
    approximate: bool = False


def readings_of(expression: Expression, *, today: date, stamped: bool) -> list[Reading]:
    """The readings of an expression, best first; none when no such day exists.

    `stamped` says that the phrase looks like what a laboratory prints.
    """
    found: list[Reading] = []
    for number, edtf in enumerate(dict.fromkeys(_edtf_values(expression, today, stamped))):
        bounds = parse_edtf(edtf).bounds()
        printing = expression.lab or stamped
        sure = _sure(expression, edtf) if number == 0 else Sure.GUESS
        found.append(Reading(edtf, bounds.earliest, bounds.latest, "printing" if printing else "exposure", sure))
    return found


def _sure(expression: Expression, edtf: str) -> Sure:
    if "?" in edtf or "%" in edtf:
        return Sure.GUESS
    told_by_name = any(parts.spans for parts in expression.members) and expression.relation is not None
    return Sure.LIKELY if "~" in edtf or told_by_name else Sure.CERTAIN


def _edtf_values(expression: Expression, today: date, stamped: bool) -> Iterator[str]:
    ways = list(_ways(expression, stamped))
    together = _together(ways)
    for members in [*together, *ways]:
        try:
            edtf = _edtf(expression, members, today)
            parse_edtf(edtf)
            yield edtf
        except InvalidValue:
            # No calendar has that day, or the range runs backwards: not a reading.
            continue


def _ways(expression: Expression, stamped: bool) -> Iterator[tuple[Parts, ...]]:
    """The members with each ambiguous one settled in each way, one after the other."""
    for place, parts in enumerate(expression.members):
        options = parts.options or tuple(evolve(parts, spans=(span,)) for span in parts.spans)
        if len(options) > 1:
            if stamped:
                options = tuple(sorted(options, key=lambda option: not option.has_year))
            for option in options:
                settled = evolve(expression, members=_replaced(expression.members, place, option))
                yield from _ways(settled, stamped)
            return
        if options and options[0] != parts:
            settled = evolve(expression, members=_replaced(expression.members, place, options[0]))
            yield from _ways(settled, stamped)
            return
    yield expression.members


def _replaced(members: tuple[Parts, ...], place: int, parts: Parts) -> tuple[Parts, ...]:
    return (*members[:place], parts, *members[place + 1 :])


def _together(ways: list[tuple[Parts, ...]]) -> list[tuple[Parts, ...]]:
    """A numeric date that has two orders is first of all one of both days."""
    singles = [members[0] for members in ways if len(members) == 1]
    if len(ways) == 2 and len(singles) == 2 and all(parts.day and parts.year for parts in singles):
        return [tuple(singles)]
    return []


# -- one way to understand an expression ---------------------------------------------------------------------


def _edtf(expression: Expression, members: tuple[Parts, ...], today: date) -> str:
    values = [_value(parts, today) for parts in members]
    marks = expression.marks | ({"~"} if any(value.approximate for value in values) else set())
    mark = "%" if len(marks) > 1 else "".join(marks)
    if expression.week:
        return _week(values[0], expression.week, mark)
    if expression.link == "range":
        return _range(values[0].first, values[-1].last, mark)
    if expression.relation not in (None, Kind.BETWEEN):
        return _one_sided(expression.relation, values[0], mark)
    if len(values) > 1:
        return f"[{','.join(_member(value, mark) for value in values)}]"
    if values[0].first == values[0].last:
        return f"{values[0].first}{mark}"
    return _range(values[0].first, values[0].last, mark)


def _member(value: _Value, mark: str) -> str:
    if value.first == value.last:
        return f"{value.first}{mark}"
    return f"{value.first}{mark}..{value.last}{mark}"


def _range(first: str, last: str, mark: str) -> str:
    return f"[{first}{mark}..{last}{mark}]"


def _week(value: _Value, days: int, mark: str) -> str:
    start = parse_edtf(value.first).bounds()
    if start.earliest is None or start.earliest != start.latest:
        return f"{value.first}{mark}"
    first, last = sorted((start.earliest, start.earliest + days))
    return _range(day_text(first), day_text(last), mark)


def _one_sided(relation: Kind | None, value: _Value, mark: str) -> str:
    """ "before 1920" ends with 1919, "not later than 1920" with 1920."""
    if relation is Kind.UNTIL:
        return f"[..{value.last}{mark}]"
    if relation is Kind.SINCE:
        return f"[{value.first}{mark}..]"
    if relation is Kind.BEFORE:
        first = parse_edtf(value.first).bounds().earliest
        return _marked(edtf_of_range(None, None if first is None else first - 1), mark)
    last = parse_edtf(value.last).bounds().latest
    return _marked(edtf_of_range(None if last is None else last + 1, None), mark)


def _marked(edtf: str, mark: str) -> str:
    end = edtf.strip("[].")
    return edtf.replace(end, f"{end}{mark}")


# -- one date ------------------------------------------------------------------------------------------------


def _value(parts: Parts, today: date) -> _Value:
    value = _plain_value(parts)
    if not parts.short or parts.year is None:
        return value
    first = parse_edtf(value.first).bounds().earliest
    if first is not None and first > today.toordinal():
        return _plain_value(evolve(parts, year=parts.year - 100))
    return value


def _plain_value(parts: Parts) -> _Value:
    if parts.spans:
        return _Value(*parts.spans[0])
    if parts.century is not None:
        return _stretch(parts.century, parts.part, _CENTURY_PARTS, f"{parts.century // 100:02d}XX")
    if parts.decade is not None:
        return _stretch(parts.decade, parts.part, _DECADE_PARTS, f"{parts.decade // 10:03d}X")
    if parts.feast is not None:
        return _feast(parts.feast, parts.year)
    year = "XXXX" if parts.year is None else f"{parts.year:04d}"
    if parts.season is not None:
        return _season(parts, year)
    if parts.month is None:
        return _same(year) if parts.part is None else _part_of_year(year, parts.part)
    month = f"{year}-{parts.month:02d}"
    if parts.week is not None:
        last = min(7 * parts.week, month_length(parts.year or 0, parts.month))
        return _Value(f"{month}-{7 * parts.week - 6:02d}", f"{month}-{last:02d}")
    if parts.day is not None:
        return _same(f"{month}-{parts.day:02d}")
    return _same(month) if parts.part is None or parts.year is None else _part_of_month(parts, month)


def _same(text: str) -> _Value:
    return _Value(text, text)


def _stretch(start: int, part: int | None, stretches: Iterable[tuple[int, int]], whole: str) -> _Value:
    if part is None:
        return _same(whole)
    first, last = list(stretches)[part]
    return _Value(f"{start + first:04d}", f"{start + last:04d}")


def _feast(name: str, year: int | None) -> _Value:
    approximate, name = name.endswith("~"), name.rstrip("~")
    if year is None:
        return _same_feast(name, approximate)
    text = day_text(feast_day(name, year))
    return _Value(text, text, approximate)


def _same_feast(name: str, approximate: bool) -> _Value:
    """A feast of an unknown year, when it does not move."""
    rule = FEASTS[name]
    if not isinstance(rule, tuple):
        raise InvalidValue(f"{name} without a year is no date")
    text = f"XXXX-{rule[0]:02d}-{rule[1]:02d}"
    return _Value(text, text, approximate)


def _season(parts: Parts, year: str) -> _Value:
    if parts.part is None or parts.part > 2 or parts.year is None or parts.season is None:
        return _same(f"{year}-{parts.season}")
    first = parse_edtf(f"{year}-{parts.season}").bounds().earliest or 0
    start, month, _ = from_day(first)
    over, month = divmod(month - 1 + parts.part, 12)
    return _same(f"{start + over:04d}-{month + 1:02d}")


def _part_of_year(year: str, part: int) -> _Value:
    first, last = _YEAR_PARTS[part]
    return _Value(f"{year}-{first:02d}", f"{year}-{last:02d}")


def _part_of_month(parts: Parts, month: str) -> _Value:
    first, last = _MONTH_PARTS[parts.part or 0]
    last = min(last, month_length(parts.year or 0, parts.month or 1))
    return _Value(f"{month}-{first:02d}", f"{month}-{last:02d}")
