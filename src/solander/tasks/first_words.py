"""First words: whose photographs these are, where they lived, between about which years; understood and kept."""

from __future__ import annotations

import re
from collections.abc import Iterator

from attrs import frozen

from solander.core.dates import Bounds, range_words
from solander.core.days import from_day
from solander.core.first_words import FirstWords
from solander.core.people import Person
from solander.core.places import Place
from solander.core.sentence import Sentence
from solander.tasks.collection import Collection
from solander.tasks.first_words_kept import first_words_of, keep_first_words
from solander.tasks.place_said import enter_place
from solander.tasks.understood import Understanding, Understood

__all__ = ["FirstWordsRead", "homes_in", "pass_over", "read_first_words", "say_first_words"]


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


def read_first_words(understanding: Understanding, whose: str, where: str, years: str) -> FirstWordsRead:
    """What is understood of three answers, any of which may be empty."""
    teller = understanding.person(whose) if whose.strip() else None
    homes = tuple(understanding.place(home) for home in homes_in(where))
    span = understanding.years(years) if years.strip() else None
    return FirstWordsRead(whose, where, years, teller, homes, span)


def homes_in(where: str) -> Iterator[str]:
    """Several places in one answer, parted by semicolons or lines."""
    return (home.strip() for home in re.split(r"[;\n]", where) if home.strip())


def say_first_words(understanding: Understanding, said: FirstWordsRead, *, who: str = "archivist") -> int | None:
    """Keeps first words as one act: a person and places that are new are entered, and a place that may be several
    is asked about. The act's number for undo."""
    homes = tuple(dict.fromkeys(home.meant.name for home in said.homes))
    places, collection = understanding.places, understanding.collection
    with collection.catalogue.act(who, Sentence("said first words")) as act, act.work() as work:
        if said.teller and said.teller.new:
            work.keep_person(said.teller.meant)
        for home in said.homes:
            if home.new:
                enter_place(work, home.meant.name, places)
        edtf = _edtf(said.span)
        teller = said.teller.meant.name if said.teller else ""
        keep_first_words(work, FirstWords(teller, homes, edtf, said.years.strip() if edtf else ""))
        work.commit()
    return act.number


def _edtf(span: Bounds | None) -> str:
    """Whole years as EDTF: a photograph of these years is from one of them."""
    if span is None:
        return ""
    first, last = ("" if day is None else f"{from_day(day)[0]:04d}" for day in (span.earliest, span.latest))
    return f"[{first}..{last}]" if first != last else first


def pass_over(collection: Collection, *, who: str = "archivist") -> int | None:
    """Notes that first words were asked and passed over; what was said before stays."""
    said = first_words_of(collection.catalogue)
    with collection.catalogue.act(who, Sentence("passed over first words")) as act, act.work() as work:
        keep_first_words(work, said)
        work.commit()
    return act.number
