"""What a told story may date or name, as questions about its prints."""

from __future__ import annotations

import re
from collections.abc import Iterator

from solander.core.dates import Dated
from solander.core.questions import Asks
from solander.core.sentence import Sentence
from solander.core.sounds import SoundKind
from solander.core.statements import Says
from solander.tasks.ask import question_key
from solander.tasks.collection import Collection
from solander.tasks.understood import Understanding

__all__ = ["asked_by_other_stories", "asked_of_story"]

_MOST_ASKED = 6
"""So many dates, and so many people and places, are asked about in one story (our choice)."""

_SENTENCE = re.compile(r"(?<=[.!?;])\s+|\n+")
_SHORTEST_NAME = 3


def asked_of_story(understanding: Understanding, accession: str, text: str) -> list[str]:
    """The questions that a story raises about a print."""
    names = [*_people(understanding, accession, text)][:_MOST_ASKED]
    places = [*_places(understanding, accession, text)][:_MOST_ASKED]
    return [*[*_dates(understanding, accession, text)][:_MOST_ASKED], *names, *places]


def _dates(understanding: Understanding, accession: str, text: str) -> Iterator[str]:
    told: set[str] = set()
    for said in _SENTENCE.split(text):
        found = understanding.date(said)
        edtf = found.readings[0].edtf if found.readings else ""
        if edtf and not edtf.startswith("XXXX") and edtf not in told:
            told.add(edtf)
            yield Sentence(
                "In the story about %(print)s one hears “%(words)s”: was it taken then (%(date)s)?",
                print=accession,
                words=said.strip(),
                date=Dated(edtf),
            )


def _people(understanding: Understanding, accession: str, text: str) -> Iterator[str]:
    for name in understanding.people.by_heading:
        if _is_named(name, text):
            yield Sentence(
                "In the story about %(print)s one hears of %(name)s: shown in it?", print=accession, name=name
            )


def _places(understanding: Understanding, accession: str, text: str) -> Iterator[str]:
    for place in understanding.collection.catalogue.places():
        if _is_named(place.name, text):
            yield Sentence(
                "In the story about %(print)s one hears of %(name)s: was it taken there?",
                print=accession,
                name=place.name,
            )


def _is_named(name: str, text: str) -> bool:
    """Whether a name, or the first word of a name of several, stands in a text by itself."""
    words = name.split()
    likely = [name, words[0]] if len(words) > 1 and len(words[0]) >= _SHORTEST_NAME else [name]
    return any(re.search(rf"(?<!\w){re.escape(one)}(?!\w)", text, re.IGNORECASE) for one in likely)


def asked_by_other_stories(collection: Collection, sha256: str) -> list[str]:
    """The keys of the questions that stories besides the one of this recording raise: a question does not tell in
    which story it was heard."""
    catalogue = collection.catalogue
    if all(one.asks is not Asks.TOLD for one in catalogue.questions()):
        return []
    understanding, keys = Understanding(collection), []
    for other in (one.sha256 for one in catalogue.sounds(SoundKind.ACCOUNT) if one.sha256 != sha256):
        heard = [one.value for one in catalogue.statements(subject=other) if one.says is Says.HEARD]
        for accession in catalogue.prints_of_sound(other) if heard else ():
            asked = (each for text in heard for each in asked_of_story(understanding, accession, text))
            keys += [question_key(Asks.TOLD, accession, sentence) for sentence in asked]
    return keys
