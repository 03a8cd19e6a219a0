"""How well prints of one photograph are found: `python benchmarks/duplicates.py --judge --jobs 2`.

Photographs of `shared/data/photos` beside the project are rendered as prints (`made_duplicates.py` says how).
They go the whole way: points, tables, candidates, close look. Prints one line a kind with its recall, and the
precision of all pairs that are told, each beside its target. What is tuned (`--tune`, the default) is every
second photograph, what is judged (`--judge`) the others, with other random numbers. Exposures of one scene are
made too (a step to the side, somebody who moved): told as one negative, they are the false pairs that count.

`--index` measures looking up one of a million hashes: a half are those of the rendered prints with up to ten
bits turned over, the other half random. `--many 100000` measures the joining of a whole collection: each picture
gets as many points as count of one of so many, drawn from those of the rendered prints, with up to two fifths of
their bits turned over, at random places; three in a hundred are made a second time, turned, with up to a tenth of
their bits turned over.
"""

from __future__ import annotations

import argparse
import time
from concurrent.futures import ProcessPoolExecutor
from itertools import combinations
from pathlib import Path

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from made_duplicates import KINDS, Picture, load, same
from solander.imaging.compare import fingerprint
from solander.imaging.encode import thumbnail
from solander.imaging.hash_index import HashIndex
from solander.imaging.one_negative import Likeness, likeness
from solander.imaging.point_tables import MIRRORED_OF_MANY, PLAIN_OF_MANY, PointTables
from solander.imaging.points import Points, points_of

PHOTOS = Path(__file__).resolve().parents[2] / "shared" / "data" / "photos"
SETS = {"tune": (1_000, 0), "judge": (700_000, 1)}
"""First seed, and which of every two photographs."""

ONE_SCENE = ("doc_546583", "doc_546711")
"""Two photographs of the data that are different exposures of one place, of another day."""


@frozen(eq=False)
class Made:
    """A rendered print: of which photograph, of which kind, its small picture, points and hash."""

    photo: str
    kind: str
    small: NDArray[np.uint8]
    points: Points
    code: int


def main() -> None:
    """Measures what is asked for."""
    cv2.setNumThreads(1)
    options = _options()
    if options.index:
        _index(options)
    elif options.many:
        _many(options)
    else:
        _found(options)


def rendered(options: argparse.Namespace) -> list[Made]:
    """The prints of one half of the photographs."""
    first, half = SETS[options.set]
    paths = sorted(path for path in PHOTOS.iterdir() if path.suffix in (".jpg", ".png"))[half::2]
    jobs = [(path, first + 1000 * n + k) for n, path in enumerate(paths) for k in range(options.times)]
    with ProcessPoolExecutor(options.jobs) as pool:
        return [made for several in pool.map(_render, jobs, chunksize=2) for made in several]


def _render(job: tuple[Path, int]) -> list[Made]:
    path, seed = job
    draw, picture = np.random.default_rng(seed), load(path)
    one, again = same(picture, draw)
    every = {"first": one, "same": again, **{kind: render(picture, draw) for kind, render in KINDS.items()}}
    return [_made(path.stem, kind, print_) for kind, print_ in every.items()]


def _made(photo: str, kind: str, picture: Picture) -> Made:
    small = thumbnail(np.ascontiguousarray(picture[..., ::-1]))
    return Made(photo, kind, small, points_of(small), int(fingerprint(small), 16))


def _found(options: argparse.Namespace) -> None:
    prints = rendered(options)
    candidates = _candidates(prints)
    with ProcessPoolExecutor(options.jobs) as pool:
        jobs = [(prints[a].small, prints[b].small, mirrored) for (a, b), mirrored in candidates.items()]
        judged = dict(zip(candidates, pool.map(_judge, jobs, chunksize=16), strict=True))
    told = {pair for pair, found in judged.items() if found.is_one_negative}
    print(
        f"{len(prints)} prints of {len({one.photo for one in prints})} photographs; {len(candidates)} candidates"
    )
    for kind in ("same", "second", "mirrored", "part"):
        pairs = _pairs_of(prints, kind, options.times)
        _line(f"recall, {kind}", [pair in told for pair in pairs], None if kind == "part" else 0.99)
        _line("   were candidates", [pair in candidates for pair in pairs], None)
    three = [pair for kind in ("same", "second", "mirrored") for pair in _pairs_of(prints, kind, options.times)]
    _line("recall, whole prints together", [pair in told for pair in three], 0.99)
    _line("precision of what is told", [_is_true(prints, *pair) for pair in told], 0.995)
    scenes = _pairs_of(prints, "exposure", options.times)
    _line("other exposures told as one negative", [pair in told for pair in scenes], None)
    wrong = [pair for pair in told if prints[pair[0]].photo != prints[pair[1]].photo]
    print(f"pairs of different photographs told: {len(wrong)} of {len(prints) * (len(prints) - 1) // 2}")
    _kinds(prints, judged, options.times)
    if options.worst:
        _worst(prints, judged, options.times)


