"""What a slip says: dates, places and people as a person writes them, unsure parts carrying the word.

Plain text only; the page parts put it on paper. All is said in the reader's language but `counted` and
`side_word`, which are English: commands and addresses need them so.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from solander.core.dates import parse_edtf, range_words, words
from solander.core.days import day_of_text
from solander.core.descriptions import DescribedPrint, PersonShown, Reason, When
from solander.core.formats import format_of
from solander.core.language import Told, _, _n, joined, language, marked, told
from solander.core.places import Place
from solander.core.prints import Side, View
from solander.core.sentence import Sentence
from solander.core.sources import Source
from solander.core.statements import Says, Statement, Sure
from solander.core.upright import Upright

__all__ = [
    "called_words",
    "clauses",
    "counted",
    "date_words",
    "days_words",
    "edge_unsure",
    "edtf_words",
    "joined",
    "life_words",
    "likely_words",
    "paper_words",
    "person_words",
    "picture_words",
    "place_words",
    "prints_in_words",
    "reason_words",
    "says_words",
    "sentence_words",
    "side_of",
    "side_word",
    "slip_words",
    "source_told",
    "source_words",
    "statement_source_words",
    "upright_words",
    "when_words",
]

NO_DATE = marked("no date yet")

_SHORT_DAYS, _CLEARLY_LESS = 2 * 366, 0.75
"""A range of up to two years, or one that is not narrowed by a quarter, is told without what is likely in it."""

_LIKELY_WHY = (marked("as its neighbours are"),)
"""What tasks say of why something is likely; told in the reader's language here."""

_SIDE_WORDS = {Side.RECTO: marked("front"), Side.VERSO: marked("back"), Side.DETAIL: marked("detail")}
_SURE_BEFORE = {
    Sure.CERTAIN: "%(name)s",
    Sure.LIKELY: marked("likely %(name)s"),
    Sure.GUESS: marked("perhaps %(name)s"),
}
_SURE_AFTER = {
    Sure.CERTAIN: "%(said)s",
    Sure.LIKELY: marked("%(said)s, likely"),
    Sure.GUESS: marked("%(said)s, a guess"),
}
_SAYS_WORDS = {
    Says.EXPOSURE: marked("taken"),
    Says.PRINTING: marked("paper made"),
    Says.UNREAD_DATE: marked("a date, not understood"),
    Says.PLACE: marked("place"),
    Says.PERSON: marked("shows"),
    Says.OCCASION: marked("occasion"),
    Says.CAPTION: marked("caption"),
    Says.NOTE: marked("note"),
    Says.TRANSCRIPTION: marked("written on the back"),
    Says.BLANK: marked("nothing is written on the"),
    Says.ORDER: marked("place in its container"),
    Says.AGE: marked("age"),
    Says.EVIDENCE: marked("made like"),
    Says.ROLL: marked("roll"),
    Says.AFTER: marked("laid after"),
    Says.NEGATIVE: marked("of one negative with"),
    Says.KEPT_IN: marked("kept in"),
    Says.KEPT_AT: marked("is now"),
    Says.PUT_BACK: marked("done and put back"),
    Says.ACCOUNT: marked("a told story"),
    Says.TELLER: marked("told by"),
    Says.HEARD: marked("heard in it"),
}


def date_words(when: When) -> str:
    """The date as a slip says it: "Summer 1958, likely"; `NO_DATE` where nothing is known.

    How sure is said of a stated date, and only once: "perhaps 1941" says it itself. One that was worked out is a
    range already; "perhaps" is said where a rule of thumb or a guess bounds it.
    """
    if not when.words:
        return _capital(_(NO_DATE))
    told = _date(when)
    if not when.stated:
        return _capital(_("perhaps %(name)s", name=told) if when.sure is Sure.GUESS else told)
    if when.words.startswith("perhaps "):
        return _capital(told)
    return _(_SURE_AFTER[when.sure], said=_capital(told))


def edtf_words(edtf: str) -> str:
    """A date in the reader's language."""
    return words(edtf, language().code)


def days_words(earliest: int | None, latest: int | None) -> str:
    """A range of days in the reader's language; empty when nothing bounds it."""
    return range_words(earliest, latest, language().code)


