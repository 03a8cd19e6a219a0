"""What words about one print mean, field by field."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from attrs import evolve

from solander.core.dates import Dated
from solander.core.language import _, told
from solander.core.phrases import DatePhrase, Reading
from solander.core.questions import Asks
from solander.core.statements import Says, Sure
from solander.tasks.claims import (
    Claim,
    at_most_likely,
    date_asked_sentence,
    inscription_sentence,
    other_meanings,
    part_not_read_sentence,
    two_dates_sentence,
)
from solander.tasks.meant_facts import facts_meant
from solander.tasks.meant_people import people_meant
from solander.tasks.meant_place import occasion_meant, place_meant
from solander.tasks.typed import Choice, Field, Line, Meant, Option, Typed
from solander.tasks.understood import Understanding

__all__ = ["meant_of"]

_MOST_MEANINGS = 4
"""So many meanings of a date are offered beside the first (our choice)."""

Reader = Callable[[Understanding, Typed], Meant]


def meant_of(understanding: Understanding, typed: Typed) -> Meant:
    """What the words mean; with `trouble` where nothing can be kept of them."""
    typed = evolve(typed, words=typed.words.strip())
    if not typed.words:
        return Meant(typed, trouble=_("Nothing was typed yet"))
    return _READERS[typed.field](understanding, typed)


def _date_meant(understanding: Understanding, typed: Typed) -> Meant:
    """A date in words; what can't be read is kept as it was written, and asked about."""
    found = understanding.date(typed.words)
    if not found.readings:
        line = Line(_("Not understood as a date yet"), _("It is kept as you wrote it, and asked about."))
        claim = Claim(Says.UNREAD_DATE, "", typed.words, typed.surely(Sure.CERTAIN))
        return Meant(
            typed, (claim,), (line,), asks=((Asks.WORDS, date_asked_sentence(typed.words, typed.accession)),)
        )
    choice = _which_date(found)
    chosen = typed.chosen.get(choice.name) if choice else None
    reading = next((one for one in found.readings if one.edtf == chosen), found.readings[0])
    return _dated(typed, found, reading, choice, is_chosen=chosen is not None)


def _which_date(found: DatePhrase) -> Choice | None:
    meanings = {reading.edtf: Dated(reading.edtf) for reading in found.readings[: _MOST_MEANINGS + 1]}
    if len(set(meanings.values())) < 2:
        return None
    options = tuple(Option(edtf, told) for edtf, told in meanings.items())
    return Choice("means-0", found.phrase, options, found.readings[0].edtf)


def _dated(typed: Typed, found: DatePhrase, reading: Reading, choice: Choice | None, *, is_chosen: bool) -> Meant:
    asks: list[tuple[Asks, str]] = []
    # How sure the words are; the readings after the first are less sure only because they are not the first.
    how = found.readings[0].sure
    if choice and not is_chosen and other_meanings(found):
        how = at_most_likely(how)
        sentence = two_dates_sentence(typed.words, typed.accession, [one.words for one in choice.options])
        asks.append((Asks.WORDS, sentence))
    left = " ".join(found.unused)
    if left:
        how = at_most_likely(how)
        asks.append((Asks.WORDS, part_not_read_sentence(typed.words, typed.accession, left)))
    printing = typed.of_paper or reading.bounds == "printing"
    sure = typed.surely(how)
    date = told(Dated(reading.edtf))
    remarks = (
        _("taken then or before") if printing else "",
        _("not understood: %(words)s", words=left) if left else "",
    )
    line = Line(
        _("The paper was made %(date)s", date=date) if printing else f"{date[:1].upper()}{date[1:]}",
        ". ".join(filter(None, remarks)),
        sure,
    )
    claim = Claim(Says.PRINTING if printing else Says.EXPOSURE, reading.edtf, typed.words, sure)
    choices = (evolve(choice, taken=reading.edtf),) if choice else ()
    return Meant(typed, (claim,), (line,), choices, tuple(asks), edtf=reading.edtf)


def _as_written(says: Says) -> Reader:
    """Reads what is kept as it stands."""

    def read(understanding: Understanding, typed: Typed) -> Meant:
        return Meant(typed, (Claim(says, typed.words, typed.words, typed.surely(Sure.CERTAIN)),))

    return read


def _inscription_meant(understanding: Understanding, typed: Typed) -> Meant:
    """What stands on the back, as written; a date in it is asked about and not taken."""
    claim = Claim(Says.TRANSCRIPTION, typed.words, typed.words, typed.surely(Sure.CERTAIN))
    found = understanding.date(typed.words)
    if not found.readings:
        return Meant(typed, (claim,))
    first = found.readings[0]
    line = Line(
        _("There may be a date in it: %(date)s", date=Dated(first.edtf)),
        _("It is asked about, and not taken as one."),
    )
    return Meant(
        typed,
        (claim,),
        (line,),
        asks=((Asks.INSCRIPTION, inscription_sentence(typed.words, typed.accession, first)),),
    )


_READERS: Mapping[Field, Reader] = {
    Field.DATE: _date_meant,
    Field.PLACE: place_meant,
    Field.PEOPLE: people_meant,
    Field.OCCASION: occasion_meant,
    Field.EVIDENCE: facts_meant,
    Field.CAPTION: _as_written(Says.CAPTION),
    Field.NOTE: _as_written(Says.NOTE),
    Field.TRANSCRIPTION: _inscription_meant,
}
