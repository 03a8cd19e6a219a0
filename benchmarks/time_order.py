"""Times dates, phrases and chronology on this machine; one core.

    python benchmarks/time_order.py [--prints 20000]

The made-up collection: rolls of 12–36 prints and albums of 50–200 in order of time, one print in seven with a
year or a month, one in fifty a summer of several possible years, every print on paper made after the shutter
opened, some ties between albums. It is consistent by construction.
"""

from __future__ import annotations

import argparse
import csv
import datetime
import random
import statistics
import time
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from typing import Any

from solander.core.chronology import (
    Between,
    Difference,
    Network,
    Pieces,
    Solution,
    Statement,
    best_guesses,
    mends,
    put_in_order,
    solve,
)
from solander.core.chronology.all_at_once import tightest
from solander.core.chronology.bulk import Bulk
from solander.core.chronology.holes import with_holes
from solander.core.dates import day, from_day, parse_edtf
from solander.core.days import month_length
from solander.core.phrases import read_date

DATA = Path(__file__).parent.parent / "tests" / "core" / "data"
EDIT_SAMPLE = 2000
LARGE = 100_000
"""Above so many prints only the solve is timed."""


def collection(prints: int, *, seed: int = 1) -> tuple[list[str], list[Statement]]:
    """Things and statements of a made-up collection whose true days are known here only."""
    rng = random.Random(seed)
    things: list[str] = []
    statements: list[Statement] = []
    groups: list[list[tuple[str, int]]] = []
    while sum(map(len, groups)) < prints:
        group = _group(rng, len(groups), prints - sum(map(len, groups)))
        groups.append(group)
        things += [name for thing, _ in group for name in (thing, f"{thing} printing")]
        statements += _statements(rng, group)
    for number in range(len(groups)):
        (a, first), (b, last) = (rng.choice(rng.choice(groups)) for _ in range(2))
        if a != b:
            slack = rng.randint(0, 400)
            statements.append(Difference(f"tie {number}", a, b, last - first - slack, last - first + slack))
    return things, statements


def _group(rng: random.Random, number: int, most: int) -> list[tuple[str, int]]:
    roll = rng.random() < 0.7
    size = min(rng.randint(12, 36) if roll else rng.randint(50, 200), most)
    start = rng.randint(day(1905, 1, 1), day(1975, 1, 1))
    days = sorted(start + rng.randint(0, 120 if roll else 2500) for _ in range(size))
    return [(f"G{number}-{place:04d}", when) for place, when in enumerate(days, 1)]


def _statements(rng: random.Random, group: list[tuple[str, int]]) -> list[Statement]:
    found: list[Statement] = []
    for (a, _), (b, _) in pairwise(group):
        found.append(Difference(f"order {a}", a, b, 0, None))
    if group[-1][1] - group[0][1] <= 120:
        found.append(Difference(f"roll {group[0][0]}", group[0][0], group[-1][0], 0, 120))
    for thing, when in group:
        found.append(Difference(f"printed {thing}", thing, f"{thing} printing", 0, None))
        if rng.random() < 1 / 7:
            found.append(_dated(rng, thing, when))
        elif rng.random() < 1 / 50:
            found.append(_in_season(thing, when))
    return found


def _dated(rng: random.Random, thing: str, when: int) -> Between:
    year, month, _ = from_day(when)
    if rng.random() < 0.5:
        return Between(f"year {thing}", thing, day(year, 1, 1), day(year, 12, 31))
    return Between(f"month {thing}", thing, day(year, month, 1), day(year, month, month_length(year, month)))


def _in_season(thing: str, when: int) -> Pieces:
    """The right three months of eleven possible years."""
    year, month, _ = from_day(when)
    first = (month - 1) // 3 * 3 + 1
    years = range(year - 5, year + 6)
    last = [day(y, first + 2, month_length(y, first + 2)) for y in years]
    return Pieces(f"season {thing}", thing, [(day(y, first, 1), end) for y, end in zip(years, last, strict=True)])


def _seconds(work: Callable[[], Any], times: int = 3) -> float:
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return min(taken)


def time_dates() -> None:
    """µs a value: parsing and bounds of every valid published example."""
    with (DATA / "edtf-examples.csv").open(encoding="utf-8", newline="") as table:
        values = [row["value"] for row in csv.DictReader(table) if row["valid"] == "yes"]
    parse_anew = parse_edtf.__wrapped__  # values that were read before are kept; here each is read again
    parse = _seconds(lambda: [parse_anew(value) for _ in range(100) for value in values])
    bounds = _seconds(lambda: [parse_anew(value).bounds() for _ in range(100) for value in values])
    count = 100 * len(values)
    print(
        f"EDTF, {len(values)} values: read {parse / count * 1e6:.1f} µs, with days {bounds / count * 1e6:.1f} µs"
    )


