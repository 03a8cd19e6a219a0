"""Names that places had for some years, with the years; `former_names.csv` names the source of each.

Some rows and years come from a list of checked place cases; years are common knowledge where the source says so.
Those of which the source is "common knowledge, no source read" are ours.
`still_said` is ours: whether other languages or the people there go on using the name. `alone` is "no" where the
name by itself may as well be a person or another place, so that it dates nothing. `geonameid` is the town's number
in GeoNames; empty for countries.
"""

from __future__ import annotations

import csv
from collections import defaultdict
from collections.abc import Iterator
from functools import cache, lru_cache
from importlib.resources import files

from attrs import frozen

from solander.authorities.gazetteer.folding import key_of
from solander.core.evidence import FormerName

__all__ = ["FormerTownName", "former_names", "former_town_names", "names_of_town"]


@frozen
class FormerTownName:
    """A name that a town of the gazetteer had. `told_by` is what must stand behind it (“Rhodesia”), or empty."""

    name: str
    told_by: str
    geonameid: int
    valid_from: str
    valid_to: str
    country_then: str

    @property
    def when(self) -> str:
        """Its years in words: “1924–1991”, “until 1945”."""
        return f"{self.valid_from}–{self.valid_to}" if self.valid_from else f"until {self.valid_to}"


@cache
def former_names() -> tuple[FormerName, ...]:
    """All that date what they are written on: of towns and lands, then of states that are gone."""
    towns = tuple(_of_towns())
    known = {name.name for name in towns}
    return (*towns, *(name for name in _of_states() if name.name not in known))


def _of_towns() -> Iterator[FormerName]:
    return (
        FormerName(
            name=row["name"],
            now=row["now"],
            valid_from=row["valid_from"],
            valid_to=row["valid_to"],
            still_said=row["still_said"] == "yes",
            source=row["source"],
            cited=_cited(row["source"]),
        )
        for row in _rows()
        if row["alone"] == "yes"
    )


def _of_states() -> Iterator[FormerName]:
    """The names in the column `dating` of `states.csv`: those that mean nothing else."""
    text = files("solander.authorities").joinpath("states.csv").read_text(encoding="utf-8")
    for row in csv.DictReader(text.splitlines()):
        for name in filter(None, row["dating"].split(";")):
            years = row["valid_from"], row["valid_to"]
            # People go on saying the names of states that they were born in.
            yield FormerName(
                name, "that land", *years, still_said=True, source=row["source"], cited="common knowledge"
            )


def former_town_names(key: str) -> tuple[FormerTownName, ...]:
    """Those of towns whose key (of the gazetteer) is this one."""
    return _by_key().get(key, ())


@lru_cache(maxsize=4096)
def names_of_town(geonameid: int) -> tuple[FormerTownName, ...]:
    """The former names of the town of that GeoNames number."""
    return tuple(name for names in _by_key().values() for name in names if name.geonameid == geonameid)


@cache
def _by_key() -> dict[str, tuple[FormerTownName, ...]]:
    found: defaultdict[str, list[FormerTownName]] = defaultdict(list)
    for row in _rows():
        if row["geonameid"]:
            name, _, told_by = (part.strip() for part in row["name"].partition(","))
            years = row["valid_from"], row["valid_to"]
            town = FormerTownName(name, told_by, int(row["geonameid"]), *years, row["country_then"])
            found[key_of(name)].append(town)
    return {key: tuple(names) for key, names in found.items()}


@cache
def _rows() -> tuple[dict[str, str], ...]:
    text = files("solander.authorities").joinpath("former_names.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


def _cited(source: str) -> str:
    """The source as it stands behind a sentence: where the place is from; the years are always from memory."""
    return "GeoNames; years from memory" if source.startswith("GeoNames") else "common knowledge"
