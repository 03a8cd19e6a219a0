"""Date expressions to EDTF."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from attrs import evolve

from solander.core.dates import day_text, edtf_of_range, parse_edtf
from solander.core.errors import InvalidValue
from solander.core.phrases.nearest import beside
from solander.core.phrases.parts import Expression, Parts
from solander.core.phrases.records import Reading
from solander.core.phrases.terms import Kind
from solander.core.phrases.values import Value, values_of
from solander.core.sentence import Sentence
from solander.core.statements import Sure

__all__ = ["readings_of"]


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
    members = expression.members
    told_by_name = any(parts.spans or parts.stretch for parts in members) and expression.relation is not None
    told_by_name = told_by_name or any(parts.relative for parts in members)
    return Sure.LIKELY if "~" in edtf or told_by_name else Sure.CERTAIN


def _edtf_values(expression: Expression, today: date, stamped: bool) -> Iterator[str]:
    ways = list(_ways(expression, stamped, today))
    together = _together(ways)
    for members in [*together, *ways]:
        try:
            edtf = _edtf(expression, members, today)
            parse_edtf(edtf)
            yield edtf
        except InvalidValue:
            # No calendar has that day, or the range runs backwards: not a reading.
            continue


def _ways(expression: Expression, stamped: bool, today: date) -> Iterator[tuple[Parts, ...]]:
    """The members with each ambiguous one settled in each way, one after the other."""
    for place, parts in enumerate(expression.members):
        options = _options(parts, today)
        if len(options) > 1:
            if stamped:
                options = tuple(sorted(options, key=lambda option: not option.has_year))
            for option in options:
                settled = evolve(expression, members=_replaced(expression.members, place, option))
                yield from _ways(settled, stamped, today)
            return
        if options and options[0] != parts:
            settled = evolve(expression, members=_replaced(expression.members, place, options[0]))
            yield from _ways(settled, stamped, today)
            return
    yield expression.members


def _options(parts: Parts, today: date) -> tuple[Parts, ...]:
    if parts.relative is None:
        return parts.options or tuple(evolve(parts, spans=(span,)) for span in parts.spans)
    anchor = parts.relative.anchor
    return tuple(
        found
        for each in _options(anchor, today) or (anchor,)
        for found in beside(evolve(parts.relative, anchor=each), today)
    )


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
    values = [value for parts in members for value in values_of(parts, today)]
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


def _member(value: Value, mark: str) -> str:
    if value.first == value.last:
        return f"{value.first}{mark}"
    return f"{value.first}{mark}..{value.last}{mark}"


def _range(first: str, last: str, mark: str) -> str:
    start, end = (f"{text}{mark}" if text else "" for text in (first, last))
    return f"[{start}..{end}]"


def _week(value: Value, days: int, mark: str) -> str:
    start = parse_edtf(value.first).bounds()
    if start.earliest is None or start.earliest != start.latest:
        return f"{value.first}{mark}"
    first, last = sorted((start.earliest, start.earliest + days))
    return _range(day_text(first), day_text(last), mark)


def _one_sided(relation: Kind | None, value: Value, mark: str) -> str:
    """ "before 1920" ends with 1919, "not later than 1920" with 1920."""
    if value.first.startswith("XXXX"):
        raise InvalidValue(Sentence("Before or after a date of an unknown year is any time"))
    if relation is Kind.UNTIL:
        return f"[..{value.last}{mark}]"
    if relation is Kind.SINCE:
        return f"[{value.first}{mark}..]"
    if relation is Kind.BEFORE:
        first = value.stretch.begun if value.stretch else parse_edtf(value.first).bounds().earliest
        return _marked(edtf_of_range(None, None if first is None else first - 1), mark)
    last = value.stretch.ended if value.stretch else parse_edtf(value.last).bounds().latest
    return _marked(edtf_of_range(None if last is None else last + 1, None), mark)


def _marked(edtf: str, mark: str) -> str:
    end = edtf.strip("[].")
    return edtf.replace(end, f"{end}{mark}")
