"""Programs of others through which pictures come: asked a question, or run and listened to until they end."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from threading import Event, Thread
from typing import IO

from attrs import frozen

from solander.core.errors import CannotBegin

__all__ = ["OutsideProgram"]

_PATIENCE_S = 60
"""So long a program may take to answer: some look for devices all over the network (our choice)."""

_STOP_S = 20
"""So long it may take to stop when it is told to, so that a lamp goes back or a camera is let go (our choice)."""

_END_S = 5
"""So long it may take to end once it has nothing more to say: some hang as they let a device go (our choice)."""

_LOOK_S = 0.2

_ANY_BYTES = "replace"
"""Names of devices and files are in any encoding: one that is not ours must not end the listening."""


@frozen
class OutsideProgram:
    """A program by the `name` of its command; `missing` says what can't be done without it, why, and how to get
    it."""

    name: str
    missing: tuple[str, str, str]

    @property
    def path(self) -> str:
        """Where it is.

        Raises
        ------
        CannotBegin
            When it is not installed.
        """
        found = shutil.which(self.name)
        if found is None:
            raise CannotBegin(*self.missing)
        return found

    def asked(self, *options: str) -> subprocess.CompletedProcess[str] | None:
        """What it answers; None when it does not within a minute."""
        try:
            return subprocess.run(
                [self.path, *options],
                stdin=subprocess.DEVNULL,
                capture_output=True,
                text=True,
                errors=_ANY_BYTES,
                env=_plain(),
                timeout=_PATIENCE_S,
                check=False,
            )
        except subprocess.TimeoutExpired:
            return None

    @contextmanager
    def running(
        self,
        *options: str,
        folder: Path,
        hear: Callable[[IO[str]], Iterator[None]],
        hear_all: bool = False,
        stop: Event | None = None,
    ) -> Iterator[subprocess.Popen[str]]:
        """Runs it in `folder`; it is told to stop when this is left, or when `stop` is set by another thread.

        `hear` reads what it says beside its output, with `hear_all` its output too, in a thread of its own and to
        the end, as an unread pipe would stop it; or until words after which there is only its end: a program that
        does not come to it is ended. It yields where the program begins another picture: one that was told to stop
        has missed that, and is told again.
        """
        # A session of its own: Ctrl-C is ours to pass on, once the picture that is being taken in is safe.
        process = subprocess.Popen(
            [self.path, *options],
            cwd=folder,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT if hear_all else subprocess.PIPE,
            text=True,
            errors=_ANY_BYTES,
            env=_plain(),
            start_new_session=True,
        )
        words = process.stdout if hear_all else process.stderr
        told = Event()
        threads = [Thread(target=_hear_out, args=(process, hear, words, told), daemon=True)]
        if stop is not None:
            threads.append(Thread(target=_stop_when, args=(process, stop, told), daemon=True))
        for thread in threads:
            thread.start()
        try:
            yield process
        finally:
            _stop(process, told)
            for thread in threads:
                thread.join()
            for pipe in filter(None, (process.stdout, process.stderr)):
                pipe.close()


def _plain() -> dict[str, str]:
    """Faults are told apart by a program's words, so it must say them in English."""
    return {**os.environ, "LC_ALL": "C", "LANGUAGE": "C"}


def _hear_out(
    process: subprocess.Popen[str], hear: Callable[[IO[str]], Iterator[None]], words: IO[str], told: Event
) -> None:
    for _ in hear(words):
        if told.is_set():
            process.send_signal(signal.SIGINT)
    _end(process, _END_S)


def _stop_when(process: subprocess.Popen[str], stop: Event, told: Event) -> None:
    while process.poll() is None:
        if stop.wait(_LOOK_S):
            _stop(process, told)


def _stop(process: subprocess.Popen[str], told: Event) -> None:
    if process.poll() is None:
        process.send_signal(signal.SIGINT)
        told.set()
        _end(process, _STOP_S)


def _end(process: subprocess.Popen[str], patience_s: float) -> None:
    """Waits for its end, and then ends it with all that it started: one left behind would hold our pipes open."""
    try:
        process.wait(patience_s)
    except subprocess.TimeoutExpired:
        with suppress(ProcessLookupError):
            os.killpg(process.pid, signal.SIGKILL)
        process.wait()
