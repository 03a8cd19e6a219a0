"""Reads dates as people say and write them."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import date

from attrs import evolve, frozen

from solander.core.dates import parse_edtf
from solander.core.errors import InvalidValue
from solander.core.people import Person
from solander.core.phrases.figures import Years
from solander.core.phrases.grammar import Reader
from solander.core.phrases.language import Language
from solander.core.phrases.languages import LANGUAGES
from solander.core.phrases.lexicon import lexicon
from solander.core.phrases.lives import Known
from solander.core.phrases.parts import Expression, Parts
from solander.core.phrases.readings import readings_of
from solander.core.phrases.records import DatePhrase, Reading
from solander.core.phrases.surroundings import in_their_places, tells_a_birth
from solander.core.phrases.terms import STRANGE, Kind, Term
from solander.core.phrases.tokens import Token, tokens_of
from solander.core.sentence import Sentence
from solander.core.statements import Sure

__all__ = ["read_date"]

_ONLY_EDTF = re.compile(r"[0-9]X|[0-9][~%]|[0-9]\.\.|\.\.[0-9]")
_AS_CATALOGUED = re.compile(r"\[?(1[89]|20)([0-9])?(-{1,2})(\?)?\]?")
"""What librarians write for a decade or a century: "[194-]", "[194-?]", "[18--]" (AACR2, 1.4F7, from memory)."""

_WITH_GAPS = re.compile(r"\[?(1[89]|20)(?:(\?\?|__|\.\.)|([0-9])[?_])\]?")
"""The same as people write it: "19??", "192?", "19__" (common practice, no source)."""
_CENTURY_WITHIN = re.compile(r"(?<![\d/.–-])(1[89]|20)(?:\?\?|--|__)(?![\d?-])")
"""The same within a phrase: not the year '19."""

_SOUTH = 8
"""From the code of a season in EDTF to that of the southern one."""

_NORTHERN_SEASON = re.compile(r"(?<=[0-9X]{4}-)2[1-4](?![0-9])")
_SAME_DAYS = {"21": "31", "22": "32", "23": "29", "24": "30"}
"""Northern spring is southern autumn, and so on."""

_TRIED = 3
"""Languages that are read to the end when none is told: those that know most words of the phrase."""


def read_date(
    phrase: str,
    *,
    language: str | None = None,
    first_year: int = 1901,
    today: date,
    day_first: bool | None = None,
    southern: bool = False,
    people: Mapping[str, Person] | None = None,
    events: Mapping[str, str] | None = None,
) -> DatePhrase:
    """The readings of a phrase, best first, and the words that were not read.

    Parameters
    ----------
    phrase
        As said or written: "summer 58", "abt Aug 14th 1949", "vers 1930", "JUL . 63".
    language
        ISO 639-1 code; without one, the language that knows most of the words is taken.
    first_year
        Years told by two digits lie in the hundred years from this one, and never after today.
    today
        The day of reading; nothing is ever dated by it.
    day_first
        Whether 3/7/48 is the 3rd of July; None follows the language, and gives both where both are usual.
    southern
        Whether seasons are those south of the equator: summer is then December to February (EDTF 29 to 32).
    people
        Known people by a name; they are found by it and by the names in their record. "When Nan was about six"
        is read only when it is known when Nan was born.
    events
        The EDTF dates of known occasions by their names: "the winter after the wedding".

    Nothing is invented: a phrase without a date has no readings, a day that does not exist is left unread, and
    a date without a year has an unknown year (`XXXX-07-03`). A lone month or season counts only when nothing
    unread stands beside it, for names are made of the same words.

    Raises
    ------
    InvalidValue
        When there is no table for the language.
    """
    if (edtf := _as_edtf(phrase.strip())) is not None:
        return DatePhrase(phrase, (edtf,), ())
    tokens, era = tokens_of(_CENTURY_WITHIN.sub(r"\1XX", phrase)), _era(first_year, today)
    known = Known.of(people or {}, events or {}, tokens=tokens, today=today)
    tried = [
        _try(
            tokens,
            table,
            in_their_places(_southern(terms) if southern else terms, tokens, table),
            told=bool(language),
            era=era,
            today=today,
            day_first=day_first,
        )
        for table, terms in _tables(tokens, language, known)
    ]
    best = max(tried, key=lambda attempt: attempt.score)
    readings = map(_in_southern_words, best.readings) if southern else best.readings
    as_written = {f"{found[1]}XX": found[0] for found in _CENTURY_WITHIN.finditer(phrase)}
    return DatePhrase(phrase, tuple(readings), tuple(as_written.get(word, word) for word in best.unused))


