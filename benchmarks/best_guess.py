"""How often the 90 % range of a best guess holds the truth, how far the guess is off, and how long it takes.

    python benchmarks/best_guess.py [--seeds 1:31] [--prints 20000]

Made-up collections of several kinds whose true days are known here only. None of them is drawn from the gaps
that the guesses suppose. Numbers in the code were chosen on seeds from 1000 on and are reported on others.
"""

from __future__ import annotations

import argparse
import random
import statistics
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import pairwise

from attrs import evolve, frozen

from solander.core.chronology import Between, Difference, Pieces, Solution, Statement, solve
from solander.core.chronology.guess import Chain, Guess, Weight, best_guesses
from solander.core.days import day, from_day, month_length

LEAST_DAYS = 2
"""Things that are known to the day are not counted: their range holds the truth for sure."""

Random = random.Random


@frozen
class Population:
    """Made-up things with their true days, what is said of them, and the chains that they lie in."""

    truth: dict[str, int]
    statements: list[Statement]
    chains: list[Chain]
    weights: list[Weight]


# -- true days of one chain ----------------------------------------------------------------------------------


def roll(rng: Random) -> list[int]:
    """12–36 prints within 120 days of any day."""
    start = _any_day(rng)
    return sorted(start + rng.randint(0, 119) for _ in range(rng.randint(12, 36)))


def even_album(rng: Random) -> list[int]:
    """50–200 prints over two to fifteen years, as likely at any time."""
    start, years = _any_day(rng), rng.uniform(2, 15)
    return sorted(start + rng.randint(0, round(years * 365)) for _ in range(rng.randint(50, 200)))


def burst_album(rng: Random) -> list[int]:
    """50–200 prints of occasions, 1–20 each over one to five days, over two to fifteen years."""
    start, years = _any_day(rng), rng.uniform(2, 15)
    return sorted(found for occasion in _occasions(rng, start, years, rng.randint(50, 200)) for found in occasion)


def paused_album(rng: Random) -> list[int]:
    """50–150 prints whose gaps are a day or so mostly and years now and then (log-normal)."""
    days, when = [], float(_any_day(rng))
    spread = rng.uniform(1.5, 2.5)
    for _ in range(rng.randint(50, 150)):
        days.append(round(when))
        when += rng.lognormvariate(1.5, spread)
        if when > day(2005, 1, 1):
            break
    return days


def strayed_album(rng: Random) -> list[int]:
    """An album of occasions in which one print in twenty lies some places off."""
    days = burst_album(rng)
    for place in range(len(days)):
        if rng.random() < 0.05:
            moved = days.pop(place)
            days.insert(max(0, place + rng.randint(-20, 20)), moved)
    return days


def box(rng: Random) -> list[int]:
    """20–80 prints of occasions over five to forty years, the occasions in no order at all."""
    start, years = _any_day(rng), rng.uniform(5, 40)
    occasions = _occasions(rng, start, years, rng.randint(20, 80))
    rng.shuffle(occasions)
    return [found for occasion in occasions for found in occasion]


def _any_day(rng: Random) -> int:
    return rng.randint(day(1905, 1, 1), day(1975, 1, 1))


def _occasions(rng: Random, start: int, years: float, count: int) -> list[list[int]]:
    occasions: list[list[int]] = []
    while sum(map(len, occasions)) < count:
        first = start + rng.randint(0, round(years * 365))
        occasions.append(sorted(first + rng.randint(0, 4) for _ in range(rng.randint(1, 20))))
    return occasions


# -- what is said of them ------------------------------------------------------------------------------------


