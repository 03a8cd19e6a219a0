"""Which files of a folder have come to rest: a pure part of the hot folder, without clock or disk.

A file is copied, downloaded or scanned bit by bit, and no system tells when it is whole. So a file is tried once
its size and its time of change have stayed as they are for a while; one that proves not to be whole is tried
again after its next change, and told of when it has not changed for long.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from attrs import define, field, frozen

__all__ = ["Settling", "Stamp"]


@frozen
class Stamp:
    """What tells that a file has changed: size in bytes and time of change in nanoseconds."""

    size: int
    changed_ns: int


@define
class _Waiting:
    stamp: Stamp
    since: float
    why: str = ""
    tried: bool = False


@define
class Settling:
    """The files that are not yet whole. Times are seconds of any clock that only goes forward.

    A file is due `rest_s` after its last change, and given up `patience_s` after it.
    """

    rest_s: float
    patience_s: float
    _waiting: dict[Path, _Waiting] = field(factory=dict, init=False)
    _done: dict[Path, Stamp] = field(factory=dict, init=False)

    def see(self, path: Path, stamp: Stamp | None, now: float) -> None:
        """Tells how a file stands now; None where it is gone. One that was done counts anew when it changed, not
        when it went and came back as it was, with the card that it lies on.
        """
        if stamp is None:
            self._waiting.pop(path, None)
            return
        if self._done.get(path) == stamp:
            return
        waiting = self._waiting.get(path)
        if waiting is None or waiting.stamp != stamp:
            self._waiting[path] = _Waiting(stamp, now)

    def due(self, now: float) -> list[Path]:
        """The files that have rested and were not tried since, in the order in which they came."""
        return [path for path, one in self._waiting.items() if not one.tried and now - one.since >= self.rest_s]

    def whole(self, path: Path) -> None:
        """A file proved to be whole."""
        self._done[path] = self._waiting.pop(path).stamp

    def leave(self) -> None:
        """All files that are there now are left alone, as long as they stay as they are."""
        self._done |= {path: one.stamp for path, one in self._waiting.items()}
        self._waiting.clear()

    def not_whole(self, path: Path, why: str) -> None:
        """A file was tried and is not whole, or is no picture at all."""
        self._waiting[path].tried, self._waiting[path].why = True, why

    def given_up(self, now: float) -> dict[Path, str]:
        """Files that were tried in vain and have not changed for long, each with the reason, each told once."""
        told = {
            path: one.why
            for path, one in self._waiting.items()
            if one.tried and now - one.since >= self.patience_s
        }
        for path in told:
            self._done[path] = self._waiting.pop(path).stamp
        return told

    @property
    def waiting(self) -> Mapping[Path, Stamp]:
        """The files that may yet become whole."""
        return {path: one.stamp for path, one in self._waiting.items()}
