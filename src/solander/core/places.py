"""Places have a radius: the smallest circle that holds the whole place."""

from __future__ import annotations

from attrs import field, frozen, validators

from solander.core.statements import Sure

__all__ = ["GEONAMES", "Place", "PlaceName", "PlaceWords"]

GEONAMES = "GeoNames"
"""The `source` of a place that was taken from the gazetteer."""


@frozen
class PlaceName:
    """A name that a place also has or had; `valid_from`, `valid_to` are EDTF values, empty where not known."""

    text: str
    valid_from: str = ""
    valid_to: str = ""


@frozen
class Place:
    """A place by the name that the collection uses.

    `latitude` −90…90, `longitude` −180…180 in degrees (WGS 84), `radius_m` in metres, above 0; all three known
    or none. `country` is an ISO 3166-1 alpha-2 code or empty. `what` it is, in a word ("farm", "lake",
    "town"). `names` are its other names, with the years in which they held. `known_as` are stable keys of it in
    files and tables from outside (`geonames:498817`). `town` and `region` are today's names of the town and of the
    state or province that it lies in. `source` says where its position is from; `sure` how sure it is that the
    words mean this place: certain where a person says so.
    """

    name: str
    country: str = ""
    latitude: float | None = field(
        default=None, validator=validators.optional([validators.ge(-90), validators.le(90)])
    )
    longitude: float | None = field(
        default=None, validator=validators.optional([validators.ge(-180), validators.le(180)])
    )
    radius_m: float | None = field(default=None, validator=validators.optional(validators.gt(0)))
    what: str = ""
    names: tuple[PlaceName, ...] = ()
    known_as: tuple[str, ...] = ()
    town: str = ""
    region: str = ""
    source: str = ""
    sure: Sure = Sure.CERTAIN

    @property
    def is_located(self) -> bool:
        """Whether it is known where it is."""
        return self.latitude is not None and self.longitude is not None

    @property
    def is_own(self) -> bool:
        """Whether the collection's own people said where it is, and not a gazetteer."""
        return self.is_located and self.source != GEONAMES


@frozen
class PlaceWords:
    """A place in words: its `country` today in English with the three letters of ISO 3166-1, and what it and its
    town are called today (`now`) and were called when the picture was taken (`then`); empty where not known."""

    country: str = ""
    letters: str = ""
    now: str = ""
    then: str = ""
