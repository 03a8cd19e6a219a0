"""What the command line prints on: bars on a terminal, plain lines in a log, one JSON object a line."""

from __future__ import annotations

import json
import os
import sys
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any

import click
from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TaskID, TextColumn, TimeRemainingColumn

from solander.core.errors import Trouble
from solander.tasks import collection
from solander.tasks.collection import Watch

__all__ = ["command", "json_line", "say", "say_trouble", "watched"]

LINE_EVERY_S = 5.0
"""In a log a line of progress comes at most this often."""


def command(words: str) -> str:
    """A command as this person types it: `./run open …` in a checkout, `solander open …` when installed."""
    return f"{os.environ.get('SOLANDER_STARTED_AS', 'solander')} {words}"


def say(text: str = "") -> None:
    """Prints a line of the answer."""
    click.echo(text)


def say_trouble(trouble: Trouble) -> None:
    """Prints on stderr what went wrong, why, and what to do."""
    click.echo(trouble.sentence, err=True)


def json_line(record: Mapping[str, Any]) -> None:
    """Prints one JSON object on a line of its own."""
    click.echo(json.dumps(record, ensure_ascii=False))


@contextmanager
def watched() -> Iterator[Watch]:
    """A place for progress: a bar where a person looks on, else a plain line now and then, both on stderr."""
    if sys.stderr.isatty():
        with _bars() as bars:
            yield _Bars(bars)
    else:
        yield _Lines()


def _bars() -> Progress:
    return Progress(
        TextColumn("{task.description}"),
        BarColumn(bar_width=24),
        MofNCompleteColumn(),
        TimeRemainingColumn(compact=True),
        TextColumn("{task.fields[subject]}", style="dim"),
        console=Console(stderr=True),
        transient=True,
    )


class _Bars:
    def __init__(self, bars: Progress) -> None:
        self._bars = bars
        self._tasks: dict[str, TaskID] = {}

    def __call__(self, progress: collection.Progress) -> None:
        if progress.doing not in self._tasks:
            self._tasks[progress.doing] = self._bars.add_task(progress.doing, subject="")
        self._bars.update(
            self._tasks[progress.doing],
            completed=progress.done,
            total=progress.total,
            subject=progress.subject[-30:],
        )


class _Lines:
    def __init__(self) -> None:
        self._said = time.monotonic()

    def __call__(self, progress: collection.Progress) -> None:
        finished = progress.done == progress.total
        if finished or time.monotonic() - self._said >= LINE_EVERY_S:
            self._said = time.monotonic()
            of = f" of {progress.total}" if progress.total else ""
            click.echo(f"{progress.doing}: {progress.done}{of}", err=True)
