"""`solander places`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from solander.cli.paper import say
from solander.core.errors import CannotBegin
from solander.look.words import counted
from solander.tasks.collection import Collection
from solander.tasks.keep_places import lay_circle, position_in
from solander.tasks.names import USUAL_RADIUS_M
from solander.tasks.places import mean_place, place_in_words, place_reader, understand_places
from solander.tasks.take_in_places import PlacesDifference, place_difference, take_in_places

__all__ = ["places"]


@click.command()
@click.argument("collection", type=click.Path(path_type=Path))
@click.argument("file", type=click.Path(path_type=Path), required=False)
@click.option("--look", is_flag=True, help="Only say what taking FILE in would change.")
@click.option("--look-up", is_flag=True, help="Look up every place of which only the name is known.")
@click.option("--mean", nargs=2, metavar="NAME PLACE", help="Say which place the collection means by NAME.")
@click.option(
    "--lay", nargs=2, metavar="NAME POSITION", help="Say where NAME is: 60.39,5.32 or geo:60.39,5.32;u=30"
)
def places(
    collection: Path,
    file: Path | None,
    look: bool,
    look_up: bool,
    mean: tuple[str, str] | None,
    lay: tuple[str, str] | None,
) -> None:
    """Take in own places from FILE, or say which places are meant.

    FILE is GeoJSON, KML or KMZ, GPX with waypoints, or a spreadsheet (CSV, XLSX)
    with name, and any of country, latitude, longitude, radius_m, what,
    also_called: “Petrograd (1914-1924); Leningrad (1924-1991)”. The radius, in
    metres, is that of the smallest circle around the whole place. Taking a file
    in again updates. Own places go before all others.
    """
    if not (file or look_up or mean or lay):
        raise CannotBegin("Nothing was done", "", "Name a file as well, or see solander places --help")
    with Collection.open(collection) as opened:
        if file is not None:
            _take_in(opened, file, only_look=look)
        if mean:
            _mean(opened, *mean)
        if lay:
            _lay(opened, *lay)
        if look_up:
            _look_up(opened)


def _take_in(collection: Collection, file: Path, *, only_look: bool) -> None:
    found = place_difference(collection, file) if only_look else take_in_places(collection, file)
    for sentence in (*_told(found), *found.passed_over, *found.set_aside):
        say(sentence)
    would = "would be taken in" if only_look else "taken in"
    say(f"{counted(found.count, 'place')} {would}: {len(found.new)} new, {len(found.changed)} changed, "
        f"{found.as_before} as before.")  # fmt: skip
    if found.set_aside:
        sys.exit(1)


def _told(found: PlacesDifference) -> list[str]:
    changed = (f"  changed: {change.after.name}: {change.words}" for change in found.changed)
    return [*(f"  new: {change.after.name}" for change in found.new), *changed]


def _mean(collection: Collection, name: str, place: str) -> None:
    """`place` is a key (`geonames:2925533`) or words that mean one place."""
    if not place.startswith("geonames:"):
        found = [one for one in place_reader(collection.catalogue)(place) if one.known_as.startswith("geonames:")]
        if not found:
            raise CannotBegin(f"No place was found for “{place}”", "", "See solander place for what is known")
        say(f"{name} is {place_in_words(found[0])}.")
        place = found[0].known_as
    mean_place(collection, name, place)


def _lay(collection: Collection, name: str, position: str) -> None:
    latitude, longitude, radius = position_in(position)
    lay_circle(collection, name, (latitude, longitude), radius or USUAL_RADIUS_M)
    say(f"{name} lies within {radius or USUAL_RADIUS_M:.0f} m of {latitude:.5f}, {longitude:.5f}.")


def _look_up(collection: Collection) -> None:
    looked_up = understand_places(collection, tell=lambda sentence: click.echo(sentence, err=True))
    found, asked = looked_up.found, looked_up.asked
    for place in found:
        say(f"  {place.name}: {', '.join(filter(None, [place.town, place.region, place.country]))}")
    say(f"{counted(len(found), 'place')} found; {counted(len(asked), 'question')} to answer.")
    for question in asked:
        say(f"  {question}")
