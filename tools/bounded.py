"""Runs a command that may not run for ever: it is shown as it goes, and ended with all that it began when it takes
too long. Standard library only."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from threading import Thread
from typing import IO

__all__ = ["Shown", "run_shown"]

LEAVE_S = 10.0
"""Seconds in which a command that was told to end must have ended, and its output must close after its end."""

OWN_GROUP = os.name == "posix"
"""Where a command has a group of processes of its own, all that it began ends with it."""


@dataclass
class Shown:
    """How a command went: its status (None when it had to be ended), and the last line that it said."""

    status: int | None = None
    last_line: str = ""


def run_shown(
    command: list[str], cwd: Path, *, most_s: float, environment: Mapping[str, str] | None = None
) -> Shown:
    """Runs `command` for `most_s` seconds at most.

    A Python that has `faulthandler` on tells where each of its threads was when it is ended. The command is ended
    as well when this program is told to end.
    """
    shown = Shown()
    running = subprocess.Popen(
        command,
        cwd=cwd,
        env=environment,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        errors="replace",
        start_new_session=OWN_GROUP,
    )
    assert running.stdout is not None
    reading = Thread(target=_show, args=(running.stdout, shown), daemon=True)
    reading.start()
    try:
        shown.status = running.wait(most_s)
    except subprocess.TimeoutExpired:
        _say(f"It took more than {most_s / 60:g} minutes and is ended now; where it was stands below.")
        _end(running, signal.SIGABRT)
    except BaseException:
        _end(running, signal.SIGINT)
        raise
    reading.join(LEAVE_S)
    if reading.is_alive():
        _say("Something that it began goes on after its end, and is ended now.")
        _signal(running, getattr(signal, "SIGKILL", signal.SIGTERM))
        reading.join(LEAVE_S)
    return shown


def _show(output: IO[str], shown: Shown) -> None:
    with output:
        for line in output:
            sys.stdout.write(line)
            sys.stdout.flush()
            shown.last_line = line.strip() or shown.last_line


def _end(running: subprocess.Popen[str], first: int) -> None:
    """Ends a command: by the signal `first`, after which it may still say something, then in any case."""
    if OWN_GROUP:
        _signal(running, first)
        with suppress(subprocess.TimeoutExpired):
            running.wait(LEAVE_S)
        _signal(running, signal.SIGKILL)
    else:
        running.kill()
    running.wait()


def _signal(running: subprocess.Popen[str], which: int) -> None:
    """To the whole group, which may be gone."""
    if not OWN_GROUP:
        return
    with suppress(ProcessLookupError):
        os.killpg(running.pid, which)


def _say(sentence: str) -> None:
    print(f"\n!!! {sentence}", flush=True)
