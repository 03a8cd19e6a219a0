"""Births and deaths out of the record of a person."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from functools import lru_cache

from attrs import evolve, frozen

from solander.authorities.dates_written import date_written
from solander.authorities.genealogy.lines import Line
from solander.core.dates import parse_edtf
from solander.core.dates.forms import edtf_of_range
from solander.core.dates.gedcom import GedcomDate, Version, read_gedcom_date
from solander.core.errors import InvalidValue
from solander.core.statements import Says, Sure
from solander.core.told import Told

__all__ = ["Vitals"]

_SURE = {"3": Sure.CERTAIN, "2": Sure.LIKELY, "1": Sure.GUESS, "0": Sure.GUESS}
"""QUAY of GEDCOM: 3 direct evidence, 2 secondary, 1 questionable, 0 unreliable."""


@frozen
class Vitals:
    """Reads births and deaths of a file of that version; `day` is that on which the file was written."""

    version: Version
    day: date

    def as_of(self, payload: str) -> Vitals:
        """The same with the day that the head of the file tells, if it tells one."""
        try:
            latest = parse_edtf(_read(payload, self.version, "").edtf).bounds().latest
        except InvalidValue:
            return self
        return evolve(self, day=min(self.day, date.fromordinal(latest))) if latest else self

    def told(self, record: Line) -> Iterator[Told | str]:
        """Claims of birth and death, and a sentence for each date that was not understood.

        Without a birth, a baptism gives the last day of it; without a death, a burial or cremation does. Who is
        said to be dead and no more died before the file was written.
        """
        yield from self._event(record, "BIRT", Says.BORN, Says.BORN_AT, bounds=("CHR", "BAPM"))
        yield from self._event(record, "DEAT", Says.DIED, Says.DIED_AT, bounds=("BURI", "CREM"))

    def _event(
        self, record: Line, tag: str, when: Says, where: Says, *, bounds: tuple[str, str]
    ) -> Iterator[Told | str]:
        dated = False
        for line in record.all(tag):
            sure = _sure_of(line)
            for claim in self._dates(line, when, sure):
                dated = dated or isinstance(claim, Told)
                yield claim
            if place := _place(line):
                yield Told(where, place, line.said("PLAC"), sure)
        if dated:
            return
        if bounding := next((self._bound(line, when) for line in record.all(*bounds) if line.first("DATE")), None):
            yield bounding
        elif when is Says.DIED and any(
            line.value.strip().upper() == "Y" or line.below for line in record.all(tag)
        ):
            yield Told(when, f"[..{self.day.isoformat()}]", "Y")

    def _dates(self, line: Line, when: Says, sure: Sure) -> Iterator[Told | str]:
        """The date of an event; words that are no date of the standard are read as people write dates, where they
        can mean one thing only, and else stay as words."""
        for each in line.all("DATE"):
            phrase = each.said("PHRASE")
            payload = each.value.strip().partition("\n")[0].strip()  # a line without a level is none of a date
            written = payload or phrase
            if not written:
                continue
            try:
                found = _read(payload, self.version, phrase)
            except InvalidValue as trouble:
                edtf = _as_people_write(written)
                if not edtf:
                    yield trouble.sentence
                yield Told(when, edtf, written, sure)
                continue
            yield Told(when, found.edtf, written if found.edtf else found.phrase or written, sure)

    def _bound(self, line: Line, when: Says) -> Told | None:
        """The last day of a birth or a death, from the day of a baptism or a burial."""
        written = line.said("DATE")
        try:
            latest = parse_edtf(_read(written, self.version, "").edtf).bounds().latest
        except InvalidValue:
            return None
        word = _WORDS[line.tag]
        return Told(when, edtf_of_range(None, latest), f"{word} {written}", Sure.LIKELY) if latest else None


_WORDS = {"CHR": "baptised", "BAPM": "baptised", "BURI": "buried", "CREM": "cremated"}


@lru_cache(maxsize=1 << 16)
def _read(payload: str, version: Version, phrase: str) -> GedcomDate:
    return read_gedcom_date(payload, version=version, phrase=phrase)


_TWO_YEARS = re.compile(r"^(\d{4})-(2[1-9]|[3-9]\d)$")
"""“1921-22”, which in EDTF is a summer; nobody writes that into a tree."""


@lru_cache(maxsize=1 << 16)
def _as_people_write(payload: str) -> str:
    """“1921-03-12”, “12.3.1921”, “c1900”: dates that programs write and the standard has not; empty where they are
    none, or may be several."""
    try:
        return date_written(_TWO_YEARS.sub(r"\1 or \2", re.sub(r"^c(?=\d)", "c ", payload)), where="")
    except InvalidValue:
        return ""


def _place(line: Line) -> str:
    """The place without the parts that a form leaves empty: ", , Texas" is Texas."""
    return ", ".join(part.strip() for part in line.said("PLAC").split(",") if part.strip())


def _sure_of(line: Line) -> Sure:
    told = [_SURE[each] for source in line.all("SOUR") if (each := source.said("QUAY")) in _SURE]
    return min(told, key=list(Sure).index) if told else Sure.CERTAIN
