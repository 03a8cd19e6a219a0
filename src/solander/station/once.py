"""Does what is asked for once, however often it is asked for: what comes over a line that breaks is sent again."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import Future
from typing import Generic, TypeVar

from attrs import define, field

__all__ = ["Once"]

MOST_KNOWN = 500
"""So many of the last are known again (our choice): more than a phone sends that was out of reach."""

_Given = TypeVar("_Given")


@define(eq=False)
class Once(Generic[_Given]):
    """What was done, by the number that the sender gave it."""

    _known: OrderedDict[str, Future[_Given]] = field(factory=OrderedDict, init=False)
    _lock: threading.Lock = field(factory=threading.Lock, init=False)

    def do(self, number: str, doing: Callable[[], _Given]) -> _Given:
        """What `doing` gives, or gave when it was asked for under this number before; without a number it is done.

        What went wrong may be asked for once more.
        """
        mine: Future[_Given] = Future()
        first = self._first(number, mine)
        if first is not mine:
            return first.result()
        try:
            mine.set_result(doing())
        except BaseException as fault:
            mine.set_exception(fault)
            self._known.pop(number, None)
            raise
        return mine.result()

    def _first(self, number: str, mine: Future[_Given]) -> Future[_Given]:
        if not number:
            return mine
        with self._lock:
            while len(self._known) >= MOST_KNOWN:
                self._known.popitem(last=False)
            return self._known.setdefault(number, mine)
