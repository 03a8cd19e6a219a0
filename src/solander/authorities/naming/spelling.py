"""One name in its spellings: scripts, accents, digraphs and endings: "Müller", "Mueller" and "Muller" meet.

Other scripts become Latin letters by the table of `anyascii`. Spellings that stand for a letter of their own
(Danish ø written oe, German ü written ue) are common practice of telegrams and typewriters; the endings of Slavic
surnames for women are grammar. Both from memory.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

from anyascii import anyascii

__all__ = ["plain", "spellings", "words_of"]

_WRITTEN_OUT = str.maketrans(
    {"ä": "ae", "ö": "oe", "ü": "ue", "ø": "oe", "æ": "ae", "å": "aa", "œ": "oe", "ß": "ss", "þ": "th", "ð": "d"}
)
_ONE_LETTER = re.compile(r"(?:aa|ae|oe|ue|ij)(?=[a-z]{2})")
_SHORTENED = {"aa": "a", "ae": "a", "oe": "o", "ue": "u", "ij": "y"}
_ENDINGS = (
    ("ska", "ski"),
    ("cka", "cki"),
    ("dzka", "dzki"),
    ("skaya", "sky"),
    ("skaia", "ski"),
    ("skaja", "ski"),
    ("ova", "ov"),
    ("eva", "ev"),
    ("owa", "ow"),
    ("ina", "in"),
)
"""Surnames of women and of men: "Kowalska", "Kowalski"."""

_WORD = re.compile(r"[^\W\d_]+(?:['’´`ʼ][^\W\d_]+)*\.?")


@lru_cache(maxsize=1 << 16)
def plain(word: str) -> str:
    """The word in Latin letters without accents, capitals and signs: "Łukasz" is "lukasz", "Иван" is "ivan"."""
    folded = unicodedata.normalize("NFC", word).casefold()
    latin = folded if folded.isascii() else anyascii(folded).casefold()
    return "".join(letter for letter in latin if letter.isalpha())


@lru_cache(maxsize=1 << 16)
def spellings(word: str) -> tuple[str, ...]:
    """The word as `plain` gives it, then its other usual spellings."""
    first = plain(word)
    written_out = plain(unicodedata.normalize("NFC", word).casefold().translate(_WRITTEN_OUT))
    found = [first, written_out, _ONE_LETTER.sub(lambda pair: _SHORTENED[pair[0]], first)]
    found.append(_romanised(first))
    for woman, man in _ENDINGS:
        found += [each[: -len(woman)] + man for each in (first,) if len(each) > 5 and each.endswith(woman)]
    return tuple(dict.fromkeys(each for each in found if each))


_ROMAN = re.compile(r"tsch|sch|ij|iy|ia|j|w")
_ROMANISED = {"tsch": "ch", "sch": "sh", "ij": "y", "iy": "y", "ia": "ya", "j": "y", "w": "v"}


def _romanised(word: str) -> str:
    """Russian in German, Polish or English letters as one: "Tanja", "Tanya"; "Katja", "Katia"."""
    return _ROMAN.sub(lambda found: _ROMANISED[found[0]], word)


def words_of(text: str) -> list[str]:
    """The words of a name as written; a full stop stays with what it shortens ("J.", "Wm.")."""
    return _WORD.findall(text)
