"""`solander place`."""

from __future__ import annotations

import sys
import textwrap
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click

from solander.cli.paper import json_line, say
from solander.core.dates import parse_edtf
from solander.core.errors import CannotBegin, InvalidValue
from solander.core.place_finds import PlaceFound
from solander.tasks.collection import Collection
from solander.tasks.places import PlaceReader, place_in_words, place_reader

__all__ = ["place"]

_TOLD = 5
"""So many candidates are told to a person; `--json` gives all."""

_WIDTH = 80


@click.command()
@click.argument("phrases", nargs=-1, required=True, metavar="PHRASE...")
@click.option("--on", metavar="EDTF", help="When it was said of: a date picks between names of other times.")
@click.option(
    "--collection",
    type=click.Path(path_type=Path),
    metavar="COLLECTION",
    help="As its people mean them: their own places first, and where they lived.",
)
@click.option("--json", "as_json", is_flag=True, help="One JSON object a line.")
def place(phrases: tuple[str, ...], on: str | None, collection: Path | None, as_json: bool) -> None:
    """Find places by what is said of them: “Gorky, USSR”, “near Bergen”.

    The towns are those of GeoNames (www.geonames.org, CC BY 4.0).
    """
    _check(on)
    read = _reader(collection)
    wrong = False
    for phrase in phrases:
        try:
            found = read(phrase, on=on)
        except InvalidValue as trouble:
            wrong = True
            json_line({"phrase": phrase, "error": trouble.sentence}) if as_json else say(trouble.sentence)
        else:
            json_line(_record(phrase, found)) if as_json else _say(phrase, found)
    if wrong:
        sys.exit(1)


def _check(on: str | None) -> None:
    try:
        if on is not None:
            parse_edtf(on)
    except InvalidValue as trouble:
        what = f"--on {on} is no date"
        raise CannotBegin(what, trouble.why, "Write it as EDTF: 1952, 1952-07, 1948/1952") from trouble


def _reader(collection: Path | None) -> PlaceReader:
    def tell(sentence: str) -> None:
        click.echo(sentence, err=True)

    if collection is None:
        reader = place_reader(tell=tell)
    else:
        with Collection.open(collection) as opened:
            reader = place_reader(opened.catalogue, tell)
    if reader.gazetteer is None:
        raise CannotBegin(reader.why_none.rstrip("."))
    return reader


def _record(phrase: str, found: Sequence[PlaceFound]) -> dict[str, Any]:
    return {
        "phrase": phrase,
        "candidates": [
            {
                "name": one.name,
                "country": one.country,
                "latitude": one.latitude,
                "longitude": one.longitude,
                "radius_m": one.radius_m,
                "score": one.score,
                "region": one.region,
                "known_as": one.known_as,
                "reasons": list(one.reasons),
            }
            for one in found
        ],
        "unused": list(found[0].unused) if found else [],
    }


def _say(phrase: str, found: Sequence[PlaceFound]) -> None:
    say(f"“{phrase}”" + ("" if found else ": no place was found"))
    for one in found[:_TOLD]:
        name = textwrap.shorten(place_in_words(one), 74, placeholder="…")
        say(f"  {name}")
        say(f"    {_position(one)}, within {_distance(one.radius_m)}; score {one.score:.2f}")
        for reason in one.reasons:
            _indented(reason)
    if found and found[0].unused:
        _indented(f"not understood: {', '.join(found[0].unused)}")


def _indented(text: str) -> None:
    for line in textwrap.wrap(text, _WIDTH - 4):
        say(f"    {line}")


def _position(found: PlaceFound) -> str:
    north, east = "S" if found.latitude < 0 else "N", "W" if found.longitude < 0 else "E"
    return f"{abs(found.latitude):.4f} {north}, {abs(found.longitude):.4f} {east}"


def _distance(metres: float) -> str:
    if metres < 1000:
        return f"{metres:.0f} m"
    return f"{metres / 1000:.1f} km" if metres < 20_000 else f"{metres / 1000:,.0f} km"