def _as_edtf(phrase: str) -> Reading | None:
    """The phrase when it is EDTF already, told by signs that nobody says or writes otherwise."""
    catalogued = _AS_CATALOGUED.fullmatch(phrase)
    if catalogued and len(phrase.strip("[?]")) == 4:
        phrase = phrase.strip("[?]").replace("-", "X") + (catalogued[4] or "")
    elif gaps := _WITH_GAPS.fullmatch(phrase):
        phrase = f"{gaps[1]}{gaps[3] or 'X'}X"
    if len(phrase) > 200 or not _ONLY_EDTF.search(phrase):
        return None
    try:
        bounds = parse_edtf(phrase).bounds()
    except InvalidValue:
        return None
    doubt = Sure.GUESS if "?" in phrase or "%" in phrase else Sure.LIKELY if "~" in phrase else Sure.CERTAIN
    return Reading(phrase, bounds.earliest, bounds.latest, sure=doubt)


def _tables(tokens: list[Token], language: str | None, known: Known) -> list[tuple[Language, list[Term]]]:
    """The languages to try, those that know most of the words first, and what the words mean in each."""
    if language:
        code = language.lower().replace("_", "-").partition("-")[0]
        if code not in LANGUAGES:
            raise InvalidValue(
                Sentence("There is no table of dates for the language “%(language)s”", language=language),
                todo=_choices(),
            )
        return [(LANGUAGES[code], _terms(tokens, LANGUAGES[code], known))]
    tables = [table for table in dict.fromkeys(LANGUAGES.values()) if known or lexicon(table).knows(tokens)]
    read = [(table, _terms(tokens, table, known)) for table in tables or [LANGUAGES["en"]]]
    strangers = {table.code: _strangers(terms) for table, terms in read}
    fewest = min(strange for strange, _ in strangers.values())
    read = [each for each in read if strangers[each[0].code][0] == fewest]
    return sorted(read, key=lambda each: strangers[each[0].code])[:_TRIED]


def _terms(tokens: list[Token], table: Language, known: Known) -> list[Term]:
    return lexicon(table).terms(tokens, known.terms(tokens, lexicon(table)))


def _southern(terms: list[Term]) -> list[Term]:
    """The same with seasons as they are south of the equator."""
    return [
        evolve(term, value=(term.value[0] + _SOUTH, term.value[1])) if term.kind is Kind.SEASON else term
        for term in terms
    ]


def _in_southern_words(reading: Reading) -> Reading:
    """The same days by the southern season: what lies beside another date was worked out in northern ones."""
    return evolve(reading, edtf=_NORTHERN_SEASON.sub(lambda found: _SAME_DAYS[found[0]], reading.edtf))


def _choices() -> str:
    return f"Choose one of {', '.join(LANGUAGES)}"


def _strangers(terms: list[Term]) -> tuple[int, int]:
    """How many words mean nothing, and how many mean something (to be preferred, hence negative)."""
    strange = sum(term.kind is Kind.WORD for term in terms)
    return strange, -sum(term.kind not in (Kind.WORD, Kind.FILLER, Kind.SEPARATOR) for term in terms)


def _era(first_year: int, today: date) -> Callable[[int], int]:
    def full_year(two_digits: int) -> int:
        year = first_year + (two_digits - first_year) % 100
        return year if year <= today.year else year - 100

    return full_year


@frozen
class _Attempt:
    readings: list[Reading]
    unused: list[str]
    score: tuple[int, int, int, int]


def _try(
    tokens: list[Token],
    table: Language,
    terms: list[Term],
    *,
    told: bool,
    era: Callable[[int], int],
    today: date,
    day_first: bool | None,
) -> _Attempt:
    worded = told or any(token.kind in ("word", "ended") for token in tokens)
    reader = Reader(
        terms,
        years=Years(era, today.year),
        day_first=day_first if day_first is not None else table.day_first if worded else None,
        language=table,
    )
    stamped = _looks_stamped(tokens, terms)
    read = [(found, readings_of(found, today=today, stamped=stamped)) for found in reader.expressions()]
    read = [
        each
        for each in read
        if not _is_a_birth(each[0], tokens, terms=terms, language=table) and not _is_a_life(each[0], tokens, terms)
    ]
    kept = _trustworthy([(found, readings) for found, readings in read if readings], terms)
    # Dates without a year come after those with one, and events after years in figures: "Jubilee bonfire, 1897"
    # is the jubilee of that year, whichever jubilees are in the table.
    told = any(_tells_its_year(found) for found, _ in kept)
    kept.sort(key=lambda each: told and _is_only_an_event(each[0], terms))
    kept.sort(key=lambda each: not any(parts.has_year for parts in each[0].members))
    unused = _unused(tokens, terms, [found for found, _ in kept])
    readings: dict[str, Reading] = {}
    for reading in (reading for _, found in kept for reading in found):
        readings.setdefault(reading.edtf, reading)
    best_first = list(readings.values())
    return _Attempt(best_first, unused, _score(best_first, unused, terms))


