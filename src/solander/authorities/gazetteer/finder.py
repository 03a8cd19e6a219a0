"""Finds the places that a phrase may mean and ranks them; `phrase` reads, `weights` weighs."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from pathlib import Path

from attrs import evolve, field, frozen

from solander.authorities.former_names import FormerTownName, former_town_names
from solander.authorities.gazetteer import weights
from solander.authorities.gazetteer.distance import radius_of_town
from solander.authorities.gazetteer.folding import LINKS, fold, key_of, skeleton_of
from solander.authorities.gazetteer.index import Index, Town
from solander.authorities.gazetteer.lands import lands_called
from solander.authorities.gazetteer.own import own_places_like
from solander.authorities.gazetteer.phrase import Reading, readings_of
from solander.authorities.gazetteer.precise import smaller_first
from solander.authorities.gazetteer.qualifiers import area_key, region_name
from solander.authorities.gazetteer.span import Span
from solander.authorities.gazetteer.telling import Teller
from solander.authorities.gazetteer.weights import Seen, at_home, of_people, ranked
from solander.core.errors import InvalidValue
from solander.core.place_finds import Home, PlaceFound
from solander.core.places import Place
from solander.core.sentence import Sentence

__all__ = ["Gazetteer"]

_LEAST_ALIKE = 0.72
"""So much of a misspelt name must be right."""

_SHORTEST_MISSPELT, _SHORTEST_CUT = 4, 5
_QUALITY_OF_A_BEGINNING = 0.8

_AROUND_TIMES, _AROUND_LEAST_M = 2.0, 10_000.0
"""How far “near” reaches: twice the radius of the town, and 10 km at least (our choice)."""

_RUNS = 1.0
"""From this doubt on a reading takes only some of the words: for what could not be taken as a whole."""

_GOOD = 0.5
"""A candidate of this quality fits the words well enough that no misspelling need be supposed."""

_MOST = 10


@frozen
class Gazetteer:
    """Finds places by what is said, in the file that lies at `path` and in regional `packs`."""

    path: Path
    packs: tuple[Path, ...] = ()
    _index: Index = field(init=False, eq=False, repr=False)

    def __attrs_post_init__(self) -> None:
        object.__setattr__(self, "_index", Index(self.path, self.packs))

    def find(
        self, phrase: str, *, on: str | None = None, own: Sequence[Place] = (), home: Home | None = None
    ) -> tuple[PlaceFound, ...]:
        """The places that a phrase may mean, the likeliest first; none when nothing is like it.

        `on` is the EDTF date of what it is said of; without it a year beside the place tells as much. `own` are
        the collection's own places, which go before all others, and `home` is where its people lived.

        Raises
        ------
        InvalidValue
            When the phrase has no word in it, or `on` is no EDTF value.
        """
        if not fold(phrase):
            raise InvalidValue(
                Sentence("“%(phrase)s” names no place", phrase=phrase),
                Sentence("there is no word in it"),
                Sentence("Write a place's name"),
            )
        readings = readings_of(phrase)
        span = Span.of(on or next((one.year for one in readings if one.year), None))
        mine = own_places_like([phrase, *(one.head for one in readings if one.doubt < _RUNS)], own, span)
        seen = [at_home(one, home) for one in self._seen(readings, Teller(self._index.named, span))]
        found = (*mine, *ranked(smaller_first(seen), _MOST))
        return tuple(sorted(found, key=_own_first))[:_MOST]

    def town(self, ident: int) -> PlaceFound | None:
        """The place of that GeoNames number."""
        town = self._index.town(ident)
        return _found(town) if town else None

    def nearest_town(self, latitude: float, longitude: float) -> PlaceFound | None:
        """The town nearest to a position in degrees; None far out at sea."""
        town = self._index.nearest(latitude, longitude)
        return _found(town) if town else None

    def _seen(self, readings: Sequence[Reading], teller: Teller) -> list[Seen]:
        whole = [one for one in readings if one.doubt < _RUNS]
        seen = [one for reading in whole for one in self._as_written(reading, teller)]
        if not _any_good(seen):
            seen += [one for reading in whole for one in self._misspelt(reading, teller)]
        if not _any_good(seen):
            runs = (one for one in readings if one.doubt >= _RUNS)
            seen += next(filter(None, (list(self._as_written(reading, teller)) for reading in runs)), [])
        return seen

    def _as_written(self, reading: Reading, teller: Teller) -> Iterator[Seen]:
        key = key_of(reading.head)
        rows = former_town_names(key)
        former = {row.geonameid: row for row in rows if _is_told(row, reading)}
        untold = {row.geonameid for row in rows} - former.keys()
        towns = {town.id: town for town in self._index.named(key)}
        for ident in former:
            town = towns.get(ident) or self._index.town(ident)
            if town:
                towns[ident] = town
        for town in towns.values():
            against = weights.NAME_THAT_MUST_BE_TOLD if town.id in untold and not town.main else 0.0
            yield self._weighed(town, reading, teller, former=former.get(town.id), against=against)
        if not towns:
            for town in self._with_links_left_out(key, abbreviated="." in reading.head):
                yield self._weighed(town, reading, teller, against=weights.LINKS_LEFT_OUT)
            yield from self._longer(key, reading, teller)
        yield from lands_called(reading, self._index, teller.span, towns.values())

    def _longer(self, key: str, reading: Reading, teller: Teller) -> Iterator[Seen]:
        """“Garmisch”: the places whose names go on where the words end."""
        if len(key) < _SHORTEST_CUT:
            return
        for longer in self._index.beginning(key):
            for town in self._index.named(longer):
                seen = self._weighed(town, reading, teller, against=weights.GOES_ON)
                yield evolve(seen, quality=seen.quality * _QUALITY_OF_A_BEGINNING)

    def _with_links_left_out(self, key: str, *, abbreviated: bool) -> list[Town]:
        """“Halle a. d. Saale”: without the words that only link, and the others cut short as they are."""
        skeleton = skeleton_of(key)
        towns = self._index.named(skeleton) if skeleton else []
        if towns or not abbreviated or " " not in key:
            return towns
        keys = [other for other in self._index.beginning(key.split()[0]) if _is_cut_short(key, other)]
        return [town for other in keys for town in self._index.named(other)]

    def _misspelt(self, reading: Reading, teller: Teller) -> Iterator[Seen]:
        key = key_of(reading.head)
        if len(key) < _SHORTEST_MISSPELT or reading.is_common:
            return
        for like, slips in self._index.like(key, least=_LEAST_ALIKE):
            against = slips * weights.A_SLIP + weights.ALL_SLIPS * slips / len(key)
            for town in self._index.named(like):
                yield self._weighed(town, reading, teller, against=against, slips=slips)

    def _weighed(
        self,
        town: Town,
        reading: Reading,
        teller: Teller,
        *,
        former: FormerTownName | None = None,
        against: float = 0.0,
        slips: int = 0,
    ) -> Seen:
        name_weight, name_reason = _of_name(town, reading, teller.span, former)
        told = [teller.tell(other, town) for other in reading.others]
        off = f"“{reading.head}” is {'one letter' if slips == 1 else f'{slips} letters'} off a name of it"
        around = "somewhere around it" if reading.around else ""
        reasons = (off if slips else name_reason, *(one.reason for one in told), around)
        left = (*reading.left, *(one.other for one in told if one.is_left))
        found = evolve(
            _found(town, around=reading.around),
            reasons=tuple(filter(None, reasons)),
            unused=tuple(left),
            slips=slips,
        )
        weight = of_people(town.population) + name_weight + against + weights.SUPPOSED * reading.doubt
        weight += weights.A_THING if reading.thing and reading.others else 0.0
        quality = math.exp(-0.18 * slips) * _quality_of(reading) * math.prod(one.quality for one in told)
        weight += sum(one.weight for one in told)
        return Seen(found, weight, quality, said=key_of(reading.head), part=reading.part)


def _quality_of(reading: Reading) -> float:
    """How well a reading takes the words; one of only some of them is seldom sure enough to be taken unasked."""
    quality = math.exp(-reading.doubt * (0.1 if reading.doubt < _RUNS else 0.4))
    return quality * (weights.QUALITY_OF_A_COMMON_WORD if reading.is_common else 1.0)


def _own_first(found: PlaceFound) -> tuple[bool, float]:
    """Own places go before all others; one whose name is only like what was said must be likelier."""
    return not (found.own is not None and found.score == 1), -found.score


def _any_good(seen: Sequence[Seen]) -> bool:
    return any(one.quality > _GOOD for one in seen)


def _is_told(row: FormerTownName, reading: Reading) -> bool:
    """Whether what must stand behind a former name does."""
    return not row.told_by or any(area_key(row.told_by) == area_key(other) for other in reading.others)


def _is_cut_short(key: str, name: str) -> bool:
    """Whether the words of the key are beginnings of the words of the name, links aside: “frankfurt a m”."""
    words = [word for word in name.split() if word not in LINKS]
    said = [word for word in key.split() if word not in LINKS or len(word) == 1]
    at = 0
    for word in said:
        if at < len(words) and words[at].startswith(word):
            at += 1
        elif word not in LINKS:
            return False
    return at == len(words)


def _of_name(town: Town, reading: Reading, span: Span, former: FormerTownName | None) -> tuple[float, str]:
    if former is not None:
        reason = f"it was called {former.name} {former.when}"
        if not span.is_known:
            return weights.NAME_OF_ITS_TIME, reason
        held = span.meets(former.valid_from, former.valid_to)
        return weights.NAME_OF_ITS_TIME + (weights.IN_ITS_YEARS if held else weights.OUT_OF_ITS_YEARS), reason
    return (0.0, "") if town.main else (weights.NOT_TODAYS_NAME, f"{reading.head} is another name of it")


def _found(town: Town, *, around: bool = False) -> PlaceFound:
    radius = float(town.radius_m or radius_of_town(town.population))
    return PlaceFound(
        name=town.name,
        country=town.country,
        latitude=town.latitude,
        longitude=town.longitude,
        radius_m=max(_AROUND_TIMES * radius, _AROUND_LEAST_M) if around else radius,
        region=region_name(town.country, town.region),
        known_as=f"geonames:{town.id}",
        what=town.what,
    )
