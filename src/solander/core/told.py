"""What a source tells of people, and what is believed of a person when several sources tell different things.

Nothing that is told replaces anything: each source's claims stand side by side as statements. The record of a
person is the digest of those in force: the surest claim, among equally sure ones the newest.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from attrs import frozen

from solander.core.dates import Dated
from solander.core.kin import How
from solander.core.language import marked
from solander.core.people import Name, NameKind, Person
from solander.core.sentence import Sentence
from solander.core.statements import About, Says, Statement, Sure

__all__ = [
    "Telling",
    "Told",
    "ToldKin",
    "ToldOf",
    "believed",
    "by_hand",
    "claim_words",
    "name_of",
    "name_value",
    "stated",
]

_RANK = {Sure.CERTAIN: 2, Sure.LIKELY: 1, Sure.GUESS: 0}
_FIELDS = {
    Says.SEX: "sex",
    Says.BORN: "born",
    Says.BORN_AT: "born_at",
    Says.DIED: "died",
    Says.DIED_AT: "died_at",
}
_BY_HAND = "list of people"
"""The source of what was entered before sources were kept, or without one."""


@frozen
class Told:
    """One claim about a person: `words` as written, `value` what was understood of it; see `Says`."""

    says: Says
    value: str
    words: str = ""
    sure: Sure = Sure.CERTAIN


@frozen
class ToldOf:
    """What one source tells of one person.

    `key` tells this person from the source's others; `lasting` are the keys by which the person is found when the
    source is taken in again; a list that has none speaks by `name` alone. `where` is the place in the source, for
    sentences ("line 4"). `silent` is what the source speaks of and does not know of this person.
    """

    key: str
    name: str
    told: tuple[Told, ...] = ()
    lasting: tuple[str, ...] = ()
    where: str = ""
    silent: frozenset[Says] = frozenset()


@frozen
class ToldKin:
    """That one person is a parent or partner of another, both by their keys in the source."""

    person: str
    how: How
    other: str
    by: str = ""


@frozen
class Telling:
    """All that one source tells.

    `covers` is what the source speaks of at all: where it no longer repeats a claim of that kind, it has taken it
    back. `set_aside` has a sentence for each entry that was not taken, `remarks` one for each thing to know.
    A source that is not `whole` says nothing by what it leaves out.
    """

    source: str
    people: tuple[ToldOf, ...]
    kin: tuple[ToldKin, ...] = ()
    covers: frozenset[Says] = frozenset({Says.NAME, *_FIELDS})
    set_aside: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    whole: bool = True


def name_value(name: Name) -> str:
    """A name as the value of a statement: `birth|Anna /Weber/`; a stroke of its own is no mark of a surname."""
    before, found, after = name.text.rpartition(name.surname) if name.surname else ("", "", "")
    if found and "/" not in found + after:
        return f"{name.kind}|{before}/{found}/{after}"
    return f"{name.kind}|{name.text}" + "//" * (name.text.count("/") > 1)


def name_of(value: str) -> Name:
    """The name in the value of a statement."""
    kind, _, text = value.partition("|")
    before, surname, after = text.rsplit("/", 2) if text.count("/") > 1 else (text, "", "")
    return Name(f"{before}{surname}{after}", NameKind(kind), surname)


def stated(told: Told, name: str, source: str, entered: str) -> Statement:
    """A claim as a statement about the person of that heading; its id is given when it is kept."""
    return Statement(
        "", About.PERSON, name, told.says, told.value, told.words or told.value, told.sure, source, entered
    )


def believed(name: str, said: Iterable[Statement], *, known_as: Iterable[str] = ()) -> Person:
    """The person of that heading as what is said and in force makes them."""
    live = [one for one in said if one.withdrawn is None and one.value]
    names = tuple(dict.fromkeys(name_of(one.value) for one in live if one.says is Says.NAME))
    best = {field: _best(live, says) for says, field in _FIELDS.items()}
    called = tuple(dict.fromkeys(each.text for each in names if each.text != name))
    kinds_known = tuple(each for each in names if each.kind is not NameKind.OTHER or each.surname)
    return Person(name, called, names=kinds_known, known_as=tuple(known_as), **best)


def by_hand(person: Person, said: Sequence[Statement]) -> list[Statement]:
    """What a person's record holds and no statement says, as statements: it was entered without a source."""
    live = [one for one in said if one.withdrawn is None]
    names = {name_of(one.value).text for one in live if one.says is Says.NAME}
    kinds = {each.text: each for each in (*map(Name, person.also_called), *person.names)}
    told = [Told(Says.NAME, name_value(each), text) for text, each in kinds.items() if text not in names]
    for says, field in _FIELDS.items():
        value = getattr(person, field)
        if value and not any(one.says is says for one in live):
            told.append(Told(says, value))
    return [stated(one, person.name, _BY_HAND, "") for one in told]


def claim_words(says: Says, value: str, written: str = "") -> str:
    """A claim in words, for a sentence: "born 12 March 1921", "married name Anna Moor"."""
    if says is Says.NAME:
        name = name_of(value)
        return Sentence(_NAME_WORDS[name.kind], name=name.text)
    if says in (Says.BORN, Says.DIED):
        return Sentence(_CLAIM_WORDS[says], value=Dated(value) if value else f"“{written}”")
    return Sentence(_CLAIM_WORDS.get(says, "%(value)s"), value=value)


_NAME_WORDS = {
    NameKind.BIRTH: marked("born as %(name)s"),
    NameKind.MARRIED: marked("married name %(name)s"),
    NameKind.NICKNAME: marked("called %(name)s"),
    NameKind.OTHER_SCRIPT: marked("in other letters %(name)s"),
    NameKind.OTHER: marked("also called %(name)s"),
}
_CLAIM_WORDS = {
    Says.SEX: marked("sex %(value)s"),
    Says.BORN: marked("born %(value)s"),
    Says.BORN_AT: marked("born at %(value)s"),
    Says.DIED: marked("died %(value)s"),
    Says.DIED_AT: marked("died at %(value)s"),
}


def _best(live: Sequence[Statement], says: Says) -> str:
    """The surest, of those the one entered last, of those the one that its source names first."""
    claims = [(_RANK[one.sure], one.entered, -place, one) for place, one in enumerate(live) if one.says is says]
    return max(claims)[3].value if claims else ""
