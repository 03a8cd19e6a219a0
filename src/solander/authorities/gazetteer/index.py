"""The gazetteer's file as it is asked: places by the key of a name, its beginning, or a name that is like it."""

from __future__ import annotations

import math
import sqlite3
import threading
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

import numpy as np
from attrs import frozen
from rapidfuzz import process
from rapidfuzz.distance import OSA

from solander.authorities.gazetteer.distance import km_between
from solander.authorities.gazetteer.folding import grams_of

__all__ = ["Index", "Stretch", "Town"]

_MOST = 300
"""So many places of one name are weighed; the largest of them (“San José” has more than that)."""

_TOWN_FROM = 1000
"""People from whom on a place is a town that another is told by (our choice)."""

_LIKELIEST = 120
"""So many keys with the most runs of three letters in common are compared letter by letter."""

_RARE = 14
"""So many runs of three letters are looked up, the rarest first; with all of them a long name took 6 ms."""


@frozen
class Town:
    """A place of the gazetteer: today's name, country, code of its state or province, degrees, population.

    `main` is whether the key that found it is today's name. `what` is "town", or what a landmark of a regional
    pack is, of which `radius_m` is told; of towns it is 0.
    """

    id: int
    name: str
    country: str
    region: str
    latitude: float
    longitude: float
    population: int
    what: str
    radius_m: int
    main: bool = True


@frozen
class Stretch:
    """The box around all places of some countries or regions, in degrees, and how many people live there."""

    south: float
    west: float
    north: float
    east: float
    population: int


def _town(row: tuple[Any, ...]) -> Town:
    return Town(row[0], row[1], row[2], row[3], row[4], row[5], row[6], row[7], row[8], bool(row[9]))


_COLUMNS = "id, name, country, region, latitude, longitude, population, what, radius_m"


class Index:
    """Reads the file of the towns, and those of regional packs; threads each have connections of their own."""

    def __init__(self, path: Path, packs: Sequence[Path] = ()) -> None:
        self.paths = (path, *packs)
        self._own = threading.local()

    @property
    def _files(self) -> list[sqlite3.Connection]:
        files: list[sqlite3.Connection] | None = getattr(self._own, "files", None)
        if files is None:
            files = [sqlite3.connect(f"{path.resolve().as_uri()}?mode=ro", uri=True) for path in self.paths]
            self._own.files = files
        return files

    @property
    def _file(self) -> sqlite3.Connection:
        """That of the towns."""
        return self._files[0]

    def named(self, key: str) -> list[Town]:
        """The places that have or had a name of that key, the largest first."""
        query = f"""SELECT {_COLUMNS}, main FROM names JOIN places ON place = id WHERE key = ?
                    ORDER BY population DESC LIMIT {_MOST}"""
        found = [_town(row) for row in self._file.execute(query, (key,))]
        known = {town.id for town in found}
        for pack in self._files[1:]:
            found += [town for row in pack.execute(query, (key,)) if (town := _town(row)).id not in known]
        return found

    def town(self, ident: int) -> Town | None:
        """The place of that GeoNames number."""
        for file in self._files:
            row = file.execute(f"SELECT {_COLUMNS} FROM places WHERE id = ?", (ident,)).fetchone()
            if row:
                return Town(*row)
        return None

    def nearest(self, latitude: float, longitude: float) -> Town | None:
        """The town of 1,000 people or more that is nearest, within about 300 km; None where there is none."""
        query = f"""SELECT {_COLUMNS} FROM places WHERE latitude BETWEEN ? AND ? AND longitude BETWEEN ? AND ?
                    AND population >= {_TOWN_FROM}"""
        for reach in (0.1, 0.5, 3.0):
            wide = reach / max(0.05, math.cos(math.radians(latitude)))
            box = (latitude - reach, latitude + reach, longitude - wide, longitude + wide)
            towns = [Town(*row) for row in self._file.execute(query, box)]
            if towns:
                at = (latitude, longitude)
                return min(towns, key=lambda town: km_between(at, (town.latitude, town.longitude)))
        return None

    def beginning(self, word: str) -> list[str]:
        """The keys that begin with that word and go on."""
        query = "SELECT DISTINCT key FROM names WHERE key > ? AND key < ? LIMIT 400"
        return [key for (key,) in self._file.execute(query, (f"{word} ", f"{word}!"))]

    def like(self, key: str, *, least: float) -> list[tuple[str, int]]:
        """Keys that are like this one, with the number of slips between the two, the fewest first.

        A slip is a letter too many, too few, another, or two changed over (optimal string alignment). `least` is
        the share of the letters, 0 to 1, that must be right.
        """
        numbers = self._in_common(key)
        if not len(numbers):
            return []
        asked = ",".join(map(str, numbers.tolist()))
        keys = [row[0] for row in self._file.execute(f"SELECT key FROM keys WHERE number IN ({asked})")]
        slips = int((1 - least) * len(key) + 1e-9)
        found = process.extract(
            key, keys, scorer=OSA.distance, processor=None, score_cutoff=max(1, slips), limit=25
        )
        return [(like, int(distance)) for like, distance, _ in found]

    def _in_common(self, key: str) -> np.ndarray[tuple[int], np.dtype[np.uint32]]:
        """Numbers of the keys that have the most runs of three letters in common with this one."""
        grams = sorted(grams_of(key))
        asked = ",".join("?" * len(grams))
        query = f"SELECT numbers FROM grams WHERE gram IN ({asked}) ORDER BY length(numbers) LIMIT {_RARE}"
        lists = [np.frombuffer(row[0], dtype="<u4") for row in self._file.execute(query, grams)]
        if not lists:
            return np.empty(0, dtype=np.uint32)
        numbers, counts = np.unique(np.concatenate(lists), return_counts=True)
        if len(numbers) > _LIKELIEST:
            best = np.argpartition(counts, -_LIKELIEST)[-_LIKELIEST:]
            numbers = numbers[counts >= max(2, counts[best].min())] if len(lists) > 2 else numbers[best]
        return numbers[:4000].astype(np.uint32)

    def stretch(self, countries: Iterable[str], regions: Sequence[tuple[str, str]]) -> Stretch | None:
        """The box around the places of the countries and regions (country, code); None where there are none."""
        boxes = [self._box(*land) for land in (*((country, "") for country in countries), *regions)]
        found = [box for box in boxes if box is not None]
        if not found:
            return None
        return Stretch(
            min(box.south for box in found),
            min(box.west for box in found),
            max(box.north for box in found),
            max(box.east for box in found),
            sum(box.population for box in found),
        )

    def _box(self, country: str, region: str) -> Stretch | None:
        query = "SELECT * FROM lands WHERE country = ? AND region = ?"
        row = self._file.execute(query, (country, region)).fetchone()
        return Stretch(*row[2:]) if row else None
