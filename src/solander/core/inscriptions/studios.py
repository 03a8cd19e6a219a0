"""What studios, laboratories and makers of paper put on a back, told by its words.

The words are common practice of the trade in English, German, French, Italian, Spanish and Dutch, from memory.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence

__all__ = ["address_in", "is_of_paper", "is_of_studio", "is_stamped", "paper_words"]

_STUDIO = re.compile(
    r"\b(?:photo\w*|foto\w*|studios?|atelier|lichtbild\w*|portraits?|drogerie|chemist)\b",
    re.IGNORECASE,
)
_LABORATORY = re.compile(
    r"\b(?:process(?:ed|ing)|developed|develop(?:ing)?|print(?:ed|s)? (?:made )?by|finish(?:ed|ing|ers?)"
    r"|laborator(?:y|ies)|labor|labs?"
    r"|week (?:of|ending)|kodacolor|kodachrome|entwickelt|entw|made (?:by|in)|copyright|registered|finisher"
    r"|manufactured|hergestellt|fabriqu[ée]e?|colou?r prints?)\b",
    re.IGNORECASE,
)
_ORDER = re.compile(r"\b(?:copies|reprints?|negative|nachbestellung|order)\b", re.IGNORECASE)
_PAPER = re.compile(
    r"\b(?:(?:photo(?:graphic)?|colou?r) ?paper|paper|papier|post ?card|carte postale|postkarte"
    r"|this (?:space|side))\b",
    re.IGNORECASE,
)
_MAKER = re.compile(
    r"\W*(?:kodak|agfa|ilford|fuji(?:color|film)?|gevaert|leonar|mimosa|konica|velox|ansco|perutz|orwo|forte)"
    r"(?:\W+(?:ltd|limited|co|company|ag|sa|film|\d+))*\W*",
    re.IGNORECASE,
)
"""The name of a maker of paper and nothing else beside figures."""

_TAKEN = re.compile(
    r"\b(?:taken|photographed|aufgenommen|prise|the|this|my|our|in|from|with|of me)\b", re.IGNORECASE
)

_ADDRESS = re.compile(
    r"\b\d{1,4}[a-z]?,? (?:[\w.'’-]+ ){1,3}"
    r"(?:street|st|road|rd|avenue|ave|lane|square|terrace|place|row|drive|parade|hill)\b\.?"
    r"|\b[A-ZÄÖÜ][\w-]*(?:straße|strasse|str\.|gasse|platz|weg|allee|damm|ufer|markt) ?\d{1,4}[a-z]?\b"
    r"|\b\d{1,4}(?: bis)?,? (?:rue|avenue|boulevard|quai|place|via|calle)(?: [\w'’.-]+){1,4}",
    re.IGNORECASE,
)


def is_of_studio(text: str) -> bool:
    """Whether a line names a studio, a photographer or a laboratory: a word of the trade beside a name."""
    if not (_STUDIO.search(text) or re.search(r"\blabs?\b|laborator", text, re.IGNORECASE)):
        return False
    if _PAPER.search(text) or _ORDER.search(text) or any(sign.isdigit() for sign in text):
        return False
    others = [word for word in re.findall(r"[^\W\d_]{2,}", text) if not _STUDIO.fullmatch(word)]
    return bool(others) and not _TAKEN.search(text) and any(word[0].isupper() for word in others)


def address_in(text: str) -> str:
    """The house and street in a line, empty where there is none."""
    found = _ADDRESS.search(text)
    return found[0].strip(" ,") if found else ""


def is_of_paper(texts: Sequence[str]) -> bool:
    """Whether lines that belong together are a studio's, a laboratory's or a paper maker's."""
    return any(map(_is_of_trade, texts))


def _is_of_trade(text: str) -> bool:
    in_capitals = text.isupper() and _STUDIO.search(text)
    return bool(
        is_of_studio(text)
        or in_capitals
        or _LABORATORY.search(text)
        or _PAPER.search(text)
        or _MAKER.fullmatch(text)
    )


_DATE_STAMP = re.compile(
    r"\W*(?:[0-3]?\d\W+)?(?:JAN|FEB|MAR|APR|MAY|MAI|JUN|JUL|AUG|SEPT?|OCT|OKT|NOV|DE[CZ])\W+(?:(?:19|20)?\d\d)\W*"
)
"""The form of an office's date stamp: a month of three capitals beside figures, and nothing else."""


def is_stamped(text: str) -> bool:
    """Whether a line says by itself that it was stamped, by a laboratory or a studio."""
    return bool(_DATE_STAMP.fullmatch(text)) or bool(
        re.search(r"\b(?:process(?:ed|ing)|developed|printed|week (?:of|ending)|entwickelt)\b", text, re.I)
    )


def paper_words(texts: Sequence[str]) -> str:
    """What lines say that repeat, each with letters misread: the reading that comes most often."""
    counted = Counter(" ".join(text.split()) for text in texts if text)
    return max(counted, key=lambda text: (counted[text], len(text)), default="")
