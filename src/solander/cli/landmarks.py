"""`solander landmarks`."""

from __future__ import annotations

from pathlib import Path

import click

from solander.cli.paper import say
from solander.look.words import counted
from solander.tasks.place_packs import take_in_pack

__all__ = ["landmarks"]


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
def landmarks(file: Path) -> None:
    """Take in the landmarks of a country, for all collections.

    FILE is a country file of GeoNames (download.geonames.org/export/dump, such as
    NO.txt): houses, farms, lakes, churches and hills besides the towns.
    """
    say(f"{counted(take_in_pack(file), 'place')} of {file.name} taken in, for all collections.")
