"""Dates as people write them into lists, understood only where they can mean one thing."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime

from solander.core.dates import parse_edtf, words
from solander.core.errors import InvalidValue
from solander.core.phrases import read_date
from solander.core.sentence import Sentence

__all__ = ["date_written"]


def date_written(said: str, *, where: str) -> str:
    """The date in EDTF: written so, or as people write dates (“5 March 1921”, “about 1921”).

    Parameters
    ----------
    said
        The words.
    where
        Where they stand, for the sentence: "“Liv”: “in spring” in the column “born”" without the words.

    Raises
    ------
    InvalidValue
        When they are no date, or may be several.
    """
    try:
        return str(parse_edtf(said)) if said else ""
    except InvalidValue:
        understood = read_date(said, today=datetime.now(UTC).date())
    dated = [reading.edtf for reading in understood.readings if "XXXX" not in reading.edtf]
    if len(dated) == 1 and not understood.unused:
        return dated[0]
    meant = " or ".join(words(edtf) for edtf in _told_once(dated))
    raise InvalidValue(
        Sentence("%(where)s was not understood", where=where),
        Sentence("it may be %(meant)s", meant=meant) if meant else "",
        Sentence("Write it as 1921-03-05, 1921, 1921~ for about 1921, or in words"),
    )


def _told_once(readings: Iterable[str]) -> list[str]:
    """The readings without those whose days an earlier one has already: "4 March or 3 April" says both."""
    kept: list[str] = []
    known: set[tuple[int | None, int | None]] = set()
    for edtf in readings:
        pieces = parse_edtf(edtf).pieces()
        if not known.issuperset(pieces):
            kept.append(edtf)
            known.update(pieces)
    return kept
