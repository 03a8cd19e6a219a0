"""Problems and answers as plain dictionaries (the JSON form of `solander chronology PROBLEM.json --json`)."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Any

from attrs import frozen

from solander.core.chronology.constraints import Between, Difference, Months, Pieces, Statement
from solander.core.chronology.contradictions import Contradiction
from solander.core.chronology.network import solve
from solander.core.days import day, day_text, month_length
from solander.core.errors import InvalidValue

__all__ = ["Problem", "answer", "problems_in", "read_problem"]

_DAY = re.compile(r"(-?[0-9]{4,12})-([0-9]{2})-([0-9]{2})")

_MOST_DAYS = 10**15
"""Over two and a half million million years, longer than the universe is old."""


@frozen
class Problem:
    """Things in time and what is said of them."""

    id: str
    things: tuple[str, ...]
    statements: tuple[Statement, ...]


def problems_in(data: Any) -> list[Any]:
    """The examples of a whole file, or the one that it is; each still to be read by `read_problem`."""
    if isinstance(data, Mapping) and "examples" in data:
        examples = data["examples"]
        if not isinstance(examples, list):
            raise InvalidValue("The examples are not a list", todo="Write them as examples: [ … ]")
        return examples
    return [data]


def read_problem(data: Any) -> Problem:
    """The problem in a dictionary `{"id", "things": […], "statements": [{"id", "kind", …}]}`.

    Kinds: `between` (x, from, to), `diff` (a, b, min_days, max_days), `months` (x, months), `pieces`
    (x, pieces: [[from, to], …]). Days are `YYYY-MM-DD`; a bound that is missing or null is open.

    Raises
    ------
    InvalidValue
        Naming the statement that can't be read.
    """
    if not isinstance(data, Mapping):
        raise InvalidValue(
            "The problem can't be read", "it is not an object", "Write {“id”, “things”, “statements”}"
        )
    name = str(data.get("id", ""))
    things, said = data.get("things"), data.get("statements")
    if not isinstance(things, list) or not isinstance(said, list):
        raise InvalidValue(f"Problem {name} can't be read", "it needs a list of things and a list of statements")
    return Problem(name, tuple(str(thing) for thing in things), tuple(_statement(each) for each in said))


def _statement(data: Any) -> Statement:
    ident = data.get("id") if isinstance(data, Mapping) else None
    if not isinstance(ident, str) or not ident:
        raise InvalidValue(f"Statement {data!r} has no id", todo="Give every statement its own id")
    kind = data.get("kind")
    if kind not in _READERS:
        raise InvalidValue(f"Statement {ident} has the kind “{kind}”", todo=f"Choose {', '.join(_READERS)}")
    return _READERS[kind](ident, data)


def _between(ident: str, data: Mapping[str, Any]) -> Between:
    first, last = (_day(ident, data.get(key)) for key in ("from", "to"))
    return Between(ident, _name(ident, data, "x"), first, last, _why(data))


def _difference(ident: str, data: Mapping[str, Any]) -> Difference:
    least, most = (_days(ident, key, data.get(key)) for key in ("min_days", "max_days"))
    return Difference(ident, _name(ident, data, "a"), _name(ident, data, "b"), least, most, _why(data))


def _months(ident: str, data: Mapping[str, Any]) -> Months:
    months = data.get("months")
    if not isinstance(months, list) or not all(type(month) is int for month in months):
        raise InvalidValue(f"Statement {ident} has no list of months", todo="Give month numbers from 1 to 12")
    return Months(ident, _name(ident, data, "x"), months, _why(data))


def _pieces(ident: str, data: Mapping[str, Any]) -> Pieces:
    pieces = data.get("pieces")
    if not isinstance(pieces, list) or not all(isinstance(piece, list) and len(piece) == 2 for piece in pieces):
        raise InvalidValue(f"Statement {ident} has no list of stretches", todo="Write them as [[from, to], …]")
    stretches = [(_day(ident, first), _day(ident, last)) for first, last in pieces]
    return Pieces(ident, _name(ident, data, "x"), stretches, _why(data))


_READERS: dict[str, Callable[[str, Mapping[str, Any]], Statement]] = {
    "between": _between,
    "diff": _difference,
    "months": _months,
    "pieces": _pieces,
}


def _why(data: Mapping[str, Any]) -> str:
    return str(data.get("why", ""))


def _name(ident: str, data: Mapping[str, Any], key: str) -> str:
    name = data.get(key)
    if not isinstance(name, str):
        raise InvalidValue(f"Statement {ident} does not say what it is about", f"“{key}” is missing")
    return name


def _days(ident: str, key: str, value: Any) -> int | None:
    if value is None or (type(value) is int and abs(value) <= _MOST_DAYS):
        return value
    raise InvalidValue(
        f"Statement {ident} has “{key}” of {value!r}", "it is not a whole number of days, or beyond belief"
    )


def _day(ident: str, text: Any) -> int | None:
    if text is None:
        return None
    found = _DAY.fullmatch(text) if isinstance(text, str) else None
    if found is None:
        raise InvalidValue(f"Statement {ident} has the day {text!r}", "it can't be read", "Write it as YYYY-MM-DD")
    year, month, number = (int(part) for part in found.groups())
    if not 1 <= month <= 12 or not 1 <= number <= month_length(year, month):
        raise InvalidValue(f"Statement {ident} has the day {text}", "there is no such day", "Check it")
    return day(year, month, number)


def answer(problem: Problem) -> dict[str, Any]:
    """The answer as `{"id", "consistent", "ranges", "pieces", "conflict", "gap_days"}`; days `YYYY-MM-DD` or None.

    Ranges and pieces are empty when the statements contradict each other, else conflict is empty and gap_days
    None; pieces are there only for things whose range has holes.

    Raises
    ------
    InvalidValue
        When a statement speaks of a thing that is not named, or an id is there twice.
    """
    found = solve(problem.things, problem.statements)
    if isinstance(found, Contradiction):
        return _answer(problem.id, False, conflict=list(found.conflict), gap_days=found.gap_days)
    ranges = {thing: [_text(first), _text(last)] for thing, (first, last) in found.ranges.items()}
    pieces = {
        thing: [[day_text(first), day_text(last)] for first, last in stretches]
        for thing, stretches in found.pieces.items()
    }
    return _answer(problem.id, True, ranges=ranges, pieces=pieces)


def _answer(ident: str, consistent: bool, **known: Any) -> dict[str, Any]:
    blank: dict[str, Any] = {"ranges": {}, "pieces": {}, "conflict": [], "gap_days": None}
    return {"id": ident, "consistent": consistent, **blank, **known}


def _text(ordinal: int | None) -> str | None:
    return None if ordinal is None else day_text(ordinal)
