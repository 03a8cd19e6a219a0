"""Two people who may be one, where one of them is looked at: never joined by a machine, asked where they stand."""

from __future__ import annotations

from attrs import frozen

from solander.core.people import Person
from solander.core.phrases.sought import words_of_name
from solander.core.questions import Asks
from solander.core.sentence import Sentence
from solander.tasks.ask import ask
from solander.tasks.collection import Collection
from solander.tasks.same_person import asked_about, may_be_one, say_two_people

__all__ = ["Alike", "people_alike", "say_two"]

ASKED_AT_MOST = 5
"""So many others are asked about on one page; where more bear the name, it tells nothing (our choice)."""


@frozen
class Alike:
    """Somebody else who may be the same person, and why."""

    other: Person
    reasons: tuple[str, ...]


def people_alike(collection: Collection, person: Person) -> list[Alike]:
    """Others who share a name of several words with a person and may have lived the same life, but for those of
    whom somebody said that they are two."""
    catalogue = collection.catalogue
    names = [name for name in _called(person) if len(words_of_name(name)) > 1]
    others = [one for one in catalogue.people_called(names) if one.name != person.name] if names else []
    two = _said_to_be_two(collection) if others else set()
    found = []
    for other in others:
        if frozenset((person.name, other.name)) not in two and _share(person, other):
            pair = may_be_one(person, other, {})
            found += [Alike(other, pair.reasons)] if pair else []
    return found if len(found) <= ASKED_AT_MOST else []


def say_two(collection: Collection, one: str, other: str, *, who: str = "archivist") -> int | None:
    """Notes that two people are not one: neither is asked about again beside the other. The act's number."""
    pair = frozenset((one, other))
    for question in collection.catalogue.questions():
        if question.asks is Asks.SAME_PERSON and frozenset(asked_about(question)) == pair:
            return say_two_people(collection, question, who=who)
    subject = f"{one}\n{other}"
    sentence = Sentence(
        "%(one)s and %(other)s may be one person: both are called the same. Are they?", one=one, other=other
    )
    with (
        collection.catalogue.act(who, Sentence("said that %(one)s is not %(other)s", one=one, other=other)) as act,
        act.work() as work,
    ):
        work.settle(ask(work, Asks.SAME_PERSON, subject, sentence))
        work.commit()
    return act.number


def _said_to_be_two(collection: Collection) -> set[frozenset[str]]:
    settled = (one for one in collection.catalogue.questions(settled=True) if one.settled)
    return {frozenset(asked_about(one)) for one in settled if one.asks is Asks.SAME_PERSON}


def _called(person: Person) -> list[str]:
    return list(dict.fromkeys((person.name, *person.also_called, *(name.text for name in person.names))))


def _share(one: Person, other: Person) -> bool:
    """Whether they share a name in the way that `may_be_one` looks for."""
    plain = [{" ".join(words_of_name(name)) for name in _called(each)} for each in (one, other)]
    return bool(plain[0] & plain[1])
