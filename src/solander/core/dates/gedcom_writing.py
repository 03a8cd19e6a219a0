"""EDTF as dates of family-tree files (GEDCOM 5.5.1 and 7.0)."""

from __future__ import annotations

from attrs import frozen

from solander.core.dates.edtf import Bounds, Edtf, Form, Moment, joined
from solander.core.dates.gedcom import Approximation, Version, read_gedcom_date
from solander.core.dates.gedcom_calendars import MONTHS, Calendar
from solander.core.dates.parse import parse_edtf
from solander.core.dates.words import words
from solander.core.days import day, from_day, month_length

__all__ = ["GedcomPayload", "gedcom_date_of"]

_NEAR = {"~": "ABT ", "%": "EST ", "?": "", "": ""}
_LAST_YEAR = 9999

_DateParts = tuple[int, ...]
"""Year, and month and day as far as the date goes."""


@frozen
class GedcomPayload:
    """A DATE line to write.

    `payload` is empty when GEDCOM has no form for the date. `phrase` is for the PHRASE below it; in 5.5.1, which
    has none, the words stand in `payload` where its grammar has room for them, else `phrase` is for a NOTE.
    """

    payload: str
    phrase: str = ""


def gedcom_date_of(
    edtf: Edtf | str,
    *,
    version: Version = "7.0",
    phrase: str = "",
    approximation: Approximation = "",
    southern: bool = False,
) -> GedcomPayload:
    """The DATE line that says as much of an EDTF value as GEDCOM can, always Gregorian.

    `phrase` and `approximation` are those that were read with the date, `southern` the reading of seasons (see
    `Edtf.bounds`). `~` is ABT and `%` EST before a simple date; `[..1960]` is BEF 1960 in 7.0 and BEF 1961 in
    5.5.1. What the payload leaves out (a `?`, holes in a set, the name of a season, that an end is unknown) is
    said in English words in the phrase, unless one is given; a date without a year is said in words alone. An
    empty value gives the phrase alone.

    Raises
    ------
    InvalidValue
        When the value is no EDTF.
    """
    if not edtf:
        return _line("", phrase, version)
    value = parse_edtf(edtf) if isinstance(edtf, str) else edtf
    payload = _payload(value, version, southern)
    says_all = bool(payload) and _says_all(value, payload, version=version, southern=southern)
    if approximation == "CAL" and _is_simple(payload):
        return _line(f"CAL {payload}", phrase or ("" if says_all else _in_words(value)), version)
    if approximation == "CAL":
        return _line(payload, phrase or f"worked out from other data: {_in_words(value)}", version)
    return _line(payload, phrase or ("" if says_all else _in_words(value)), version)


def _line(payload: str, phrase: str, version: Version) -> GedcomPayload:
    phrase = " ".join(phrase.split())
    if version == "7.0" or not phrase:
        return GedcomPayload(payload, phrase)
    if not payload:
        return GedcomPayload(f"({phrase})")
    if _is_simple(payload):
        return GedcomPayload(f"INT {payload} ({phrase})")
    return GedcomPayload(payload, phrase)


def _is_simple(payload: str) -> bool:
    """Whether the payload is a date without a word before it."""
    return payload[:1].isdigit() or payload[:3] in MONTHS[Calendar.GREGORIAN]


def _in_words(value: Edtf) -> str:
    return words(value).replace(" of an unknown year", " (year unknown)")


def _says_all(value: Edtf, payload: str, *, version: Version, southern: bool) -> bool:
    """Whether the payload, read again, gives all that the value says."""
    again = parse_edtf(read_gedcom_date(payload, version=version).edtf)
    more_than_days = any(each.time or each.significant or each.is_season for each in value.moments)
    return (
        not more_than_days
        and value.qualifiers == again.qualifiers
        and _manner(value) == _manner(again)
        and _kinds(value.bounds(southern)) == _kinds(again.bounds())
        and value.pieces(southern) == again.pieces()
    )


def _manner(value: Edtf) -> Form:
    """How the days are meant: one of them, or all of them, or lasting."""
    if value.form is Form.ALL_OF and len(value.moments) == 1:
        return Form.DATE
    return Form.DATE if value.form is Form.ONE_OF else value.form


def _kinds(bounds: Bounds) -> tuple[str, str]:
    return bounds.earliest_kind, bounds.latest_kind


def _payload(value: Edtf, version: Version, southern: bool) -> str:
    """The payload without a phrase; empty where GEDCOM has none, as for a date without a year."""
    if any(set(each.year) <= {"X", "-"} for each in value.moments):
        return ""
    bounds = value.bounds(southern)
    if bounds.earliest is None and bounds.latest is None:
        return ""
    start = _edge(bounds.earliest, 0, value.moments, southern=southern)
    end = _edge(bounds.latest, 1, value.moments[::-1], southern=southern)
    if version == "5.5.1" and value.form is Form.ONE_OF:
        start, end = _left_out(start, end)
    if any(each and abs(each[0]) > _LAST_YEAR for each in (start, end)):
        return ""
    return _worded(value, _text(start, version), _text(end, version))


def _edge(ordinal: int | None, side: int, moments: tuple[Moment, ...], *, southern: bool) -> _DateParts | None:
    """The first (0) or last (1) day as year, month or day, as fine as the date in the value that has it."""
    if ordinal is None:
        return None
    for moment in moments:
        days = moment.first_day(southern), moment.last_day(southern)
        if days[side] == ordinal:
            return from_day(ordinal)[: _fineness(*days)]
    return from_day(ordinal)


def _fineness(first_day: int, last_day: int) -> int:
    """1 for whole years, 2 for whole months, 3 for days."""
    first, last = from_day(first_day), from_day(last_day)
    if first[2] != 1 or last[2] != month_length(*last[:2]):
        return 3
    return 1 if first[1] == 1 and last[1] == 12 else 2


def _left_out(start: _DateParts | None, end: _DateParts | None) -> tuple[_DateParts | None, _DateParts | None]:
    """The ends of a range open on one side, moved to the date that BEF and AFT of 5.5.1 leave out."""
    if start is None and end is not None:
        return None, _neighbour(end, 1)
    return (_neighbour(start, -1), None) if end is None and start is not None else (start, end)


def _neighbour(date: _DateParts, step: int) -> _DateParts:
    if len(date) == 3:
        return from_day(day(*date) + step)
    if len(date) == 2:
        years, month = divmod(date[1] - 1 + step, 12)
        return date[0] + years, month + 1
    return (date[0] + step,)


def _text(date: _DateParts | None, version: Version) -> str:
    if date is None:
        return ""
    epoch = "" if date[0] > 0 else " BCE" if version == "7.0" else " B.C."
    year = f"{date[0] if date[0] > 0 else 1 - date[0]}{epoch}"
    if len(date) == 1:
        return year
    month = MONTHS[Calendar.GREGORIAN][date[1] - 1]
    return " ".join([*(str(each) for each in date[2:]), month, year])


def _worded(value: Edtf, start: str, end: str) -> str:
    if value.form is Form.INTERVAL or (value.form is Form.ALL_OF and start != end):
        return " ".join(([f"FROM {start}"] if start else []) + ([f"TO {end}"] if end else []))
    if start == end:
        return f"{_NEAR[joined({mark for each in value.moments for mark in each.marks})]}{start}"
    if not start:
        return f"BEF {end}"
    return f"BET {start} AND {end}" if end else f"AFT {start}"
