"""The prints that were found, and where in what is said of each the words stand."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from attrs import frozen

from solander.core.descriptions import DescribedPrint
from solander.core.found_words import Piece, beginnings, holds, marked
from solander.tasks.collection import Collection
from solander.tasks.described_some import described_some
from solander.tasks.look_for_words import Known

__all__ = ["FoundPrint", "Where", "found_prints"]

_FIELDS = ("accession", "people", "place", "occasion", "caption", "transcription", "note", "machine")

_AROUND = 48
"""Letters that are shown on either side of a word in a long text: about a line (looked at, not measured)."""


@frozen
class Where:
    """Words found in one field of what is said: the `field` of the search documents, and the text in pieces.

    `called` is another name by which it was found, empty where it was found as it stands.
    """

    field: str
    pieces: tuple[Piece, ...]
    called: tuple[Piece, ...] = ()


@frozen
class FoundPrint:
    """A print that was found, with where the words stand."""

    described: DescribedPrint
    where: tuple[Where, ...]


def found_prints(
    collection: Collection, known: Known, accessions: Sequence[str], words: Sequence[str]
) -> list[FoundPrint]:
    """These prints in their order, each with where the words stand in what is said of it."""
    documents = collection.catalogue.documents(accessions) if words else {}
    return [
        FoundPrint(one, tuple(_where(one, documents.get(one.print.accession, {}), known, words)))
        for one in described_some(collection, accessions)
    ]


def _where(
    one: DescribedPrint, document: Mapping[str, Any], known: Known, words: Sequence[str]
) -> Iterator[Where]:
    starts = beginnings(words)
    for field in _FIELDS:
        for line in document.get(field, "").split("\n"):
            if holds(line, starts):
                yield Where(field, _cut(marked(line, starts)))
    place, container = (one.place.name if one.place else ""), (one.print.container or "")
    for word in words:
        other = known.other_names(word)
        for field, name in (("place", place), ("container", container)):
            if name in other:
                yield Where(field, (Piece(name, False),), marked(other[name], beginnings([word])))


def _cut(pieces: tuple[Piece, ...]) -> tuple[Piece, ...]:
    """The pieces with what is far from every found word left out."""
    last = len(pieces) - 1
    return tuple(
        piece if piece.found else Piece(_shortened(piece.text, before=at > 0, after=at < last), False)
        for at, piece in enumerate(pieces)
    )


def _shortened(text: str, *, before: bool, after: bool) -> str:
    """A piece between found words; `before` and `after` tell on which sides one stands."""
    if len(text) <= _AROUND * (before + after) + 2:
        return text
    head = text[:_AROUND].rpartition(" ")[0] + " …" if before else "…"
    tail = (" " if before else "") + text[-_AROUND:].partition(" ")[2] if after else ""
    return f"{head} {tail}" if before and after else head if before else f"… {tail}"
