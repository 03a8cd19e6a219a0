"""A few prints with all that can have a say in when they were taken: what they are tied to, however far that goes.

Prints of one occasion, roll or negative, numbered prints of one container, pages of one album and prints laid
after each other are tied. Where the ties stay within a few prints, their order by themselves is the order of all.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from attrs import frozen

from solander.catalogue.store import Catalogue
from solander.catalogue.touched import Touched
from solander.core.statements import About, Says, Statement
from solander.tasks.collection import Collection

__all__ = ["MOST_AROUND", "Around", "around", "others_of_negatives", "said_of", "touched_prints"]

MOST_AROUND = 1500
"""So many prints are put in order while somebody waits: 0.5 s (benchmarks/table.py)."""

_PAGE = re.compile(r"(.+)/P[0-9]+")


@frozen
class Around:
    """The numbers of prints with those that they are `tied` to, and of those `beside` them in the box.

    `complete` when nothing else binds their dates; neighbours have a say in a best guess only.
    """

    tied: frozenset[str]
    complete: bool
    beside: frozenset[str]


def around(collection: Collection, accessions: Iterable[str], *, most: int = MOST_AROUND) -> Around:
    """These prints, those that they are tied to, what those are tied to, and so on up to `most`."""
    catalogue = collection.catalogue
    first = set(accessions)
    found, edge = set(first), set(first)
    while edge and len(found) <= most:
        edge = set(_tied_to(catalogue, edge)) - found
        found |= edge
    boxes = {code for code in catalogue.containers_of(first).values() if code}
    beside = catalogue.prints_in(boxes)
    return Around(frozenset(found), not edge, frozenset(beside) if len(beside) <= most else frozenset())


def _tied_to(catalogue: Catalogue, accessions: set[str]) -> Iterator[str]:
    said = [one for one in said_of(catalogue, accessions) if one.about is About.PRINT]
    for says in (Says.OCCASION, Says.ROLL):
        yield from catalogue.prints_saying(says, {one.value for one in said if one.says is says})
    for says in (Says.AFTER, Says.NEGATIVE):
        yield from (one.value for one in said if one.says is says)
        yield from catalogue.prints_saying(says, accessions)
    numbered = {one.subject for one in said if one.says is Says.ORDER}
    of_print = catalogue.containers_of(accessions)
    boxes = {code for accession, code in of_print.items() if code and accession in numbered}
    albums = {album[1] for code in of_print.values() if code and (album := _PAGE.fullmatch(code))}
    yield from catalogue.prints_in(boxes | set(catalogue.containers_within(albums)))


def said_of(catalogue: Catalogue, subjects: Iterable[str]) -> list[Statement]:
    """What stands about any of these, some hundreds at a time."""
    those = sorted(subjects)
    return [
        one
        for start in range(0, len(those), 400)
        for one in catalogue.statements_about(those[start : start + 400])
    ]


def touched_prints(collection: Collection, touched: Touched) -> set[str]:
    """The prints that were touched themselves, and those of the occasions and with the people that were."""
    catalogue = collection.catalogue
    found, occasions = set(touched.prints), set(touched.occasions)
    if touched.order and len(found) <= MOST_AROUND:
        occasions |= {said.value for said in said_of(catalogue, found) if said.says is Says.OCCASION}
    found |= catalogue.prints_saying(Says.OCCASION, occasions)
    found |= catalogue.prints_saying(Says.PERSON, touched.people)
    return found | others_of_negatives(catalogue, found) if len(found) <= MOST_AROUND else found


def others_of_negatives(catalogue: Catalogue, accessions: Iterable[str]) -> set[str]:
    """The other prints of the negatives of these, by what is said of them."""
    edge = found = set(accessions)
    while edge:
        said = (one for one in said_of(catalogue, edge) if one.about is About.PRINT and one.says is Says.NEGATIVE)
        edge = ({one.value for one in said} | catalogue.prints_saying(Says.NEGATIVE, edge)) - found
        found = found | edge
    return found - set(accessions)
