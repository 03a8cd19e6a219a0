"""The table of facts that date photographs: what each bounds, when, and who says so; and finding one by words.

`dating_evidence.csv` was gathered from published guides; `source_title` and `publisher` name them row by row,
`from_memory` says where none was read. Three columns are ours: `bounds` (the printing; the exposure; or, where the
original was in the camera, both); `size_mm`, the size that the words of the row name, in millimetres; `disputed`,
what in the table itself speaks against the years of the row. `dating_sources.csv` is ours too: how each publisher
is named shortly.
"""

from __future__ import annotations

import csv
import re
import unicodedata
from collections import Counter
from collections.abc import Mapping
from difflib import get_close_matches
from functools import cache
from importlib.resources import files
from typing import Any

from solander.core.evidence import DatingFact
from solander.core.sentence import Sentence

__all__ = ["dating_facts", "facts_like", "facts_near"]

_ENDING = re.compile(r"(?<=\w{3})(?:ed|es|s|d|e)$")
"""What makes no other word: "deckled" is "deckle", "edges" is "edge"."""

_OF_MOUNTS = {"cdv": ("cdv", "cdv card"), "cabinet": ("cabinet", "cabinet card"), "tintype": ("tintype",) * 2}
"""Groups whose rows tell of one kind of mount or plate only (rounded corners date a carte de visite, and no other
print): the word that must be said, and what may be said."""

_IDLE = frozenset(
    ("a", "an", "and", "as", "at", "by", "for", "from", "in", "it", "like", "of", "on", "or", "the", "with")
)

_TRADE_WORDS = frozenset(("print", "photo", "photograph", "picture", "paper", "image", "old", "card"))
"""What may be said of anything here, and is dropped where nothing fits with it."""

_SAME_WORDS = {
    "united states": "us",
    "united kingdom": "uk",
    "resin[- ]coated": "rc",
    "cartes? de visite": "cdv",
    "tax stamp": "revenue stamp",
    "polaroid": "instant",
    "color": "colour",
    "(?:zig-?zag|wavy|serrated|pinked|ragged)": "deckle",
    "b(?:ü|ue?)ttenrand": "deckle edge",
    "(?:real photo post ?cards?|rppc)": "stamp box",
}
"""What people also say, as the table says it. A postcard that is a photograph is dated by its stamp box."""

_CLOSE = 0.85
"""So like a word of the table must another be to be taken for it misspelt (`difflib` ratio of the stems: "dekle"
has 0.89, "polyestre" 0.94, "cyanotipe" 0.88; "unicorn" and "union" have 0.83)."""


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
        cited=_cited(row),
    )


def _source(row: Mapping[str, str]) -> str:
    if row["from_memory"] == "yes":
        return Sentence("common knowledge, no source read")
    source = f"{row['publisher']}: {row['source_title']}"
    if row["from_memory"] == "partly":
        return Sentence("%(source)s; partly common knowledge, no source read", source=source)
    return source


def _cited(row: Mapping[str, str]) -> str:
    """The source as it stands behind a sentence."""
    if row["from_memory"] == "yes":
        return Sentence("common knowledge")
    source = _short_sources()[row["publisher"]]
    return (
        Sentence("%(source)s, partly common knowledge", source=source)
        if row["from_memory"] == "partly"
        else source
    )


@cache
def _short_sources() -> Mapping[str, str]:
    text = files("solander.authorities").joinpath("dating_sources.csv").read_text(encoding="utf-8")
    return {row["publisher"]: row["cited"] for row in csv.DictReader(text.splitlines())}


def _sizes(cell: str) -> tuple[tuple[float, float], ...]:
    sizes = (sorted(float(side) for side in size.split("x")) for size in cell.split(";") if size)
    return tuple((shorter, longer) for shorter, longer in sizes)


def facts_like(words: str) -> tuple[DatingFact, ...]:
    """The facts that words mean: by id ("E124") or by what they say ("deckle edge", "polyester base, glossy").

    Every word must be found in the fact, whole or by its stem; where no fact has them all, words of the trade that
    say nothing ("print", "photo") may be missing. Where several facts fit, one whose name the words are ("cabinet
    card") goes before those that have them among others. None when nothing fits, more than one when the words do
    not tell them apart. What dates a mount must be said of one: "cdv, rounded corners".
    """
    if (fact := dating_facts().get(words.strip().upper())) is not None:
        return (fact,)
    said = _words(words)
    return _having(said) or _having(said - _TRADE_WORDS)


def _having(said: frozenset[str]) -> tuple[DatingFact, ...]:
    fitting = [fact for fact in dating_facts().values() if said and _fits(said, fact)]
    named = [fact for fact in fitting if any(name <= said for name in _names(fact))]
    return tuple(named or fitting)


def facts_near(words: str, *, most: int = 5) -> tuple[DatingFact, ...]:
    """The facts closest to words that `facts_like` finds in none, best first, `most` at most; for "Did you mean".

    By the words that they share, misspelt ones too; a word counts the more the fewer facts have it, and a fact of
    which more is told goes first. None where no word is shared but those of the trade.
    """
    said = frozenset(_known_word(word) for word in _words(words) - _TRADE_WORDS)
    scored = [(_nearness(said, _all_words(fact)), fact) for fact in dating_facts().values()]
    best = sorted((each for each in scored if each[0] > (0, 0)), key=lambda each: each[0], reverse=True)
    return tuple(fact for _, fact in best[:most])


def _nearness(said: frozenset[str], of_fact: frozenset[str]) -> tuple[float, float]:
    """How much of the words is in the fact, and how much of the fact in the words."""
    shared = said & of_fact
    return sum(1 / _having_word()[word] for word in shared), len(shared) / len(of_fact)


@cache
def _having_word() -> Counter[str]:
    """How many facts have a word."""
    return Counter(word for fact in dating_facts().values() for word in _all_words(fact))


def _all_words(fact: DatingFact) -> frozenset[str]:
    _, mount = _OF_MOUNTS.get(fact.group, ("", ""))
    return _words(f"{fact.words}; {mount}; {fact.group}")


def _known_word(word: str) -> str:
    """The word, or the one of the table that it is a misspelling of."""
    known = _having_word()
    return word if word in known else next(iter(get_close_matches(word, known, 1, _CLOSE)), word)


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
        plain = re.sub(rf"\b{one}\b", other, plain)
    return frozenset(
        _ENDING.sub("", word) for word in re.findall(r"\d+(?:/\d+)?|[^\W\d_]+", plain) if word not in _IDLE
    )
