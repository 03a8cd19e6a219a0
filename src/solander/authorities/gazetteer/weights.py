"""What speaks for a candidate and what against, as logarithms of odds; and odds as scores.

Of two towns of one name the larger is meant more often, about as often as it has more people; a state or country
behind the name decides; a letter that is wrong speaks against. The weights were chosen on place-cases.csv and
the first of two lists that were held out; no source.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from attrs import evolve, frozen

from solander.authorities.gazetteer.distance import km_between
from solander.core.place_finds import Home, PlaceFound
from solander.core.sentence import Sentence

__all__ = ["Seen", "at_home", "of_people", "ranked"]

NOT_TODAYS_NAME = -1.0
LINKS_LEFT_OUT = -0.7
A_SLIP, ALL_SLIPS = -2.0, -9.0
"""Against each letter that is wrong, and against all of them as a share of the name."""
IN_LAND, NEAR, NEAR_BUT_A_LAND, NOT_UNDERSTOOD, FAR, NOT_THERE = 1.5, 0.5, -1.0, -2.5, -3.0, -7.0
"""What stands behind the name is the land that it lies in; a town near it; the same, though it is better known
as a land elsewhere; words that are not understood; a town far off; another land."""
GOES_ON = -1.5
"""The name goes on where the words end: “Garmisch”."""
A_THING = -5.0
"""The words name a thing, called after a town, and something else may be the town: “Lago di Como, Bellagio”."""
ONLY_THE_LAND = -9.0
"""Of “Hardanger, Norway” only the land is understood."""
NAME_OF_ITS_TIME, IN_ITS_YEARS, OUT_OF_ITS_YEARS = 1.5, 0.7, -1.5
NAME_THAT_MUST_BE_TOLD = -3.5
"""A former name that means the town only with a land behind it: “Salisbury, Rhodesia”."""
LARGER_ONE = -8.0
"""It only tells where a smaller place lies: Berlin of “Charlottenburg, Berlin”."""
QUALITY_OF_A_COMMON_WORD = 0.4
"""“Home”, “the church”: some town is called so, and it is asked."""
A_LAND_SAID_IN_FULL = 3.0
"""A lake or a range by a name of several words: “Lake Geneva” is no lake at Geneva."""
A_LAND = -2.5
"""Towns are named more often on prints than lands."""
A_LAND_OF_OTHER_TIMES = -2.0
"""A state that is gone, where nothing says that its time is meant."""
A_LAND_OF_ITS_TOWN = -3.0
"""A land that is called as a town in it: the town is meant more often."""
SUPPOSED = -2.0
"""Against each thing that had to be supposed of the phrase."""

_PER_PEOPLE, _HAMLET = 0.9, 200
_HOME_COUNTRY, _HOME_NEAR, _HOME_KM = 1.2, 3.0, 120.0
_SAME_KM = 15.0
"""Two places of one name that lie so near are a town and its commune: the larger stands for both."""


@frozen
class Seen:
    """A candidate, what speaks for it, how well the words fit (0 to 1), and the words that were `said` for it in
    which `part` of the phrase."""

    found: PlaceFound
    weight: float
    quality: float = 1.0
    said: str = ""
    part: int = 0


def of_people(population: int) -> float:
    """What the number of people says; a hamlet is never impossible."""
    return _PER_PEOPLE * math.log(population + _HAMLET)


def at_home(seen: Seen, home: Home | None) -> Seen:
    """The candidate, weighed by how near it lies to where the collection's people lived."""
    if home is None or not (home.points or home.countries):
        return seen
    at = (seen.found.latitude, seen.found.longitude)
    nearest = min((km_between(at, point) for point in home.points), default=math.inf)
    bonus = _HOME_NEAR * math.exp(-nearest / _HOME_KM)
    bonus += _HOME_COUNTRY if seen.found.country in home.countries else 0.0
    reasons = (Sentence("it lies where your people lived"),) if nearest < _HOME_KM else ()
    return evolve(
        seen, weight=seen.weight + bonus, found=evolve(seen.found, reasons=(*seen.found.reasons, *reasons))
    )


def ranked(seen: Sequence[Seen], most: int) -> list[PlaceFound]:
    """The candidates with their scores, the likeliest first, each place once."""
    kept: list[Seen] = []
    for one in sorted(seen, key=lambda one: (-one.weight, one.found.name)):
        if len(kept) < 2 * most and not any(_are_one(one, other) for other in kept):
            kept.append(one)
    if not kept:
        return []
    odds = [math.exp(one.weight - kept[0].weight) for one in kept]
    scores = [one.quality * each / sum(odds) for one, each in zip(kept, odds, strict=True)]
    return [evolve(one.found, score=round(score, 3)) for one, score in zip(kept, scores, strict=True)][:most]


def _are_one(first: Seen, second: Seen) -> bool:
    one, other = first.found, second.found
    if one.known_as == other.known_as or (
        one.what == "land" and (one.country, one.radius_m) == (other.country, other.radius_m)
    ):
        return True
    at, there = (one.latitude, one.longitude), (other.latitude, other.longitude)
    towns_of_one_name = first.said == second.said and one.what == other.what == "town"
    return towns_of_one_name and one.country == other.country and km_between(at, there) < _SAME_KM
