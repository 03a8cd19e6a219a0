"""What words said at the stand change of the slip: any parts, in any order, in one sentence or several.

The parts are told apart here; what each means is understood by the same code as typed fields (`tasks.meant`).
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from attrs import define, field, frozen

from solander.core.container_words import container_said
from solander.core.dates import Bounds, parse_edtf
from solander.core.questions import Asks
from solander.core.sentence import kept
from solander.core.slips import Entry, Part, Slip
from solander.core.statements import Says
from solander.tasks.meant import meant_of
from solander.tasks.slip_marks import (
    CORRECTION,
    LITTLE,
    MARKS,
    NOBODY,
    OCCASION,
    PARTS,
    PEOPLE,
    SAME,
    WHERE,
    WITHOUT,
    rest_of,
    without_rest,
)
from solander.tasks.typed import Field, Meant, Typed
from solander.tasks.understood import Understanding

__all__ = ["SUBJECT", "SlipSaid", "entries_of", "read_slip_words", "shared_of"]

SUBJECT = "\N{BALLOT BOX}"
"""Stands in questions for the number of the print that they will be asked about."""

_MOST_JOINED = 3
"""So many pieces between commas may be one date: "Tuesday, 3 May, 1958"."""


@frozen
class SlipSaid:
    """What words would change: the slip as it is then, the parts that were understood, what was `left`.

    `corrects` tells that they take back what was said before, for the prints that have it too.
    """

    slip: Slip
    parts: tuple[Part, ...] = ()
    left: tuple[str, ...] = ()
    corrects: bool = False


def read_slip_words(understanding: Understanding, slip: Slip, words: str) -> SlipSaid:
    """What words mean at a slip; nothing is written."""
    correction = CORRECTION.match(words)
    reader = _Reader(understanding, slip)
    reader.read(words[correction.end() :] if correction else words)
    return SlipSaid(reader.applied(), tuple(reader.parts), tuple(reader.left), corrects=correction is not None)


def entries_of(meant: Meant) -> tuple[Entry, ...]:
    """What was understood, as entries of a slip; what must be asked goes along with the first of them."""
    asks = tuple((kind, kept(sentence)) for kind, sentence in meant.asks if kind is not Asks.PLACE)
    return tuple(
        Entry(
            claim.says,
            claim.value,
            claim.words,
            claim.sure,
            asks if place == 0 else (),
            new=claim.value in meant.people or (claim.says is Says.PLACE and meant.is_new_place),
        )
        for place, claim in enumerate(dict.fromkeys(meant.claims))
    )


def shared_of(understanding: Understanding, occasion: str) -> tuple[Entry, ...]:
    """Date and place that the prints of an occasion share; of several views the last."""
    kinds = (Says.EXPOSURE, Says.PRINTING), (Says.PLACE,)
    said = understanding.collection.catalogue.said_of_occasion(occasion)
    found = ([one for one in said if one.says in kind][-1:] for kind in kinds)
    return tuple(Entry(one.says, one.value, one.words, one.sure) for some in found for one in some)


@define
class _Reader:
    """Reads one saying; what was understood is gathered and applied at the end, for an occasion goes first."""

    understanding: Understanding
    slip: Slip
    parts: list[Part] = field(factory=list)
    left: list[str] = field(factory=list)
    _container: str = ""
    _occasion: Entry | None = None
    _said: dict[Part, tuple[Entry, ...]] = field(factory=dict)
    _more: bool = False
    _without: list[str] = field(factory=list)
    _people_go_on: bool = False

    def read(self, words: str) -> None:
        """Takes in all of it, piece by piece; a date may run over several pieces."""
        pieces = [each for each in (piece.strip(" .") for piece in PARTS.split(words)) if each]
        while pieces:
            joined = next(
                (many for many in range(min(_MOST_JOINED, len(pieces)), 1, -1) if self._is_date(pieces[:many])), 1
            )
            self._piece(", ".join(pieces[:joined]))
            del pieces[:joined]

    def applied(self) -> Slip:
        """The slip as it is then."""
        slip = self.slip
        if self._occasion:
            slip = slip.at_occasion(self._occasion, shared_of(self.understanding, self._occasion.value))
        if self._container:
            slip = slip.in_container(self._container)
        for part, entries in self._said.items():
            is_more = part is Part.PEOPLE and self._more
            slip = slip.and_people(entries) if is_more else slip.with_part(part, entries)
        return slip.without(self._without) if self._without else slip

    def _piece(self, words: str) -> None:
        parts = MARKS.split(words)
        if len(parts) > 1 and not self._is_one(words) and all(map(self._begins_anew, parts[1:])):
            for part in parts:
                self._read_piece(part)
        else:
            self._read_piece(words)

    def _is_one(self, words: str) -> bool:
        """Whether a piece with a marking word within it is one thing all the same: "Kirchheim bei München"."""
        if self._is_date([words]) or OCCASION.match(words) or self._known_occasion(words):
            return True
        if self.understanding.date(words).readings:  # it says a time, and something else
            return False
        return self._place_meant(words) is not None or self._all_known(words)

    def _begins_anew(self, words: str) -> bool:
        """Whether a piece that begins with a marking word is a part of its own: "with …", "in summer 1958"."""
        found = WHERE.match(words)
        if found is None:
            return True
        rest = found["rest"]
        return self._is_date([words]) or self._is_date([rest]) or self._place_meant(rest) is not None

    def _read_piece(self, words: str) -> None:
        readers = (self._goes_on, self._held, self._in_container, self._at_occasion, self._led, self._plain)
        if not any(read(words) for read in readers):
            self.left.append(words)

    def _goes_on(self, words: str) -> bool:
        """A piece behind "with Ingrid, …" that names somebody who is known; anybody, where nothing else fits."""
        if not self._people_go_on:
            return False
        self._people_go_on = not self._is_other(words) and self._people(words, known_only=False, more=True)
        return self._people_go_on

    def _is_other(self, words: str) -> bool:
        """Whether a piece is surely no name of a person."""
        if self._is_date([words]) or container_said(words, self.slip.container) or WITHOUT.match(words):
            return True
        if any(pattern.match(words) for pattern in (WHERE, OCCASION, SAME)) or self._known_occasion(words):
            return True
        return not self._all_known(words) and self._place_meant(words) is not None

    def _held(self, words: str) -> bool:
        """ "Same people", "without Nils", "nobody"."""
        if SAME.match(words):
            self._understood(*(part for part in Part if self.slip.part(part)))
            return True
        if NOBODY.match(words):
            self._said[Part.PEOPLE], self._more = (), False
            self._understood(Part.PEOPLE)
            return True
        if (found := WITHOUT.match(words)) is None:
            return False
        gone = self._headings_on_slip(found["who"])
        self._without += gone
        self._understood(*([Part.PEOPLE] if gone else []))
        return bool(gone)

    def _in_container(self, words: str) -> bool:
        code = container_said(words, self._container or self.slip.container)
        if code is None:
            return False
        self._container = code
        self._understood(Part.CONTAINER)
        return True

    def _at_occasion(self, words: str) -> bool:
        found = OCCASION.match(words)
        name = found["name"] if found else self._known_occasion(words)
        if not name:
            return False
        (self._occasion,) = entries_of(self._meant(Field.OCCASION, name))
        self._understood(Part.OCCASION)
        return True

    def _known_occasion(self, words: str) -> str:
        """The name of an occasion that is there, as somebody says it: with or without an article."""
        said = re.sub(r"^(?:the|at the|der|die|das|la|le|les)\s+", "", words, flags=re.IGNORECASE).casefold()
        names = (one.name for one in self.understanding.collection.catalogue.occasions())
        return next((name for name in names if name.casefold() in (said, words.casefold())), "")

    def _led(self, words: str) -> bool:
        """A piece that says by its first word what it is: "with …", "and …", "in …"."""
        found = PEOPLE.match(words)
        if found and (found["lead"] or found["more"]):
            known_only = not found["lead"]
            self._people_go_on = self._people(found["who"], known_only=known_only, more=bool(found["more"]))
            return self._people_go_on
        if (found := WHERE.match(words)) is None:
            return False
        rest = found["rest"]
        return (
            self._date(words)
            or self._date(rest)
            or self._place(rest, known_only=True)
            or self._date_and_more(rest)
            or self._place(rest, known_only=False)
        )

    def _plain(self, words: str) -> bool:
        """A piece without a mark: a date, somebody or some place that is known, or a date with one of them."""
        return (
            self._date(words)
            or self._people(words, known_only=True, more=Part.PEOPLE in self._said)
            or self._place(words, known_only=True)
            or self._date_and_more(words)
        )

    def _date_and_more(self, words: str) -> bool:
        """ "Summer 1958 Bergen": what the date leaves over is read for itself."""
        found = self.understanding.date(words)
        if not found.readings or not found.unused:
            return False
        rest = list(rest_of(words, found.unused))
        date = without_rest(words, rest)
        if not rest or not self._date(date):
            return False
        for piece in filter(None, (LITTLE.sub("", each) for each in rest)):
            self._piece(piece)
        return True

    def _is_date(self, pieces: Sequence[str]) -> bool:
        found = self.understanding.date(", ".join(pieces))
        return bool(found.readings) and not found.unused

    def _date(self, words: str) -> bool:
        if not self._is_date([words]):
            return False
        self._said[Part.DATE] = entries_of(self._meant(Field.DATE, words))
        self._understood(Part.DATE)
        return True

    def _place(self, words: str, *, known_only: bool) -> bool:
        meant = self._place_meant(words) if known_only else self._meant(Field.PLACE, words)
        if meant is None or not meant.claims:
            return False
        self._said[Part.PLACE] = entries_of(meant)
        self._understood(Part.PLACE)
        return True

    def _place_meant(self, words: str) -> Meant | None:
        """The place that is meant, where it is one of the collection or clearly one of the world."""
        own = {place.name.casefold(): place.name for place in self.understanding.collection.catalogue.places()}
        meant = self._meant(Field.PLACE, own.get(words.casefold(), words))
        is_known = meant.place is not None and (not meant.is_new_place or meant.place.is_located)
        return meant if is_known else None

    def _people(self, words: str, *, known_only: bool, more: bool) -> bool:
        if known_only and not self._all_known(words):
            return False
        meant = self._meant(Field.PEOPLE, words)
        if not meant.claims:
            return False
        before = self._said.get(Part.PEOPLE, ())
        self._more = self._more if before else more and Part.PEOPLE not in self._said
        self._said[Part.PEOPLE] = (*before, *entries_of(meant))
        self._understood(Part.PEOPLE)
        return True

    def _all_known(self, words: str) -> bool:
        mentions = self.understanding.people.read(words, on=self._on())
        return bool(mentions) and all(one.understood or one.name in self._headings for one in mentions)

    @property
    def _headings(self) -> set[str]:
        return set(self.understanding.people.by_heading)

    def _headings_on_slip(self, words: str) -> list[str]:
        """Those on the slip who are meant, by heading."""
        there = (*self.slip.people, *(one.value for one in self._said.get(Part.PEOPLE, ())))
        mentions = self.understanding.people.read(words, on=self._on())
        meant = {person.name for one in mentions if one.understood for person in one.understood.everybody}
        said = [one.name.casefold() for one in mentions]
        return [name for name in dict.fromkeys(there) if name in meant or _is_called(name, said)]

    def _meant(self, kind: Field, words: str) -> Meant:
        return meant_of(self.understanding, Typed(SUBJECT, kind, words, on=self._on()))

    def _on(self) -> Bounds | None:
        """The days that the date on the slip allows, which tell between people of other times."""
        said = self._said.get(Part.DATE)
        date = next((one.value for one in said), "") if said else self.slip.date
        return parse_edtf(date).bounds() if date else None

    def _understood(self, *parts: Part) -> None:
        self.parts += [part for part in parts if part not in self.parts]


def _is_called(name: str, said: Sequence[str]) -> bool:
    """Whether somebody is meant by a first name, or by the whole."""
    return any(one in (name.casefold(), name.casefold().split()[0]) for one in said if one)
