"""Works the whole order out in a process of its own, while pages go on being read.

A process, not a thread: a thread that calculates for a minute would make every page wait its turn. It is nicer
than the pages' own process, writes when it is done, and ends, so that its memory is free again.
"""

from __future__ import annotations

import gc
import multiprocessing
import os
import signal
import time
from multiprocessing.process import BaseProcess
from pathlib import Path

from attrs import define, field

from solander.core.chronology import Guesser
from solander.engine.local import end_with_parent
from solander.tasks.collection import Collection
from solander.tasks.standing import holds, keep_all

__all__ = ["Behind", "work_out"]

_NICER = 5

_LEAVE_S = 10.0
"""Seconds in which it must have ended when it is told to (our choice)."""

_QUIET_S, _LONGEST_WAIT_S = 2.0, 60.0
"""Seconds without a change before it begins, and after which it begins all the same (our choice)."""


@define
class Behind:
    """Whoever works the order of one collection out behind the pages; one process at a time."""

    root: Path
    _process: BaseProcess | None = field(default=None, init=False)

    @property
    def at_work(self) -> bool:
        """Whether it is being worked out just now."""
        return self._process is not None and self._process.is_alive()

    def start(self) -> None:
        """Begins to work out, unless that is going on already."""
        if not self.at_work:
            context = multiprocessing.get_context("spawn")
            self._process = context.Process(target=work_out, args=(self.root,), daemon=True)
            self._process.start()

    def wait(self, timeout_s: float | None = None) -> None:
        """Waits until it is done, at most so long."""
        if self._process is not None:
            self._process.join(timeout_s)

    def stop(self) -> None:
        """Ends it; what it would have written can be worked out again."""
        if self._process is not None and self._process.is_alive():
            self._process.terminate()
            self._process.join(_LEAVE_S)
            self._process.kill()  # unless it is gone


def work_out(root: Path) -> None:
    """Works out and keeps where every print of the collection stands, again until nothing was changed meanwhile.

    It begins when nothing was written for a while: who describes prints writes every few seconds.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C reaches the whole group; the workbench decides
    end_with_parent()  # what is half written then is taken back by the database
    if hasattr(os, "nice"):
        os.nice(_NICER)
    gc.disable()  # what is made here is kept to the end, and the process ends then
    guesser = Guesser()
    with Collection.open(root) as collection:
        while not holds(collection):
            _wait_for_quiet(collection)
            keep_all(collection, guesser=guesser)


def _wait_for_quiet(collection: Collection) -> None:
    until = time.monotonic() + _LONGEST_WAIT_S
    change = -1
    while change != (now := collection.catalogue.last_change()) and time.monotonic() < until:
        change = now
        time.sleep(_QUIET_S)
