"""All words of a language, found by the longest match."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from typing import Any

from solander.core.phrases.language import Language
from solander.core.phrases.terms import UNITS, Kind, Term
from solander.core.phrases.tokens import MONTHS_IN_ROMAN, Token, folded, roman, tokens_of

__all__ = ["Lexicon", "key_of", "lexicon", "told_apart"]

_NOTHING: Mapping[int, Term] = {}
_Key = tuple[str, ...]


class Lexicon:
    """What the words of one language mean."""

    def __init__(self, language: Language) -> None:
        self.language = language
        self._entries: dict[_Key, tuple[Kind, Any]] = {}
        self._written: dict[_Key, str] = {}
        self._accented: dict[str, tuple[Kind, Any]] = {}
        self._lengths: dict[str, list[int]] = {}
        for words, kind, value in _entries(language):
            self._add(words, kind, value)
        for words, unit in _units(language):
            self._add_unit(words, unit)
        for lengths in self._lengths.values():
            lengths.sort(reverse=True)
        self._hundreds = [*_hundreds(language.hundreds, 0), *_hundreds(language.short_hundreds, 10)]
        self._begun = tuple({begun for key, joined, _, _ in self._hundreds for begun in (key[0], joined)})
        self._joints = {"", *told_apart(language.hundred_joints)}
        self._numbers = {
            folded(each): number for words, number in language.numbers.items() for each in told_apart(words)
        }
        self._ages = {folded(word) for word in told_apart(language.age_words)}
        self._feasts = {folded(word): feast for word, feast in language.feast_without_day.items()}
        self._decades = {folded(ending) for ending in told_apart(language.decade_endings)}
        self._abouts = {folded(ending) for ending in told_apart(language.about_endings)}
        self._years = {folded(ending) for ending in told_apart(language.year_endings)}
        self._centuries = {folded(ending) for ending in told_apart(language.century_endings)}
        self._ordinals = {folded(ending) for ending in told_apart(language.ordinal_endings)}

    def _add(self, words: str, kind: Kind, value: Any) -> None:
        for each in told_apart(words):
            key = key_of(each)
            if kind is Kind.NOT and self._entries.get(key) == (Kind.CORRECTION, None):
                # "No, el 4", "no el 4": what stands before it decides.
                self._entries[key] = (Kind.CORRECTION, "not")
            if kind is Kind.UNTIL and self._entries.get(key) == (Kind.TO, None):
                # "Bis 1950", "1948 bis 1950": what stands before it decides.
                self._entries[key] = (Kind.TO, Kind.UNTIL)
            self._put(key, each, (kind, value))
            lengths = self._lengths.setdefault(key[0], [])
            if len(key) not in lengths:
                lengths.append(len(key))

    def _put(self, key: _Key, written: str, meaning: tuple[Kind, Any]) -> None:
        """The first meaning of a word counts, save that "dès" and "des" are two words."""
        first = self._entries.setdefault(key, meaning)
        before = self._written.setdefault(key, written)
        if len(key) > 1 or first == meaning or before == written:
            return
        if before == key[0]:
            self._accented.setdefault(written, meaning)
        elif written == key[0]:
            self._accented[before] = first
            self._entries[key], self._written[key] = meaning, written

    def _add_unit(self, word: str, unit: str) -> None:
        """A unit of time; where the word has another use too ("in the year 1950"), that one remembers it."""
        key = key_of(word)
        kind, _ = self._entries.get(key, (Kind.UNIT, None))
        if kind in (Kind.FILLER, Kind.DECADE_WORD):
            self._entries[key] = (kind, unit)
        else:
            self._add(word, Kind.UNIT, unit)

    def knows(self, tokens: Iterable[Token]) -> bool:
        """Whether any word or ending among the tokens means something in this language."""
        return any(self._knows(token) for token in tokens)

    def _knows(self, token: Token) -> bool:
        if token.folded in self._lengths or token.kind == "ended":
            return True
        return bool(self._begun) and token.folded.startswith(self._begun)

    def unit(self, word: str) -> str | None:
        """The unit of time that a word may be, in the singular."""
        kind, value = self._entries.get((word,), (Kind.WORD, None))
        return str(value).removesuffix("s") if value and kind in UNITS else None

    def terms(self, tokens: list[Token], known: Mapping[int, Term] = _NOTHING) -> list[Term]:
        """The terms of a phrase; words that mean nothing are terms too.

        `known` holds, by the place of its first token, what is known beyond the language: lives and occasions.
        """
        found = []
        place = 0
        while place < len(tokens):
            term = known.get(place) or self.term(tokens, place)
            inner = next((inner for inner in range(place + 1, term.last) if inner in known), None)
            if place not in known and inner is not None:
                # "L'année" and "the coronation" are in the table, but "année où Ingrid est née" is known.
                term = self.term(tokens[:inner], place)
            found.append(term)
            place = term.last
        return found

    def term(self, tokens: list[Token], place: int) -> Term:
        """The longest term that begins at a place."""
        token = tokens[place]
        found = self._entry(tokens, place)
        if token.kind == "word" and (year := self._spoken_year(tokens, place)) is not None:
            return year if found is None or year.last > found.last else found
        if found is not None:
            return self._in_context(tokens, found) or found
        kind, value = self._in_roman(tokens, place) or self._alone(token)
        return Term(kind, value, place, place + 1)

    def _in_context(self, tokens: list[Token], found: Term) -> Term | None:
        """What a word means beside its neighbours, where that differs."""
        if found.kind is Kind.MONTH:
            return self._feast_of(tokens, found) or self._number_of(tokens, found)
        if found.kind is Kind.DECADE_WORD and tokens[found.first].folded in self._ages and found.first > 0:
            before = tokens[found.first - 1]
            if before.kind == "word" and self._entry(tokens, found.first - 1) is None:
                return Term(Kind.UNIT, found.value, found.first, found.last)
        return None

    def _feast_of(self, tokens: list[Token], month: Term) -> Term | None:
        """ "Jul" is Christmas in Scandinavia, but the month behind a day and on a stamp."""
        feast = self._feasts.get(tokens[month.first].folded)
        behind_a_day = month.first > 0 and any(c.isdigit() for c in "".join(_two_before(tokens, month.first)))
        if feast is None or behind_a_day or tokens[month.first].text.isupper():
            return None
        return Term(Kind.FEAST, feast, month.first, month.last)

    def _number_of(self, tokens: list[Token], month: Term) -> Term | None:
        """ "Sept" is September, but seven before "ans" and before another month."""
        if tokens[month.first].folded not in self._numbers:
            return None
        following = self._entry(tokens, month.last)
        if following is not None and following.kind is Kind.FILLER and not following.value:
            following = self._entry(tokens, following.last)
        if following is None or not (
            following.kind is Kind.MONTH or (following.kind in UNITS and following.value)
        ):
            return None
        return self._as_number(tokens, month)

    def _as_number(self, tokens: list[Token], month: Term) -> Term | None:
        number = self._numbers.get(tokens[month.first].folded)
        return None if number is None else Term(Kind.SPOKEN, number, month.first, month.last)

    def _entry(self, tokens: list[Token], place: int) -> Term | None:
        if place >= len(tokens):
            return None
        for length in self._lengths.get(tokens[place].folded, ()):
            key = tuple(each.folded for each in tokens[place : place + length])
            if len(key) == length and (found := self._entries.get(key)) is not None:
                if length == 1 and self._accented:
                    found = self._accented.get(tokens[place].text.casefold(), found)
                kind, value = found
                return Term(kind, value, place, place + length)
        return None

    def _spoken_year(self, tokens: list[Token], place: int) -> Term | None:
        """ "mil novecientos cincuenta y dos", "nitten hundrede og tooghalvtreds", "nittonhundrafemtiotvå"."""
        word = tokens[place].folded
        if not self._begun or not word.startswith(self._begun):
            return None
        for key, joined, year, least in self._hundreds:
            if word == key[0] and key == tuple(each.folded for each in tokens[place : place + len(key)]):
                found = self._rest_of_year(tokens, place, place + len(key), year=year, least=least)
                if found is not None:
                    return found
            elif word.startswith(joined) and (number := self._joined_number(word.removeprefix(joined), least)):
                return Term(Kind.SPOKEN, year + number, place, place + 1)
        return None

    def _rest_of_year(self, tokens: list[Token], first: int, place: int, *, year: int, least: int) -> Term | None:
        joint = place < len(tokens) and tokens[place].folded in self._joints
        rest = self._entry(tokens, place + joint)
        if rest is not None and rest.kind is Kind.MONTH and joint:
            # "Mil novecentos e dez": the tenth year, no December.
            rest = self._as_number(tokens, rest)
        if rest is not None and rest.kind in (Kind.SPOKEN, Kind.ORDINAL) and least <= rest.value < 100:
            return Term(Kind.SPOKEN, year + rest.value, first, rest.last)
        return None if least else Term(Kind.SPOKEN, year, first, place)

    def _joined_number(self, text: str, least: int) -> int | None:
        for joint in self._joints:
            kind, number = self._entries.get((text.removeprefix(joint),), (Kind.WORD, 0))
            if text.startswith(joint) and kind in (Kind.SPOKEN, Kind.ORDINAL) and least <= number < 100:
                return int(number)
        return None

    def _alone(self, token: Token) -> tuple[Kind, Any]:
        match token.kind:
            case "number":
                return Kind.NUMBER, token.text
            case "numbers" | "month_year":
                return Kind.NUMBERS, _numbers(token.text)
            case "short":
                return Kind.SHORT_YEAR, token.text[1:]
            case "elided":
                return Kind.FILLER, None
            case "ended":
                return self._ended(token.folded)
            case "sign":
                return _SIGNS.get(token.text, (Kind.SEPARATOR, None))
        return Kind.WORD, None

    def _ended(self, text: str) -> tuple[Kind, Any]:
        """Digits with an ending: a decade, a day of a month, or nothing known."""
        digits = "".join(c for c in text if c.isdigit())
        ending = text.lstrip("'").removeprefix(digits)
        if ending in self._centuries and int(digits) % 100 == 0 and len(digits) == 4:
            return Kind.HUNDREDS, int(digits)
        if ending in self._decades and int(digits) % 10 == 0 and len(digits) in (2, 4):
            return Kind.DECADE, int(digits)
        if ending in self._abouts and len(digits) == 4:
            return Kind.ABOUT_YEAR, digits
        if ending in self._years and len(digits) == 4:
            return Kind.NUMBER, digits
        if ending in self._ordinals | self._years and len(digits) <= 2:
            return (Kind.ORDINAL if int(digits) <= 31 else Kind.SPOKEN), int(digits)
        return Kind.WORD, None

    def _in_roman(self, tokens: list[Token], place: int) -> tuple[Kind, Any] | None:
        """The month in "3 VII 1948" and "VII 1948", the century in "XIX wiek" and "siglo XX"."""
        text = tokens[place].text
        if text[0] not in "IVX":
            return None
        before = tokens[place - 1] if place else None
        after = tokens[place + 1] if place + 1 < len(tokens) else None
        if text in MONTHS_IN_ROMAN and after and after.kind == "number" and _may_stand_before_month(before, after):
            return Kind.MONTH, MONTHS_IN_ROMAN[text]
        number = roman(text.rstrip("eèm"))
        beside = [self._entries.get((token.folded,)) for token in (before, after) if token]
        if number and number > 12 and (Kind.CENTURY, None) in beside:
            return Kind.ORDINAL, number
        return None


_SIGNS: dict[str, tuple[Kind, Any]] = {
    "?": (Kind.MAYBE, "?"),
    "~": (Kind.ABOUT, None),
    "-": (Kind.TO, "-"),
    "–": (Kind.TO, "-"),
    "—": (Kind.TO, "-"),
    "/": (Kind.EITHER, None),
}


def _two_before(tokens: list[Token], place: int) -> list[str]:
    return [token.text for token in tokens[max(place - 2, 0) : place]]


def _may_stand_before_month(before: Token | None, year: Token) -> bool:
    """A word before "VI 1937" may be the king's name."""
    if before is None or before.text in ",;":
        return len(year.text) == 4
    return before.kind == "number"


