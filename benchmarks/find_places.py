"""How often the place that is meant comes first, and how long that takes.

    python benchmarks/find_places.py

The lists are those of the tests; times are of the processor, the median and the 95th percentile of every phrase
found thirty times, the index being open.
"""

from __future__ import annotations

import csv
import statistics
import time
from pathlib import Path

from solander.authorities.gazetteer.distance import km_between
from solander.authorities.gazetteer.finder import Gazetteer
from solander.authorities.gazetteer.kept import gazetteer_file

DATA = Path(__file__).parents[1] / "tests" / "authorities" / "data"
LISTS = ("place-cases.csv", *(f"held-out-places{end}.csv" for end in ("", "-2", "-3", "-4")))
TIMES = 30


def main() -> None:
    gazetteer = Gazetteer(gazetteer_file(print))
    print(f"{gazetteer.path.name}, {gazetteer.path.stat().st_size / 1e6:.0f} MB")
    took: list[float] = []
    for name in LISTS:
        with (DATA / name).open(encoding="utf-8", newline="") as file:
            cases = list(csv.DictReader(file))
        places = [_place_of(gazetteer, case) for case in cases]
        missed = [case["phrase"] for case, place in zip(cases, places, strict=True) if place != 1]
        in_five = sum(0 < place <= 5 for place in places)
        print(f"{name}: {len(cases) - len(missed)} of {len(cases)} first, {in_five} in five; missed: {missed}")
        took += [_milliseconds(gazetteer, case["phrase"]) for case in cases]
    took.sort()
    print(f"median {statistics.median(took):.2f} ms, 95 % within {took[round(0.95 * len(took))]:.2f} ms")


def _place_of(gazetteer: Gazetteer, case: dict[str, str]) -> int:
    """At which place, from 1, the candidate comes that is meant; 0 when it does not."""
    there = float(case["lat"]), float(case["lon"])
    for place, found in enumerate(gazetteer.find(case["phrase"]), start=1):
        near = km_between((found.latitude, found.longitude), there) <= float(case["tolerance_km"])
        if near and found.country == case["country"]:
            return place
    return 0


def _milliseconds(gazetteer: Gazetteer, phrase: str) -> float:
    began = time.process_time()
    for _ in range(TIMES):
        gazetteer.find(phrase)
    return (time.process_time() - began) / TIMES * 1000


if __name__ == "__main__":
    main()
