"""What a person says of a place of the collection: where it is, how large, what else it is and was called."""

from __future__ import annotations

import math
import re

from attrs import evolve

from solander.core.dates import parse_edtf
from solander.core.days import from_day
from solander.core.errors import InvalidValue, Trouble
from solander.core.places import Place, PlaceName
from solander.core.questions import Asks
from solander.core.sentence import Sentence
from solander.core.statements import Sure
from solander.tasks.ask import settle
from solander.tasks.collection import Collection
from solander.tasks.date import date_reader

__all__ = ["LEAST_RADIUS_M", "add_name", "lay_circle", "new_place", "position_in", "remove_name"]

LEAST_RADIUS_M = 5
"""Nobody knows where a photographer stood more exactly than this (our choice)."""

_GEO = re.compile(
    r"geo:(?P<latitude>[-+]?\d+(?:\.\d+)?),(?P<longitude>[-+]?\d+(?:\.\d+)?)(?:,[-+]?\d+(?:\.\d+)?)?(?P<rest>(?:;[^?]*)?)",
    re.IGNORECASE,
)
"""A `geo` address (RFC 5870): latitude, longitude, height; its parameter `u` is how uncertain it is, in metres."""

_DEGREES = r"[-+−]?\d+(?:[.,]\d+)?"
_TWO_NUMBERS = re.compile(rf"(?P<latitude>{_DEGREES})\s*°?\s*[;,\s]\s*(?P<longitude>{_DEGREES})\s*°?(?P<rest>)")


def position_in(said: str) -> tuple[float, float, float | None]:
    """Latitude, longitude and, where it is told, the radius in metres, out of a `geo:` address or two numbers.

    >>> position_in("geo:60.39,5.32;u=35")
    (60.39, 5.32, 35.0)
    >>> position_in("60.39, 5.32")
    (60.39, 5.32, None)

    Raises
    ------
    InvalidValue
        When it is neither, or no place on earth.
    """
    found = _GEO.match(said.strip()) or _TWO_NUMBERS.fullmatch(said.strip())
    if found is None:
        raise InvalidValue(
            Sentence("“%(said)s” was not understood as a position", said=said),
            "",
            Sentence(
                "Give latitude and longitude in degrees, such as 60.39, 5.32, or an address that begins with geo:"
            ),
        )
    latitude, longitude = (_degrees(found[part]) for part in ("latitude", "longitude"))
    if abs(latitude) > 90 or abs(longitude) > 180:
        raise InvalidValue(
            Sentence("“%(said)s” lies nowhere on earth", said=said),
            Sentence("latitudes go from −90 to 90 and longitudes from −180 to 180"),
            Sentence("Give the latitude first"),
        )
    system = re.search(r";crs=([^;]*)", found["rest"], re.IGNORECASE)
    if system and system[1].casefold() != "wgs84":
        raise InvalidValue(
            Sentence("“%(said)s” was not understood", said=said),
            Sentence("its numbers are not WGS 84 but %(system)s", system=system[1]),
            Sentence("Give them in WGS 84"),
        )
    uncertain = re.search(r";u=(\d+(?:\.\d+)?)", found["rest"], re.IGNORECASE)
    return latitude, longitude, float(uncertain[1]) if uncertain else None


def _degrees(written: str) -> float:
    return float(written.replace(",", ".").replace("−", "-"))


def new_place(collection: Collection, name: str, *, who: str = "archivist") -> int | None:
    """Enters a place of which only the name is known; the act's number for undo.

    Raises
    ------
    Trouble
        When it has no name, or there is one of that name.
    """
    name = " ".join(name.split())
    if not name:
        raise Trouble(
            Sentence("No place was added"), Sentence("it has no name"), Sentence("Say what it is called")
        )
    if _known(collection, name):
        raise Trouble(
            Sentence("“%(name)s” was not added", name=name),
            Sentence("there is a place of that name already"),
            Sentence("Open it, or add to its name"),
        )
    return _keep(collection, Place(name), Sentence("added the place %(name)s", name=name), who)


def lay_circle(
    collection: Collection,
    name: str,
    position: tuple[float, float],
    radius_m: float,
    *,
    sure: Sure = Sure.CERTAIN,
    who: str = "archivist",
) -> int | None:
    """Says where a place is: the circle around `position` (degrees) that holds all of it.

    Raises
    ------
    InvalidValue
        When the circle can't be.
    """
    if not (math.isfinite(radius_m) and LEAST_RADIUS_M <= radius_m <= 5_000_000):
        raise InvalidValue(
            Sentence("%(radius_m)s m is no radius of a place", radius_m=format(radius_m, "g")),
            Sentence("it is less than %(least_radius_m)s m or more than 5,000 km", least_radius_m=LEAST_RADIUS_M),
        )
    latitude, longitude = position
    place = evolve(
        _known(collection, name) or Place(name),
        latitude=round(latitude, 6),
        longitude=round(longitude, 6),
        radius_m=round(radius_m, 1),
        source=who,
        sure=sure,
    )
    with (
        collection.catalogue.act(who, Sentence("laid the circle of %(name)s", name=name)) as act,
        act.work() as work,
    ):
        work.keep_place(place)
        settle(collection, work, Asks.PLACE, name)  # where it is need not be asked any more
        work.commit()
    return act.number


def add_name(collection: Collection, name: str, called: str, years: str, *, who: str = "archivist") -> int | None:
    """Says what else a place is or was called; `years` are words such as "1924 to 1991" or empty.

    Raises
    ------
    InvalidValue
        When the name is empty or the years are not understood.
    """
    called = " ".join(called.split())
    if not called:
        raise InvalidValue(
            Sentence("No name was added"), Sentence("the field is empty"), Sentence("Say what it is or was called")
        )
    valid_from, valid_to = _years(collection, years)
    place = _known(collection, name) or Place(name)
    names = (*(one for one in place.names if one.text != called), PlaceName(called, valid_from, valid_to))
    return _keep(
        collection,
        evolve(place, names=names),
        Sentence("%(name)s is also called %(called)s", name=name, called=called),
        who,
    )


def remove_name(collection: Collection, name: str, called: str, *, who: str = "archivist") -> int | None:
    """Takes a name of a place away; history keeps it."""
    place = _known(collection, name) or Place(name)
    names = tuple(one for one in place.names if one.text != called)
    return _keep(
        collection,
        evolve(place, names=names),
        Sentence("%(name)s is no longer called %(called)s", name=name, called=called),
        who,
    )


def _years(collection: Collection, said: str) -> tuple[str, str]:
    """The first and the last year of words, each as EDTF; empty where that side is open."""
    if not said.strip():
        return "", ""
    readings = date_reader(collection.catalogue)(said).readings
    if not readings:
        raise InvalidValue(
            Sentence("The years “%(said)s” were not understood", said=said),
            "",
            Sentence("Write 1924 to 1991, until 1945, or since 1991"),
        )
    bounds = parse_edtf(readings[0].edtf).bounds()
    return _year(bounds.earliest), _year(bounds.latest)


def _year(day: int | None) -> str:
    return "" if day is None else f"{from_day(day)[0]:04d}"


def _known(collection: Collection, name: str) -> Place | None:
    return next((place for place in collection.catalogue.places() if place.name == name), None)


def _keep(collection: Collection, place: Place, what: str, who: str) -> int | None:
    with collection.catalogue.act(who, what) as act, act.work() as work:
        work.keep_place(place)
        work.commit()
    return act.number