def _date(when: When) -> str:
    """The date as `when.words` tells it in English, in the reader's language."""
    if language().code == "en":
        return when.words
    return (
        edtf_words(when.edtf)
        if when.stated
        else days_words(_day_or_none(when.earliest), _day_or_none(when.latest))
    )


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def likely_words(when: When) -> str:
    """What is known of the time beyond the date itself, as a sentence; empty where nothing is.

    "By other evidence between 1916 and 1939, most likely between 1931 and 1938, as its neighbours are": a stated
    date is told as it was said, so what narrows it is told apart.
    """
    narrowed = _narrowed_words(when)
    return _capital(", ".join(filter(None, (narrowed, _most_likely_words(when)))))


def _narrowed_words(when: When) -> str:
    """What is left of a stated date by other evidence, where that is clearly less."""
    if not when.stated or (when.earliest is None and when.latest is None):
        return ""
    said = parse_edtf(when.edtf).bounds()
    first, last = _day_or_none(when.earliest), _day_or_none(when.latest)
    if (said.earliest, said.latest) == (first, last) or not _is_clearly_less(
        (first, last), (said.earliest, said.latest)
    ):
        return ""
    return _("by other evidence %(range)s", range=days_words(first, last))


def _most_likely_words(when: When) -> str:
    possible = _day_or_none(when.earliest), _day_or_none(when.latest)
    if when.likely is None or not _is_clearly_less(
        (day_of_text(when.likely[0]), day_of_text(when.likely[1])), possible
    ):
        return ""
    told = _("most likely %(range)s", range=days_words(day_of_text(when.likely[0]), day_of_text(when.likely[1])))
    return f"{told}, {_(when.likely_why)}" if when.likely_why else told


def _is_clearly_less(inner: tuple[int | None, int | None], outer: tuple[int | None, int | None]) -> bool:
    """Whether a range is narrower by a quarter than one of more than two years, or closes what is open."""
    if outer[0] is None or outer[1] is None:
        return inner != outer
    if inner[0] is None or inner[1] is None:
        return False
    width = outer[1] - outer[0]
    return width >= _SHORT_DAYS and inner[1] - inner[0] <= _CLEARLY_LESS * width


def when_words(when: When) -> str:
    """The date and what else is known of it: "Between 1908 and 1959. Most likely between 1954 and 1959"."""
    return ". ".join(filter(None, (date_words(when), likely_words(when))))


def _day_or_none(text: str | None) -> int | None:
    return None if text is None else day_of_text(text)


def place_words(place: Place, sure: Sure) -> str:
    """The place's name, "likely Bergen", "perhaps Bergen"."""
    return _(_SURE_BEFORE[sure], name=place.name)


def person_words(shown: PersonShown) -> str:
    """The name with the age then: "Ingrid (31)", "perhaps Nils (5 or 6)"."""
    age = f" ({told(shown.age)})" if shown.age else ""
    return _(_SURE_BEFORE[shown.sure], name=shown.person.name) + age


def clauses(those: Iterable[str]) -> str:
    """Clauses one after the other: "born 1921; died 1990"."""
    return "; ".join(map(told, those))


def slip_words(described: DescribedPrint) -> str:
    """The whole slip as one sentence: "Summer 1958, likely · Bergen · Ingrid (31) and Nils (28)"."""
    place = place_words(described.place, described.place_sure) if described.place else ""
    people = joined([person_words(shown) for shown in described.people])
    return " · ".join(part for part in (date_words(described.when), place, people) if part)


def picture_words(described: DescribedPrint, view: View) -> str:
    """What a picture is, for those who do not see it: the caption or the slip, and which side."""
    if view.side is Side.VERSO:
        written = described.transcription
        return _("Back of the print: “%(words)s”", words=written) if written else _("Back of the print")
    told = described.caption or slip_words(described)
    return told if view.side is Side.RECTO else _("Detail: %(words)s", words=told)


def reason_words(reason: Reason) -> str:
    """The sentence of a reason with a capital letter and without a full stop."""
    return _capital(told(reason.sentence)).rstrip(".")


