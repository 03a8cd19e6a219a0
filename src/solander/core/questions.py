"""Anything that waits for a person, in one queue."""

from __future__ import annotations

from enum import StrEnum

from attrs import frozen

__all__ = ["Asks", "Question"]


class Asks(StrEnum):
    """What kind of thing waits."""

    OUTLINE = "outline"  # the edge of a print was not found for sure
    PAIR = "pair"  # a back without its front, or the other way round
    DUPLICATE = "duplicate"  # two captures that may show one print
    UPRIGHT = "upright"  # nothing tells which way is up
    CAPTURE_AGAIN = "capture-again"  # a view that is not good enough
    TREATMENT = "treatment"  # a treatment that is proposed
    WHICH_PICTURE = "which-picture"  # two pictures of one side: which is to be shown
    CONTRADICTION = "contradiction"  # statements that cannot all be true
    INSCRIPTION = "inscription"  # writing that may date the print
    TOLD = "told"  # what a program heard in a told story, and may date a print or name somebody
    WORDS = "words"  # words of a slip that were not understood
    WHO = "who"  # a name that may mean several people, or nobody who is known
    PLACE = "place"  # a name that may mean several places; `subject` is the name
    SAME_PERSON = "same-person"  # two of the people may be one
    SET_ASIDE = "set-aside"  # a file that could not be taken in


@frozen
class Question:
    """One thing that waits: `sentence` is what the person reads, `subject` the accession number or file name.

    `key` is made from what is asked about, so that asking twice gives one question.
    """

    key: str
    asks: Asks
    subject: str
    sentence: str
    raised: str
    settled: str | None = None
