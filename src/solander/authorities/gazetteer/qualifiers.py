"""What stands behind a place to tell which one is meant: countries, provinces, counties, states that are gone.

`country_names.csv` has the countries in 21 languages (Unicode CLDR by way of Babel 2.18), `regions.csv` provinces
and counties (GeoNames), `regions_said.csv` their abbreviations, other names and old lands (from memory; a test
holds them to the gazetteer), `states.csv` states that are gone, with their years and what lies there today.
"""

from __future__ import annotations

import csv
from collections import defaultdict
from collections.abc import Iterator
from functools import cache
from importlib.resources import files

from attrs import frozen

from solander.authorities.gazetteer.distance import km_between
from solander.authorities.gazetteer.folding import key_of

__all__ = ["Area", "area_key", "areas_named", "country_code", "country_letters", "country_name", "region_name"]


@frozen
class Area:
    """A stretch of land by name: whole `countries` (ISO 3166-1), `regions` (country, code of GeoNames), and, where
    given, only what lies in a `circle` (latitude, longitude, km). A state that is gone has its years."""

    name: str
    countries: frozenset[str]
    regions: frozenset[tuple[str, str]] = frozenset()
    circle: tuple[float, float, float] | None = None
    valid_from: str = ""
    valid_to: str = ""
    is_gone: bool = False

    def holds(self, country: str, region: str, at: tuple[float, float], *, wider: float = 1.0) -> bool:
        """Whether a place with that country, region and position (degrees) lies in it; its circle may be taken so
        many times wider, for it is rough."""
        if country not in self.countries and (country, region) not in self.regions:
            return False
        return self.circle is None or km_between(self.circle[:2], at) <= wider * self.circle[2]


def areas_named(text: str) -> tuple[Area, ...]:
    """The areas that are called so, as people write them: “Ill.”, “N. J.”, “Bayern”, “USSR”."""
    return _areas().get(area_key(text), ())


def country_code(said: str) -> str:
    """The two letters of ISO 3166-1 of a country, by its letters or its name; empty where it is none."""
    letters = said.strip().upper()
    countries = _countries()
    codes = {letters} & countries.keys() or {code for code, (_, iso3) in countries.items() if iso3 == letters}
    if not codes:
        lasting = (area for area in areas_named(said) if not (area.regions or area.circle or area.is_gone))
        codes = {code for area in lasting for code in area.countries}
    return codes.pop() if len(codes) == 1 else ""


def country_name(code: str) -> str:
    """The country in English; empty where it is not known."""
    return _countries().get(code, ("", ""))[0]


def country_letters(code: str) -> str:
    """The three letters of ISO 3166-1 for its two; empty where they are not known."""
    return _countries().get(code, ("", ""))[1]


def region_name(country: str, code: str) -> str:
    """Today's state or province, as GeoNames names it in English; empty where it is not known."""
    return _regions().get((country, code), "")


def area_key(text: str) -> str:
    """The key of a name, single letters drawn together: “N. J.” and “NJ” are one."""
    words: list[str] = []
    drawn = False
    for word in key_of(text).split():
        single = len(word) == 1
        if single and drawn:
            words[-1] += word
        else:
            words.append(word)
        drawn = single
    return " ".join(words)


@cache
def _areas() -> dict[str, tuple[Area, ...]]:
    found: defaultdict[str, list[Area]] = defaultdict(list)
    for area, names in (*_said(), *_of_countries(), *_of_regions(), *_of_states()):
        for name in names:
            key = area_key(name)
            if key and area not in found[key]:
                found[key].append(area)
    return {key: tuple(areas) for key, areas in found.items()}


def _rows(name: str) -> Iterator[dict[str, str]]:
    text = files("solander.authorities").joinpath(name).read_text(encoding="utf-8")
    return csv.DictReader(text.splitlines())


@cache
def _countries() -> dict[str, tuple[str, str]]:
    return {row["country"]: (row["names"].partition(";")[0], row["iso3"]) for row in _rows("country_names.csv")}


@cache
def _regions() -> dict[tuple[str, str], str]:
    rows = [row for row in _rows("regions.csv") if not row["latitude"]]
    return {(row["country"], row["code"]): row["names"].partition(";")[0] for row in rows}


def _of_countries() -> Iterator[tuple[Area, list[str]]]:
    for row in _rows("country_names.csv"):
        names = row["names"].split(";")
        yield Area(names[0], frozenset({row["country"]})), names


def _of_regions() -> Iterator[tuple[Area, list[str]]]:
    for row in _rows("regions.csv"):
        names = [name for name in row["names"].split(";") if name]
        if names:
            region = frozenset({(row["country"], row["code"])})
            yield Area(names[0], frozenset(), region, _circle(row)), names


def _said() -> Iterator[tuple[Area, list[str]]]:
    for row in _rows("regions_said.csv"):
        yield _area(row, row["means"]), row["names"].split(";")


def _of_states() -> Iterator[tuple[Area, list[str]]]:
    for area, row in zip(_gone(), _rows("states.csv"), strict=True):
        yield area, row["names"].split(";")


@cache
def _gone() -> tuple[Area, ...]:
    return tuple(_area(row, row["today"], name=row["names"].partition(";")[0]) for row in _rows("states.csv"))


def _area(row: dict[str, str], means: str, *, name: str = "") -> Area:
    parts = [part.partition(".") for part in means.split()]
    return Area(
        name or _whole_name(row["names"].split(";"), parts, has_circle=bool(row.get("latitude"))),
        frozenset(country for country, _, code in parts if not code),
        frozenset((country, code) for country, _, code in parts if code),
        _circle(row),
        row.get("valid_from", "") or "",
        row.get("valid_to", "") or "",
        is_gone="valid_to" in row,
    )


def _whole_name(names: list[str], parts: list[tuple[str, str, str]], *, has_circle: bool) -> str:
    """The name in full: today's where it is one country or region, else the first that is not cut short."""
    if len(parts) == 1 and not has_circle:
        (country, _, code) = parts[0]
        name = region_name(country, code) if code else country_name(country)
        if name:
            return name
    return next((name for name in names if not name.endswith(".") and len(name) > 3), names[0])


def _circle(row: dict[str, str]) -> tuple[float, float, float] | None:
    if not row.get("latitude"):
        return None
    return float(row["latitude"]), float(row["longitude"]), float(row["radius_km"])