def _numbers(text: str) -> tuple[tuple[str, ...], str]:
    """The numbers, also Roman ones, and the first sign between them."""
    sign = re.search(r"[/.–-]", text)
    return tuple(re.split(r"\s?[/.–-]\s?['’´`‘]?", text)), sign.group() if sign else ""


def told_apart(words: str) -> Iterator[str]:
    """The words that a table writes with bars between them."""
    return (each for each in words.split("|") if each)


def _hundreds(words: Mapping[str, int], least: int) -> Iterator[tuple[_Key, str, int, int]]:
    """The words apart and as one, the year, and the least number that may follow, longest first."""
    for each, year in sorted(words.items(), key=lambda entry: -len(entry[0])):
        for said in sorted(told_apart(folded(each)), key=len, reverse=True):
            yield tuple(said.split()), said.replace(" ", ""), year, least


def key_of(words: str) -> _Key:
    """The words as they stand in a phrase; most are plain and need no search for signs and numbers."""
    if words.replace(" ", "").isalpha():
        return tuple(folded(words).split())
    return tuple(token.folded for token in tokens_of(words))


def _units(language: Language) -> Iterator[tuple[str, str]]:
    """The words for units of time; `years` where several are meant."""
    many = set(told_apart(language.many))
    for unit, words in language.units.items():
        yield from ((word, f"{unit}s" if word in many else unit) for word in told_apart(words))


