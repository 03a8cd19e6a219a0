"""Words that somebody typed about one print, and what is seen of their meaning before anything is kept."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum

from attrs import Factory, frozen

from solander.core.dates import Bounds
from solander.core.places import Place
from solander.core.questions import Asks
from solander.core.statements import Sure
from solander.tasks.claims import Claim

__all__ = ["Choice", "Field", "Line", "Meant", "Option", "Typed"]


class Field(StrEnum):
    """What may be said of a print in the words of a person; each is one field of its slip."""

    DATE = "date"
    PLACE = "place"
    PEOPLE = "people"
    OCCASION = "occasion"
    CAPTION = "caption"
    NOTE = "note"
    TRANSCRIPTION = "back"
    EVIDENCE = "seen"


@frozen
class Typed:
    """What somebody typed about the print `accession`.

    `sure` is None where the words themselves tell it; `by` is who says so, empty for whoever sits here. `chosen`
    are answers to `Choice`s by their names. With `of_paper` a date is that of the paper. `on` are the days that
    are possible for the print.
    """

    accession: str
    field: Field
    words: str
    sure: Sure | None = None
    by: str = ""
    of_paper: bool = False
    chosen: Mapping[str, str] = Factory(dict)
    on: Bounds | None = None

    def surely(self, told: Sure) -> Sure:
        """How sure: as was said apart, else as the words tell."""
        return self.sure or told


@frozen
class Line:
    """One thing that was understood, how sure, and why or what follows from it."""

    words: str
    why: str = ""
    sure: Sure | None = None


@frozen
class Option:
    """One meaning: the value that chooses it, and how it is told from the others."""

    value: str
    words: str


@frozen
class Choice:
    """Words that may mean several things; `name` is the one by which an answer comes back, `taken` what is taken
    unless somebody chooses."""

    name: str
    said: str
    options: tuple[Option, ...]
    taken: str = ""


@frozen
class Meant:
    """What would be kept of words, and what one sees of it before.

    `asks` are questions that would wait, `places` and `people` names that are new here and would be entered;
    `edtf` is the date for the rule, `place` the place for the map. `trouble` says why nothing could be kept.
    """

    typed: Typed
    claims: tuple[Claim, ...] = ()
    lines: tuple[Line, ...] = ()
    choices: tuple[Choice, ...] = ()
    asks: tuple[tuple[Asks, str], ...] = ()
    people: tuple[str, ...] = ()
    place: Place | None = None
    is_new_place: bool = False
    edtf: str = ""
    trouble: str = ""
