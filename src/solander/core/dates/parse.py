"""Reads EDTF text."""

from __future__ import annotations

import re
from functools import lru_cache

from solander.core.dates.edtf import Edtf, End, Form, Moment, Span
from solander.core.dates.stretches import DAYS, MONTHS, PARTS_OF_YEAR, exists, year_number
from solander.core.days import month_length
from solander.core.errors import InvalidValue
from solander.core.sentence import Sentence

__all__ = ["parse_edtf"]

_MARK = r"([?~%]?)"
_MOMENT = re.compile(
    rf"{_MARK}(-?[0-9X]{{4}}|Y-?[1-9][0-9]*(?:E[1-9][0-9]*)?)(?:S([1-9][0-9]*))?{_MARK}"
    rf"(?:-{_MARK}([0-9X]{{2}}){_MARK}(?:-{_MARK}([0-9X]{{2}}){_MARK}"
    r"(T(?:[01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9](?:Z|[+-](?:0[0-9]|1[0-4])(?::[0-5][0-9])?)?)?)?)?"
)
_L1_YEAR = re.compile(r"-?[0-9]{2}(?:[0-9]X|XX)")
_UNMARKED = ("",) * 6
_LONGEST_YEAR = 18
"""Digits of a year; the standard sets no limit, but the age of the universe has 11."""


@lru_cache(maxsize=16_384)
def parse_edtf(text: str) -> Edtf:
    """The value of an EDTF text of level 0, 1 or 2.

    Where the specification is silent: an interval or range is refused only when it cannot be true (the first
    day of its start comes after the last day of its end), so `0000-01-03/0000-01` is valid and
    `2012-24/2012-21` is not; digits that no day answers to (`1936-02-3X`) are refused; X and qualifiers may
    stand together (`195X~`); an interval needs one date at least, unless both ends are written and one is `..`.

    Raises
    ------
    InvalidValue
        With what is wrong and what to write.
    """
    if (found := _MOMENT.fullmatch(text)) is not None:
        moment, level = _moment(found, text)
        return Edtf(Form.DATE, (moment,), level)
    if "/" in text:
        return _interval(text)
    if text[:1] == "[" and text[-1:] == "]":
        return _set(text, Form.ONE_OF)
    if text[:1] == "{" and text[-1:] == "}":
        return _set(text, Form.ALL_OF)
    raise _refused(text, _form_fault(text))


def _refused(text: str, why: str) -> InvalidValue:
    return InvalidValue(
        Sentence("“%(text)s” is no EDTF date", text=text),
        why,
        Sentence("Write for instance 1952, 1952-07, 1952-07-03, 195X, 1952~ or [1948..1952]"),
    )


def _form_fault(text: str) -> str:
    if not text:
        return "it is empty"
    if any(sign.isspace() for sign in text):
        return "spaces have no place in it"
    if "x" in text:
        return "an unknown digit is a capital X"
    if re.fullmatch(r"-?[0-9]{5,}.*", text):
        return "a year of more than four digits begins with Y, other dates have hyphens"
    return "it does not have the form of a date"


def _moment(found: re.Match[str], text: str) -> tuple[Moment, int]:
    (
        before_year,
        year,
        significant,
        after_year,
        before_month,
        month,
        after_month,
        before_day,
        day,
        after_day,
        time,
    ) = found.groups("")
    marks = before_year, after_year, before_month, after_month, before_day, after_day
    if marks == _UNMARKED:
        marks = _UNMARKED
    elif any(before and after for before, after in zip(marks[::2], marks[1::2], strict=True)):
        raise _refused(text, "a part is qualified on both sides")
    moment = Moment(year, month, day, time, significant, marks)
    if fault := _fault(moment):
        raise _refused(text, fault)
    return moment, _level(moment)


def _fault(moment: Moment) -> str:
    """Why no day can answer to the date; empty when all is well."""
    year, month, day = moment.year, moment.month, moment.day
    if (year[0] in "Y-" or moment.significant) and (fault := _year_fault(moment)):
        return fault
    if moment.time and (moment.marks != _UNMARKED or "X" in year + month + day):
        return "a time needs a whole and certain day"
    if not month:
        return ""
    if month not in MONTHS:
        return _part_of_year_fault(month, day)
    if not day:
        return ""
    if day not in DAYS or not _day_exists(year, month, day):
        return "there is no such day"
    return ""