def dated(rng: Random, thing: str, when: int) -> Statement:
    """A true date as a person might say it: to the day, month, season, year, decade, or a summer of ten."""
    year, month, _ = from_day(when)
    spans = {
        "day": (when, when),
        "month": (day(year, month, 1), day(year, month, month_length(year, month))),
        "season": _season(year, month),
        "year": (day(year, 1, 1), day(year, 12, 31)),
        "decade": (day(year // 10 * 10, 1, 1), day(year // 10 * 10 + 9, 12, 31)),
    }
    kind = rng.choices([*spans, "holes"], weights=[20, 22, 13, 30, 10, 5])[0]
    if kind == "holes":
        offset = rng.randint(-6, 0)
        return Pieces(f"date {thing}", thing, [_season(year + offset + n, month) for n in range(7)])
    return Between(f"date {thing}", thing, *spans[kind])


def _season(year: int, month: int) -> tuple[int, int]:
    first = (month - 1) // 3 * 3 + 1
    return day(year, first, 1), day(year, first + 2, month_length(year, first + 2))


def soft(rng: Random, thing: str, when: int) -> Weight:
    """Soft evidence of 2 to 30 years that is right as often as its trust says."""
    width, trust = rng.randint(730, 10_950), rng.choice((0.6, 0.8, 0.9, 0.95))
    slopes = rng.randint(0, width // 3), rng.randint(0, width // 3)
    if rng.random() < trust:
        earliest = when - _inside(rng, width, slopes)
    else:
        earliest = when + rng.choice((-1, 1)) * rng.randint(width, width + 18_000)
    latest = earliest + width
    return Weight(thing, earliest, earliest + slopes[0], latest - slopes[1], latest, trust)


def _inside(rng: Random, width: int, slopes: tuple[int, int]) -> int:
    """Where in the span the truth lies: as likely as the span's weight there."""
    while True:
        place = rng.randint(0, width)
        height = min(1.0, place / max(slopes[0], 1), (width - place) / max(slopes[1], 1))
        if rng.random() <= height:
            return place


def population(
    rng: Random,
    make: Callable[[Random], list[int]],
    *,
    prints: int,
    ordered: float,
    soft_share: float = 0.0,
    first: int = 0,
) -> Population:
    """Chains of one kind, numbered from `first`; of so many gaps in a chain the order is known; a third to a
    twentieth of its prints is dated; half of the rolls are known to be of one film, so to lie within 120 days."""
    found = Population({}, [], [], [])
    while len(found.truth) < prints:
        days = make(rng)
        names = [f"C{first + len(found.chains)}-{place:04d}" for place in range(len(days))]
        found.truth.update(zip(names, days, strict=True))
        found.chains.append(Chain(tuple(names), tuple(rng.random() < ordered for _ in names[1:])))
        found.statements.extend(_said(rng, found.chains[-1], found.truth))
        if make is roll and rng.random() < 0.5:
            found.statements.append(Difference(f"film {names[0]}", names[0], names[-1], 0, 120))
        found.weights.extend(soft(rng, name, found.truth[name]) for name in names if rng.random() < soft_share)
    return found


def _said(rng: Random, chain: Chain, truth: Mapping[str, int]) -> Iterator[Statement]:
    yield from _ordered(chain)
    share = 1 / rng.uniform(3, 20)
    for thing in chain.things:
        if rng.random() < share:
            yield dated(rng, thing, truth[thing])


def envelopes(rng: Random, *, prints: int, ordered: float) -> Population:
    """Envelopes of 2–8 prints, one or two of them dated; of one print in five that is not, it is known that it is
    from before a day up to ten years later. In half of the envelopes all is of one occasion, in half over one to
    fifteen years; of so many of them the order is known."""
    found = Population({}, [], [], [])
    while len(found.truth) < prints:
        sequence = rng.random() < ordered
        days = _few(rng)
        if not sequence:
            rng.shuffle(days)
        names = [f"E{len(found.chains)}-{place}" for place in range(len(days))]
        found.truth.update(zip(names, days, strict=True))
        found.chains.append(Chain(tuple(names), (sequence,) * (len(names) - 1)))
        found.statements.extend(_ordered(found.chains[-1]))
        told = rng.sample(names, min(rng.randint(1, 2), len(names)))
        found.statements.extend(dated(rng, name, found.truth[name]) for name in told)
        for name in names:
            if name not in told and rng.random() < 0.2:
                found.statements.append(
                    Between(f"before {name}", name, None, found.truth[name] + rng.randint(0, 3650))
                )
    return found


def _few(rng: Random) -> list[int]:
    start, years = _any_day(rng), rng.uniform(1, 15)
    span = 4 if rng.random() < 0.5 else round(years * 365)
    return sorted(start + rng.randint(0, span) for _ in range(rng.randint(2, 8)))


def _ordered(chain: Chain) -> Iterator[Statement]:
    for (a, b), ordered in zip(pairwise(chain.things), chain.ordered, strict=True):
        if ordered:
            yield Difference(f"order {a}", a, b, 0, None)


def singles(rng: Random, prints: int) -> Population:
    """Prints in no chain, each with a date."""
    truth = {f"S{place}": _any_day(rng) for place in range(prints)}
    return Population(truth, [dated(rng, name, when) for name, when in truth.items()], [], [])


KINDS: dict[str, Callable[[Random, int], Population]] = {
    "rolls": lambda rng, n: population(rng, roll, prints=n, ordered=1.0),
    "albums, even": lambda rng, n: population(rng, even_album, prints=n, ordered=1.0),
    "albums of occasions": lambda rng, n: population(rng, burst_album, prints=n, ordered=1.0),
    "albums with pauses": lambda rng, n: population(rng, paused_album, prints=n, ordered=1.0),
    "albums, part in order": lambda rng, n: population(rng, burst_album, prints=n, ordered=0.8),
    "albums with strays": lambda rng, n: population(rng, strayed_album, prints=n, ordered=0.0),
    "boxes": lambda rng, n: population(rng, box, prints=n, ordered=0.0),
    "albums, soft": lambda rng, n: population(rng, burst_album, prints=n, ordered=1.0, soft_share=0.15),
    "boxes, soft": lambda rng, n: population(rng, box, prints=n, ordered=0.0, soft_share=0.15),
    "envelopes, in order": lambda rng, n: envelopes(rng, prints=n, ordered=1.0),
    "envelopes, no order": lambda rng, n: envelopes(rng, prints=n, ordered=0.0),
    "single prints": singles,
}


# -- figures -------------------------------------------------------------------------------------------------


@frozen
class Outcome:
    """Whether the range held the truth, its days, and the days by which the guess and the middle are off."""

    held: bool
    days: int
    off: int
    middle_off: int | None


def outcomes(made: Population) -> list[Outcome]:
    """One for each thing that has a guess and is not known to the day."""
    solution = solve(made.truth, made.statements)
    assert isinstance(solution, Solution)
    guesses = best_guesses(solution, made.chains, weights=made.weights)
    return [
        _outcome(made.truth[thing], guess, solution.ranges[thing])
        for thing, guess in guesses.items()
        if not _is_known(solution.ranges[thing])
    ]


def _is_known(reach: tuple[int | None, int | None]) -> bool:
    first, last = reach
    return first is not None and last is not None and last - first + 1 < LEAST_DAYS


def _outcome(when: int, guess: Guess, reach: tuple[int | None, int | None]) -> Outcome:
    first, last = reach
    middle = None if first is None or last is None else abs((first + last) // 2 - when)
    held = guess.first <= when <= guess.last
    return Outcome(held, guess.last - guess.first + 1, abs(guess.day - when), middle)


def told(name: str, seeds: Sequence[Sequence[Outcome]]) -> str:
    """One line of figures; the error of the share is that of its mean over seeds, for the prints of a chain are
    held or missed together."""
    found = [one for seed in seeds for one in seed]
    shares = [statistics.mean(one.held for one in seed) * 100 for seed in seeds]
    error = statistics.stdev(shares) / len(shares) ** 0.5 if len(shares) > 1 else float("nan")
    both = [(one.off, one.middle_off) for one in found if one.middle_off is not None]
    off, middle = (statistics.mean(one[side] for one in both) for side in (0, 1))
    held, everything = (
        statistics.mean(values) for values in zip(*((one.held, one.off) for one in found), strict=True)
    )
    width = statistics.median(one.days for one in found)
    return (
        f"{name:21} {len(found):6} guesses: held {held * 100:4.1f} ± {error:.1f} %, median width {width:5.0f}; "
        f"days off {everything:5.0f}; bounded: {off:5.0f}, middle of the range {middle:5.0f}"
    )


def collection(rng: Random, prints: int) -> Population:
    """Rolls and albums of occasions, half the prints each, at any time of seventy years."""
    found = population(rng, roll, prints=prints // 2, ordered=1.0)
    albums = population(rng, burst_album, prints=prints // 2, ordered=1.0, first=len(found.chains))
    found.truth.update(albums.truth)
    return evolve(
        found, statements=found.statements + albums.statements, chains=[*found.chains, *albums.chains], weights=[]
    )


def main() -> None:
    """Prints all figures."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--seeds", default="1:31", help="first:end")
    options.add_argument("--prints", type=int, default=20_000, help="of the collection that is timed")
    options.add_argument("--each", type=int, default=500, help="prints of each kind and seed")
    given = options.parse_args()
    first, end = map(int, given.seeds.split(":"))
    everything: list[list[Outcome]] = [[] for _ in range(first, end)]
    for name, make in KINDS.items():
        found = [outcomes(make(random.Random(seed), given.each)) for seed in range(first, end)]
        everything = [[*before, *more] for before, more in zip(everything, found, strict=True)]
        print(told(name, found), flush=True)
    print(told("all", everything))
    if given.prints:
        time_guesses(given.prints)


def time_guesses(prints: int) -> None:
    """Seconds for a whole collection, the best of three."""
    made = collection(random.Random(1), prints)
    solution = solve(made.truth, made.statements)
    assert isinstance(solution, Solution)
    taken, busy = [], []
    for _ in range(3):
        start, processor = time.perf_counter(), time.process_time()
        guesses = best_guesses(solution, made.chains)
        taken.append(time.perf_counter() - start)
        busy.append(time.process_time() - processor)
    print(
        f"{len(made.truth)} prints in {len(made.chains)} chains: {len(guesses)} guesses in {min(taken):.2f} s, "
        f"{min(busy):.2f} s of processors (OPENBLAS_NUM_THREADS=1 keeps it to one)"
    )


if __name__ == "__main__":
    main()
