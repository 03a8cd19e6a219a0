"""People, what is said of them and their kin as rows, and rows as records."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from typing import Any

from solander.catalogue.records import Row
from solander.core.kin import How, Kin
from solander.core.people import Name, NameKind, Person
from solander.core.phrases.sought import words_of_name
from solander.core.statements import About, Says, Statement, Sure

__all__ = [
    "kin_of",
    "kin_row",
    "name_words",
    "person_of",
    "person_row",
    "said_json",
    "said_of",
]


_KINDS = {str(kind): kind for kind in NameKind}
_HOWS = {str(how): how for how in How}
_SURES = {str(sure): sure for sure in Sure}


def person_row(person: Person) -> dict[str, Any]:
    """The row of a person, without what is said of them."""
    return {
        "name": person.name,
        "also_called": list(person.also_called),
        "born": person.born,
        "died": person.died,
        "names": [[str(name.kind), name.text, name.surname] for name in person.names],
        "sex": person.sex,
        "born_at": person.born_at,
        "died_at": person.died_at,
        "known_as": list(person.known_as),
    }


def person_of(cells: Sequence[str]) -> Person:
    """The person of a row's cells in their order, that of `person_row`; lists are JSON text."""
    name, also_called, born, died, names, sex, born_at, died_at, known_as = cells
    return Person(
        name,
        () if also_called == "[]" else tuple(json.loads(also_called)),
        born,
        died,
        tuple(Name(text, _KINDS[kind], surname) for kind, text, surname in json.loads(names)),
        sex,
        born_at,
        died_at,
        () if known_as == "[]" else tuple(json.loads(known_as)),
    )


def said_json(said: Iterable[Statement]) -> list[list[str | None]]:
    """What is said of one person as it is kept beside them: in order of entry, without whom it is about."""
    return [
        [str(one.says), one.value, one.words, str(one.sure), one.source, one.entered, one.withdrawn]
        for one in said
    ]


def said_of(name: str, kept: Sequence[Sequence[str]]) -> tuple[Statement, ...]:
    """What is kept beside a person as statements; each has its place in the order of entry in its id."""
    return tuple(
        Statement(
            f"{name} {place}", About.PERSON, name, Says(says), value, words, Sure(sure), source, entered, withdrawn
        )
        for place, (says, value, words, sure, source, entered, withdrawn) in enumerate(kept, 1)
    )


def kin_row(kin: Kin, *, ident: str, entered: str) -> dict[str, Any]:
    """The row of kin that are said now."""
    return {
        "id": ident,
        "person": kin.person,
        "how": str(kin.how),
        "other": kin.other,
        "by": kin.by,
        "source": kin.source,
        "sure": str(kin.sure),
        "entered": entered,
        "withdrawn": None,
    }


def kin_of(cells: Sequence[str]) -> Kin:
    """The kin of a row's person, how, other, by, source and sure."""
    person, how, other, by, source, sure = cells
    return Kin(person, _HOWS[how], other, by, source, _SURES[sure])


def name_words(row: Row) -> set[str]:
    """All that the person of a row is called, each as its folded words with blanks between."""
    called = (row["name"], *row["also_called"], *(text for _, text, _ in row["names"]))
    return {words for name in called if (words := " ".join(words_of_name(name)))}
