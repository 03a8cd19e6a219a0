"""Places told less exactly: the circle always holds where the place is (distances by the haversine formula)."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from solander.authorities.gazetteer.distance import km_between
from solander.core.coarse import on_a_grid
from solander.core.places import Place

PLACES = st.builds(
    lambda north, east, radius: Place("x", "NO", north, east, radius),
    st.floats(-85, 85),
    st.floats(-180, 180),
    st.floats(1, 100_000),
)


@given(PLACES, st.floats(0.5, 200))
def test_the_circle_on_a_grid_holds_the_place(place: Place, km: float) -> None:
    told = on_a_grid(place, km)
    away = 1000 * km_between((place.latitude, place.longitude), (told.latitude, told.longitude))
    assert away + place.radius_m <= told.radius_m * 1.01 + 20  # of a square on a sphere, and of four decimals


@given(PLACES)
def test_what_is_known_less_exactly_stays(place: Place) -> None:
    assert (on_a_grid(place, 1) == place) == (place.radius_m >= 1000 * 2**0.5 / 2)


def test_neighbours_in_one_square_are_told_alike() -> None:
    one, other = (on_a_grid(Place("x", "", 60.001 + add, 5.001, 30.0), 10) for add in (0, 0.001))
    assert (one.latitude, one.longitude) == (other.latitude, other.longitude)


def test_a_place_without_a_position_stays() -> None:
    assert on_a_grid(Place("x"), 10) == Place("x")
