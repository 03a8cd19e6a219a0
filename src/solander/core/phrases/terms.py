"""Text to terms: what each word or number of a phrase may mean in one language."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator
from enum import Enum, auto
from functools import cache
from typing import Any

from attrs import frozen

from solander.core.phrases.language import Language

__all__ = ["Kind", "Lexicon", "Term", "Token", "folded", "lexicon", "tokens_of"]


class Kind(Enum):
    """What a term means."""

    WORD = auto()
    SEPARATOR = auto()
    FILLER = auto()
    NUMBER = auto()  # digits as written
    SPOKEN = auto()  # a number in words
    ORDINAL = auto()  # a day of the month
    NUMBERS = auto()  # two or three numbers with what parts them
    SHORT_YEAR = auto()  # two digits after an apostrophe
    MONTH = auto()
    SEASON = auto()
    FEAST = auto()
    EVENT = auto()
    DECADE = auto()  # first year of a decade: 1950, or 50 where the century is not said
    DECADE_WORD = auto()
    CENTURY = auto()
    ABOUT = auto()
    ABOUT_AFTER = auto()
    MAYBE = auto()
    PART = auto()  # 0 early, 1 mid, 2 late; 3 first half, 4 second half
    BETWEEN = auto()
    BOTH = auto()
    EITHER = auto()
    TO = auto()
    BEFORE = auto()
    AFTER = auto()
    UNTIL = auto()
    SINCE = auto()
    OR_BEFORE = auto()
    OR_AFTER = auto()
    DURING = auto()
    WEEK_OF = auto()
    WEEK_ENDING = auto()
    LAB = auto()
    CORRECTION = auto()


@frozen
class Token:
    """A piece of the phrase as written and as compared."""

    text: str
    folded: str
    kind: str


@frozen
class Term:
    """A meaning of tokens `first` … `last` − 1."""

    kind: Kind
    value: Any
    first: int
    last: int


_TOKEN = re.compile(
    r"(?P<numbers>\d{1,4}(?:\s?[/.–-]\s?(?:\d{1,4}|[IVX]{1,4}(?![^\W\d_])))(?:\s?[/.–-]\s?\d{1,4})?(?![\d])"
    r"(?![^\W\d_]))"
    r"|(?P<short>['’´`‘]\d{2}(?![\d\w'’-]))"
    r"|(?P<ended>['’]?\d{1,4}(?:[-:'’]?[^\W\d_]+|[ºª°]))"
    r"|(?P<number>\d+)"
    r"|(?P<elided>(?:dell|nell|all|sull|qu|l|d)['’])(?=[^\W\d_])"
    r"|(?P<word>[^\W\d_]+(?:['’][^\W\d_]+)*)"
    r"|(?P<sign>[^\w\s])"
    r"|(?P<rest>\w)"
)
_HYPHENED = re.compile(r"(?<!\w)(\d{1,2})-(?=[^\W\d_]{3,}-\d)()|([^\W\d_]{3,})-(\d)")
"""Hyphens in "14-Aug-49" and "JUN-65" part nothing; those of "1950-х" and "50-talet" belong to the word."""
_ROMAN = dict(
    zip(("I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI", "XII"), range(1, 13), strict=True)
)
_LETTERS = str.maketrans({"ß": "ss", "ø": "o", "æ": "ae", "ł": "l", "’": "'", "´": "'", "`": "'", "‘": "'"})


def folded(text: str) -> str:
    """The text without capitals, accents and curly apostrophes, for comparison."""
    plain = text.casefold().translate(_LETTERS)
    if plain.isascii():
        return plain
    return "".join(c for c in unicodedata.normalize("NFD", plain) if not unicodedata.combining(c))


def tokens_of(phrase: str) -> list[Token]:
    """The words, numbers and signs of a phrase in order."""
    return [
        Token(found.group(), folded(found.group()), found.lastgroup or "")
        for found in _TOKEN.finditer(_HYPHENED.sub(r"\1\3 \2\4", unicodedata.normalize("NFC", phrase)))
    ]


class Lexicon:
    """All words of a language, found by the longest match."""

    def __init__(self, language: Language) -> None:
        self.language = language
        self._entries: dict[str, list[tuple[tuple[str, ...], Kind, Any]]] = {}
        for words, kind, value in _entries(language):
            self._add(words, kind, value)
        for entries in self._entries.values():
            entries.sort(key=lambda entry: -len(entry[0]))
        self._decades = {folded(ending) for ending in _split(language.decade_endings)}
        self._ordinals = {folded(ending) for ending in _split(language.ordinal_endings)}

    def _add(self, words: str, kind: Kind, value: Any) -> None:
        for each in _split(words):
            key = tuple(token.folded for token in tokens_of(each))
            self._entries.setdefault(key[0], []).append((key, kind, value))

    def knows(self, tokens: Iterable[Token]) -> bool:
        """Whether any word or ending among the tokens means something in this language."""
        return any(token.folded in self._entries or token.kind == "ended" for token in tokens)

    def terms(self, tokens: list[Token]) -> list[Term]:
        """The terms of a phrase; words that mean nothing are terms too."""
        found = []
        place = 0
        while place < len(tokens):
            term = self._term(tokens, place)
            found.append(term)
            place = term.last
        return found

    def _term(self, tokens: list[Token], place: int) -> Term:
        token = tokens[place]
        for key, kind, value in self._entries.get(token.folded, ()):
            last = place + len(key)
            if key == tuple(each.folded for each in tokens[place:last]):
                return Term(kind, value, place, last)
        kind, value = (Kind.MONTH, _ROMAN[token.text]) if _is_roman(tokens, place) else self._alone(token)
        return Term(kind, value, place, place + 1)

    def _alone(self, token: Token) -> tuple[Kind, Any]:
        match token.kind:
            case "number":
                return Kind.NUMBER, token.text
            case "numbers":
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
        if ending in self._decades and int(digits) % 10 == 0 and len(digits) in (2, 4):
            return Kind.DECADE, int(digits)
        if ending in self._ordinals and len(digits) <= 2:
            return Kind.ORDINAL, int(digits)
        return Kind.WORD, None


_SIGNS: dict[str, tuple[Kind, Any]] = {
    "?": (Kind.MAYBE, "?"),
    "~": (Kind.ABOUT, None),
    "-": (Kind.TO, "-"),
    "–": (Kind.TO, "-"),
    "—": (Kind.TO, "-"),
    "/": (Kind.EITHER, None),
}


def _is_roman(tokens: list[Token], place: int) -> bool:
    """Whether the token is the month in "3 VII 1948"."""
    around = tokens[max(place - 1, 0) : place] + tokens[place + 1 : place + 2]
    return tokens[place].text in _ROMAN and [token.kind for token in around] == ["number", "number"]


def _numbers(text: str) -> tuple[tuple[str, ...], str]:
    """The numbers and the first sign between them; months in Roman figures become digits."""
    parts = re.split(r"\s?[/.–-]\s?", text)
    sign = re.search(r"[/.–-]", text)
    return tuple(str(_ROMAN.get(part, part)) for part in parts), sign.group() if sign else ""


def _split(words: str) -> Iterator[str]:
    return (each for each in words.split("|") if each)


def _entries(language: Language) -> Iterator[tuple[str, Kind, Any]]:
    yield from ((words, Kind.MONTH, number) for number, words in enumerate(language.months, 1))
    yield from ((words, Kind.SEASON, number) for number, words in enumerate(language.seasons, 21))
    yield from ((words, Kind.FEAST, name) for name, words in language.feasts.items())
    yield from ((words, Kind.EVENT, spans) for words, spans in language.events.items())
    yield from ((words, Kind.DECADE, year) for year, words in language.decades.items())
    yield from ((words, Kind.SPOKEN, number) for words, number in language.numbers.items())
    yield from ((words, Kind.ORDINAL, number) for words, number in language.ordinals.items())
    yield language.weekdays, Kind.FILLER, None
    parts = language.early, language.mid, language.late, language.first_half, language.second_half
    for number, part in enumerate(parts):
        yield part, Kind.PART, number
    for kind in _BY_NAME:
        yield getattr(language, kind.name.lower()), kind, None


_BY_NAME = (
    Kind.DECADE_WORD,
    Kind.CENTURY,
    Kind.ABOUT,
    Kind.ABOUT_AFTER,
    Kind.MAYBE,
    Kind.BETWEEN,
    Kind.BOTH,
    Kind.EITHER,
    Kind.TO,
    Kind.BEFORE,
    Kind.AFTER,
    Kind.UNTIL,
    Kind.SINCE,
    Kind.OR_BEFORE,
    Kind.OR_AFTER,
    Kind.DURING,
    Kind.WEEK_OF,
    Kind.WEEK_ENDING,
    Kind.LAB,
    Kind.CORRECTION,
    Kind.FILLER,
)


@cache
def lexicon(language: Language) -> Lexicon:
    """The lexicon of a language, made once."""
    return Lexicon(language)