def _candidates(prints: list[Made]) -> dict[tuple[int, int], bool]:
    """Pairs to look at, and whether as mirrored."""
    index = HashIndex.of(one.code for one in prints)
    found = {
        (min(a, b), max(a, b)): False
        for a, one in enumerate(prints) for b in index.near(one.code).tolist() if a != b
    }  # fmt: skip
    joined = PointTables.of([one.points for one in prints]).candidates()
    order = np.argsort(joined.votes, kind="stable")
    return found | {
        (int(a), int(b)): bool(mirrored)
        for (a, b), mirrored in zip(joined.pairs[order].tolist(), joined.mirrored[order], strict=True)
    }


def _judge(job: tuple[NDArray[np.uint8], NDArray[np.uint8], bool]) -> Likeness:
    cv2.setNumThreads(1)
    return likeness(job[0], job[1], mirrored=job[2])


def _pairs_of(prints: list[Made], kind: str, times: int) -> list[tuple[int, int]]:
    """Each first print with the one of that kind that was made with it."""
    of_one = 2 + len(KINDS)
    kinds = [one.kind for one in prints[:of_one]]
    return [(start, start + kinds.index(kind)) for start in range(0, len(prints), of_one)]


def _is_true(prints: list[Made], a: int, b: int) -> bool:
    one, other = prints[a], prints[b]
    return one.photo == other.photo and "exposure" not in (one.kind, other.kind)


def _line(what: str, right: list[bool], target: float | None) -> None:
    share = float(np.mean(right)) if right else float("nan")
    beside = "" if target is None else f"   target {target:.1%}{'' if share >= target else ' !'}"
    print(f"{what:40} {share:7.2%} of {len(right)}{beside}")


def _kinds(prints: list[Made], judged: dict[tuple[int, int], Likeness], times: int) -> None:
    """Whether one print is told from another print of its negative, by where the corners lie."""
    for kind in ("same", "second", "part"):
        found = [judged[pair] for pair in _pairs_of(prints, kind, times) if pair in judged]
        offs = np.percentile([one.frame_off for one in found], [5, 50, 95, 99])
        parts = np.mean([one.is_part for one in found])
        print(f"{kind}: corners off by {offs.round(4)} (5, 50, 95, 99 %), told as a part {parts:.1%}")


def _worst(prints: list[Made], judged: dict[tuple[int, int], Likeness], times: int) -> None:
    for kind in ("same", "second", "mirrored", "part", "exposure"):
        for pair in _pairs_of(prints, kind, times):
            found = judged.get(pair)
            if (found is not None and found.is_one_negative) == (kind == "exposure"):
                said = (
                    f"moved {found.moved:.3f}, missing {found.missing:.3f} of {found.windows}"
                    if found
                    else "no candidate"
                )
                print(f"{kind:9} {prints[pair[0]].photo[:32]:34} {said}")
    real = [one for one in prints if one.photo in ONE_SCENE]
    for a, b in combinations(real, 2):
        if a.photo != b.photo and likeness(a.small, b.small).is_one_negative:
            print("told as one negative:", a.photo, a.kind, b.photo, b.kind)


