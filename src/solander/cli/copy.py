"""`solander copy`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from solander.cli.paper import say, watched
from solander.tasks.collection import Collection
from solander.tasks.copy import second_copy

__all__ = ["copy"]


@click.command()
@click.argument("collection", type=click.Path(path_type=Path))
@click.argument("target", type=click.Path(path_type=Path))
def copy(collection: Path, target: Path) -> None:
    """Make or refresh a second copy in TARGET, compare both, heal either side.

    Best on another disk, kept in another place.
    """
    with Collection.open(collection) as opened, watched() as watch:
        copied = second_copy(opened, target, watch=watch)
    say(f"Second copy in {target}: {copied.new} files new, {copied.same} already there and the same.")
    for sentence in copied.notes:
        say(sentence)
    if copied.faults:
        for fault in copied.faults:
            say(fault)
        sys.exit(1)
