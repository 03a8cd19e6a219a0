"""Names as they are looked up: without case, marks and punctuation, with one spelling for what is written in two.

`fold` keeps the words apart and the letters plain: “Aix-les-Bains” and “AIX LES BAINS” are one. `key_of` goes
further: ä and ae, ö, ø and oe, ü and ue, å and aa are one letter, and so are “St.”, “Saint” and “Sankt”. Both
sides of a comparison go through the same, so that what is lost is lost on both.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

__all__ = ["LINKS", "fold", "grams_of", "key_of", "skeleton_of"]

_LETTERS = str.maketrans(
    {"ß": "ss", "ø": "o", "æ": "ae", "œ": "oe", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "ı": "i", "ħ": "h"}
    | dict.fromkeys("'’‘`´ʻʼʿʾ", "")
)
_NOT_WORDS = re.compile(r"[^\w]+|_+")
_DIGRAPHS = re.compile("(ae|oe|ue|aa)")
_ONE_WORD = {
    **dict.fromkeys(("saint", "sankt", "sint", "sct", "skt", "ste", "sainte"), "st"),
    "mount": "mt",
    "fort": "ft",
    "upon": "on",
}

_LINKING = """
a am an and auf aan bei b d da de del dell della den der des di do dos du e el en et i im in l la las le les lo los
na nad o ob og on op pod s sous sul sulla sur the u und unter upon v van vid von y z za zu zum zur
"""
LINKS = frozenset(_LINKING.split())
"""Words that link the parts of a name and are written, shortened or left out as it comes."""


@lru_cache(maxsize=65536)
def fold(text: str) -> str:
    """Words in plain small letters, one space between them: “Łódź” is “lodz”, “St.-Malo” is “st malo”."""
    if not text.isascii():
        plain = unicodedata.normalize("NFKD", text.casefold().translate(_LETTERS))
        text = "".join(char for char in plain if not unicodedata.combining(char))
    return _NOT_WORDS.sub(" ", text.casefold().translate(_LETTERS)).strip()


@lru_cache(maxsize=65536)
def key_of(text: str) -> str:
    """The form under which a name stands in the index."""
    words = (_ONE_WORD.get(word, word) for word in fold(text).split())
    return _DIGRAPHS.sub(lambda found: found[0][0], " ".join(words))


def skeleton_of(key: str) -> str:
    """The key without the words that only link: “halle saale” for “halle an der saale”; empty when none link."""
    words = key.split()
    telling = [word for word in words if word not in LINKS]
    return " ".join(telling) if 1 < len(telling) < len(words) else ""


def grams_of(key: str) -> set[str]:
    """All runs of three letters of a key, its beginning and end marked by a space."""
    marked = f" {key} "
    return {marked[at : at + 3] for at in range(len(marked) - 2)}
