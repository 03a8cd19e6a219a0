"""Who says what, and how sure: claims that are added and withdrawn, never overwritten."""

from __future__ import annotations

from enum import StrEnum

from attrs import frozen

__all__ = ["About", "Says", "Statement", "Sure"]


class Sure(StrEnum):
    """How sure the one who says it is."""

    CERTAIN = "certain"
    LIKELY = "likely"
    GUESS = "guess"


class About(StrEnum):
    """The kind of thing that a statement is about; `subject` holds its key."""

    PRINT = "print"
    OCCASION = "occasion"
    PERSON = "person"  # kept beside the person, by heading
    CONTAINER = "container"  # by its code
    SOUND = "sound"  # a recording, by its SHA-256


class Says(StrEnum):
    """What a statement tells of its subject."""

    EXPOSURE = "exposure"  # an EDTF value: when the shutter opened
    UNREAD_DATE = "unread-date"  # words that were meant as a date and not understood yet; `value` is empty
    PRINTING = "printing"  # an EDTF value: when this paper was made
    PLACE = "place"  # a place as it was named
    PERSON = "person"  # a person who is shown, as named
    OCCASION = "occasion"  # the name of the occasion that the print belongs to, or that another one is called now
    CAPTION = "caption"
    NOTE = "note"
    TRANSCRIPTION = "transcription"  # the writing on the back: `words` as written, `value` as somebody reads it
    BLANK = "blank"  # nothing is written on the back; `value` is `back`
    ORDER = "order"  # a whole number: its place in the sequence that its roll or its container keeps
    AGE = "age"  # a person who is shown and the whole years of age then: `Ingrid|5..7`
    EVIDENCE = "evidence"  # the id of a fact that dates photographs and was seen on this one: `E124`
    ROLL = "roll"  # the name of the film or the laboratory order that the print comes from
    AFTER = "after"  # the accession number of a print that this one was laid after
    NEGATIVE = "negative"  # the accession number of another print of the same negative
    KEPT_IN = "kept-in"  # the code of the container that the paper lies in now, where that is another
    KEPT_AT = "kept-at"  # of a container: where it is now, in words
    ACCOUNT = "account"  # the SHA-256 of the recording of a story that was told about the print
    PUT_BACK = "put-back"  # of a container: the day, `YYYY-MM-DD`, on which all of it was done and put back
    NAME = "name"  # of a person, with its kind and the surname between strokes: `birth|Anna /Weber/`
    SEX = "sex"  # of a person: `female` or `male`
    BORN = "born"  # an EDTF value; empty where only words are given
    BORN_AT = "born-at"  # a place as it was written
    DIED = "died"  # an EDTF value; empty where only words are given
    DIED_AT = "died-at"  # a place as it was written
    TELLER = "teller"  # of a recording: who tells the story, as named
    HEARD = "heard"  # of a recording: what is said in it; by whom or by which program, says its source


@frozen
class Statement:
    """One claim. `words` is what was said or written, `value` what was understood of it.

    `source` names who or what says so ("slip file box.csv, line 4"); `entered` and `withdrawn` are UTC,
    RFC 3339.
    """

    id: str
    about: About
    subject: str
    says: Says
    value: str
    words: str
    sure: Sure
    source: str
    entered: str
    withdrawn: str | None = None
