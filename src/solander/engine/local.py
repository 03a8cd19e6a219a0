"""Batches on this machine: in this process, or on a pool of processes.

Every executor hands results back in the order of the items and keeps only a small window of them in flight, so a
folder of any length runs in bounded memory. Workers return values; the caller alone writes.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing.connection import wait
from threading import Thread
from types import TracebackType
from typing import Protocol, Self, TypeVar

from attrs import define, field

from solander.core.errors import Trouble
from solander.core.sentence import Sentence

__all__ = ["Executor", "ProcessExecutor", "SerialExecutor", "WorkerDied", "end_with_parent", "local_executor"]

Item = TypeVar("Item")
Result = TypeVar("Result")


class WorkerDied(Trouble):
    """The process that worked on an item ended without an answer (a crash in a decoder, or no memory)."""


class Executor(Protocol):
    """Where a batch runs; a context manager."""

    def map(
        self, function: Callable[[Item], Result], items: Iterable[Item]
    ) -> Iterator[tuple[Item, Result | Trouble]]:
        """Each item with its result, in the order of the items; a `Trouble` raised by the function is handed
        back in the result's place, so that one bad item never stops the rest."""
        ...

    def __enter__(self) -> Self: ...

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None: ...


def _outcome(function: Callable[[Item], Result], item: Item) -> Result | Trouble:
    try:
        return function(item)
    except Trouble as trouble:
        return trouble


class SerialExecutor:
    """Everything in this process, one item after the other."""

    def map(
        self, function: Callable[[Item], Result], items: Iterable[Item]
    ) -> Iterator[tuple[Item, Result | Trouble]]:
        """Each item with its result."""
        return ((item, _outcome(function, item)) for item in items)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        return None


def end_with_parent() -> None:
    """Ends this process as soon as the one that began it is gone, however that ended: nobody takes what it works
    out. Without this the workers of a killed program would wait for work for ever."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        Thread(target=_end_after, args=(parent.sentinel,), name="ends with its parent", daemon=True).start()


def _end_after(sentinel: int) -> None:
    wait([sentinel])
    os._exit(0)


def _start_worker() -> None:
    # Ctrl-C reaches the whole process group; the parent decides when to stop, workers finish their item.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    end_with_parent()
    # The pool is the parallelism: a worker that also starts threads only makes them fight for the cores.
    import cv2

    cv2.setNumThreads(1)


def _new_pool(workers: int) -> ProcessPoolExecutor:
    # A fresh interpreter, never a fork: forking a process whose libraries run threads can hang the child.
    context = multiprocessing.get_context("spawn")
    return ProcessPoolExecutor(workers, mp_context=context, initializer=_start_worker)


@define
class ProcessExecutor:
    """A pool of `workers` processes with at most `window` items in flight."""

    workers: int
    window: int = 0
    _pool: ProcessPoolExecutor | None = field(default=None, init=False)

    def map(
        self, function: Callable[[Item], Result], items: Iterable[Item]
    ) -> Iterator[tuple[Item, Result | Trouble]]:
        """Each item with its result; an item whose process dies twice comes back as `WorkerDied`."""
        waiting: deque[tuple[Item, Future[Result | Trouble]]] = deque()
        for item in items:
            waiting.append((item, self._submit(function, item)))
            if len(waiting) >= (self.window or 2 * self.workers):
                yield self._finish(function, *waiting.popleft())
        while waiting:
            yield self._finish(function, *waiting.popleft())

    def _submit(self, function: Callable[[Item], Result], item: Item) -> Future[Result | Trouble]:
        if self._pool is None:
            self._pool = _new_pool(self.workers)
        try:
            return self._pool.submit(_outcome, function, item)
        except BrokenProcessPool:
            self._pool = _new_pool(self.workers)
            return self._pool.submit(_outcome, function, item)

    def _finish(
        self, function: Callable[[Item], Result], item: Item, future: Future[Result | Trouble]
    ) -> tuple[Item, Result | Trouble]:
        try:
            return item, future.result()
        except BrokenProcessPool:
            return item, _alone(function, item)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._pool is not None:
            self._pool.shutdown(wait=True, cancel_futures=True)
            self._pool = None


def _alone(function: Callable[[Item], Result], item: Item) -> Result | Trouble:
    """The result of an item that was in flight when a process died: a second try in a process of its own
    tells the culprit from those that merely shared the pool with it."""
    with _new_pool(1) as pool:
        try:
            return pool.submit(_outcome, function, item).result()
        except BrokenProcessPool:
            return WorkerDied(
                Sentence("%(item)s could not be worked on", item=item),
                Sentence("the program that reads it ended without an answer"),
                Sentence(
                    "Try again with this file alone; if it fails again, save it as a new file with another program"
                ),
            )


def local_executor(workers: int | None = None) -> Executor:
    """A pool with one worker a processor, or this process alone where there is only one."""
    workers = workers or _processors()
    return ProcessExecutor(workers) if workers > 1 else SerialExecutor()


def _processors() -> int:
    # The processors this process may use; a container often has fewer than the machine.
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else (os.cpu_count() or 1)
