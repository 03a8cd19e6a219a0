"""Times the next question on this machine, one core, and measures what its short cuts cost.

    python benchmarks/next_question.py [--prints 20000]

The mixed collection is that of time_order.py. In the others much is undated, as in most boxes: albums in order
with few dates or none, and occasions of twenty prints of which some have a date or a summer of eleven years.
"""

from __future__ import annotations

import argparse
import random
import resource
import time
from itertools import pairwise

from attrs import frozen

from solander.core.chronology import Between, Difference, Pieces, Solution, Statement, next_question, solve
from solander.core.chronology.next_question import Asked, best_questions
from solander.core.days import day
from time_order import collection

ERA = (day(1840, 1, 1), day(2025, 12, 31))


@frozen
class Box:
    """A made-up collection: its things, which of them are prints, what is said, and the occasions."""

    name: str
    things: list[str]
    prints: list[str]
    statements: list[Statement]
    groups: dict[str, list[str]]


def mixed(prints: int) -> Box:
    """Rolls and albums, one print in seven dated, one in fifty a summer of several possible years."""
    things, statements = collection(prints)
    return Box("mixed", things, [each for each in things if not each.endswith("printing")], statements, {})


def albums(name: str, prints: int, *, size: int, dated: float) -> Box:
    """Albums of `size` prints in order, of which the share `dated` has a year."""
    rng = random.Random(3)
    things: list[str] = []
    statements: list[Statement] = []
    for number in range(max(1, prints // size)):
        start = rng.randint(day(1905, 1, 1), day(1975, 1, 1))
        album = {f"A{number}-{place}": start + place * 3000 // size for place in range(size)}
        things += album
        statements += [Difference(f"order {a}", a, b, 0, None) for a, b in pairwise(album)]
        statements += [Between(f"y {x}", x, d - 200, d + 165) for x, d in album.items() if rng.random() < dated]
    return Box(name, things, things, statements, {})


def occasions(prints: int, *, size: int = 20) -> Box:
    """Occasions of a month at most; three in ten dated within ten years, as many a summer of eleven years."""
    rng = random.Random(3)
    box = Box("occasions", [], [], [], {})
    for number in range(prints // size):
        start = rng.randint(day(1905, 1, 1), day(1975, 1, 1))
        shown, occasion, chance = (
            [f"O{number}-{place}" for place in range(size)],
            f"occasion {number}",
            rng.random(),
        )
        box.groups[occasion] = shown
        box.things.extend([occasion, *shown])
        box.prints.extend(shown)
        box.statements.extend(Difference(f"of {each}", occasion, each, 0, 31) for each in shown)
        if chance < 0.3:
            box.statements.append(Between(f"then {occasion}", shown[0], start - 2000, start + 1500))
        elif chance < 0.6:
            summers = [(start + 366 * years, start + 366 * years + 90) for years in range(-5, 6)]
            box.statements.append(Pieces(f"then {occasion}", shown[0], summers))
    return box


def solved(box: Box) -> Solution:
    found = solve(box.things, box.statements)
    assert isinstance(found, Solution)
    return found


def five(box: Box, solution: Solution) -> list[Asked]:
    """The five best questions, occasions counted a quarter more than prints."""
    return best_questions(
        solution,
        box.statements,
        askable=[*box.groups, *box.prints],
        counted=box.prints,
        groups=box.groups,
        era=ERA,
        weights=dict.fromkeys(box.prints, 0.8),
    )


def time_boxes(prints: int) -> None:
    """Processor seconds for the five best questions, without the solving."""
    for box in (
        mixed(prints),
        albums("albums of 200, one in 30 dated", prints, size=200, dated=1 / 30),
        albums("albums of 200, undated", prints, size=200, dated=0),
        albums("albums of 1000, one in 200 dated", prints, size=1000, dated=1 / 200),
        albums("one order of all, one in 1000 dated", prints, size=prints, dated=1 / 1000),
        occasions(prints),
    ):
        solution, taken = solved(box), []
        for _ in range(3):
            start = time.process_time()
            found = five(box, solution)
            taken.append(time.process_time() - start)
        gains = ", ".join(f"{each.thing} {each.gain_years:.0f} (+{each.added_years:.0f})" for each in found)
        print(f"{box.name}, {len(box.prints)} prints: {min(taken):.2f} s; years: {gains}")
    print(f"most memory {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024} MB")


def measure_sampling(prints: int) -> None:
    """What is lost where only some questions are looked at: the first, and all five together."""
    most = next_question._MOST_TOUCHED
    for box in (
        mixed(prints),
        albums("albums of 200, one in 30 dated", prints, size=200, dated=1 / 30),
        albums("albums of 200, one in 100 dated", prints, size=200, dated=1 / 100),
        albums("albums of 200, undated", prints, size=200, dated=0),
        albums("albums of 1000, one in 200 dated", prints, size=1000, dated=1 / 200),
    ):
        solution = solved(box)
        some = five(box, solution)
        next_question._MOST_TOUCHED = 10**12
        start = time.process_time()
        every = five(box, solution)
        taken = time.process_time() - start
        next_question._MOST_TOUCHED = most
        first = some[0].gain_years / every[0].gain_years
        added = sum(each.added_years for each in some) / sum(each.added_years for each in every)
        print(
            f"sampled, {box.name}, {len(box.prints)} prints: first {first:.1%}, five {added:.1%} of what"
            f" looking at all gives in {taken:.1f} s"
        )


def measure_holes(prints: int) -> None:
    """What is lost where holes of neighbours are passed over: every question worked out exactly beside it."""
    for box in (mixed(prints), occasions(prints)):
        solution = solved(box)
        found = five(box, solution)[0]
        weights = dict.fromkeys(box.prints, 0.8)
        whole = next_question._FINALISTS
        next_question._FINALISTS = 10**9
        start = time.process_time()
        best = five(box, solution)[0]
        taken = time.process_time() - start
        next_question._FINALISTS = whole
        share = weights.get(found.thing, 1) * found.gain_years / (weights.get(best.thing, 1) * best.gain_years)
        print(f"holes, {box.name}, {prints} prints: {share:.1%} of the best; all exactly in {taken:.1f} s")


def main() -> None:
    """Prints all figures."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--prints", type=int, default=20_000)
    prints = options.parse_args().prints
    time_boxes(prints)
    measure_sampling(prints)
    measure_holes(2000)


if __name__ == "__main__":
    main()
