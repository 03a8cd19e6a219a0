"""The people whom a collection knows, found by what is said, and seen from whose photographs these are."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property
from pathlib import Path

from attrs import evolve, frozen

from solander.authorities.naming import Candidate, Finder, Mention, Seen, read_people, understood
from solander.catalogue.queries import Reading as Known
from solander.core.dates import Bounds
from solander.core.kin import Family, Kin
from solander.core.people import Person
from solander.core.sentence import Joined, Listed, Sentence
from solander.tasks.first_words_kept import first_words_of

__all__ = ["KnownPeople", "candidate_words", "known_people"]


class KnownPeople:
    """Finds people; the finder is made when it is first asked, as it looks at every name."""

    def __init__(self, people: Sequence[Person], kin: Sequence[Kin], teller: str = "") -> None:
        self._people, self._kin, self.teller = people, kin, teller
        self._tellers: dict[str, str] = {}

    @cached_property
    def by_heading(self) -> Mapping[str, Person]:
        """Everybody by heading."""
        return {person.name: person for person in self._people}

    @cached_property
    def has_a_list(self) -> bool:
        """Whether more is known than names that were typed: a tree or a list was taken in, so that who is not in
        it is worth a question."""
        return bool(self._kin) or any(_is_told_of(person) for person in self._people)

    def listed(self) -> KnownPeople:
        """Only those of whom a list or a tree tells more than what they are called."""
        in_tree = {name for kin in self._kin for name in (kin.person, kin.other)}
        people = [person for person in self._people if _is_told_of(person) or person.name in in_tree]
        return KnownPeople(people, self._kin, self.teller)

    @cached_property
    def finder(self) -> Finder:
        """Finds one person by name or kinship."""
        return Finder(self._people, Family(self._kin))

    def with_people(self, changed: Sequence[Person]) -> KnownPeople:
        """The same with these people as they are now, newcomers among them; a finder that is made is made over and
        not made anew."""
        now = {**self.by_heading, **{person.name: person for person in changed}}
        other = KnownPeople(list(now.values()), self._kin, self.teller)
        if "finder" in self.__dict__:
            other.__dict__["finder"] = self.finder.with_people(changed)
        return other

    def find(self, said: str, *, by: str = "", on: Bounds | None = None) -> tuple[Candidate, ...]:
        """Who may be meant by what `by` says of a print of that date."""
        return self.finder.find(said, Seen(self.seen_from(by) or None, on))

    def read(self, phrase: str, *, by: str = "", on: Bounds | None = None) -> tuple[Mention, ...]:
        """Everybody whom a phrase names."""
        return read_people(self.finder, phrase, Seen(self.seen_from(by) or None, on))

    def seen_from(self, by: str) -> str:
        """The heading of the one through whose eyes the tree is seen: who says it, where that is clear, else whose
        photographs these are; empty where nobody knows."""
        if by not in self._tellers:
            found = understood(self.finder.find(by, Seen(self.teller or None))) if by else None
            self._tellers[by] = found.person.name if found else self.teller
        return self._tellers[by]


def _is_told_of(person: Person) -> bool:
    return bool(person.born or person.died or person.names or person.known_as or person.also_called)


@frozen
class _AsOf:
    """What people are known by: the catalogue, the last change of all and the last of kin, the teller."""

    path: Path
    change: int
    kin: int
    teller: str


_FEW = 200
"""Up to so many people who changed are made over; with more, everybody is laid out anew (our choice)."""

_made: list[tuple[_AsOf, KnownPeople]] = []
"""The last that were made: most acts change nobody or a few, and laying 100,000 people out takes seconds."""


def known_people(catalogue: Known) -> KnownPeople:
    """The people whom the catalogue knows now."""
    change, teller = catalogue.last_change(), first_words_of(catalogue).teller
    before = _made[0] if _made else None
    if before and (before[0].path, before[0].change, before[0].teller) == (catalogue.path, change, teller):
        return before[1]
    as_of = _AsOf(catalogue.path, change, catalogue.last_change("kin"), teller)
    known = _made_over(catalogue, *before, as_of) if before else None
    known = known or KnownPeople(catalogue.people(), catalogue.kin(), teller)
    _made[:] = [(as_of, known)]
    return known


def _made_over(catalogue: Known, was: _AsOf, known: KnownPeople, now: _AsOf) -> KnownPeople | None:
    """Those who were known, with whom a few changes made; None where that can't be done."""
    if evolve(was, change=now.change) != now or now.change < was.change:
        return None
    headings = catalogue.people_changed_since(was.change)
    if len(headings) > _FEW:
        return None
    changed = catalogue.people_of(headings)
    if len(changed) < len(headings):
        return None  # somebody is gone
    return known.with_people(changed) if changed else known


def candidate_words(candidate: Candidate) -> str:
    """A candidate in a sentence: "Joseph Weber (uncle of Anna Weber, was 37 or 38 then)"; that the name is theirs
    needs no telling."""
    names = Listed(person.name for person in candidate.everybody)
    reasons = [reason for reason in candidate.reasons if not reason.startswith(("is named so", "is called"))]
    return Sentence("%(names)s (%(why)s)", names=names, why=Joined(reasons, ", ")) if reasons else names