def _day_exists(year: str, month: str, day: str) -> bool:
    if "X" in year or "X" in month or "X" in day:
        return exists(year, month, day)
    return int(day) <= month_length(int(year), int(month))


def _part_of_year_fault(month: str, day: str) -> str:
    if month not in PARTS_OF_YEAR:
        return f"{month} is neither a month nor a season"
    return "a season takes no day" if day else ""


def _year_fault(moment: Moment) -> str:
    year = moment.year
    if year == "-0000":
        return "there is no year minus zero"
    if year[0] == "Y":
        if moment.month:
            return "a year with Y takes no month"
        mantissa, _, exponent = year.lstrip("Y-").partition("E")
        if len(exponent) > 2 or len(mantissa) + int(exponent or 0) > _LONGEST_YEAR:
            return f"a year has {_LONGEST_YEAR} digits at most"
        if len(mantissa) <= 4 and not exponent:
            return "a year of four digits takes no Y"
    if moment.significant:
        return _significant_fault(moment)
    return ""


def _significant_fault(moment: Moment) -> str:
    if moment.month:
        return "significant digits belong to a year alone"
    if "X" in moment.year:
        return "significant digits and unknown digits exclude each other"
    digits = max(4, len(str(abs(year_number(moment.year)))))
    if len(moment.significant) > 2 or int(moment.significant) > digits:
        return "the year has fewer digits than are called significant"
    return ""


def _level(moment: Moment) -> int:
    return max(_level_of_marks(moment), _level_of_digits(moment), _level_of_year(moment))


def _level_of_year(moment: Moment) -> int:
    part_of_year = moment.month in PARTS_OF_YEAR
    if moment.significant or "E" in moment.year or (part_of_year and moment.month > "24"):
        return 2
    return 1 if moment.year[0] in "Y-" or part_of_year else 0


def _level_of_marks(moment: Moment) -> int:
    if moment.marks is _UNMARKED:
        return 0
    last = 5 if moment.day else 3 if moment.month else 1
    return 1 if not any(mark for place, mark in enumerate(moment.marks) if place != last) else 2


def _level_of_digits(moment: Moment) -> int:
    """Level 1 knows X for the last digits of a bare year, for a whole month, and for a whole day at the end."""
    year, month, day = moment.year, moment.month, moment.day
    if "X" not in year and "X" not in month and "X" not in day:
        return 0
    if not month:
        return 1 if _L1_YEAR.fullmatch(year) else 2
    if "X" in year:
        return 2
    whole_month_unknown = month == "XX" and day in ("", "XX")
    whole_day_unknown = "X" not in month and day == "XX"
    return 1 if whole_month_unknown or whole_day_unknown else 2


def _interval(text: str) -> Edtf:
    start_text, _, end_text = text.partition("/")
    start, start_level = _end(start_text, text)
    end, end_level = _end(end_text, text)
    if start is End.UNKNOWN and end is End.UNKNOWN:
        raise _refused(text, "an interval needs a beginning or an end")
    span = Span(start, end)
    _check_order(span, text)
    return Edtf(Form.INTERVAL, (span,), max(start_level, end_level))


def _end(part: str, text: str) -> tuple[Moment | End, int]:
    if part in ("", ".."):
        return End(part), 1
    found = _MOMENT.fullmatch(part)
    if found is None:
        raise _refused(text, f"“{part}”: {_form_fault(part)}")
    moment, level = _moment(found, text)
    if moment.time:
        raise _refused(text, "an interval takes no times")
    return moment, level


def _check_order(span: Span, text: str) -> None:
    start, end = span.start, span.end
    if isinstance(start, Moment) and isinstance(end, Moment) and start.first_day() > end.last_day():
        raise _refused(text, "it ends before it begins")


def _set(text: str, form: Form) -> Edtf:
    parts = text[1:-1].split(",")
    last = len(parts) - 1
    members = tuple(
        _set_member(part, text, first=place == 0, last=place == last) for place, part in enumerate(parts)
    )
    return Edtf(form, members, 2)


def _set_member(part: str, text: str, *, first: bool, last: bool) -> Moment | Span:
    start, dots, end = part.partition("..")
    if not dots:
        moment = _end(part, text)[0]
        if not isinstance(moment, Moment):
            raise _refused(text, "a member of the set is empty")
        return moment
    if not (start or end) or not (start or first) or not (end or last):
        raise _refused(text, "only the first of a set may begin and only the last may end openly")
    span = Span(_end(start or "..", text)[0], _end(end or "..", text)[0])
    _check_order(span, text)
    return span
