"""What the cells of a slip say, as claims that a statement can be made of."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from attrs import frozen

from solander.catalogue.history import utc_now
from solander.core.dates import Dated, parse_edtf, words
from solander.core.evidence import DatingFact
from solander.core.language import marked
from solander.core.phrases import DatePhrase, Reading
from solander.core.sentence import Either, Sentence
from solander.core.statements import About, Says, Statement, Sure
from solander.intake.slips import SlipRow

__all__ = [
    "AS_EVIDENCE",
    "AT_THE_DESK",
    "KINDS_OF",
    "Claim",
    "at_most_likely",
    "date_asked_sentence",
    "fact_asked_sentence",
    "how_sure",
    "inscription_sentence",
    "other_meanings",
    "part_not_read_sentence",
    "plain_claims",
    "together",
    "told_apart",
    "two_dates_sentence",
]

KINDS_OF = {
    "date": (Says.EXPOSURE, Says.PRINTING, Says.UNREAD_DATE),
    "place": (Says.PLACE,),
    "people": (Says.PERSON, Says.AGE),
    "occasion": (Says.OCCASION,),
    "caption": (Says.CAPTION,),
    "note": (Says.NOTE,),
    "transcription": (Says.TRANSCRIPTION,),
    "order": (Says.ORDER,),
    "roll": (Says.ROLL,),
    "evidence": (Says.EVIDENCE,),
}
"""What each column of a slip file tells; `source` tells who says so."""


def together(says: Says) -> tuple[Says, ...]:
    """The kinds that one cell tells, so that a changed cell takes back all that it told before."""
    return next((kinds for kinds in KINDS_OF.values() if says in kinds), (says,))


Piece = tuple[int | None, int | None]
Pieces = tuple[Piece, ...]
"""Stretches of days, ends included; None is open."""

AT_THE_DESK = "archivist"
"""The source of what whoever sits at the workbench says without naming anybody else."""

AS_EVIDENCE = " as evidence on "
"""Stands in every question about words for what was seen on a print, and tells them from those about dates."""

_FACTS_TOLD = 6
"""So many facts that words may mean are told apart in a question."""


@frozen
class Claim:
    """What one cell says, not yet said of anything."""

    says: Says
    value: str
    words: str
    sure: Sure = Sure.CERTAIN

    def about(self, about: About, subject: str, source: str) -> Statement:
        """The claim as a statement that has no id yet."""
        return Statement(
            "", about, subject, self.says, self.value, self.words, self.sure, source, entered=utc_now()
        )


def other_meanings(understood: DatePhrase) -> list[str]:
    """What the phrase may mean besides its first reading, in words; none that the first already holds."""
    first, *others = understood.readings
    held = parse_edtf(first.edtf).pieces()
    return [
        words(reading.edtf)
        for reading in others
        if reading.bounds == first.bounds and not _within(parse_edtf(reading.edtf).pieces(), held)
    ]


def _within(pieces: Pieces, others: Pieces) -> bool:
    return all(any(_holds(other, piece) for other in others) for piece in pieces)


def _holds(outer: Piece, inner: Piece) -> bool:
    first = outer[0] is None or (inner[0] is not None and outer[0] <= inner[0])
    return first and (outer[1] is None or (inner[1] is not None and inner[1] <= outer[1]))


def at_most_likely(sure: Sure) -> Sure:
    """The same, but never certain."""
    return Sure.LIKELY if sure is Sure.CERTAIN else sure


def how_sure(said: str) -> tuple[str, Sure]:
    """The name without its question mark, and how sure that makes it."""
    name = said.rstrip(" ?").strip()
    return name, Sure.CERTAIN if name == said.strip() else Sure.GUESS


def told_apart(facts: tuple[DatingFact, ...]) -> str:
    """The facts with their ids, for choosing: "E077 (AZO stamp box, four triangles up) or E078 (…)"."""
    named: list[str] = [Sentence("%(id)s (%(fact)s)", id=fact.id, fact=fact.named) for fact in facts[:_FACTS_TOLD]]
    more = len(facts) - len(named)
    return Either([*named, Sentence("one of %(more)s more", more=more)] if more else named)


def date_asked_sentence(said: str, subject: str) -> str:
    """Asks about words that were meant as a date."""
    return Sentence(
        "“%(words)s” on the slip of %(print)s was not understood: when was it?", words=said, print=subject
    )


def no_age_sentence(said: str, subject: str, no_age: str) -> str:
    """Asks about what stood where an age stands."""
    message = marked("“%(words)s” on the slip of %(print)s: is “%(left)s” an age?")
    return Sentence(message, words=said, print=subject, left=no_age)


def part_not_read_sentence(said: str, subject: str, left: str) -> str:
    """Tells what was left over of a date."""
    message = marked("In “%(words)s” on the slip of %(print)s “%(left)s” was not understood.")
    return Sentence(message, words=said, print=subject, left=left)


def two_dates_sentence(said: str, subject: str, meanings: Sequence[str]) -> str:
    """Asks which of several dates, the first of which was taken."""
    return Sentence(
        "“%(words)s” on the slip of %(print)s was read as %(first)s: is it %(meant)s?",
        words=said,
        print=subject,
        first=meanings[0],
        meant=Either(dict.fromkeys(meanings)),
    )


def fact_asked_sentence(said: str, subject: str, near: tuple[DatingFact, ...]) -> str:
    """Asks which fact was seen."""
    message = (
        marked("“%(words)s” as evidence on %(print)s was not understood: does it mean %(meant)s?")
        if near
        else marked("“%(words)s” as evidence on %(print)s was not understood: no such kind is known; what is it?")
    )
    return Sentence(message, words=said, print=subject, meant=told_apart(near) if near else "")


def inscription_sentence(written: str, subject: str, reading: Reading) -> str:
    """Asks about a date that stands on a back."""
    message = (
        marked("On the back of %(print)s stands “%(words)s”: was the paper made then (%(date)s)?")
        if reading.bounds == "printing"
        else marked("On the back of %(print)s stands “%(words)s”: was it taken then (%(date)s)?")
    )
    return Sentence(message, words=written, print=subject, date=Dated(reading.edtf))


def plain_claims(row: SlipRow, about: About) -> Iterator[Claim]:
    """What stands in cells that are taken as they are."""
    if about is About.PRINT and row.occasion:
        yield Claim(Says.OCCASION, row.occasion, row.occasion)
    for says, written in (
        (Says.CAPTION, row.caption),
        (Says.NOTE, row.note),
        (Says.TRANSCRIPTION, row.transcription),
        (Says.ORDER, str(row.order) if row.order is not None else ""),
        (Says.ROLL, row.roll if about is About.PRINT else ""),
    ):
        if written:
            yield Claim(says, written, written)
