"""Places have a radius: the smallest circle that holds the whole place."""

from __future__ import annotations

from attrs import field, frozen, validators

__all__ = ["Place"]


@frozen
class Place:
    """A place by the name that the collection uses.

    `latitude` −90…90, `longitude` −180…180 in degrees (WGS 84), `radius_m` in metres, above 0; all three known
    or none. `country` is an ISO 3166-1 alpha-2 code or empty.
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
