"""`solander new`."""

from __future__ import annotations

from pathlib import Path

import click

from solander.cli.paper import command, say
from solander.tasks.collection import Collection

__all__ = ["new"]


@click.command()
@click.argument("collection", type=click.Path(path_type=Path))
@click.option("--title", default="", help="What the collection is called; the folder's name otherwise.")
def new(collection: Path, title: str) -> None:
    """Make an empty collection in the folder COLLECTION."""
    with Collection.create(collection, title=title):
        say(f"An empty collection waits in {collection}.")
        say(f"Next: {command(f'accession {collection} FOLDER-WITH-PICTURES')}")
