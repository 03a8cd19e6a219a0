"""What is written on a print, read and understood, without a collection: nothing is kept."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable
from functools import cache
from pathlib import Path

import cv2
import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

from solander.authorities.dating import dating_facts, facts_like
from solander.authorities.gazetteer.kept import default_file
from solander.authorities.naming.kinship import kin_word
from solander.authorities.naming.short_forms import given_names
from solander.authorities.naming.spelling import plain
from solander.catalogue.queries import Reading as Known
from solander.core.errors import CannotBegin, InvalidValue
from solander.core.inscriptions import Fact, FactKind, Inscription, Lookups, facts_of
from solander.core.inscriptions.borders import border_date, print_number
from solander.core.inscriptions.facts import REPEATED
from solander.core.people import Person
from solander.core.statements import Sure
from solander.core.upright import turn_by_faces
from solander.imaging.legibility import flattened
from solander.reading.inscriptions.borders import EXACT, READ, BorderRead, read_border
from solander.reading.inscriptions.engine import NetworkReader
from solander.reading.inscriptions.handwriting import handwriting_reader
from solander.reading.inscriptions.networks import READER, network
from solander.reading.inscriptions.reader import InscriptionReader, LineReader
from solander.reading.inscriptions.side import read_side
from solander.reading.inscriptions.tesseract import tesseract_reader
from solander.tasks.date import DateReader, date_reader
from solander.tasks.places import PlaceReader, place_reader, taken_for
from solander.tasks.prepare import read_picture

__all__ = ["Readers", "Written", "inscription", "lookups", "read_back", "read_front", "readers"]

Rgb = NDArray[np.uint8]


@frozen
class Readers:
    """Who reads: the reader of lines, and the user's own recogniser of handwriting where there is one."""

    lines: InscriptionReader
    hand: LineReader | None = None


@frozen
class Written:
    """What stands on one side of `width` × `height` pixels.

    `turn` is the number of quarter turns clockwise that bring the writing upright, None where it doesn't tell.
    `ms` is the time of reading, without decoding.
    """

    width: int
    height: int
    inscription: Inscription
    facts: tuple[Fact, ...]
    turn: int | None
    ms: float
    border: BorderRead = field(factory=BorderRead)


def readers(*, languages: str = "", hand: Path | None = None, threads: int = 1) -> Readers:
    """Those that the user asks for: with `languages` Tesseract reads ("rus+ukr"), else the networks.

    Raises
    ------
    CannotBegin
        When what was asked for isn't installed.
    """
    lines: InscriptionReader = tesseract_reader(languages) if languages else NetworkReader(threads)
    if not languages:
        network(READER, threads)
    return Readers(lines, handwriting_reader(hand, threads=threads) if hand else None)


def inscription(image: Path, who: Readers, *, is_front: bool = False) -> Written:
    """What stands on the back of a print in a picture file, or in the border of its front.

    Raises
    ------
    Trouble
        When the file is missing or can't be read.
    """
    rgb = read_picture(image)
    cv2.setNumThreads(1)
    return read_front(rgb, who, lookups()) if is_front else read_back(rgb, who, lookups())


def read_back(rgb: Rgb, who: Readers, known: Lookups) -> Written:
    """What stands on a straightened back, and the facts in it."""
    began = time.perf_counter()
    found = read_side(rgb, flattened(rgb), who.lines, hand=who.hand)
    facts = facts_of(found.lines, known, repeated=found.repeated)
    spent = (time.perf_counter() - began) * 1000
    return Written(rgb.shape[1], rgb.shape[0], found, facts, turn_by_faces(found.votes), spent)


def read_front(rgb: Rgb, who: Readers, known: Lookups) -> Written:
    """What a laboratory printed in the border of a straightened front."""
    began = time.perf_counter()
    border = read_border(rgb, who.lines)
    facts = tuple(_of_border(border))
    spent = (time.perf_counter() - began) * 1000
    return Written(rgb.shape[1], rgb.shape[0], Inscription(border.lines), facts, None, spent, border)


def _of_border(border: BorderRead) -> list[Fact]:
    """The date binds the printing; a number tells the place on a roll."""
    found = []
    for place, line in enumerate(border.lines):
        if border.date and border.date == border_date(line.text):
            sure = Sure.LIKELY if border.date.exact and line.sure >= EXACT else Sure.GUESS
            found.append(Fact(FactKind.PRINTING, border.date.edtf, line.text, place, sure))
        elif line.sure >= READ and (number := print_number(line.text)):
            found.append(Fact(FactKind.NUMBER, number, line.text, place, Sure.GUESS))
    return found


def lookups(catalogue: Known | None = None) -> Lookups:
    """What is known now of names, kinship, papers and places: of everybody, and of those in the catalogue."""
    names = _given_names() | (_first_names(catalogue.people()) if catalogue else frozenset())
    is_made = default_file().is_file()
    places = place_reader(catalogue) if is_made else None
    own = frozenset(plain(place.name) for place in catalogue.places()) if catalogue else frozenset()
    elsewhere = _is_place(places) if places else _nowhere
    return Lookups(
        date_reader(catalogue) if catalogue else DateReader(),
        lambda word: plain(word).strip(".") in names,
        lambda word: kin_word((plain(word).strip("."),)) is not None,
        lambda words: plain(words) in own or elsewhere(words),
        _paper,
    )


@cache
def _given_names() -> frozenset[str]:
    return frozenset(given_names().all_names)


def _first_names(people: Iterable[Person]) -> frozenset[str]:
    """What people of the collection are called by: the first word of each of their names."""
    called = (name.split() for person in people for name in (person.name, *person.also_called))
    return frozenset(plain(words[0]).strip(".,") for words in called if words)


def _nowhere(_: str) -> bool:
    return False


_SHORTEST_PLACE = 4
"""Letters: shorter words that are also towns ("Au", "Lee") come too often (our choice)."""


def _is_place(places: PlaceReader) -> Callable[[str], bool]:
    def told(words: str) -> bool:
        if len(words) < _SHORTEST_PLACE or not words[0].isupper():
            return False
        try:
            found = places(words)
            return taken_for(words, found) is not None and not found[0].unused
        except (CannotBegin, InvalidValue):
            return False

    return told


_TOO_COMMON = frozenset(("KODAK", "AGFA"))
"""Makers whose name stands on papers of all years, not in a stamp box alone."""


def _paper(words: str) -> str:
    """The id of the fact that words on a paper tell; empty where they tell none, or several."""
    if words == REPEATED:
        return next((fact.id for fact in dating_facts().values() if fact.words == REPEATED), "")
    if "kodacolor print" in words.casefold():
        return next((fact.id for fact in dating_facts().values() if "Kodacolor print" in fact.words), "")
    mark = words.strip(" .,")
    if not (mark.isalpha() and mark.isupper() and len(mark) > 2) or mark in _TOO_COMMON:
        return ""
    boxes = [fact for fact in facts_like(f"{mark} stamp box") if fact.words == f"{mark} stamp box"]
    return boxes[0].id if len(boxes) == 1 else ""
