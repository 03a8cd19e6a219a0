"""How much one sender may send: so much a second, and a little at once."""

from __future__ import annotations

import time
from collections.abc import Callable

from attrs import define, field

__all__ = ["Allowance"]


@define(eq=False)
class Allowance:
    """A bucket that fills at `a_second` up to `at_once` and is emptied by what comes (a token bucket, RFC 2697's
    idea)."""

    a_second: float
    at_once: float
    clock: Callable[[], float] = time.monotonic
    _level: float = field(init=False)
    _filled: float = field(init=False)

    def __attrs_post_init__(self) -> None:
        self._level, self._filled = self.at_once, self.clock()

    def allows(self, amount: float = 1) -> bool:
        """Whether so much may come now; it is counted when it may."""
        now = self.clock()
        self._level = min(self.at_once, self._level + (now - self._filled) * self.a_second)
        self._filled = now
        if amount > self._level:
            return False
        self._level -= amount
        return True