def time_phrases() -> None:
    """ms a phrase, language not told."""
    with (DATA / "date-phrases.csv").open(encoding="utf-8", newline="") as table:
        phrases = [row["phrase"] for row in csv.DictReader(table)]
    today = datetime.date(2026, 11, 25)
    taken = [_seconds(lambda p=phrase: read_date(p, today=today), 20) * 1e3 for phrase in phrases]
    print(f"phrases, {len(phrases)}: mean {statistics.mean(taken):.2f} ms, slowest {max(taken):.2f} ms")


def time_chronology(prints: int) -> None:
    """A full solve and its parts, edits one at a time, withdrawals, and the order."""
    things, statements = collection(prints)
    found = solve(things, statements)
    assert isinstance(found, Solution)
    solved = _seconds(lambda: solve(things, statements), 3 if prints > LARGE else 15)
    print(f"chronology, {prints} prints, {len(things)} things, {len(statements)} statements:")
    print(f"  full solve {solved * 1e3:.0f} ms; {len(found.pieces)} things with holes")
    _time_parts(things, statements)
    if prints > LARGE:
        return
    network = Network(things)
    taken = [_seconds(lambda s=said: network.add(s), 1) * 1e3 for said in _shuffled(statements)]
    print(f"  all one by one {sum(taken):.0f} ms; the last {_spread(taken[-EDIT_SAMPLE:])}")
    _time_withdrawals(network, statements)
    _time_mends(network, things)
    shown = [thing for thing in things if not thing.endswith("printing")]
    guesses = best_guesses(found, [])
    ordered = _seconds(lambda: put_in_order(shown, found, guesses=guesses, precedes=network.precedes()))
    print(f"  order {ordered * 1e3:.0f} ms")


def _time_parts(things: list[str], statements: list[Statement]) -> None:
    places = {thing: place for place, thing in enumerate(things)}
    named = _seconds(lambda: {thing: place for place, thing in enumerate(things)})
    laid = _seconds(lambda: Bulk.of(places, statements))
    bulk = Bulk.of(places, statements)
    tight = _seconds(lambda: tightest(len(places), bulk.bounds, bulk.differences))
    ranges = tightest(len(places), bulk.bounds, bulk.differences)
    assert ranges is not None
    holes = _seconds(lambda: with_holes(bulk, ranges))
    print(
        f"  of it: numbering things {named * 1e3:.0f} ms, statements to arrays {laid * 1e3:.0f} ms, "
        f"ranges in arrays {tight * 1e3:.0f} ms, holes {holes * 1e3:.0f} ms"
    )


def _time_withdrawals(network: Network, statements: list[Statement]) -> None:
    taken = []
    for said in _shuffled(statements)[:EDIT_SAMPLE]:
        taken.append(_seconds(lambda s=said: network.withdraw(s.id), 1) * 1e3)
        network.add(said)
    print(f"  withdrawals, {_spread(taken)}")


def _time_mends(network: Network, things: list[str]) -> None:
    """Forty dates a century wrong, left out: what one withdrawal would mend."""
    rng = random.Random(3)
    wrong = [Between(f"wrong {n}", rng.choice(things), day(1825, 1, 1), day(1825, 12, 31)) for n in range(40)]
    refused = [said for said in wrong if network.contradiction_of(said) is not None]
    told = _seconds(lambda: [network.contradiction_of(said) for said in refused], 1)
    mended = _seconds(lambda: mends(network, refused), 1)
    print(f"  {len(refused)} contradictions told in {told * 1e3:.0f} ms, what mends most in {mended * 1e3:.0f} ms")


def _spread(taken: list[float]) -> str:
    last = sorted(taken)
    return (
        f"{len(last)}: median {statistics.median(last):.3f} ms, "
        f"99th percentile {last[len(last) * 99 // 100]:.2f} ms, slowest {last[-1]:.1f} ms"
    )


def _shuffled(statements: list[Statement]) -> list[Statement]:
    return random.Random(2).sample(statements, len(statements))


def main() -> None:
    """Prints all figures."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--prints", type=int, default=20_000)
    prints = options.parse_args().prints
    time_dates()
    time_phrases()
    time_chronology(prints)


if __name__ == "__main__":
    main()
