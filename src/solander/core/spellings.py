"""Other spellings under which a word with letters beyond a–z is looked for: “Müller” as Mueller, “Łódź” as Lodz.

Letters and their replacements are those of the Unicode CLDR transforms `Latin-ASCII` (ß ss, ł l, ø o, æ ae …) and
`de-ASCII` (ä ae, ö oe, ü ue); å as aa and ø as oe are the Scandinavian custom (common practice, from memory).
"""

from __future__ import annotations

import unicodedata

__all__ = ["other_spellings", "plain"]

_PLAIN = str.maketrans(
    {"ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "ı": "i", "ħ": "h"}
    | {"ŋ": "n", "ŧ": "t", "ĳ": "ij", "ſ": "s"}
)
_SPELT_OUT = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "å": "aa", "ø": "oe"})


def plain(word: str) -> str:
    """The word in small letters without accents; letters that are no accented ones stay: “łodz” for “Łódź”."""
    small = word.lower()
    if small.isascii():
        return small
    return "".join(char for char in unicodedata.normalize("NFD", small) if not unicodedata.combining(char))


def other_spellings(word: str) -> tuple[str, ...]:
    """How a word is also spelt, in small letters without accents; nothing where it has only one spelling.

    >>> other_spellings("Müller"), other_spellings("Łódź"), other_spellings("Anna")
    (('mueller',), ('lodz',), ())
    """
    if word.isascii():
        return ()
    small = unicodedata.normalize("NFC", word.lower())
    spelt = (plain(small.translate(_PLAIN)), plain(small.translate(_SPELT_OUT).translate(_PLAIN)))
    return tuple(one for one in dict.fromkeys(spelt) if one != plain(small))