def _index(options: argparse.Namespace) -> None:
    draw = np.random.default_rng(5)
    real = np.array([one.code for one in rendered(options)], np.uint64)
    codes = np.concatenate([draw.choice(real, 500_000), draw.integers(0, 2**64, 500_000, np.uint64)])
    for _ in range(10):
        codes[:500_000] ^= np.uint64(1) << draw.integers(0, 64, 500_000, np.uint64)
    start = time.perf_counter()
    index = HashIndex.of(codes.tolist())
    print(f"1,000,000 hashes, built in {time.perf_counter() - start:.2f} s")
    sought = [int(code) for code in np.concatenate([draw.choice(codes, 1000), real[:1000]])]
    took = []
    for code in sought:
        start = time.process_time()
        index.near(code)
        took.append(time.process_time() - start)
    spent = (np.percentile(took, [50, 95, 100]) * 1000).round(3)
    print("a query, ms of processor time (50, 95, 100 %):", spent, "  target 1 ms")
    for code in sought[::100]:
        assert (index.near(code) == np.flatnonzero(np.bitwise_count(codes ^ np.uint64(code)) <= 7)).all()
    print("20 of them compared with brute force: the same")


def _many(options: argparse.Namespace) -> None:
    draw = np.random.default_rng(6)
    pool = np.concatenate([one.points.plain for one in rendered(options)])
    start = time.perf_counter()
    twice, spare = np.split(draw.permutation(options.many)[: options.many * 3 // 100 * 2], 2)
    points = _drawn(pool, options.many, draw)
    points[spare] = _again(points[twice], draw)
    pictures = [Points(each[:PLAIN_OF_MANY], each[PLAIN_OF_MANY:]) for each in points]
    print(f"{options.many} pictures, {len(pool)} real points to draw from, {time.perf_counter() - start:.0f} s")
    start, cpu = time.perf_counter(), time.process_time()
    tables = PointTables.of(pictures)
    print(
        f"tables {time.perf_counter() - start:.1f} s ({time.process_time() - cpu:.1f} s of one core), "
        f"{(tables.points.nbytes + tables.owner.nbytes + tables.rows.nbytes) / 1e9:.2f} GB"
    )
    start, cpu = time.perf_counter(), time.process_time()
    found = tables.candidates()
    print(f"joined {time.perf_counter() - start:.1f} s ({time.process_time() - cpu:.1f} s of one core)")
    there = set(map(tuple, found.pairs.tolist()))
    made = {(min(pair), max(pair)) for pair in zip(twice.tolist(), spare.tolist(), strict=True)}
    print(f"{len(there)} candidates; of {len(made)} made twice {len(made & there)} among them")
    took = []
    for one in pictures[:20]:
        start = time.perf_counter()
        tables.candidates_of(one)
        took.append(time.perf_counter() - start)
    print(f"one new print among them: {np.median(took) * 1000:.1f} ms")


def _drawn(pool: NDArray[np.void], pictures: int, draw: np.random.Generator) -> NDArray[np.void]:
    """Points (pictures, 192)."""
    size = pictures, PLAIN_OF_MANY + MIRRORED_OF_MANY
    points = pool[draw.integers(0, len(pool), size)]
    points["x"], points["y"] = draw.integers(0, 65_535, (2, *size))
    points["turn"] = draw.integers(0, 256, size)
    return _flipped(points, 0.4, draw)


def _again(points: NDArray[np.void], draw: np.random.Generator) -> NDArray[np.void]:
    """The points of other prints of the same: a quarter turn, a twentieth of the bits turned over on average."""
    again = _flipped(points, 0.1, draw)
    again["x"], again["y"] = 65_535 - points["y"], points["x"]
    again["turn"] = points["turn"] + 64
    return again


def _flipped(points: NDArray[np.void], most: float, draw: np.random.Generator) -> NDArray[np.void]:
    """With up to that share of their bits turned over, in one of 50,000 ways each."""
    ways = np.packbits(draw.random((50_000, 256)) < draw.uniform(0, most, (50_000, 1)), axis=1)
    turned = points.copy()
    turned["word"] ^= ways[draw.integers(0, len(ways), points.shape)]
    return turned


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    which = parser.add_mutually_exclusive_group()
    for name in SETS:
        which.add_argument(f"--{name}", dest="set", action="store_const", const=name)
    parser.add_argument("--times", type=int, default=2, help="renderings of each photograph")
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--worst", action="store_true", help="names what was missed or told wrongly")
    parser.add_argument("--index", action="store_true")
    parser.add_argument("--many", type=int, default=0)
    parser.set_defaults(set="tune")
    return parser.parse_args()


if __name__ == "__main__":
    main()
