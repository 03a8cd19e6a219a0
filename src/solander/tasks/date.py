"""Dates out of phrases, for the command line, the pages and everything that takes words in."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import UTC, datetime

from attrs import evolve

from solander.catalogue.queries import Reading as Known
from solander.core.customs import Customs
from solander.core.phrases import DatePhrase, read_date

__all__ = ["CUSTOMS_KEY", "DateReader", "customs_of", "date_reader", "read_today"]

CUSTOMS_KEY = "customs"
"""The setting that keeps them."""

USUAL = Customs()
"""Where nothing was set."""

DateReader = Callable[[str], DatePhrase]
"""Gives the readings of a phrase, best first."""


def customs_of(catalogue: Known) -> Customs:
    """What the collection goes by; the usual customs where nothing was set."""
    return Customs(**json.loads(catalogue.setting(CUSTOMS_KEY, "{}")))


def date_reader(catalogue: Known) -> DateReader:
    """Reads dates as the people of this collection write them.

    Their language is tried first; words that it does not know are read in whichever language knows them.
    """
    customs = customs_of(catalogue)
    anybody = evolve(customs, language=None)

    def read(phrase: str) -> DatePhrase:
        found = read_today(phrase, customs=customs)
        if customs.language is None or (found.readings and not found.unused):
            return found
        otherwise = read_today(phrase, customs=anybody)
        return max(found, otherwise, key=lambda each: (bool(each.readings), -len(each.unused)))

    return read


def read_today(phrase: str, *, customs: Customs = USUAL) -> DatePhrase:
    """The readings of a phrase, best first, as of today.

    Raises
    ------
    InvalidValue
        When there is no table for the language of the customs.
    """
    return read_date(
        phrase,
        language=customs.language,
        first_year=customs.first_year,
        day_first=customs.day_first,
        today=datetime.now(UTC).date(),
    )
