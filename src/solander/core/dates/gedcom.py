"""Dates of family-tree files (GEDCOM 5.5.1 and 7.0) as EDTF.

Meanings from the FamilySearch GEDCOM 7 specification, data type Date and appendix A; the forms of 5.5.1 from
memory. What real files have and the grammars have not is read too where it can mean one thing only: lower case,
stray blanks, full English names of months, a full stop behind a word, either version's way of naming a calendar.
"""

from __future__ import annotations

import re
from typing import Literal

from attrs import evolve, frozen

from solander.core.dates.forms import edtf_of_range
from solander.core.dates.gedcom_calendars import Calendar
from solander.core.dates.gedcom_simple import (
    Payload,
    SimpleDate,
    calendar_named,
    names_a_calendar,
    refused,
    simple_date,
)
from solander.core.dates.parse import parse_edtf
from solander.core.errors import InvalidValue

__all__ = ["Approximation", "GedcomDate", "Version", "read_gedcom_date"]

Version = Literal["5.5.1", "7.0"]
Approximation = Literal["", "CAL", "EST"]

_WORDS = {word: word for word in ("FROM", "TO", "BET", "AND", "BEF", "AFT", "ABT", "CAL", "EST", "INT")} | {
    "BETWEEN": "BET",
    "BEFORE": "BEF",
    "AFTER": "AFT",
    "ABOUT": "ABT",
    "CIRCA": "ABT",
    "CA": "ABT",
    "CALCULATED": "CAL",
    "ESTIMATED": "EST",
    "INTERPRETED": "INT",
}
_MARKS = {"ABT": "~", "EST": "%"}
_KEPT: dict[str, Approximation] = {"CAL": "CAL", "EST": "EST"}
# Twice two @ where a program has doubled those of the escape too.
_ESCAPE = re.compile(r"@{1,2}#D([^@]*)@{1,2}")
_BEFORE_CHRIST = r"B\.?\s?C\.?(?:\s?E\.?)?"
_BRACKETED_EPOCH = rf"(?<=[0-9])\s*\(\s*{_BEFORE_CHRIST}\s*\)"
_EPOCH = re.compile(rf"{_BRACKETED_EPOCH}|(?<=[0-9])\s*{_BEFORE_CHRIST}(?![A-Z])")
_PHRASED = re.compile(rf"((?:{_BRACKETED_EPOCH}|[^()])*)(?:\((.*)\))?", re.DOTALL | re.IGNORECASE)


@frozen
class GedcomDate:
    """What a DATE line says.

    `edtf` is empty when there is no date, only words. `phrase` are the words: those of the PHRASE structure, of
    the brackets of 5.5.1, or a dual year as it was written. `approximation` is CAL or EST, "worked out from other
    data", for which EDTF has no mark; `original` the payload as it came.
    """

    edtf: str
    phrase: str = ""
    approximation: Approximation = ""
    original: str = ""


def read_gedcom_date(text: str, *, version: Version = "7.0", phrase: str = "") -> GedcomDate:
    """The date of a DATE payload.

    Parameters
    ----------
    text
        The payload; empty when only the phrase speaks.
    version
        Of the file. Up to 5.5.1 BEF 1960 and AFT 1960 leave the year 1960 out, in 7.0 they take it in; all else
        is read alike.
    phrase
        The text of the PHRASE below the date, if there is one.

    A date in another calendar becomes Gregorian days; its months and years are ranges of days. BET … AND, and a
    year alone with a second one (1699/00, 1950/53), are one unknown day in a span, `[a..b]`; FROM … TO is the
    interval `a/b`. A dual year with a month from January to March is the later year, with any other month both
    are allowed. CAL leaves no mark in the EDTF, EST is `%`, ABT is `~`.

    Raises
    ------
    InvalidValue
        When it can't be read, names a calendar whose days are not known, or can't be true.
    """
    date, said = _phrase_apart(text)
    found = _read(Payload(_tidied(date, text), text), version) if date else GedcomDate("")
    return evolve(found, phrase=phrase or said or _dual_year(date), original=text)


def _phrase_apart(text: str) -> tuple[str, str]:
    """The date and the words in brackets behind it."""
    found = _PHRASED.fullmatch(text.strip())
    if found is None:
        raise refused(text, "the brackets do not match")
    return found[1].strip(), (found[2] or "").strip()


def _dual_year(date: str) -> str:
    """A dual year as it is written, for the phrase; empty when there is none."""
    return " ".join(_ESCAPE.sub(" ", date).split()) if "/" in date else ""


def _tidied(date: str, original: str) -> str:
    """Upper case, single blanks, the escapes of 5.5.1 as the calendar words of 7.0."""
    text = " ".join(_EPOCH.sub(" BCE ", _ESCAPE.sub(_calendar_word, date.upper())).split())
    if "@" in text:
        raise refused(original, "it has an @ that belongs to no calendar")
    return re.sub(r"\s?/\s?", "/", text.replace("FRENCH R ", "FRENCH_R "))


def _calendar_word(escape: re.Match[str]) -> str:
    word = "_".join(escape[1].split())
    return f" {word if word in set(Calendar) else '_' + word} "


def _read(payload: Payload, version: Version) -> GedcomDate:
    payload = _without_leading_calendar(payload)
    first, _, rest = payload.text.partition(" ")
    word = _WORDS.get(first.rstrip("."), "")
    rest_of_it = payload.part(rest if word else payload.text)
    if word == "BET":
        return GedcomDate(_range(rest_of_it))
    if word in ("FROM", "TO"):
        return GedcomDate(_period(word, rest_of_it))
    if word in ("BEF", "AFT"):
        return GedcomDate(_one_sided(word, simple_date(rest_of_it), version))
    if word == "AND":
        raise payload.refused("AND needs BET and a date before it")
    return GedcomDate(_near(_MARKS.get(word, ""), simple_date(rest_of_it)), approximation=_KEPT.get(word, ""))


def _without_leading_calendar(payload: Payload) -> Payload:
    """A calendar before the word, where some programs put it, counts for every date that names none."""
    name, _, rest = payload.text.partition(" ")
    if names_a_calendar(name) and rest.partition(" ")[0].rstrip(".") in _WORDS:
        return evolve(payload, text=rest, calendar=calendar_named(name, payload))
    return payload


def _near(mark: str, date: SimpleDate) -> str:
    return f"{date.start}{mark}" if date.start == date.end else f"[{date.start}{mark}..{date.end}{mark}]"


def _one_sided(word: str, date: SimpleDate, version: Version) -> str:
    if version == "7.0":
        return f"[..{date.end}]" if word == "BEF" else f"[{date.start}..]"
    return edtf_of_range(None, date.first - 1) if word == "BEF" else edtf_of_range(date.last + 1, None)


def _range(payload: Payload) -> str:
    earlier, word, later = f" {payload.text} ".partition(" AND ")
    if not word:
        raise payload.refused("BET needs AND and a second date")
    start, end = simple_date(payload.part(earlier)), simple_date(payload.part(later))
    return _in_order(f"[{start.start}..{end.end}]", payload)


def _period(word: str, payload: Payload) -> str:
    if word == "TO":
        return f"../{simple_date(payload).end}"
    begin, to, until = f" {payload.text} ".partition(" TO ")
    start = simple_date(payload.part(begin)).start
    return _in_order(f"{start}/{simple_date(payload.part(until)).end if to else '..'}", payload)


def _in_order(edtf: str, payload: Payload) -> str:
    try:
        parse_edtf(edtf)
    except InvalidValue as error:
        raise payload.refused("it ends before it begins") from error
    return edtf
