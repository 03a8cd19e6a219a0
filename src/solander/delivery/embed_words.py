"""What is said of a print in sentences, for the fields that people read in whatever program they have."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from solander.core.descriptions import DescribedPrint
from solander.core.prints import Side, View
from solander.core.statements import Sure
from solander.core.treatments import UNTREATED, Treatment

__all__ = [
    "NAME_OF_SIDE",
    "description_of",
    "extent_of",
    "file_identifier",
    "keywords_of",
    "plain_number",
    "stand_in_sentence",
    "title_of",
    "treatment_sentence",
]

NAME_OF_SIDE = {Side.RECTO: "front", Side.VERSO: "back", Side.DETAIL: "detail"}
"""What the sides are called on screen and in file names."""

_TITLE_LENGTH = 100
"""A caption's first line is taken as title up to this length in characters (common practice, no source)."""


def file_identifier(accession: str, side: Side, number: int = 1) -> str:
    """The identifier of the picture of one side, also its file name without the ending: `B2-E5-0014_front`.

    Details are counted by `number`, from 1: `B2-E5-0014_detail-2`.
    """
    which = f"{NAME_OF_SIDE[side]}-{number}" if side is Side.DETAIL else NAME_OF_SIDE[side]
    return f"{accession}_{which}"


def title_of(described: DescribedPrint, side: Side = Side.RECTO) -> str:
    """A short name: the caption's first line, else the occasion, else the accession number; "(back)" added."""
    first_line = described.caption.strip().partition("\n")[0].strip()
    short = first_line if len(first_line) <= _TITLE_LENGTH else ""
    title = short or described.occasion.strip() or described.print.accession
    return title if side is Side.RECTO else f"{title} ({NAME_OF_SIDE[side]})"


def description_of(
    described: DescribedPrint,
    side: Side = Side.RECTO,
    *,
    sortable: str | None = None,
    treatment: Treatment = UNTREATED,
) -> str:
    """The description as a person reads it, a sentence or a text a line.

    Of the front: the caption, the date in words, what is not certain, the writing on the back. Of the back: its
    writing first. `treatment` is what was done to the file's picture, `sortable` its stand-in date, which is then
    named as one.
    """
    lines = _back_lines(described) if side is Side.VERSO else _front_lines(described)
    stand_in = stand_in_sentence(described, sortable) if sortable else ""
    return "\n".join(filter(None, [*lines, treatment_sentence(treatment), stand_in]))


def keywords_of(described: DescribedPrint) -> tuple[str, ...]:
    """People and occasion as key words; who is only guessed is left out, since a key word cannot say so."""
    names = [shown.person.name for shown in described.people if shown.sure is not Sure.GUESS]
    return tuple(dict.fromkeys(word for word in (*names, described.occasion) if word))


def extent_of(view: View | None) -> str:
    """Width and height of the paper, `89 mm x 127 mm`; "" where the scale is not known."""
    size = view.size_mm if view else None
    return f"{plain_number(size[0])} mm x {plain_number(size[1])} mm" if size else ""


def plain_number(number: float) -> str:
    """The number without exponent and without an empty fraction: `2500`, `88.9`."""
    text = format(Decimal(repr(float(number))), "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def stand_in_sentence(described: DescribedPrint, sortable: str) -> str:
    """The sentence that keeps a stand-in date from being taken for a known one."""
    known = f"what is known is: {described.when.words}" if described.when.words else "the date is not known"
    return f"For sorting only, this file carries the stand-in date {sortable.replace('T', ' ')}; {known}."


def treatment_sentence(treatment: Treatment) -> str:
    """The sentence that keeps a treated picture from being taken for the print as it is; "" where nothing is
    done."""
    if not treatment.sentences:
        return ""
    return f"This copy was treated: {'; '.join(treatment.sentences)}. The capture is as it was taken."


def _front_lines(described: DescribedPrint) -> Iterator[str]:
    yield described.caption
    yield _date_line(described)
    yield _doubts_line(described)
    if described.transcription:
        yield f"On the back: “{described.transcription}”"


def _back_lines(described: DescribedPrint) -> Iterator[str]:
    yield described.transcription or f"The back of {described.print.accession}."
    yield _date_line(described)


def _date_line(described: DescribedPrint) -> str:
    when = described.when
    return f"Date: {when.words}{_doubt(when.sure)}." if when.words else ""


def _doubts_line(described: DescribedPrint) -> str:
    doubted = [
        f"{shown.person.name}{_doubt(shown.sure)}" for shown in described.people if shown.sure is not Sure.CERTAIN
    ]
    if described.place and described.place_sure is not Sure.CERTAIN:
        doubted.insert(0, f"the place {described.place.name}{_doubt(described.place_sure)}")
    return f"Not certain: {', '.join(doubted)}." if doubted else ""


def _doubt(sure: Sure) -> str:
    return "" if sure is Sure.CERTAIN else f" ({sure.value})"
