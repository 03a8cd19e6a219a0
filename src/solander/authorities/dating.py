"""The table of facts that date photographs: what each bounds, when, and who says so; and finding one by words.

`dating_evidence.csv` was gathered from published guides; `source_title` and `publisher` name them row by row,
`from_memory` says where none was read. Three columns are ours: `bounds` (the printing; the exposure; or, where the
original was in the camera, both); `size_mm`, the size that the words of the row name, in millimetres; `disputed`,
what in the table itself speaks against the years of the row.
"""

from __future__ import annotations

import csv
import re
import unicodedata
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from solander.core.evidence import DatingFact

__all__ = ["dating_facts", "facts_like"]

_ENDING = re.compile(r"(?<=\w{3})(?:ed|es|s|d|e)$")
"""What makes no other word: "deckled" is "deckle", "edges" is "edge"."""

_OF_MOUNTS = {"cdv": ("cdv", "cdv card"), "cabinet": ("cabinet", "cabinet card"), "tintype": ("tintype",) * 2}
"""Groups whose rows tell of one kind of mount or plate only (rounded corners date a carte de visite, and no other
print): the word that must be said, and what may be said."""

_IDLE = frozenset(
    ("a", "an", "and", "as", "at", "by", "for", "from", "in", "it", "like", "of", "on", "or", "the", "with")
)

_SAME_WORDS = {
    "united states": "us",
    "united kingdom": "uk",
    "resin-coated": "rc",
    "resin coated": "rc",
    "carte de visite": "cdv",
    "tax stamp": "revenue stamp",
    "polaroid": "instant",
    "color ": "colour ",
}
"""What people also say, as the table says it."""


@cache
def dating_facts() -> Mapping[str, DatingFact]:
    """The facts of the table by their id."""
    text = files("solander.authorities").joinpath("dating_evidence.csv").read_text(encoding="utf-8")
    return {row["id"]: _fact(row) for row in csv.DictReader(text.splitlines())}


def _fact(row: Mapping[str, Any]) -> DatingFact:
    return DatingFact(
        id=row["id"],
        group=row["group"],
        words=row["evidence"],
        earliest=row["earliest"],
        peak_from=row["peak_from"],
        peak_to=row["peak_to"],
        latest=row["latest"],
        region=row["region"],
        confidence=row["confidence"],
        source=_source(row),
        from_memory=row["from_memory"],
        bounds=row["bounds"],
        note=row["note"],
        disputed=row["disputed"],
        sizes_mm=_sizes(row["size_mm"]),
    )


def _source(row: Mapping[str, str]) -> str:
    if row["from_memory"] == "yes":
        return "common knowledge, no source read"
    partly = "; partly common knowledge, no source read" if row["from_memory"] == "partly" else ""
    return f"{row['publisher']}: {row['source_title']}{partly}"


def _sizes(cell: str) -> tuple[tuple[float, float], ...]:
    sizes = (sorted(float(side) for side in size.split("x")) for size in cell.split(";") if size)
    return tuple((shorter, longer) for shorter, longer in sizes)


def facts_like(words: str) -> tuple[DatingFact, ...]:
    """The facts that words mean: by id ("E124") or by what they say ("deckle edge", "polyester base, glossy").

    Every word must be found in the fact, whole or by its stem. Where several facts fit, one whose name the words
    are ("cabinet card") goes before those that have them among others. None when nothing fits, more than one
    when the words do not tell them apart. What dates a mount must be said of one: "cdv, rounded corners".
    """
    known = dating_facts()
    if (fact := known.get(words.strip().upper())) is not None:
        return (fact,)
    said = _words(words)
    fitting = [fact for fact in known.values() if said and _fits(said, fact)]
    named = [fact for fact in fitting if any(name <= said for name in _names(fact))]
    return tuple(named or fitting)


def _fits(said: frozenset[str], fact: DatingFact) -> bool:
    needed, allowed = _OF_MOUNTS.get(fact.group, ("", ""))
    return _words(needed) <= said <= _words(f"{fact.words}; {allowed}")


def _names(fact: DatingFact) -> list[frozenset[str]]:
    """What stands before the first comma or bracket, each of several names for itself."""
    return [_words(name) for name in re.split(r"[(,]", fact.words)[0].split(" / ")]


@cache
def _words(text: str) -> frozenset[str]:
    """The words of a text by their stems."""
    plain = unicodedata.normalize("NFKC", text).casefold()
    for one, other in _SAME_WORDS.items():
        plain = plain.replace(one, other)
    return frozenset(
        _ENDING.sub("", word) for word in re.findall(r"\d+(?:/\d+)?|[^\W\d_]+", plain) if word not in _IDLE
    )
