"""`solander people` and `solander places`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from solander.cli.paper import say
from solander.look.words import counted
from solander.tasks.collection import Collection
from solander.tasks.lists import TakenIn, take_in_people, take_in_places

__all__ = ["people", "places"]


@click.command()
@click.argument("collection", type=click.Path(path_type=Path))
@click.argument("file", type=click.Path(path_type=Path))
def people(collection: Path, file: Path) -> None:
    """Take in people from FILE, a CSV with name, also_called, born, died.

    Names in also_called are separated by semicolons. Dates may be written 1921,
    1921-03-05, 1921~ for about 1921, or in words: 5 March 1921. Taking a file in
    again updates; dates of prints that follow from a life are read again.
    """
    with Collection.open(collection) as opened:
        _report("person", "people", take_in_people(opened, file))


@click.command()
@click.argument("collection", type=click.Path(path_type=Path))
@click.argument("file", type=click.Path(path_type=Path))
def places(collection: Path, file: Path) -> None:
    """Take in places from FILE, a CSV with name, country, latitude, longitude, radius_m.

    The radius, in metres, is that of the smallest circle around the whole place.
    Taking a file in again updates.
    """
    with Collection.open(collection) as opened:
        _report("place", "places", take_in_places(opened, file))


def _report(one: str, many: str, taken_in: TakenIn) -> None:
    say(f"{counted(taken_in.count, one, many)} taken in.")
    for sentence in taken_in.set_aside:
        say(sentence)
    if taken_in.changed:
        say(f"{counted(len(taken_in.changed), 'date')} read again:")
        for sentence in taken_in.changed:
            say(f"  {sentence}")
    if taken_in.set_aside:
        sys.exit(1)
