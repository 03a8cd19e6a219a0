"""Places as lines of a list or of the map's table, and where their pages are."""

from __future__ import annotations

from urllib.parse import quote

from attrs import frozen

from solander.core.place_finds import PlaceFound
from solander.look.map_figure import PlaceOnMap, Years, name_years_words, years_words
from solander.look.words import joined
from solander.tasks.places import place_in_words
from solander.tasks.places_told import PlaceTold

__all__ = ["ALL_YEARS", "PlaceLine", "WorldLine", "on_map", "place_address"]

ALL_YEARS = Years()


def place_address(name: str) -> str:
    """The address of a place's page."""
    return f"/place/{quote(name, safe='')}"


@frozen
class PlaceLine:
    """A place as a line of the list or of the map's table; `row` is its number on the map, None where it has no
    position."""

    told: PlaceTold
    row: int | None = None
    chosen: Years = ALL_YEARS

    @property
    def name(self) -> str:
        """What the collection calls it."""
        return self.told.place.name

    @property
    def href(self) -> str:
        """The address of its page."""
        return place_address(self.name)

    @property
    def counted(self) -> int:
        """How many of its prints lie in the years that were chosen."""
        undated = self.told.undated if self.chosen.is_all else 0
        return undated + sum(count for year, count in self.told.years if self.chosen.holds(year))

    @property
    def years(self) -> str:
        """Between which years its prints lie."""
        return years_words([year for year, _ in self.told.years])

    @property
    def other_names(self) -> list[str]:
        """ "Leningrad (1924 to 1991)"."""
        return [
            f"{name.text} ({years})" if (years := name_years_words(name.valid_from, name.valid_to)) else name.text
            for name in self.told.place.names
        ]


@frozen
class WorldLine:
    """A place of the world that a search found and the collection does not know yet."""

    found: PlaceFound

    @property
    def words(self) -> str:
        """ "Bergen (Vestland, Norway)"."""
        return place_in_words(self.found)

    @property
    def why(self) -> str:
        """What speaks for it."""
        return joined(self.found.reasons)


def on_map(told: PlaceTold) -> PlaceOnMap | None:
    """The place as the map lays it; None where nobody has said where it is."""
    place = told.place
    if place.latitude is None or place.longitude is None or place.radius_m is None:
        return None
    at = place.latitude, place.longitude, place.radius_m
    return PlaceOnMap(place.name, place_address(place.name), *at, told.years, told.undated)
