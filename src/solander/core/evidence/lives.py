"""A person is in a picture only while alive, and is as old in it as the person's birth makes them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache

from attrs import evolve

from solander.core.ages import Age, read_age_value
from solander.core.birthdays import days_of_age, years_later
from solander.core.chronology import Between
from solander.core.dates import Dated, parse_edtf
from solander.core.descriptions import Reason
from solander.core.evidence.records import Evidence, Family, Weight, rank_of, soft_rank, weaker
from solander.core.language import marked
from solander.core.living import LONGEST_LIFE
from solander.core.people import Person, life_of
from solander.core.sentence import Sentence
from solander.core.statements import About, Says, Statement, Sure

__all__ = ["APPARENT_AGE_TRUST", "LIFESPAN_TRUST", "ages", "lifespans", "lives"]

APPARENT_AGE_TRUST = 0.6
"""How far an age that somebody only looks is believed (our choice, no source)."""


LIFESPAN_TRUST = 0.9
"""How far it is believed that nobody lives longer than `LONGEST_LIFE` years (our choice, no source)."""


def lives(statements: Iterable[Statement], people: Mapping[str, Person]) -> Iterator[Evidence]:
    """From the first possible birthday to the last possible day of life.

    What is as sure is one bound; a birth that is less sure than the death, or the other way round, is one for
    itself, so that it gives way alone.
    """
    for said in statements:
        person = people.get(said.value)
        if said.about is not About.PRINT or said.says is not Says.PERSON or person is None:
            continue
        life = life_of(person)
        if life.is_bounded and not life.ends_before_it_begins:
            yield from _lived(said, person)


def lifespans(statements: Iterable[Statement], people: Mapping[str, Person], today: int) -> Iterator[Evidence]:
    """Nobody is in a picture more than `LONGEST_LIFE` years after birth, or before death.

    A rule of thumb for who has one date of the two; it tells nothing where it reaches beyond `today`.
    """
    for said in statements:
        person = people.get(said.value)
        if said.about is not About.PRINT or said.says is not Says.PERSON or person is None:
            continue
        life = life_of(person)
        if life.born_to is not None and not person.died:
            last = years_later(life.born_to, LONGEST_LIFE)
            if last < today:
                yield _spanned(said, person, None, last)
        elif life.died_from is not None and not person.born:
            yield _spanned(said, person, years_later(life.died_from, -LONGEST_LIFE), None)


def _spanned(said: Statement, person: Person, first: int | None, last: int | None) -> Evidence:
    message = (
        marked("%(person)s was born %(born)s, and hardly anybody lives longer than %(years)s years")
        if person.born
        else marked("%(person)s died %(died)s, and hardly anybody lives longer than %(years)s years")
    )
    sentence = Sentence(
        message, person=person.name, born=_dated(person.born), died=_dated(person.died), years=LONGEST_LIFE
    )
    return Evidence(
        Between(f"{said.id} lifespan", said.subject, first, last, sentence),
        Reason(sentence, Sentence("list of people"), Sure.LIKELY),
        soft_rank(LIFESPAN_TRUST, Family.LIFE),
        soft=True,
        shared=f"lifespan {person.name}",
    )


def _lived(said: Statement, person: Person) -> Iterator[Evidence]:
    life = life_of(person)
    birth = Sure.CERTAIN if life.born_from is None else _sure_of(person.born)
    death = Sure.CERTAIN if life.died_to is None else _sure_of(person.died)
    if life.born_from is None or life.died_to is None or birth is death:
        yield _alive(said, person, life.born_from, life.died_to, sure=weaker(birth, death))
        return
    born, died = evolve(person, died=""), evolve(person, born="")
    yield _alive(said, born, life.born_from, None, sure=birth, part=" born")
    yield _alive(said, died, None, life.died_to, sure=death, part=" died")


def _alive(
    said: Statement, person: Person, first: int | None, last: int | None, *, sure: Sure, part: str = ""
) -> Evidence:
    sentence = _life_words(person)
    sure = weaker(said.sure, sure)
    return Evidence(
        Between(f"{said.id}{part}", said.subject, first, last, sentence),
        Reason(sentence, Sentence("list of people"), sure),
        rank_of(sure, Family.LIFE),
        shared=f"life {person.name}{part}",
    )


@lru_cache(maxsize=4096)
def _sure_of(edtf: str) -> Sure:
    """How sure a birth or a death is: "about" is likely, "perhaps" a guess."""
    qualifiers = parse_edtf(edtf).qualifiers if edtf else ()
    return Sure.GUESS if "?" in qualifiers else Sure.LIKELY if "~" in qualifiers else Sure.CERTAIN


def _life_words(person: Person) -> Sentence:
    message = _LIFE[bool(person.born), bool(person.died)]
    return Sentence(message, person=person.name, born=_dated(person.born), died=_dated(person.died))


_LIFE = {
    (True, True): marked("%(person)s was born %(born)s and died %(died)s"),
    (True, False): marked("%(person)s was born %(born)s"),
    (False, True): marked("%(person)s died %(died)s"),
    (False, False): "%(person)s",
}
"""By whether birth and death are known."""


@lru_cache(maxsize=4096)
def _dated(edtf: str) -> str:
    return Dated(edtf) if edtf else ""


def ages(statements: Iterable[Statement], people: Mapping[str, Person]) -> Iterator[Evidence]:
    """An age bounds the exposure by the person's birth.

    A stated age counts whole years: somebody is 6 from the sixth birthday to the day before the seventh; that
    binds as something likely, for ages are said wrong. An age that was only estimated ("about", "looks", "as a
    child": `Sure.GUESS`) is a rule of thumb; its tolerance is in the value already (see `solander.core.ages`).
    """
    for said in statements:
        if said.about is not About.PRINT or said.says is not Says.AGE:
            continue
        name, age = read_age_value(said.value)
        person = people.get(name)
        if person is not None and person.born:
            yield _of_age(said, person, age)


def _of_age(said: Statement, person: Person, age: Age) -> Evidence:
    life = life_of(person)
    first = None if life.born_from is None else days_of_age(life.born_from, age.youngest)[0]
    last = None if life.born_to is None else days_of_age(life.born_to, age.oldest)[1]
    soft = said.sure is Sure.GUESS
    sure = weaker(said.sure, _sure_of(person.born))
    message = (
        marked("%(person)s, born %(born)s, looks %(age)s")
        if soft
        else marked("%(person)s, born %(born)s, was %(age)s")
    )
    sentence = Sentence(message, person=person.name, born=_dated(person.born), age=age.words)
    rank = soft_rank(APPARENT_AGE_TRUST, Family.AGE) if soft else rank_of(sure, Family.AGE)
    return Evidence(
        Between(said.id, said.subject, first, last, sentence),
        Reason(sentence, said.source, sure),
        rank,
        soft=soft,
        weight=_around(said.subject, first, last) if soft else None,
    )


def _around(accession: str, first: int | None, last: int | None) -> Weight | None:
    """All of the weight on the ages told, running out over half as many days on either side."""
    if first is None or last is None:
        return None
    foot = (last - first) // 2
    return Weight(accession, first - foot, first, last, last + foot, APPARENT_AGE_TRUST)
