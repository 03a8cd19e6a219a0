"""When and where an occasion was: understood as it is typed, and entered beside what others say of it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from attrs import evolve

from solander.catalogue.work import Work
from solander.core.errors import InvalidValue
from solander.core.phrases.names import SHORTEST_STEM, Names
from solander.core.phrases.tokens import folded, tokens_of
from solander.core.sentence import Sentence
from solander.core.statements import About, Says, Statement, Sure
from solander.tasks.claims import Claim, at_most_likely, how_sure, other_meanings
from solander.tasks.collection import Collection
from solander.tasks.date import date_reader
from solander.tasks.place_said import enter_place
from solander.tasks.read_again import read_again
from solander.tasks.said_anew import say_instead
from solander.tasks.understood import Understanding

__all__ = ["date_claim", "enter_claims", "place_claim", "read_dates_again"]

_DATES = (Says.EXPOSURE, Says.PRINTING)


def date_claim(collection: Collection, words: str, sure: Sure | None = None) -> Claim:
    """What words say of a date; as sure as they are, and no more than likely where they may mean another date or
    some of them were not understood. `sure` is what a person says of it instead.

    Raises
    ------
    InvalidValue
        When no date is understood.
    """
    words = words.strip()
    understood = date_reader(collection.catalogue)(words)
    if not understood.readings:
        what = (
            Sentence("“%(words)s” was not understood as a date", words=words)
            if words
            else Sentence("No date was said")
        )
        raise InvalidValue(what, "", Sentence("Write summer 1958, May 1936, or between 1948 and 1952"))
    reading = understood.readings[0]
    doubtful = understood.unused or other_meanings(understood)
    says = Says.PRINTING if reading.bounds == "printing" else Says.EXPOSURE
    return Claim(says, reading.edtf, words, sure or (at_most_likely(reading.sure) if doubtful else reading.sure))


def place_claim(words: str, sure: Sure | None = None) -> Claim:
    """What words say of a place; one with a question mark is a guess.

    Raises
    ------
    InvalidValue
        When there is no word.
    """
    name, read = how_sure(" ".join(words.split()))
    if not name:
        raise InvalidValue(
            Sentence("No place was said"),
            Sentence("the field is empty"),
            Sentence("Say where it was: Bergen, the boathouse"),
        )
    return Claim(Says.PLACE, name, words.strip(), sure or read)


def enter_claims(collection: Collection, work: Work, name: str, claims: Sequence[Claim], source: str) -> None:
    """Enters when and where an occasion was, each in the place of what the same source said of it before.

    Dates that others told by this occasion ("the day after the outing") are read again.
    """
    if not claims:
        return
    catalogue = collection.catalogue
    kinds = {claim.says for claim in claims}
    if kinds & set(_DATES):
        kinds |= set(_DATES)
    said = catalogue.said_of_occasion(name)
    old = [one for one in said if one.says in kinds and one.source == source]
    new = [claim.about(About.OCCASION, name, source) for claim in claims]
    dated = next((one.value for one in new if one.says is Says.EXPOSURE), "")
    for place in (one.value for one in new if one.says is Says.PLACE):
        _know_place(collection, work, place, dated)
    say_instead(catalogue, work, old, new)
    read_dates_again(collection, work, name, [one for one in said if one not in old] + new)


def _know_place(collection: Collection, work: Work, name: str, dated: str) -> None:
    if not collection.catalogue.places_named([name]):
        enter_place(work, name, Understanding(collection).places, on=dated)


def read_dates_again(collection: Collection, work: Work, name: str, said: Iterable[Statement]) -> None:
    """Reads those dates again that may name an occasion of which that is said now; its first date counts."""
    before = date_reader(collection.catalogue)
    dated = next((one.value for one in said if one.says is Says.EXPOSURE), "")
    if dated == before.events.get(name, ""):
        return
    events = {**before.events, name: dated} if dated else {k: v for k, v in before.events.items() if k != name}
    naming = collection.catalogue.dated_by(_naming(collection.catalogue.date_words(), name))
    read_again(collection, work, before=before, now=evolve(before, events=events), said=naming)


def _naming(phrases: Iterable[str], name: str) -> list[str]:
    """The phrases that may name an occasion."""
    # Most dates are figures: only those with the beginning of a word of the name are taken apart.
    begun = max(folded(name).split(), key=len)[:SHORTEST_STEM]
    likely = (words for words in phrases if begun in folded(words))
    return [words for words in likely if Names.in_phrase([(name, name)], tokens_of(words)).candidates]
