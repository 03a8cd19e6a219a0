"""Text to tokens: the words, numbers and signs of a phrase, as written and as compared."""

from __future__ import annotations

import re
import unicodedata

from attrs import frozen

__all__ = ["MONTHS_IN_ROMAN", "Token", "folded", "roman", "tokens_of"]


@frozen
class Token:
    """A piece of the phrase as written and as compared."""

    text: str
    folded: str
    kind: str


_TOKEN = re.compile(
    r"(?P<time>(?<![\w/.-])\d{1,2}(?:[.:][0-5]\d\s?[aApP]\.?[mM]\b\.?|\s?[aApP]\.?[mM]\b\.?|\s?[hH](?:[0-5]\d)?(?![^\W_])"
    r"|:[0-5]\d(?![\d:/.-])))"
    r"|(?P<numbers>(?!\d{4}\s[–-]\s\d{1,2}\s[^\W\d_])\d{1,4}(?:\s?[/.–-]\s?(?:\d{1,4}|[IVX]{1,4}(?![^\W\d_])|[ivx]{1,4}(?=\s?[/.-]\s?\d{4}(?!\d))))(?:\s?[/.–-]\s?(?:\d{1,4}|['’´`‘]\d{2}))?(?![\d])"
    r"(?![^\W\d_]))"
    r"|(?P<month_year>(?<![\w/.-])[IVX]{1,4}\s?[/.-]\s?(?:\d{4}|\d{2})(?![\w/-]))"
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

MONTHS_IN_ROMAN = dict(
    zip(("I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI", "XII"), range(1, 13), strict=True)
)
_ROMAN = re.compile(r"(X{0,2})(IX|IV|V?I{0,3})")
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


def roman(text: str) -> int | None:
    """The number, 1 to 29, that capital Roman figures write; None when they are none."""
    found = _ROMAN.fullmatch(text)
    if not text or found is None:
        return None
    tens, units = found.groups()
    ones = {"IX": 9, "IV": 4}.get(units, 5 * units.count("V") + units.count("I"))
    return 10 * len(tens) + int(ones)
