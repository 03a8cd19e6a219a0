"""Dates out of phrases, for the command line, the pages and everything that takes words in."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from datetime import UTC, datetime

from attrs import evolve, field, frozen

from solander.catalogue.queries import Reading as Known
from solander.core.customs import Customs
from solander.core.people import Person
from solander.core.phrases import DatePhrase, read_date
from solander.core.phrases.sought import NameIndex
from solander.tasks.people_named import NOBODY, AlsoNamed, Named, PeopleNamed
from solander.tasks.put_in_order import people_by_name

__all__ = ["CUSTOMS_KEY", "DateReader", "customs_of", "date_reader"]

CUSTOMS_KEY = "customs"
"""The setting that keeps them."""


@frozen
class DateReader:
    """Reads dates as the people of one collection write them: `customs` decide between readings, `people` tell who
    may be named, `events` are the EDTF dates of occasions by their names."""

    customs: Customs = field(factory=Customs)
    people: Named = NOBODY
    events: Mapping[str, str] = field(factory=dict)

    def __call__(self, phrase: str) -> DatePhrase:
        """The readings of a phrase as of today, best first.

        The language of the customs is tried first; words that it does not know are read in whichever does.
        """
        found = self._read(phrase, self.customs)
        if self.customs.language is None or (found.readings and not found.unused):
            return found
        otherwise = self._read(phrase, evolve(self.customs, language=None))
        return max(found, otherwise, key=lambda each: (bool(each.readings), -len(each.unused)))

    def knowing(self, people: Iterable[Person], *, formerly: Iterable[Person] = ()) -> DateReader:
        """The reader that also knows what is told of these people now; `formerly` is what was told of them."""
        told = tuple(people)
        return (
            evolve(self, people=AlsoNamed(self.people, NameIndex(told), NameIndex(tuple(formerly))))
            if told
            else self
        )

    def may_read_otherwise(self, phrase: str, before: DateReader) -> bool:
        """Whether this reader may read a phrase in another way than the one `before` what it was told."""
        also = self.people
        if not isinstance(also, AlsoNamed) or evolve(self, people=also.before) != before:
            return self != before
        return also.tells_otherwise(phrase)

    def _read(self, phrase: str, customs: Customs) -> DatePhrase:
        return read_date(
            phrase,
            language=customs.language,
            first_year=customs.first_year,
            day_first=customs.day_first,
            southern=customs.southern,
            today=datetime.now(UTC).date(),
            people=people_by_name(self.people.people_named_in(phrase)),
            events=self.events,
        )


def date_reader(catalogue: Known) -> DateReader:
    """Reads dates by what the catalogue knows now."""
    return DateReader(customs_of(catalogue), PeopleNamed(catalogue), catalogue.dates_of_occasions())


def customs_of(catalogue: Known) -> Customs:
    """What the collection goes by; the usual customs where nothing was set."""
    return Customs(**json.loads(catalogue.setting(CUSTOMS_KEY, "{}")))
