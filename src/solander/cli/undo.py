"""`solander undo`."""

from __future__ import annotations

from pathlib import Path

import click

from solander.cli.paper import say
from solander.tasks.collection import Collection

__all__ = ["undo"]


@click.command()
@click.argument("collection", type=click.Path(path_type=Path))
def undo(collection: Path) -> None:
    """Take the last change back. Captures are never taken back."""
    with Collection.open(collection) as opened:
        say(f"Undone, as if it had not happened: {opened.catalogue.undo('archivist')}.")
        say("Pictures that came in are still kept; taking the same files in again brings their prints back.")
