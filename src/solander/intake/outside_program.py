"""Programs of others through which pictures come: asked a question, or run and listened to until they end."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
from collections.abc import Callable, Iterator
from contextlib import contextmanager
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

_LOOK_S = 0.2


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
        hear: Callable[[IO[str]], None],
        hear_all: bool = False,
        stop: Event | None = None,
    ) -> Iterator[subprocess.Popen[str]]:
        """Runs it in `folder`; it is told to stop when this is left, or when `stop` is set by another thread.

        `hear` reads what it says beside its output, with `hear_all` its output too, in a thread of its own and to
        the end: an unread pipe would stop it.
        """
        # A session of its own: Ctrl-C is ours to pass on, once the picture that is being taken in is safe.
        process = subprocess.Popen(
            [self.path, *options],
            cwd=folder,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT if hear_all else subprocess.PIPE,
            text=True,
            env=_plain(),
            start_new_session=True,
        )
        threads = [Thread(target=hear, args=(process.stdout if hear_all else process.stderr,), daemon=True)]
        if stop is not None:
            threads.append(Thread(target=_stop_when, args=(process, stop), daemon=True))
        for thread in threads:
            thread.start()
        try:
            yield process
        finally:
            _stop(process)
            for thread in threads:
                thread.join()
            for pipe in filter(None, (process.stdout, process.stderr)):
                pipe.close()


def _plain() -> dict[str, str]:
    """Faults are told apart by a program's words, so it must say them in English."""
    return {**os.environ, "LC_ALL": "C", "LANGUAGE": "C"}


def _stop_when(process: subprocess.Popen[str], stop: Event) -> None:
    while process.poll() is None:
        if stop.wait(_LOOK_S):
            _stop(process)


def _stop(process: subprocess.Popen[str]) -> None:
    if process.poll() is not None:
        return
    process.send_signal(signal.SIGINT)
    try:
        process.wait(_STOP_S)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait()
