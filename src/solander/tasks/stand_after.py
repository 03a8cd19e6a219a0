"""What can wait until hands are off the print: looking alike, the right way up, faces, contradictions.

It is worked out a little after a print was taken, as a part of the act by which it was, so that taking that act
back takes all of it.
"""

from __future__ import annotations

import threading
import time
import traceback
from collections.abc import Sequence

from attrs import define, field, frozen

from solander.catalogue.store import Act
from solander.core.errors import Trouble
from solander.engine.local import SerialExecutor
from solander.tasks.collection import Collection, unwatched
from solander.tasks.duplicates import ask_about_duplicates
from solander.tasks.look_for_faces import look_at_new_prints
from solander.tasks.put_in_order import ask_about_contradictions
from solander.tasks.upright import turn_as_neighbours

__all__ = ["Afterwards"]

QUIET_S = 3.0
"""Seconds after the last print until the work begins: whoever lays the next one down at once is not held up."""


@frozen
class _Due:
    act: Act
    accessions: tuple[str, ...]


@define
class Afterwards:
    """The work of one station that waits, done by a thread of its own, which ends when nothing is left."""

    collection: Collection
    quiet_s: float = field(factory=lambda: QUIET_S)
    _due: list[_Due] = field(factory=list, init=False)
    _lock: threading.Lock = field(factory=threading.Lock, init=False)
    _working: threading.Lock = field(factory=threading.Lock, init=False)
    _thread: threading.Thread | None = field(default=None, init=False)
    _last: float = field(default=0.0, init=False)

    def add(self, act: Act, accessions: Sequence[str]) -> None:
        """These prints were taken by that act."""
        with self._lock:
            self._due.append(_Due(act, tuple(accessions)))
            self._last = time.monotonic()
            if self._thread is None:
                self._thread = threading.Thread(target=self._run, name="after taking", daemon=True)
                self._thread.start()

    def forget(self, act: int) -> None:
        """Nothing more is done for an act that is about to be taken back; waits for what is just being done."""
        with self._working, self._lock:
            self._due = [one for one in self._due if one.act.number != act]

    def finish(self) -> None:
        """Does at once, and waits for, all that is due."""
        while self._work_on_next():
            pass

    def _run(self) -> None:
        while True:
            with self._lock:
                if not self._due:
                    self._thread = None
                    return
                wait = self._last + self.quiet_s - time.monotonic()
            if wait > 0:
                time.sleep(wait)
            else:
                self._work_on_next()

    def _work_on_next(self) -> bool:
        with self._working:
            with self._lock:
                due = self._due.pop(0) if self._due else None
            if due is not None:
                self._work(due)
        return due is not None

    def _work(self, due: _Due) -> None:
        try:
            there = self.collection.catalogue.listed_of(due.accessions)
            new = [one for one in due.accessions if one in there]
            if not new:
                return
            turn_as_neighbours(self.collection, due.act, new)
            ask_about_duplicates(self.collection, due.act, new)
            look_at_new_prints(self.collection, due.act, executor=SerialExecutor(), watch=unwatched)
            ask_about_contradictions(self.collection, due.act, only_near=True)
        except Trouble:
            # What can't be done now comes up again: pages and the next take-in look at the same things.
            return
        except Exception:  # of ours: it is shown where the program runs, and the next print has its turn
            traceback.print_exc()
