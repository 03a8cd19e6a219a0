"""What is gathered from all prints of a collection at once, and kept while nothing changes it."""

from __future__ import annotations

from collections.abc import Callable
from threading import Lock
from typing import Generic, TypeVar

from attrs import define, field

from solander.tasks.show import Shown

__all__ = ["Gathered"]

What = TypeVar("What")


@define
class Gathered(Generic[What]):
    """Gathers again only after something was written, or the order of time was worked out."""

    shown: Shown
    gather: Callable[[], What]
    _kept: tuple[tuple[int, int], What] | None = field(default=None, init=False)
    _one_at_a_time: Lock = field(factory=Lock, init=False)

    def now(self) -> What:
        """As it is now, the same object while nothing changes; pages that ask at once wait for one gathering."""
        self.shown.settle()
        catalogue = self.shown.collection.catalogue
        with self._one_at_a_time:
            state = catalogue.last_change(), catalogue.standing_change()
            if self._kept is None or self._kept[0] != state:
                self._kept = state, self.gather()
            return self._kept[1]
