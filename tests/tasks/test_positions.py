"""Positions as they are pasted: the examples of RFC 5870 (sections 6.1 to 6.4, from memory), and plain degrees."""

from __future__ import annotations

import pytest

from solander.core.errors import InvalidValue
from solander.tasks.keep_places import position_in


@pytest.mark.parametrize(
    ("said", "position"),
    [
        ("geo:13.4125,103.8667", (13.4125, 103.8667, None)),
        ("geo:48.2010,16.3695,183", (48.2010, 16.3695, None)),
        ("geo:48.198634,16.371648;crs=wgs84;u=40", (48.198634, 16.371648, 40.0)),
        ("GEO:90,-22.43;crs=WGS84", (90.0, -22.43, None)),
        ("geo:66,30;u=6.500;FOo=this%2dthat", (66.0, 30.0, 6.5)),
        ("60,39; 5,32", (60.39, 5.32, None)),
    ],
)
def test_a_pasted_position_is_understood(said: str, position: tuple) -> None:
    assert position_in(said) == position


@pytest.mark.parametrize("said", ["geo:95,0", "geo:10,190", "geo:12", "Bergen", "geo:1,2;crs=epsg-25832"])
def test_what_is_no_position_in_degrees_is_refused(said: str) -> None:
    with pytest.raises(InvalidValue):
        position_in(said)
