"""What a search for a place gives: candidates with their circle, how likely each is, and why."""

from __future__ import annotations

from attrs import frozen

from solander.core.places import Place
from solander.core.statements import Sure

__all__ = ["LEAST_SURE", "Home", "PlaceFound", "sure_of"]

LEAST_SURE = 0.5
"""Below this score the words may as well mean another place: it is asked."""

_CERTAIN = 0.85


@frozen
class PlaceFound:
    """A place that a phrase may mean.

    `name` is today's; `latitude`, `longitude` in degrees (WGS 84) are its middle, `radius_m` the metres from there
    within which it lies. `score`, 0 to 1, is how likely it is what was meant, among all that was found and by how
    well the words fit. `unused` are the words that were not understood. `slips` counts
    the letters by which what was said differs from a name of the place. `own` is the collection's own place, where
    it is one.
    """

    name: str
    country: str
    latitude: float
    longitude: float
    radius_m: float
    score: float = 0.0
    reasons: tuple[str, ...] = ()
    region: str = ""
    known_as: str = ""
    what: str = ""
    unused: tuple[str, ...] = ()
    slips: int = 0
    own: Place | None = None


@frozen
class Home:
    """Where the people of a collection lived: points (latitude, longitude in degrees), and their countries."""

    points: tuple[tuple[float, float], ...] = ()
    countries: frozenset[str] = frozenset()


def sure_of(candidates: tuple[PlaceFound, ...]) -> Sure:
    """How sure it is that the first candidate is meant: never certain while something was not understood."""
    score = candidates[0].score if candidates else 0.0
    if score >= _CERTAIN and not candidates[0].unused:
        return Sure.CERTAIN
    return Sure.LIKELY if score >= LEAST_SURE else Sure.GUESS