def _trustworthy(
    read: list[tuple[Expression, list[Reading]]], terms: list[Term]
) -> list[tuple[Expression, list[Reading]]]:
    """Without months and seasons that stand alone beside unread words: May and Summer are names too.

    Nor with an occasion's name where a date was told.
    """
    if len(read) > 1 and all(_is_short_year(found) for found, _ in read):
        # "15 of 24"
        return []
    if len(read) > 1:
        read = [each for each in read if not _is_only_named(each[0], terms)] or read
    covered = {place for found, _ in read for place in found.places}
    strange = any(term.kind in STRANGE for place, term in enumerate(terms) if place not in covered)
    if not strange:
        return read
    return [each for each in read if all(parts.has_year or parts.day for parts in each[0].members)]


def _is_a_birth(found: Expression, tokens: list[Token], *, terms: list[Term], language: Language) -> bool:
    """ "Grandma (b. 1871)": no date of the picture."""
    place = found.first
    while place > 0 and not tells_a_birth(tokens, terms[place], language) and terms[place - 1].kind is Kind.FILLER:
        place -= 1
    first = next((p for p in range(found.first, found.last) if terms[p].kind is not Kind.FILLER), found.first)
    return any(tells_a_birth(tokens, terms[near], language) for near in {place, first})


def _is_short_year(found: Expression) -> bool:
    return all(parts == Parts(year=parts.year, short=True) for parts in found.members) and not found.marks


def _is_only_named(found: Expression, terms: list[Term]) -> bool:
    """The name of an occasion may be that of a place too; beside another date it dates nothing."""
    return {term.kind for term in terms[found.first : found.last]} <= {Kind.NAMED, Kind.FILLER, Kind.SEPARATOR}


def _tells_its_year(found: Expression) -> bool:
    return found.relation is None and all(parts.year is not None and not parts.spans for parts in found.members)


def _is_only_an_event(found: Expression, terms: list[Term]) -> bool:
    kinds = {term.kind for term in terms[found.first : found.last]}
    return found.relation is None and kinds <= {Kind.EVENT, Kind.FILLER, Kind.SEPARATOR, Kind.DURING}


def _is_a_life(found: Expression, tokens: list[Token], terms: list[Term]) -> bool:
    """ "Ada Kershaw (1868–1941)": so many years in brackets behind a word are somebody's life."""
    years = next((term for term in terms[found.first : found.last] if term.kind is Kind.NUMBERS), None)
    spans = [span for parts in found.members for span in parts.spans]
    if years is None or len(spans) != 1 or not all(len(end) == 4 for end in spans[0]):
        return False
    beside = [token.text for token in (*tokens[: years.first][-1:], *tokens[years.last : years.last + 1])]
    named = years.first > 1 and tokens[years.first - 2].kind == "word"
    return beside == ["(", ")"] and named and int(spans[0][1]) - int(spans[0][0]) >= _LIFE


_LIFE = 15
"""Years; what lasts no longer may be a stay, a post or an album."""


def _unused(tokens: list[Token], terms: list[Term], read: list[Expression]) -> list[str]:
    used = {place for found in read for place in found.places}
    return [
        token.text
        for place, term in enumerate(terms)
        if place not in used
        for token in tokens[term.first : term.last]
        if token.kind != "sign"
    ]


def _score(readings: list[Reading], unused: list[str], terms: list[Term]) -> tuple[int, int, int, int]:
    meant = sum(term.kind not in (Kind.WORD, Kind.FILLER, Kind.SEPARATOR) for term in terms)
    with_year = not any("XXXX" in reading.edtf for reading in readings)
    return bool(readings), -len(unused), with_year, meant


def _looks_stamped(tokens: list[Token], terms: list[Term]) -> bool:
    """Whether a laboratory printed it: capitals throughout, and a short month with a year or a week."""
    words = [token.text for token in tokens if token.kind == "word"]
    if not words or not all(word.isupper() for word in words):
        return False
    printed = [term for term in terms if term.kind is not Kind.SEPARATOR]
    kinds = [term.kind for term in printed]
    if kinds and {Kind.WEEK_OF, Kind.WEEK_ENDING, Kind.LAB} & set(kinds):
        return True
    if Kind.MONTH not in kinds[:2] or not {Kind.NUMBER, Kind.SHORT_YEAR} & set(kinds[:2]) or len(words[0]) > 4:
        return False
    return len(kinds) == 2 or (kinds[0] is Kind.MONTH and all(_is_code(tokens, term) for term in printed[2:]))


def _is_code(tokens: list[Token], term: Term) -> bool:
    """The letter or figure of a plant that stands behind the year of a border date: "NOV • 58 F3"."""
    text = tokens[term.first].text
    return term.kind in (Kind.WORD, Kind.NUMBER, Kind.ORDINAL) and len(text) <= (1 if text.isalpha() else 2)
