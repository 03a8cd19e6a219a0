"""What is said of a person in the workbench: another name, a birth, a death; each is added, none overwritten."""

from __future__ import annotations

from collections.abc import Sequence

from attrs import evolve

from solander.catalogue.history import utc_now
from solander.core.dates import words as dates_words
from solander.core.errors import InvalidValue, NotFound
from solander.core.people import Name, NameKind, Person, check_life
from solander.core.sentence import Sentence
from solander.core.statements import About, Says, Statement, Sure
from solander.core.told import believed, by_hand
from solander.tasks.collection import Collection
from solander.tasks.date import date_reader
from solander.tasks.put_in_order import ask_about_contradictions
from solander.tasks.read_again import read_again

__all__ = ["new_person", "say_date", "say_name", "withdraw_said"]

_SURENESS = list(Sure)

_TOLD_BEFORE = "told before"
"""Who says what was known of a life before anybody's word for it was kept."""


def new_person(collection: Collection, name: str, *, who: str = "archivist") -> int | None:
    """Enters a person of whom only the name is known; the act's number for undo.

    Raises
    ------
    InvalidValue
        When the name is empty, or somebody has it already.
    """
    name = " ".join(name.split())
    if not name:
        raise InvalidValue(
            Sentence("Nobody was added"), Sentence("the field is empty"), Sentence("Say what the person is called")
        )
    if collection.catalogue.person(name):
        raise InvalidValue(
            Sentence("“%(name)s” was not added", name=name),
            Sentence("somebody has that name"),
            Sentence("Add the years of life to the name"),
        )
    with collection.catalogue.act(who, Sentence("added %(name)s", name=name)) as act, act.work() as work:
        work.keep_person(Person(name))
        work.commit()
    return act.number


def say_name(
    collection: Collection,
    heading: str,
    called: str,
    kind: NameKind = NameKind.OTHER,
    *,
    sure: Sure = Sure.CERTAIN,
    source: str = "",
    who: str = "archivist",
) -> int | None:
    """Says what else a person is called.

    Raises
    ------
    InvalidValue
        When the name is empty.
    """
    called = " ".join(called.split())
    if not called:
        raise InvalidValue(
            Sentence("No name was added"),
            Sentence("the field is empty"),
            Sentence("Say what the person is called"),
        )
    said = _statement(heading, Says.NAME, f"{kind}|{called}", called, sure, source or who)
    person = _person(collection, heading)
    named = evolve(
        person,
        names=(*(name for name in person.names if name.text != called), Name(called, kind)),
        also_called=tuple(dict.fromkeys((*person.also_called, called))),
    )
    return _keep(
        collection, named, said, Sentence("%(name)s is also called %(called)s", name=heading, called=called), who
    )


def say_date(
    collection: Collection,
    heading: str,
    says: Says,
    words: str,
    *,
    sure: Sure = Sure.CERTAIN,
    source: str = "",
    who: str = "archivist",
) -> int | None:
    """Says when a person was born or died, in words; what is surest counts, and of equally sure dates the last.

    Raises
    ------
    InvalidValue
        When the words are not understood, or the life would end before it begins.
    """
    understood = date_reader(collection.catalogue)(words)
    if not understood.readings:
        raise InvalidValue(
            Sentence("“%(words)s” was not understood as a date", words=words),
            "",
            Sentence("Write 5 March 1921, 1921, or about 1921"),
        )
    said = _statement(heading, says, understood.readings[0].edtf, words, sure, source or who)
    person = _person(collection, heading)
    every = collection.catalogue.said_of_person(heading, withdrawn=True)
    known = person.born if says is Says.BORN else person.died
    if known and not any(one.says is says for one in every):
        every.append(_statement(heading, says, known, dates_words(known), Sure.LIKELY, _TOLD_BEFORE))
    every.append(said)
    dated = _dated(person, every, says)
    check_life(dated)
    return _enter(
        collection, dated, every, f"{heading} {'was born' if says is Says.BORN else 'died'} {words}", who
    )


def withdraw_said(collection: Collection, heading: str, ident: str, *, who: str = "archivist") -> int | None:
    """Takes back one thing that was said of a person; it stays readable, and what is left counts.

    Raises
    ------
    NotFound
        When nothing of that id is said of the person.
    """
    every = collection.catalogue.said_of_person(heading, withdrawn=True)
    gone = next((one for one in every if one.id == ident and one.withdrawn is None), None)
    if gone is None:
        raise NotFound(
            Sentence("This is no longer said"),
            Sentence("it was taken back since"),
            Sentence("Load the page again"),
        )
    person = _person(collection, heading)
    unsourced = by_hand(person, every)
    kept = [evolve(one, withdrawn=utc_now()) if one is gone else one for one in every]
    left = believed(heading, [*unsourced, *kept], known_as=person.known_as)
    return _enter(
        collection,
        left,
        kept,
        Sentence("took back what was said of %(name)s: %(words)s", name=heading, words=gone.words),
        who,
    )


def _dated(person: Person, said: Sequence[Statement], says: Says) -> Person:
    """The person with the date that is believed most: the surest, and of equally sure ones the last."""
    fitting = [one for one in said if one.says is says and one.value and one.withdrawn is None]
    best = min(reversed(fitting), key=lambda one: _SURENESS.index(one.sure), default=None)
    value = best.value if best else ""
    return evolve(person, born=value) if says is Says.BORN else evolve(person, died=value)


def _person(collection: Collection, heading: str) -> Person:
    return collection.catalogue.person(heading) or Person(heading)


def _statement(heading: str, says: Says, value: str, words: str, sure: Sure, source: str) -> Statement:
    return Statement("", About.PERSON, heading, says, value, words, sure, source, entered=utc_now())


def _keep(collection: Collection, person: Person, said: Statement, what: str, who: str) -> int | None:
    earlier = collection.catalogue.said_of_person(person.name, withdrawn=True)
    return _enter(collection, person, [*earlier, said], what, who)


def _enter(collection: Collection, person: Person, said: Sequence[Statement], what: str, who: str) -> int | None:
    """Keeps the person; dates that their life tells are read again, as when a list is taken in."""
    before = date_reader(collection.catalogue)
    with collection.catalogue.act(who, what) as act:
        with act.work() as work:
            work.keep_person(person, said)
            now = before.knowing([person], formerly=[_person(collection, person.name)])
            read_again(collection, work, before=before, now=now)
            work.commit()
        ask_about_contradictions(collection, act)
    return act.number
