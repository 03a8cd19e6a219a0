"""What the room of names and places tells of people: their life, their prints and years, their kin."""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Sequence

from attrs import define, field, frozen

from solander.core.descriptions import DescribedPrint, When
from solander.core.errors import NotFound
from solander.core.kin import Family
from solander.core.people import Person
from solander.core.phrases.tokens import folded
from solander.core.sentence import Sentence
from solander.core.statements import About, Says, Statement
from solander.tasks.alike import Alike, people_alike
from solander.tasks.described_some import described_some
from solander.tasks.gathered import Gathered
from solander.tasks.places_told import LINES_ON_A_PAGE
from solander.tasks.put_in_order import people_by_name
from solander.tasks.show import Shown
from solander.tasks.standing import when_of

__all__ = ["PeoplePage", "PeopleTold", "PersonAlone", "PersonTold"]


PRINTS_ON_THE_RULE = 400
"""So many prints of a person have a bar under their life: more lie upon each other (looked at, not measured)."""


@frozen
class PersonTold:
    """A person with the numbers of the prints that show them, in order of time, and the years of those that are
    dated."""

    person: Person
    prints: tuple[str, ...] = ()
    years: tuple[int, ...] = ()

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
    """All of one person: the first of their prints, when their prints are of (of very many some, evenly apart),
    what is said of them, withdrawn too, and others who are called the same and may have lived at the same time."""

    told: PersonTold
    prints: Sequence[DescribedPrint]
    whens: Sequence[tuple[str, When]]
    said: tuple[Statement, ...]
    alike: tuple[Alike, ...]


@frozen(eq=False)
class _Everybody:
    """Everybody by heading, with all names of each; and those in prints."""

    listed: Sequence[PersonTold]
    sought: Sequence[str]
    in_prints: Sequence[PersonTold]
    family: Family


@define
class PeopleTold:
    """The people of a collection."""

    shown: Shown
    _everybody: Gathered[_Everybody] = field(init=False)

    def __attrs_post_init__(self) -> None:
        self._everybody = Gathered(self.shown, self._gather)

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
            raise NotFound(
                Sentence("Nobody is called “%(name)s”", name=name), "", Sentence("Look for them among the people")
            )
        return told

    def find(self, name: str) -> PersonTold | None:
        """The person of that heading, None where there is none."""
        listed = self._now.listed
        at = bisect_right(listed, (folded(name), name), key=lambda one: one.key) - 1
        return listed[at] if at >= 0 and listed[at].person.name == name else None

    def alone(self, name: str, *, most: int = 0) -> PersonAlone:
        """All that is known of the person of that heading, with up to `most` of their prints.

        Raises
        ------
        NotFound
            When there is none.
        """
        told, collection = self.told(name), self.shown.collection
        some = told.prints[:: len(told.prints) // PRINTS_ON_THE_RULE + 1]
        kept = collection.catalogue.standing_told(some) if most else {}
        return PersonAlone(
            told,
            described_some(collection, told.prints[:most]),
            [(number, when_of(kept[number])) for number in some if number in kept],
            tuple(collection.catalogue.said_of_person(name, withdrawn=True)),
            tuple(people_alike(collection, told.person)),
        )

    @property
    def family(self) -> Family:
        """Who is whose parent and partner."""
        return self._now.family

    @property
    def _now(self) -> _Everybody:
        return self._everybody.now()

    def _gather(self) -> _Everybody:
        catalogue = self.shown.collection.catalogue
        said = catalogue.said_of_all(About.PRINT, Says.PERSON)
        called = people_by_name(catalogue.people_called({name for _, name, _ in said}))
        in_time = catalogue.prints_in_time()
        places = {number: place for place, (number, _) in enumerate(in_time)}
        shows: dict[str, set[int]] = defaultdict(set)
        named: dict[str, Person] = {}
        for number, name, _ in said:
            if number in places:
                person = called.get(name) or named.get(name) or Person(name)
                named[person.name] = person
                shows[person.name].add(places[number])
        named |= {person.name: person for person in catalogue.people()}
        told = (_told(person, in_time, sorted(shows.get(name, ()))) for name, person in named.items())
        listed = sorted(told, key=lambda one: one.key)
        sought = [_all_names(one.person) for one in listed]
        return _Everybody(listed, sought, [one for one in listed if one.prints], Family(catalogue.kin()))


def _told(person: Person, in_time: Sequence[tuple[str, int | None]], places: Sequence[int]) -> PersonTold:
    years = tuple(year for place in places if (year := in_time[place][1]) is not None)
    return PersonTold(person, tuple(in_time[place][0] for place in places), years)


def _all_called(person: Person) -> Sequence[str]:
    return (person.name, *person.also_called, *(name.text for name in person.names))


def _all_names(person: Person) -> str:
    return folded(" " + " \n ".join(_all_called(person)).replace("-", " ").replace("(", " "))
