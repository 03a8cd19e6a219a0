"""What the room of names and places tells of people: their life, their prints and years, their kin."""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Sequence
from threading import Lock

from attrs import define, field, frozen

from solander.core.descriptions import DescribedPrint
from solander.core.errors import NotFound
from solander.core.kin import Family
from solander.core.people import Person
from solander.core.phrases.tokens import folded
from solander.core.statements import Statement
from solander.tasks.alike import Alike, people_alike
from solander.tasks.places_told import LINES_ON_A_PAGE
from solander.tasks.show import Shown

__all__ = ["PeoplePage", "PeopleTold", "PersonAlone", "PersonTold"]


@frozen
class PersonTold:
    """A person with the prints that show them, in order of time."""

    person: Person
    prints: tuple[DescribedPrint, ...]

    @property
    def key(self) -> tuple[str, str]:
        """By which people are listed."""
        return folded(self.person.name), self.person.name


@frozen
class PeoplePage:
    """A page of people by heading; `after` is the heading after which the next begins, None on the last. `total`
    counts all that fit, `shown` all that are in prints, `everybody` all who are known."""

    lines: tuple[PersonTold, ...]
    total: int
    shown: int
    everybody: int
    after: str | None


@frozen
class PersonAlone:
    """All of one person: with what is said of them, withdrawn too, and others who are called the same and may have
    lived at the same time."""

    told: PersonTold
    said: tuple[Statement, ...]
    alike: tuple[Alike, ...]


@frozen(eq=False)
class _Gathered:
    """Everybody as of a change and an order, by heading, with all names of each; and those in prints."""

    as_of: int = -1
    prints: Sequence[DescribedPrint] = ()
    listed: Sequence[PersonTold] = ()
    sought: Sequence[str] = ()
    in_prints: Sequence[PersonTold] = ()
    family: Family = field(factory=lambda: Family(()))


@define
class PeopleTold:
    """The people of a collection, gathered again only after something was written, or the order worked out."""

    shown: Shown
    _gathered: _Gathered = field(factory=_Gathered, init=False)
    _one_at_a_time: Lock = field(factory=Lock, init=False)

    def page(self, *, said: str = "", after: str = "", everybody: bool = False) -> PeoplePage:
        """People who are called as `said`, those with most prints first; without it by heading, all or those in
        prints, beginning after the heading `after`."""
        now = self._now
        counts = len(now.in_prints), len(now.listed)
        if said.strip():
            found = self.called(said)
            return PeoplePage(tuple(found[:LINES_ON_A_PAGE]), len(found), *counts, None)
        listed = now.listed if everybody else now.in_prints
        start = bisect_right(listed, (folded(after), after), key=lambda one: one.key) if after else 0
        lines = listed[start : start + LINES_ON_A_PAGE]
        more = start + LINES_ON_A_PAGE < len(listed)
        return PeoplePage(tuple(lines), len(listed), *counts, lines[-1].person.name if more else None)

    def called(self, said: str) -> list[PersonTold]:
        """Everybody who has a name that holds each word as a beginning, those with most prints first."""
        now = self._now
        words = [f" {word}" for word in folded(said).split()]
        named = zip(now.listed, now.sought, strict=True)
        found = [one for one, names in named if all(word in names for word in words)]
        return sorted(found, key=lambda one: (-len(one.prints), one.key))

    def told(self, name: str) -> PersonTold:
        """The person of that heading.

        Raises
        ------
        NotFound
            When there is none.
        """
        told = self.find(name)
        if told is None:
            raise NotFound(f"Nobody is called “{name}”", "", "Look for them among the people")
        return told

    def find(self, name: str) -> PersonTold | None:
        """The person of that heading, None where there is none."""
        listed = self._now.listed
        at = bisect_right(listed, (folded(name), name), key=lambda one: one.key) - 1
        return listed[at] if at >= 0 and listed[at].person.name == name else None

    def alone(self, name: str) -> PersonAlone:
        """All that is known of the person of that heading.

        Raises
        ------
        NotFound
            When there is none.
        """
        told = self.told(name)
        said = self.shown.collection.catalogue.said_of_person(name, withdrawn=True)
        return PersonAlone(told, tuple(said), tuple(people_alike(self.shown.collection, told.person)))

    @property
    def family(self) -> Family:
        """Who is whose parent and partner."""
        return self._now.family

    @property
    def _now(self) -> _Gathered:
        """Everybody as of now: one page asks while another may be answered."""
        with self._one_at_a_time:
            as_of, prints = self.shown.collection.catalogue.last_change(), self.shown.described()
            if as_of != self._gathered.as_of or prints is not self._gathered.prints:
                self._gathered = self._gather(as_of, prints)
            return self._gathered

    def _gather(self, as_of: int, prints: Sequence[DescribedPrint]) -> _Gathered:
        catalogue = self.shown.collection.catalogue
        shows: dict[str, list[DescribedPrint]] = defaultdict(list)
        named: dict[str, Person] = {}
        for one in prints:
            for person in one.people:
                shows[person.person.name].append(one)
                named[person.person.name] = person.person
        named |= {person.name: person for person in catalogue.people()}
        told = (PersonTold(person, tuple(shows.get(name, ()))) for name, person in named.items())
        listed = sorted(told, key=lambda one: one.key)
        sought = [_all_names(one.person) for one in listed]
        in_prints = [one for one in listed if one.prints]
        return _Gathered(as_of, prints, listed, sought, in_prints, Family(catalogue.kin()))


def _all_called(person: Person) -> Sequence[str]:
    return (person.name, *person.also_called, *(name.text for name in person.names))


def _all_names(person: Person) -> str:
    return folded(" " + " \n ".join(_all_called(person)).replace("-", " ").replace("(", " "))
