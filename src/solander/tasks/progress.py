"""How far the work is: what is told of the prints, how quickly it goes, and how much longer it takes."""

from __future__ import annotations

import time
from collections.abc import Iterable, Sequence
from datetime import UTC, datetime, timedelta, tzinfo
from threading import Thread

from attrs import define, field, frozen

from solander.catalogue.progress_queries import Counted
from solander.catalogue.writings import BacksCounted
from solander.core.pace import LEAST, SittingsLeft, sittings_left
from solander.core.questions import Asks
from solander.tasks.collection import Collection

__all__ = ["LEAST_OF_A_SITTING", "Counted", "HowFar", "Progressing", "SittingHeld", "sittings_of"]

PAUSE = timedelta(hours=3)
"""After so long without a word a new sitting begins (our choice)."""

LEAST_OF_A_SITTING = 3
"""Fewer prints are a correction made in passing, and no sitting (our choice)."""

PATIENCE_S = 0.4
"""A page waits for counting that takes so long (our choice)."""

_NOTHING = Counted("", 0, 0, 0, 0, 0)

_EVENING = 17
"""From this hour on a sitting is called an evening."""


@frozen
class SittingHeld:
    """One sitting: when it began, local time, and of how many prints something was told first in it."""

    began: datetime
    prints: int


@frozen
class HowFar:
    """How far a collection is as of one moment."""

    all: Counted
    containers: Sequence[Counted]
    edges_unsure: int
    capture_again: int
    questions: int
    sittings: Sequence[SittingHeld]
    left: SittingsLeft | None
    backs: BacksCounted
    copied_to: str
    """Where the second copy was put last, empty where there is none; it may be older than the newest captures."""

    @property
    def undescribed(self) -> int:
        """How many prints are still to be described."""
        return self.all.prints - self.all.described

    @property
    def sittings_missing(self) -> int:
        """How many more sittings a forecast needs."""
        return max(0, LEAST - len(self.sittings))

    @property
    def in_evenings(self) -> bool:
        """Whether most sittings were evenings."""
        evenings = sum(sitting.began.hour >= _EVENING for sitting in self.sittings)
        return 2 * evenings > len(self.sittings)


@define
class Progressing:
    """How far a collection is; counted again only after something was written.

    Where counting takes long, a page does not wait for it again: it shows what was counted last, and the rest is
    counted behind it.
    """

    collection: Collection
    _as_of: int = field(default=-1, init=False)
    _told: HowFar | None = field(default=None, init=False)
    _took_s: float = field(default=0.0, init=False)
    _behind: Thread | None = field(default=None, init=False)

    def now(self) -> HowFar:
        """How far it is now, or was when it was counted last; see `is_older`."""
        if self._told is None or (self.is_older and self._took_s <= PATIENCE_S):
            return self._count()
        if self.is_older and not (self._behind and self._behind.is_alive()):
            self._behind = Thread(target=self._count, daemon=True)
            self._behind.start()
        return self._told

    @property
    def is_older(self) -> bool:
        """Whether something was written since it was counted."""
        return self._as_of != self.collection.catalogue.last_change()

    def _count(self) -> HowFar:
        began, change = time.monotonic(), self.collection.catalogue.last_change()
        self._told = told = _how_far(self.collection)
        self._as_of, self._took_s = change, time.monotonic() - began
        return told


def _how_far(collection: Collection) -> HowFar:
    catalogue = collection.catalogue
    containers = catalogue.counted()
    whole = Counted("", *map(sum, zip(*map(_numbers, containers), strict=True))) if containers else _NOTHING
    sittings = sittings_of(catalogue.described_lately())
    left = sittings_left([one.prints for one in sittings], whole.prints - whole.described)
    copied = catalogue.setting("second_copy").split(" ", 3)
    return HowFar(
        whole,
        containers,
        catalogue.edges_unsure(),
        catalogue.questions_counted().get(Asks.CAPTURE_AGAIN, 0),
        catalogue.questions_waiting(),
        sittings,
        left,
        catalogue.backs_counted(),
        copied[3] if len(copied) == 4 else "",
    )


def _numbers(one: Counted) -> tuple[int, int, int, int, int]:
    return one.prints, one.dated, one.placed, one.named, one.described


def sittings_of(told: Iterable[tuple[str, str]], *, zone: tzinfo | None = None) -> list[SittingHeld]:
    """The sittings in which prints were described: `told` are times (UTC, RFC 3339) and prints, oldest first.

    A print counts in the first sitting in which something is told of it.
    """
    found: list[tuple[datetime, set[str]]] = []
    seen: set[str] = set()
    last = datetime.min.replace(tzinfo=UTC)
    for at, accession in told:
        now = datetime.fromisoformat(at)
        if now - last > PAUSE:
            found.append((now, set()))
        last = now
        if accession not in seen:
            seen.add(accession)
            found[-1][1].add(accession)
    return [
        SittingHeld(began.astimezone(zone), len(prints))
        for began, prints in found
        if len(prints) >= LEAST_OF_A_SITTING
    ]
