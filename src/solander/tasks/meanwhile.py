"""What others did to a thing while somebody was about to change it, in words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

from attrs import frozen

from solander.core.statements import Says
from solander.tasks.change_words import ChangeShown, shown
from solander.tasks.collection import Collection

__all__ = ["Meanwhile", "done_meanwhile"]


@frozen
class Meanwhile:
    """One act: when (UTC, RFC 3339), by whom, its sentence, and what it changed of the thing."""

    at: str
    who: str
    act: str
    changes: tuple[ChangeShown, ...] = ()


def done_meanwhile(
    collection: Collection, change: int, subjects: Iterable[str], *, says: Says | None = None
) -> Sequence[Meanwhile]:
    """The acts after that change that touch one of these things: numbers of prints, headings, keys; with `says`
    only those that say, or take back, something of that kind."""
    found = collection.catalogue.changed_since(change, subjects)
    if says is not None:
        found = [one for one in found if (one.after or one.before or {}).get("says") == says]
    acts = [list(those) for _, those in groupby(found, key=lambda each: (each.who, each.act))]
    return [Meanwhile(act[0].at, act[0].who, act[0].act, tuple(map(shown, act))) for act in acts]
