"""People laid out once and made over where a few change: both ways find the same, whatever changes."""

from __future__ import annotations

import random

import pytest
from attrs import evolve
from invented_people import tree

from solander.authorities.naming import Finder, Seen
from solander.core.dates import parse_edtf
from solander.core.people import Name, NameKind, Person

pytestmark = pytest.mark.slow


@pytest.mark.parametrize("seed", range(3))
def test_people_made_over_are_found_as_people_laid_out_anew(seed: int) -> None:
    grown = tree(7, 120)
    chance = random.Random(seed)
    people = {one.name: one for one in grown.people}
    finder = Finder(people.values(), grown.family)
    seen = Seen(next(iter(people)), parse_edtf("1950").bounds())
    finder.find("Anna", seen)  # what was looked up before is not to stay
    for number in range(6):
        changed = [*_changed(chance, list(people.values())), Person(f"Zwickel Newcomer {number}", ("Zwick",))]
        people |= {one.name: one for one in changed}
        before, finder = finder, finder.with_people(changed)
        assert len(before.index.people) == len(people) - 1
    anew = Finder(people.values(), grown.family)
    for one in chance.sample(list(people.values()), 40):
        for said in (one.name, one.name.split()[0], *one.also_called, f"Mrs {one.name.split()[-1]}", "the twins"):
            assert finder.find(said, seen) == anew.find(said, seen), said
    assert finder.find("Zwick", seen)[0].person.name.startswith("Zwickel")


def _changed(chance: random.Random, people: list[Person]) -> list[Person]:
    """Three of them with another birth, another name, or another sex."""
    found = []
    for one in chance.sample(people, 3):
        called = f"{chance.choice(['Quirin', 'Nan', 'Zdeslav'])} {one.name.split()[-1]}"
        found.append(
            evolve(
                one,
                born=str(chance.randrange(1880, 1960)),
                died="",
                sex=chance.choice(["", "female", "male"]),
                also_called=(called,),
                names=(*one.names[:1], Name(called, NameKind.MARRIED)),
            )
        )
    return found