def source_words(reason: Reason) -> str:
    """Who says so and how sure: "slip file box.csv, line 4 · likely"; says so when only the paper is dated."""
    about = _("printing") if reason.bounds_printing else ""
    said = " · ".join(filter(None, (source_told(reason.source), about)))
    return _(_SURE_AFTER[reason.sure], said=said).lstrip(", ")


def source_told(source: str) -> str:
    """Who says it, in the reader's language."""
    return str(told(source) if isinstance(source, Told) else Source(source).told())


def says_words(statement: Statement) -> str:
    """What a statement tells, as the heading of its value: "taken", "shows"."""
    return _(_SAYS_WORDS[statement.says])


def statement_source_words(statement: Statement) -> str:
    """Who made a statement and how sure: "slip file box.csv, line 4, likely"."""
    return _(_SURE_AFTER[statement.sure], said=source_told(statement.source))


def sentence_words(text: str) -> str:
    """The text as a sentence: capital letter, full stop."""
    return f"{_capital(told(text)).rstrip('.')}."


def side_word(side: Side) -> str:
    """`front`, `back` or `detail`: by this name a side is called in addresses and in history, whoever reads."""
    return _SIDE_WORDS[side]


def side_of(side: Side, accession: str) -> Sentence:
    """A side of a print within a sentence that is kept: "the back of B2-E5-0014"."""
    return Sentence(_SIDES_OF[side], print=accession)


_SIDES_OF = {
    Side.RECTO: marked("the front of %(print)s"),
    Side.VERSO: marked("the back of %(print)s"),
    Side.DETAIL: marked("the detail of %(print)s"),
}


def called_words(called: str) -> str:
    """What a picture is called (`front`, `detail 2`) in the reader's language."""
    side, _space, number = called.partition(" ")
    return " ".join(filter(None, (_(side), number)))


def edge_unsure(view: View) -> bool:
    """Whether the view's edge is neither checked by a person nor found with confidence."""
    return not view.outline.is_sure


def upright_words(view: View) -> str:
    """What tells which way is up: "turned by the faces seen in it"."""
    return _(_UPRIGHT_WORDS[view.upright][bool(view.turn)])


_UPRIGHT_WORDS = {
    None: (marked("nothing tells yet which way is up, so it is shown as it lay"),) * 2,
    Upright.PERSON: (marked("checked by a person: it lay the right way up"), marked("turned by a person")),
    Upright.FACES: (marked("the faces seen in it stand upright"), marked("turned by the faces seen in it")),
    Upright.WRITING: (
        marked("the writing on the back stands upright"),
        marked("turned by the writing on the back"),
    ),
    Upright.HABIT: (
        marked("likely: its neighbours lay the right way up"),
        marked("turned as its neighbours lay, likely"),
    ),
}
"""As it lay, and turned."""


MM_PER_INCH = 25.4
"""An outline errs by a pixel at most where it is sure; so does the size."""


def paper_words(view: View) -> str:
    """The paper's size as a person says it, "88 × 63 mm", with a usual size by name, "128 × 89 mm (3½ × 5 in)",
    where the edge is sure and pixels are fine enough; empty where the scale is not known."""
    if view.size_mm is None or not view.ppi:
        return ""
    width, height = view.size_mm
    usual = format_of(view.size_mm, unsure_mm=MM_PER_INCH / view.ppi) if view.outline.is_sure else None
    return f"{width:.0f} × {height:.0f} mm" + (f" ({usual.name})" if usual else "")


def life_words(born: str, died: str) -> str:
    """The years of somebody who is known to have died, "1899–1971"; empty for all others, who may be living."""
    if not died:
        return ""
    return f"{_year(born)}–{_year(died)}"


def _year(edtf: str) -> str:
    """The year of an EDTF value, "189X" kept as it is; "?" where there is none."""
    found = re.search(r"\d{2,3}X{1,2}|\d{4}", edtf)
    return found.group() if found else "?"


def prints_in_words(number: int) -> str:
    """ "1 print", "14 prints", "1,204 prints"."""
    return _n("%(num)s print", "%(num)s prints", number)


def counted(number: int, one: str, many: str = "") -> str:
    """A number with its noun, in English: "1 print", "14 prints", "1,204 prints"."""
    return f"{number:,} {one if number == 1 else many or one + 's'}"