def _entries(language: Language) -> Iterator[tuple[str, Kind, Any]]:
    yield from ((words, Kind.MONTH, number) for number, words in enumerate(language.months, 1))
    yield from ((words, Kind.SEASON, (number, None)) for number, words in enumerate(language.seasons, 21))
    yield from ((words, Kind.SEASON, season_and_part) for words, season_and_part in language.season_parts.items())
    yield from ((words, Kind.FEAST, name) for name, words in language.feasts.items())
    yield from ((words, Kind.EVENT if spans else Kind.WORD, spans) for words, spans in language.events.items())
    yield from ((words, Kind.DECADE, year) for year, words in language.decades.items())
    yield from ((words, Kind.SPOKEN, number) for words, number in language.numbers.items())
    yield from ((words, Kind.ORDINAL, number) for words, number in language.ordinals.items())
    yield from ((words, Kind.FEW, least_and_most) for words, least_and_most in language.few.items())
    yield from ((words, Kind.WEEKDAY, number) for number, words in enumerate(language.weekdays))
    parts = language.early, language.mid, language.late, language.first_half, language.second_half
    for number, part in enumerate(parts):
        yield part, Kind.PART, number
    for kind in _BY_NAME:
        yield getattr(language, kind.name.lower()), kind, None
    yield language.streets_behind, Kind.STREET, None
    yield language.denial, Kind.NOT, None


_BY_NAME = (
    *(Kind.DECADE_WORD, Kind.CENTURY, Kind.ABOUT, Kind.ABOUT_AFTER, Kind.MAYBE, Kind.BETWEEN, Kind.BOTH),
    *(Kind.EITHER, Kind.TO, Kind.BEFORE, Kind.AFTER, Kind.UNTIL, Kind.SINCE, Kind.OR_BEFORE, Kind.OR_AFTER),
    *(
        Kind.DURING,
        Kind.WAS,
        Kind.WEEK_OF,
        Kind.WEEK_ENDING,
        Kind.LAB,
        Kind.CORRECTION,
        Kind.JUST,
        Kind.NEAREST,
        Kind.OWN,
    ),
    Kind.STREETS,
    Kind.FILLER,
)


@cache
def lexicon(language: Language) -> Lexicon:
    """The lexicon of a language, made once."""
    return Lexicon(language)
