"""`solander release`."""

from __future__ import annotations

from pathlib import Path

import click

from solander.cli.paper import command, say, watched
from solander.look.words import counted
from solander.tasks.coarsen import EXACT
from solander.tasks.collection import Collection
from solander.tasks.release import AUDIENCES
from solander.tasks.release import release as hand_over

__all__ = ["release"]


@click.command()
@click.argument("collection", type=click.Path(path_type=Path))
@click.argument("folder", type=click.Path(path_type=Path), metavar="DIR")
@click.option("--audience", type=click.Choice(AUDIENCES), required=True, help="For whom it is.")
@click.option(
    "--places",
    default=EXACT,
    metavar="HOW",
    help="How exactly a family is told where: exact, town, or a grid such as 10km.",
)
def release(collection: Path, folder: Path, audience: str, places: str) -> None:
    """Write a release of COLLECTION into the new folder DIR.

    archive: every capture as it arrived, the views, what is known and who says so,
    with checksums (BagIt). family: a site that opens from disk without any program.
    """
    with Collection.open(collection) as opened, watched() as watch:
        released = hand_over(opened, folder, audience=audience, places=places, watch=watch)
    say(f"{counted(released.prints, 'print')} in {counted(released.files, 'file')}: {released.root}")
    say(f"Prove it whole at any time: {command(f'verify {released.root}')}")
