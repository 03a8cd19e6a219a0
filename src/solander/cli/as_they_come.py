"""Pictures taken in one by one as they arrive: a line for each, until the source ends or Ctrl-C."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import chain
from pathlib import Path

import click

from solander.cli.paper import say, say_trouble
from solander.core.errors import Trouble
from solander.core.prints import Side
from solander.intake.arrivals import Arrival
from solander.intake.sides import SidesRule
from solander.look.words import counted
from solander.tasks.collection import Collection
from solander.tasks.incoming import left_over
from solander.tasks.take_arrivals import TakenIn, TakingArrivals

__all__ = ["Asides", "take_as_they_come"]


class Asides:
    """What a source tells beside its pictures: said at once, and counted for the exit status."""

    def __init__(self) -> None:
        self.count = 0

    def __call__(self, trouble: Trouble) -> None:
        """Says it on stderr."""
        self.count += 1
        say_trouble(trouble)


def take_as_they_come(
    collection: Collection,
    arrivals: Iterable[Arrival],
    *,
    container: str | None,
    sides: SidesRule,
    stage: Path | None = None,
    go_on: str = "run the same command again to go on",
) -> int:
    """Takes in what a source gives, after what it gave before and was not kept; gives how many were set aside.

    Raises
    ------
    KeyboardInterrupt
        On Ctrl-C, after the sum was said and how to `go_on`.
    """
    taking, aside = TakingArrivals(collection, container, sides, stage), 0
    try:
        with taking:
            if taking.stage_said:
                say(taking.stage_said)
            for arrival in chain(list(left_over(collection)), arrivals):
                taken = taking.take(arrival)
                aside += bool(taken.set_aside)
                _say_taken(taken)
    except KeyboardInterrupt:
        _say_sum(taking)
        click.echo(f"Stopped. All that was taken in so far is safe; {go_on}.", err=True)
        raise
    except Trouble:
        _say_sum(taking)
        raise
    _say_sum(taking)
    return aside


def _say_taken(taken: TakenIn) -> None:
    """One line a picture; nothing of those that were here already, which are counted at the end."""
    if taken.set_aside:
        say(taken.set_aside)
    elif taken.beside:
        say(f"{taken.name} is kept beside {taken.beside}: another file of the same shot.")
    elif not taken.known:
        side = {Side.VERSO: " (back)", Side.DETAIL: " (detail)"}.get(taken.side, "")
        say(" ".join([f"{', '.join(taken.accessions)}{side}: {taken.name}.", *taken.faults]))


def _say_sum(taking: TakingArrivals) -> None:
    say(f"{counted(len(taking.prints), 'print')} taken in.")
    if taking.known:
        say(f"Here already and left alone: {counted(taking.known, 'file')}.")
