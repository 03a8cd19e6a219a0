"""The words by which parts of a saying at the stand are told apart; English, German and French, from memory."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

__all__ = [
    "CORRECTION",
    "LITTLE",
    "MARKS",
    "NOBODY",
    "OCCASION",
    "PARTS",
    "PEOPLE",
    "SAME",
    "WHERE",
    "WITHOUT",
    "rest_of",
    "without_rest",
]

CORRECTION = re.compile(r"^\s*(?:no|nein|non|sorry|pardon)\b[\s,:;.–-]+(?!one\b|body\b|people\b)", re.IGNORECASE)
PARTS = re.compile(r"\s*[,;\n]\s*|(?<=[^\W\d_]{3})\.\s+")
WITHOUT = re.compile(r"^(?:without|not|ohne|sans)\s+(?P<who>.+)$", re.IGNORECASE)
SAME = re.compile(
    r"^(?:the\s+)?(?:same|as before|dieselben?|derselbe|dasselbe|gleiche[rns]?|les? mêmes?|la même)"
    r"(?:\s+(?:people|persons?|place|date|day|occasion|again|leute|personen|ort|tag|datum|anlass|gens|personnes|"
    r"lieu|jour|occasion))?$",
    re.IGNORECASE,
)
NOBODY = re.compile(r"^(?:nobody|no ?one|no people|niemand|keine leute|personne)$", re.IGNORECASE)
PEOPLE = re.compile(r"^(?:(?P<more>and(?: also)?|also|plus|und(?: auch)?|auch|et(?: aussi)?|aussi)\s+)?"
                     r"(?:(?P<lead>with|showing|shows|mit|avec)\s+)?(?P<who>.+)$", re.IGNORECASE)  # fmt: skip
OCCASION = re.compile(r"^(?:occasion|event|anlass|ereignis|événement)\s*:?\s+(?P<name>.+)$", re.IGNORECASE)
WHERE = re.compile(r"^(?:in|at|near|from|bei|aus|à|en|dans)\s+(?P<rest>.+)$", re.IGNORECASE)
LITTLE = re.compile(r"^(?:and|und|et)\s+|(?:^|\s+)(?:in|at|on|im|am|en|le)$", re.IGNORECASE)
MARKS = re.compile(r"\s+(?=(?:with|mit|avec|without|ohne|sans|in|at|near|bei|à|en)\s)", re.IGNORECASE)


def rest_of(words: str, unused: Sequence[str]) -> Iterator[str]:
    """The stretches of words that a date left over, as they stand."""
    begun, stretch = 0, ""
    for each in unused:
        at = words.find(each, begun)
        if at < 0:
            continue
        if stretch and words[begun:at].strip():
            yield stretch
            stretch = ""
        stretch = f"{stretch} {each}".strip()
        begun = at + len(each)
    if stretch:
        yield stretch


def without_rest(words: str, rest: Sequence[str]) -> str:
    """What the date was read from."""
    for each in rest:
        words = words.replace(each, " ", 1)
    return " ".join(words.split())
