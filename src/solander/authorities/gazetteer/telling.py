"""What another part of a phrase says of a town: the land that it lies in, a town near it, or nothing."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from attrs import define, field, frozen

from solander.authorities.gazetteer import weights
from solander.authorities.gazetteer.distance import km_between
from solander.authorities.gazetteer.folding import key_of
from solander.authorities.gazetteer.index import Town
from solander.authorities.gazetteer.phrase import readings_of
from solander.authorities.gazetteer.precise import NEAR_KM
from solander.authorities.gazetteer.qualifiers import Area, areas_named
from solander.authorities.gazetteer.span import Span
from solander.core.sentence import Sentence

__all__ = ["Teller", "Told"]

_ROUGHLY = 1.5
"""Circles of lands are rough: what lies so many radii from their middles may be meant as well (our choice)."""

_PLAINEST = 4
"""So many readings of the other part are tried for a town."""


@frozen
class Told:
    """What a part of the phrase says of a town: weight, how well it fits, and why; or that it was left over."""

    other: str
    weight: float
    quality: float
    reason: str = ""
    is_left: bool = False


@define
class Teller:
    """Tells what parts of one phrase say of towns; `named` gives the towns of a key, `span` the days spoken of."""

    named: Callable[[str], list[Town]]
    span: Span
    _points: dict[str, list[tuple[float, float]]] = field(factory=dict, init=False)

    def tell(self, other: str, town: Town) -> Told:
        """What `other` says of the town."""
        at = (town.latitude, town.longitude)
        areas = areas_named(other)
        holding = [area for area in areas if area.holds(town.country, town.region, at)]
        if holding:
            return self._of_area(other, holding)
        if any(area.holds(town.country, town.region, at, wider=_ROUGHLY) for area in areas):
            return Told(other, weights.NEAR, 0.9, Sentence("it lies near %(place)s", place=other))
        near = min((km_between(at, point) for point in self._towns(other)), default=None)
        if near is not None and near <= NEAR_KM:
            return Told(
                other,
                weights.NEAR_BUT_A_LAND if areas else weights.NEAR,
                1.0,
                Sentence("%(place)s is near", place=other),
            )
        if areas:
            return Told(
                other, weights.NOT_THERE, 0.4, Sentence("it does not lie in %(place)s", place=other), is_left=True
            )
        return Told(other, weights.NOT_UNDERSTOOD if near is None else weights.FAR, 0.8, is_left=True)

    def _towns(self, other: str) -> list[tuple[float, float]]:
        """Where the towns of that name lie."""
        if other not in self._points:
            found = (self.named(key_of(reading.head)) for reading in readings_of(other)[:_PLAINEST])
            towns = next(filter(None, found), [])
            self._points[other] = [(town.latitude, town.longitude) for town in towns]
        return self._points[other]

    def _of_area(self, other: str, holding: Sequence[Area]) -> Told:
        lasting = [area for area in holding if not area.is_gone]
        if lasting:
            return Told(other, weights.IN_LAND, 1.0, Sentence("it lies in %(place)s", place=lasting[0].name))
        gone = holding[0]
        years = f"{gone.valid_from}–{gone.valid_to}"
        if self.span.meets(gone.valid_from, gone.valid_to):
            weight = weights.IN_LAND + (weights.IN_ITS_YEARS if self.span.is_known else 0.0)
            return Told(
                other, weight, 1.0, Sentence("it lay in %(place)s (%(years)s)", place=gone.name, years=years)
            )
        return Told(
            other,
            weights.OUT_OF_ITS_YEARS,
            0.8,
            Sentence("%(place)s was there %(years)s, at another time", place=gone.name, years=years),
        )
