"""The slip: what holds at the stand just now, and goes on for the prints that follow.

A slip is a value: everything that changes it gives a new one. Of two rules it takes care by itself: changing the
occasion changes date and place and leaves all else; what it served is remembered, so that a correction, or a sound
that is typed late, reaches the prints that were taken meanwhile.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from enum import StrEnum
from typing import Any

from attrs import asdict, evolve, frozen

from solander.core.questions import Asks
from solander.core.statements import Says, Sure

__all__ = ["PART_OF", "Entry", "KeptSound", "Part", "Slip", "slip_of", "told_slip"]


class Part(StrEnum):
    """The parts of a slip, in the order in which it is read."""

    CONTAINER = "container"
    OCCASION = "occasion"
    DATE = "date"
    PLACE = "place"
    PEOPLE = "people"


PART_OF: Mapping[Says, Part] = {
    Says.OCCASION: Part.OCCASION,
    Says.EXPOSURE: Part.DATE,
    Says.PRINTING: Part.DATE,
    Says.UNREAD_DATE: Part.DATE,
    Says.PLACE: Part.PLACE,
    Says.PERSON: Part.PEOPLE,
    Says.AGE: Part.PEOPLE,
}
"""Where on the slip each kind of statement stands."""


@frozen
class Entry:
    """One thing that the slip says of each print: `value` understood, `words` as said; see `Statement`.

    `asks` waits to be asked about the first print that gets it: kinds, and sentences as they are kept; `new`
    tells that the name is to be entered. `served` are the prints that have it from this slip.
    """

    says: Says
    value: str
    words: str
    sure: Sure = Sure.CERTAIN
    asks: tuple[tuple[Asks, str], ...] = ()
    new: bool = False
    served: tuple[str, ...] = ()

    @property
    def claim(self) -> tuple[Says, str, str, Sure]:
        """What it claims, whoever has it."""
        return self.says, self.value, self.words, self.sure


@frozen
class KeptSound:
    """Something that was said and not understood, kept until somebody plays it and types it once.

    `sha256` names the recording; `covers` are the prints that were taken while it held. `since` are parts that
    were said anew after it, each with how many prints it covered until then: of later ones it tells nothing.
    """

    sha256: str
    covers: tuple[str, ...] = ()
    since: tuple[tuple[Part, int], ...] = ()

    @property
    def id(self) -> str:
        """By what it is asked for."""
        return self.sha256

    def covered(self, part: Part) -> tuple[str, ...]:
        """The prints that it covers with that part."""
        return self.covers[: dict(self.since).get(part, len(self.covers))]

    def holds(self, part: Part) -> bool:
        """Whether that part of it still goes on."""
        return part not in dict(self.since)


@frozen
class Slip:
    """What holds at one station. `container` is a code, empty for none."""

    container: str = ""
    entries: tuple[Entry, ...] = ()
    not_understood: tuple[KeptSound, ...] = ()

    def part(self, part: Part) -> tuple[Entry, ...]:
        """The entries of a part, in the order in which they were said."""
        return tuple(one for one in self.entries if PART_OF[one.says] is part)

    @property
    def occasion(self) -> str:
        """The name of the occasion; empty for none."""
        return next((one.value for one in self.part(Part.OCCASION)), "")

    @property
    def date(self) -> str:
        """The date as EDTF; empty for none, or where its words were not understood."""
        return next((one.value for one in self.part(Part.DATE)), "")

    @property
    def place(self) -> str:
        """The place by its name; empty for none."""
        return next((one.value for one in self.part(Part.PLACE)), "")

    @property
    def people(self) -> tuple[str, ...]:
        """The people by their headings."""
        return tuple(one.value for one in self.part(Part.PEOPLE) if one.says is Says.PERSON)

    def with_part(self, part: Part, entries: Iterable[Entry]) -> Slip:
        """That part said anew; an entry that was there already keeps what it served."""
        there = {one.claim: one for one in self.part(part)}
        fresh = [there.get(one.claim, one) for one in entries]
        others = [one for one in self.entries if PART_OF[one.says] is not part]
        order = list(Part)
        return evolve(self, entries=tuple(sorted([*others, *fresh], key=lambda e: order.index(PART_OF[e.says]))))

    def in_container(self, code: str) -> Slip:
        """The same at another container; empty for none."""
        return evolve(self, container=code)

    def at_occasion(self, occasion: Entry, shared: Iterable[Entry] = ()) -> Slip:
        """The slip of another occasion, with the date and the place that are `shared` by its prints.

        Date and place of the one before go with it; people, container and sounds stay. The same occasion said
        again changes nothing.
        """
        if occasion.value == self.occasion:
            return self
        slip = self.with_part(Part.OCCASION, [occasion])
        shared = list(shared)
        for part in (Part.DATE, Part.PLACE):
            slip = slip.with_part(part, [one for one in shared if PART_OF[one.says] is part])
        return slip

    def and_people(self, more: Iterable[Entry]) -> Slip:
        """With these people besides those who are there; who is there already stays as said."""
        there = self.part(Part.PEOPLE)
        known = {(one.says, one.value) for one in there}
        return self.with_part(Part.PEOPLE, [*there, *(one for one in more if (one.says, one.value) not in known)])

    def without(self, headings: Iterable[str]) -> Slip:
        """Without these people, and what was said of their ages."""
        gone = set(headings)
        left = [one for one in self.part(Part.PEOPLE) if one.value.partition("|")[0] not in gone]
        return self.with_part(Part.PEOPLE, left)

    def drop(self, part: Part) -> Slip:
        """Without that part; without an occasion there are no date and place of it either."""
        if part is Part.CONTAINER:
            return evolve(self, container="")
        slip = self.with_part(part, ())
        return slip.drop(Part.DATE).drop(Part.PLACE) if part is Part.OCCASION and self.occasion else slip

    def cleared(self) -> Slip:
        """Empty; the container stays, and so do sounds that prints wait for."""
        return Slip(self.container, (), tuple(one for one in self.not_understood if one.covers))

    def heard(self, sha256: str, covers: Iterable[str] = ()) -> Slip:
        """With one more sound that was not understood, for the prints that follow and those of `covers`."""
        known = any(one.sha256 == sha256 for one in self.not_understood)
        return (
            self
            if known
            else evolve(self, not_understood=(*self.not_understood, KeptSound(sha256, tuple(covers))))
        )

    def said_since(self, parts: Iterable[Part]) -> Slip:
        """The slip on which these parts were said after its sounds."""
        new = list(parts)
        sounds = tuple(
            evolve(one, since=(*one.since, *((part, len(one.covers)) for part in new if one.holds(part))))
            for one in self.not_understood
        )
        return evolve(self, not_understood=sounds)

    def without_sound(self, sha256: str) -> Slip:
        """Without that sound: it was typed, or is not wanted."""
        return evolve(self, not_understood=tuple(one for one in self.not_understood if one.sha256 != sha256))

    def serving(self, accessions: Sequence[str]) -> Slip:
        """The slip after these prints got all that it says; what it had to ask has been asked."""
        entries = tuple(evolve(one, asks=(), new=False, served=(*one.served, *accessions)) for one in self.entries)
        sounds = tuple(evolve(one, covers=(*one.covers, *accessions)) for one in self.not_understood)
        return evolve(self, entries=entries, not_understood=sounds)


def told_slip(slip: Slip) -> dict[str, Any]:
    """The slip as plain values, to be kept."""
    return asdict(slip)


def slip_of(told: Mapping[str, Any]) -> Slip:
    """The slip of plain values."""
    entries = tuple(
        Entry(
            Says(one["says"]),
            one["value"],
            one["words"],
            Sure(one["sure"]),
            tuple((Asks(kind), sentence) for kind, sentence in one["asks"]),
            one["new"],
            tuple(one["served"]),
        )
        for one in told["entries"]
    )
    sounds = tuple(
        KeptSound(
            one["sha256"], tuple(one["covers"]), tuple((Part(part), number) for part, number in one["since"])
        )
        for one in told["not_understood"]
    )
    return Slip(told["container"], entries, sounds)
