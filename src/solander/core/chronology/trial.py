"""What one answer would do to all ranges, tried without touching the network.

The same propagation as `solander.core.chronology.propagation`, holes included, over sets of days alone: no causes
are kept, and what changes is noted beside the ranges. Slow beside `pushes`, exact beside it where ranges have
holes.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable

from solander.core.chronology.domains import Domain, common, shifted
from solander.core.chronology.pushes import Ties

__all__ = ["Trial"]


class Trial:
    """Tries answers; `domain_of` gives the days that a thing (by number) may be of as things stand."""

    def __init__(self, ties: Ties, domain_of: Callable[[int], Domain]) -> None:
        self._ties = ties
        self._domain_of = domain_of
        self._near: dict[int, list[tuple[int, float, float]]] = {}

    def changed(self, things: Iterable[int], days: Domain) -> dict[int, Domain] | None:
        """All things that change when `things` keep to `days`, with the days left to them; None when they
        can't."""
        changed = {thing: common(self._domain_of(thing), days) for thing in things}
        queue = deque(changed)
        if not all(changed.values()):
            return None
        while queue:
            x = queue.popleft()
            for y, least, most in self._ties_of(x):
                before = changed.get(y) or self._domain_of(y)
                left = common(before, shifted(changed[x], least, most))
                if not left:
                    return None
                if left != before:
                    changed[y] = left
                    queue.append(y)
        return changed

    def _ties_of(self, x: int) -> list[tuple[int, float, float]]:
        if x not in self._near:
            part = slice(self._ties.starts[x], self._ties.starts[x + 1])
            columns = (self._ties.to, self._ties.least, self._ties.most)
            self._near[x] = list(zip(*(column[part].tolist() for column in columns), strict=True))
        return self._near[x]
