"""What others did to a thing while somebody was about to change it, in words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

from attrs import frozen

from solander.catalogue.history import Change
from solander.catalogue.records import statement_of
from solander.look.words import says_words
from solander.tasks.collection import Collection

__all__ = ["Meanwhile", "done_meanwhile"]


@frozen
class Meanwhile:
    """One act: when (UTC, RFC 3339), by whom, its sentence, and what was said or withdrawn by it, as pairs of what
    it is about and the words; words are empty for what was withdrawn."""

    at: str
    who: str
    act: str
    said: tuple[tuple[str, str], ...] = ()


def done_meanwhile(collection: Collection, change: int, subjects: Iterable[str]) -> Sequence[Meanwhile]:
    """The acts after that change that touch one of these things: numbers of prints, headings, keys."""
    found = collection.catalogue.changed_since(change, subjects)
    return [_told(list(those)) for _, those in groupby(found, key=lambda each: (each.at, each.act))]


def _told(those: Sequence[Change]) -> Meanwhile:
    first = those[0]
    said = [_statement(one) for one in those if one.table == "statements" and one.after]
    return Meanwhile(first.at, first.who, first.act, tuple(said))


def _statement(change: Change) -> tuple[str, str]:
    assert change.after is not None
    said = statement_of(change.after)
    return says_words(said), "" if change.after["withdrawn"] else said.words
