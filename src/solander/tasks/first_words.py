"""First words: whose photographs these are, where they lived, between about which years; understood and kept."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from attrs import frozen

from solander.catalogue.work import Work
from solander.core.dates import Bounds, parse_edtf, range_words
from solander.core.days import from_day
from solander.core.first_words import FirstWords
from solander.core.people import Person
from solander.core.places import Place
from solander.tasks.collection import Collection
from solander.tasks.date import date_reader
from solander.tasks.first_words_kept import first_words_of, keep_first_words
from solander.tasks.understood import Understood, understand_person, understand_place

__all__ = ["FirstWordsRead", "pass_over", "read_first_words", "say_first_words", "years_said"]


@frozen
class FirstWordsRead:
    """First words as they were typed and what is made of them; nothing is kept yet."""

    whose: str
    where: str
    years: str
    teller: Understood[Person] | None
    homes: tuple[Understood[Place], ...]
    span: Bounds | None

    @property
    def span_words(self) -> str:
        """The years that were understood, in words."""
        return range_words(self.span.earliest, self.span.latest) if self.span else ""

    @property
    def years_not_understood(self) -> bool:
        """Whether years were said that nothing could be made of."""
        return bool(self.years.strip()) and self.span is None


def read_first_words(collection: Collection, whose: str, where: str, years: str) -> FirstWordsRead:
    """What is understood of three answers, any of which may be empty. Several homes are parted by semicolons or
    lines."""
    teller = understand_person(collection, whose) if whose.strip() else None
    homes = tuple(understand_place(collection, home) for home in _parted(where))
    return FirstWordsRead(whose, where, years, teller, homes, years_said(collection, years))


def _parted(where: str) -> Iterator[str]:
    return (home.strip() for home in re.split(r"[;\n]", where) if home.strip())


def years_said(collection: Collection, years: str) -> Bounds | None:
    """The first and last day of the years that were said: “1890 to 1975”, “the twenties to the sixties”."""
    understood = date_reader(collection.catalogue)(years)
    readings = [reading for reading in understood.readings if "XXXX" not in reading.edtf]
    return None if understood.unused or not readings else parse_edtf(readings[0].edtf).bounds()


def say_first_words(collection: Collection, said: FirstWordsRead, *, who: str = "archivist") -> int | None:
    """Keeps first words as one act: a person and places that are new are entered. The act's number for undo."""
    with collection.catalogue.act(who, "said first words") as act, act.work() as work:
        if said.teller and said.teller.new:
            work.keep_person(said.teller.meant)
        _enter(work, said.homes)
        edtf = _edtf(said.span)
        teller = said.teller.meant.name if said.teller else ""
        homes = tuple(dict.fromkeys(home.meant.name for home in said.homes))
        keep_first_words(work, FirstWords(teller, homes, edtf, said.years.strip() if edtf else ""))
        work.commit()
    return act.number


def _enter(work: Work, homes: Sequence[Understood[Place]]) -> None:
    for home in homes:
        if home.new:
            work.keep_place(home.meant)


def _edtf(span: Bounds | None) -> str:
    """Whole years as EDTF: a photograph of these years is from one of them."""
    if span is None:
        return ""
    first, last = ("" if day is None else f"{from_day(day)[0]:04d}" for day in (span.earliest, span.latest))
    return f"[{first}..{last}]" if first != last else first


def pass_over(collection: Collection, *, who: str = "archivist") -> int | None:
    """Notes that first words were asked and passed over; what was said before stays."""
    said = first_words_of(collection.catalogue)
    with collection.catalogue.act(who, "passed over first words") as act, act.work() as work:
        keep_first_words(work, said)
        work.commit()
    return act.number
