"""A slot for one picture, and a thread that looks at whatever lies in it."""

from __future__ import annotations

import threading
from collections.abc import Callable

from attrs import define, field

__all__ = ["Newest"]


@define(eq=False)
class Newest:
    """Of the pictures that come in, only the newest waits to be looked at: one that was not gives way to it.

    `look` gets each with the time at which it came; it runs in a thread of its own, which the
    first picture starts.
    """

    look: Callable[[bytes, int], None]
    name: str = "stage"
    _slot: tuple[bytes, int] | None = field(default=None, init=False)
    _filled: threading.Condition = field(factory=threading.Condition, init=False)
    _thread: threading.Thread | None = field(default=None, init=False)
    _closed: bool = field(default=False, init=False)

    def put(self, picture: bytes, at_ms: int) -> None:
        """Lays a picture in; never waits."""
        with self._filled:
            self._slot = (picture, at_ms)
            if self._thread is None and not self._closed:
                self._thread = threading.Thread(target=self._run, name=self.name, daemon=True)
                self._thread.start()
            self._filled.notify()

    def close(self) -> None:
        """Ends the looking, after the picture that is looked at now."""
        with self._filled:
            self._closed = True
            self._filled.notify()
        if self._thread is not None:
            self._thread.join(timeout=5)

    def _run(self) -> None:
        while (taken := self._next()) is not None:
            self.look(*taken)

    def _next(self) -> tuple[bytes, int] | None:
        with self._filled:
            self._filled.wait_for(lambda: self._slot is not None or self._closed)
            taken, self._slot = self._slot, None
            return None if self._closed else taken
