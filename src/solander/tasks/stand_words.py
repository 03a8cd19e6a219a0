"""What a station tells: its slip as one sentence, what was taken, what was understood."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from solander.core.ages import read_age_value
from solander.core.language import _, _n, marked
from solander.core.sentence import Counted, Listed
from solander.core.slips import PART_OF, Entry, Part, Slip
from solander.core.statements import About, Says, Sure
from solander.look.words import edtf_words, joined
from solander.tasks.collection import Collection

__all__ = [
    "PART_WORDS",
    "entry_words",
    "part_words",
    "parts_named",
    "prints_told",
    "prints_words",
    "slip_sentence",
    "words_of_prints",
]

PART_WORDS = {
    Part.CONTAINER: marked("container"),
    Part.OCCASION: marked("occasion"),
    Part.DATE: marked("date"),
    Part.PLACE: marked("place"),
    Part.PEOPLE: marked("people"),
}
"""What the parts of a slip are called."""

_SHARED = (Says.EXPOSURE, Says.PRINTING, Says.PLACE)
_SURELY = {Sure.LIKELY: marked("likely %(name)s"), Sure.GUESS: marked("perhaps %(name)s")}


def slip_sentence(slip: Slip) -> str:
    """The whole slip in one line, in the order in which it is read; says so when there is nothing on it."""
    parts = [told for part in Part if (told := part_words(slip, part))]
    return " · ".join(parts) if parts else _("Nothing is on the slip yet.")


def part_words(slip: Slip, part: Part) -> str:
    """One part in words; empty where nothing is said of it."""
    if part is Part.CONTAINER:
        return slip.container
    entries = slip.part(part)
    if part is not Part.PEOPLE:
        return joined([entry_words(one) for one in entries])
    ages = {read_age_value(one.value)[0]: one for one in entries if one.says is Says.AGE}
    people = (one for one in entries if one.says is Says.PERSON)
    return joined([_person(one, ages.get(one.value)) for one in people])


def entry_words(entry: Entry) -> str:
    """One entry: the date in words, all else by its name, with how sure."""
    if entry.says is Says.UNREAD_DATE:
        return f"“{entry.words}”"
    told = entry.value
    if entry.says in (Says.EXPOSURE, Says.PRINTING):
        told = edtf_words(entry.value)
        told = _("paper made %(date)s", date=told) if entry.says is Says.PRINTING else told
        told = _surely(told, entry.sure)
        return told[:1].upper() + told[1:]
    return _surely(told, entry.sure)


def _surely(told: str, sure: Sure) -> str:
    """With how sure it is said, once: "about 1958" says it itself."""
    is_said = sure is Sure.GUESS and told.startswith(_("perhaps %(name)s", name=""))
    return told if is_said or sure not in _SURELY else _(_SURELY[sure], name=told)


def _person(entry: Entry, age: Entry | None) -> str:
    told = entry_words(entry)
    return f"{told} ({read_age_value(age.value)[1].words})" if age else told


def words_of_prints(collection: Collection, accessions: Sequence[str]) -> dict[str, str]:
    """What is said of each of these prints and of its occasion, as a slip says it."""
    catalogue = collection.catalogue
    said = [
        one for one in catalogue.statements_about(accessions) if one.about is About.PRINT and one.says in PART_OF
    ]
    occasions = {one.value for one in said if one.says is Says.OCCASION}
    shared = [one for one in catalogue.statements_about(occasions) if one.says in _SHARED] if occasions else []
    found = {}
    for accession in accessions:
        own = [one for one in said if one.subject == accession]
        of_it = {one.value for one in own if one.says is Says.OCCASION}
        told = {PART_OF[one.says] for one in own}
        own += [one for one in shared if one.subject in of_it and PART_OF[one.says] not in told]
        entries = [Entry(one.says, one.value, one.words, one.sure) for one in own]
        parts = [part_words(Slip(entries=tuple(entries)), part) for part in Part]
        found[accession] = " · ".join(filter(None, parts))
    return found


def prints_words(accessions: Sequence[str]) -> str:
    """Some prints: by their numbers where they are few, else how many."""
    if len(accessions) <= 2:
        return joined(list(accessions))
    return _n("%(num)s print", "%(num)s prints", len(accessions))


def prints_told(accessions: Sequence[str]) -> str:
    """The same for a sentence that is kept."""
    if len(accessions) <= 2:
        return Listed(accessions)
    return Counted("%(num)s print", "%(num)s prints", len(accessions))


def parts_named(parts: Iterable[Part]) -> str:
    """Parts by their names, for a sentence."""
    return joined([_(PART_WORDS[part]) for part in parts])
