"""A print with all that is known of it, ready to be shown or handed over.

Tasks put these together from the catalogue and the chronology; pages and deliveries only read them.
"""

from __future__ import annotations

from attrs import field, frozen

from solander.core.people import Person
from solander.core.places import Place, PlaceWords
from solander.core.prints import Print
from solander.core.statements import Says, Statement, Sure

__all__ = ["DescribedPrint", "PersonShown", "Reason", "When"]


@frozen
class Reason:
    """Why a date is what it is: a short sentence, who says so, how sure, and which date it bounds."""

    sentence: str
    source: str
    sure: Sure
    bounds_printing: bool = False


@frozen
class When:
    """What is known of the day of exposure.

    `edtf` is the value that was stated ("1958-22"), or the range that the evidence leaves, as EDTF; empty when
    nothing bounds it on either side. `words` is the date as a person reads it. `earliest`, `latest` are
    `YYYY-MM-DD` (years beyond four digits allowed) or None where open; `guess` is the day used for order and
    display, None only when the whole collection has no date; `sure` is how sure the best statement is.
    `printing_edtf` bounds the making of this paper where it is known apart from the exposure.
    """

    edtf: str
    words: str
    earliest: str | None
    latest: str | None
    guess: str | None
    sure: Sure
    stated: bool
    reasons: tuple[Reason, ...] = ()
    printing_edtf: str = ""
    contradicts: tuple[str, ...] = ()
    """What was said of this print and left out, for it can't be true together with the reasons."""
    likely: tuple[str, str] | None = None
    """The days, `YYYY-MM-DD`, between which it lies nine times in ten; None where nothing tells."""
    likely_why: str = ""
    """What makes it likely, where that is no reason of its own: "as its neighbours are"."""
    overruled: tuple[str, ...] = ()
    """Rules of thumb that speak against the reasons and gave way to them without a question."""


@frozen
class PersonShown:
    """A person in the print: as known, how sure, and the age then in words ("31", "5 or 6", "")."""

    person: Person
    sure: Sure
    age: str = ""


@frozen
class DescribedPrint:
    """Everything known of one print; `order` counts from 1 through the whole collection in time order."""

    print: Print
    order: int
    when: When
    people: tuple[PersonShown, ...] = ()
    place: Place | None = None
    place_sure: Sure = Sure.CERTAIN
    occasion: str = ""
    caption: str = ""
    note: str = ""
    transcription: str = ""
    """What is written on the back, as it stands there."""
    statements: tuple[Statement, ...] = ()
    waits: tuple[str, ...] = ()
    """Sentences of the questions that wait about this print."""
    place_words: PlaceWords = field(factory=PlaceWords)

    @property
    def back_in_other_words(self) -> str:
        """What is written on the back as somebody reads it, where they gave that beside the transcription."""
        said = (one for one in self.statements if one.says is Says.TRANSCRIPTION and one.value != one.words)
        return "\n".join(dict.fromkeys(one.value for one in said))

    @property
    def lies_in(self) -> str | None:
        """The container in which the paper lies now: what was said last, else the one in which it was found."""
        moved = (said.value for said in reversed(self.statements) if said.says is Says.KEPT_IN)
        return next(moved, self.print.container)
