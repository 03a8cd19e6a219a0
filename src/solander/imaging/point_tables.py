"""Which of many pictures have points in common: candidates for one negative, also where one is a crop.

Method. Bits of the words, in twelve choices that are balanced and hardly correlated, sort the points into as
many tables (locality-sensitive hashing by bit sampling, Indyk and Motwani 1998): points that lie together in one
and whose whole words are near are matches. Of two pictures those matches count that agree on one turn, one scale
and one place of the one picture over the other.

So that the work grows with the number of pictures and not with its square, a place of a table is made narrower as
points become more, and what lies in a crowded place is dropped: such words stand in too many pictures to tell any.

Convention: pictures are numbered from 0 in the order given. `plain` points make the tables; a match of mirrored
points of one with plain points of another says that the one was printed the wrong way round.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor

import numpy as np
from attrs import define, frozen
from numpy.typing import NDArray

from solander.imaging.point_bits import BITS, CHOICES, FURTHER
from solander.imaging.points import POINT, STEP, Points

__all__ = ["Candidates", "PointTables"]

Matches = NDArray[np.int64]
"""Matches (n,) of two points each: the number of the one in the upper half, of the other in the lower."""

ENOUGH = 3
ENOUGH_OF_MANY = 4
MANY = 20_000
"""Matches that agree from which two pictures are looked at closely; among more than `MANY` pictures one more, for
what agrees by chance grows with the square of their number (benchmarks/duplicates.py)."""

PLAIN_OF_MANY = 128
MIRRORED_OF_MANY = 64
"""Of so many pictures only the strongest points: all would take the memory of a small computer."""

NEAR = 50
"""Bits of 256 in which two words may differ to be a match: 98 of 100 true matches do, and half of those by chance
that lie together in a table (tuning half of benchmarks/duplicates.py)."""

UNLIKE = 0.3
"""Share of the further bits in which two that lie together may differ to be compared whole."""

CROWD = 8
"""Points of one place of a table beyond which they tell nothing: what many pictures have tells none."""

WIDE = 1 << 22
"""Points up to which a place takes `BITS` bits; each time they double it takes one more."""

MOST = 64
"""Matches of two pictures that are weighed against each other: more tell no more."""

TURN = 16
"""256ths of the circle by which the turn of two matches may differ (22°)."""

SIZES = 1.5
"""Steps of size by which the scale of two matches may differ."""

AWAY = 0.04
"""Long sides by which a match may lie beside where another one says."""

THREADS = 2
"""Tables that are worked on at once: each of 100,000 pictures takes about a gigabyte meanwhile."""

_LEAST_APART = 0.04
"""Matches nearer than this, in long sides, are one: they agree whatever they are."""

_NUMBER = 26
"""Bits of a row that hold the number of a point, the lowest; those of its word stand above."""

_NUMBERS = np.uint64((1 << _NUMBER) - 1)
_WORD = 64 - _NUMBER
_CHUNK = 1 << 18


@frozen(eq=False)
class Candidates:
    """Pairs of pictures (n, 2), the smaller number first; how many matches agree; whether one is mirrored."""

    pairs: NDArray[np.int64]
    votes: NDArray[np.int64]
    mirrored: NDArray[np.bool_]


@define(eq=False)
class PointTables:
    """The tables of many pictures: `points` of all, whose they are (`owner`), and which are mirrored ones.

    `rows` (12, n), sorted, hold bits of each point's word in one table and its number: 96 bytes a point besides
    its own 38.
    """

    points: NDArray[np.void]
    owner: NDArray[np.uint32]
    mirrored: NDArray[np.bool_]
    rows: NDArray[np.uint64]

    @classmethod
    def of(cls, pictures: Sequence[Points]) -> PointTables:
        """The tables of these; of more than `MANY` of their strongest points.

        Raises
        ------
        ValueError
            When their points are more than the tables can number, 67 million.
        """
        if len(pictures) > MANY:
            pictures = [one.strongest(PLAIN_OF_MANY, MIRRORED_OF_MANY) for one in pictures]
        kept = [part for one in pictures for part in (one.plain, one.mirrored)]
        points = np.concatenate(kept) if kept else np.zeros(0, POINT)
        if len(points) > _NUMBERS:
            raise ValueError(f"{len(points)} points are more than {_NUMBERS}")
        counts = np.array([len(part) for part in kept], np.int64)
        owner = np.repeat(np.arange(len(kept)) // 2, counts).astype(np.uint32)
        mirrored = np.repeat(np.arange(len(kept)) % 2 == 1, counts)
        return cls(points, owner, mirrored, _sorted_rows(points["word"]))

    def candidates(self) -> Candidates:
        """All pairs of pictures that have enough in common."""
        words = _whole(self.points["word"])

        def near(row: NDArray[np.uint64]) -> Matches:
            return self._near(*_together(row), (words, words))

        with ThreadPoolExecutor(THREADS) as threads:  # numpy lets go of the interpreter while it works
            found = list(threads.map(near, self.rows))
        return self._agreeing(np.unique(np.concatenate(found)))

    def candidates_of(self, picture: Points) -> Candidates:
        """The same for one that is not among them: the second number of each pair is 0, the first is theirs."""
        other = PointTables.of([picture])
        words = self.points["word"], _whole(other.points["word"])
        found = [
            self._near(*_in_both(row, own), words, other) for row, own in zip(self.rows, other.rows, strict=True)
        ]
        return self._agreeing(np.unique(np.concatenate(found)), other)

    def _near(
        self,
        one: NDArray[np.int64],
        two: NDArray[np.int64],
        words: tuple[NDArray[np.generic], NDArray[np.uint64]],
        other: PointTables | None = None,
    ) -> Matches:
        """Those of the pairs of points that are matches of two pictures; `two` are of `other` if given."""
        of, kept = other or self, [np.zeros(0, np.int64)]
        for start in range(0, len(one), _CHUNK):
            a, b = one[start : start + _CHUNK], two[start : start + _CHUNK]
            ok = ~(self.mirrored[a] & of.mirrored[b])
            if other is None:
                a, b = np.minimum(a, b), np.maximum(a, b)  # a pair is one, whichever way two tables have it
                ok &= self.owner[a] != self.owner[b]
            a, b = a[ok], b[ok]
            ok = np.bitwise_count(_whole(words[0][a]) ^ words[1][b]).sum(axis=1, dtype=np.int64) <= NEAR
            kept.append((a[ok] << 32) | b[ok])
        return np.concatenate(kept)

    def _agreeing(self, matches: Matches, other: PointTables | None = None) -> Candidates:
        """The pictures of which enough matches agree."""
        of = other or self
        a, b = matches >> 32, matches & 0xFFFFFFFF
        mirrored = (self.mirrored[a] | of.mirrored[b]).astype(np.int64)
        group = (self.owner[a].astype(np.int64) << 32) | (of.owner[b].astype(np.int64) << 1) | mirrored
        order = np.argsort(group, kind="stable")
        group, a, b = group[order], a[order], b[order]
        starts, sizes = _runs(group)
        pictures = int(self.owner[-1]) + 1 if len(self.owner) else 0
        enough = ENOUGH_OF_MANY if pictures > MANY else ENOUGH
        place = np.arange(len(group)) - np.repeat(starts, sizes)
        told = np.repeat(sizes >= enough, sizes) & (place < MOST)
        return _counted(group[told], _Laid.of(self.points[a[told]], of.points[b[told]]), enough)


@frozen(eq=False)
class _Laid:
    """Matches (n,) with what each tells of how the second picture lies over the first: where it is in each
    (`one`, `two`, (n, 2) in long sides), the `turn` in 256ths of the circle, the `size` in steps."""

    one: NDArray[np.float32]
    two: NDArray[np.float32]
    turn: NDArray[np.uint8]
    size: NDArray[np.float32]

    @classmethod
    def of(cls, one: NDArray[np.void], two: NDArray[np.void]) -> _Laid:
        at = [np.stack([each["x"], each["y"]], 1).astype(np.float32) / np.float32(65_535) for each in (one, two)]
        turn = two["turn"] - one["turn"]  # modulo 256
        return cls(at[0], at[1], turn, two["size"].astype(np.float32) - one["size"])

    def agree(self, a: NDArray[np.int64], b: NDArray[np.int64]) -> NDArray[np.bool_]:
        """Whether the matches `a` and `b` tell of one turn, one scale and one place."""
        between = (self.turn[b] - self.turn[a]).astype(np.int8)
        sized = np.abs(self.size[b] - self.size[a]) <= SIZES
        some = np.flatnonzero((np.abs(between.astype(np.int16)) <= TURN) & sized)
        a, b = a[some], b[some]
        way_one, way_two = self.one[b] - self.one[a], self.two[b] - self.two[a]
        angle = (self.turn[a] + between[some] / np.float32(2)) * np.float32(2 * np.pi / 256)
        scale = np.float32(STEP) ** ((self.size[a] + self.size[b]) / 2)
        said_x = scale * (np.cos(angle) * way_one[:, 0] - np.sin(angle) * way_one[:, 1])
        said_y = scale * (np.sin(angle) * way_one[:, 0] + np.cos(angle) * way_one[:, 1])
        far = np.hypot(way_two[:, 0], way_two[:, 1])
        off = np.hypot(said_x - way_two[:, 0], said_y - way_two[:, 1])
        apart = (far > _LEAST_APART) & (np.hypot(way_one[:, 0], way_one[:, 1]) > _LEAST_APART)
        agree = np.zeros(len(between), np.bool_)
        agree[some] = apart & (off <= AWAY + 0.2 * far)
        return agree


def _whole(words: NDArray[np.generic]) -> NDArray[np.uint64]:
    """Words (n, 32) of bytes as (n, 4) of 64 bits."""
    return np.ascontiguousarray(words).view(np.uint64)


def _sorted_rows(words: NDArray[np.uint8]) -> NDArray[np.uint64]:
    """The rows of all tables: bits of the word in the upper part, the number of the point in the lower."""
    rows = np.empty((len(CHOICES), len(words)), np.uint64)

    def fill(start: int) -> None:
        some = np.ascontiguousarray(words[start : start + _CHUNK].T)
        numbers = np.arange(start, start + some.shape[1], dtype=np.uint64)
        for row, parts in zip(rows, _LOOK_UP, strict=True):
            row[start : start + _CHUNK] = numbers
            for byte, bits in parts:
                row[start : start + _CHUNK] |= bits[some[byte]]

    with ThreadPoolExecutor(THREADS) as threads:
        list(threads.map(fill, range(0, len(words), _CHUNK)))
        list(threads.map(np.ndarray.sort, rows))
    return rows


def _look_up(choice: Sequence[int]) -> list[tuple[int, NDArray[np.uint64]]]:
    """By each byte of a word that holds some of these bits: what each of its 256 values brings to a row."""
    values, found = np.arange(256, dtype=np.uint64), []
    for byte in sorted({bit // 8 for bit in choice}):
        brings = np.zeros(256, np.uint64)
        for place, bit in enumerate(choice):
            if bit // 8 == byte:
                brings |= ((values >> np.uint64(7 - bit % 8)) & np.uint64(1)) << np.uint64(63 - place)
        found.append((byte, brings))
    return found


_LOOK_UP = [_look_up(first + further) for first, further in zip(CHOICES, FURTHER, strict=True)]


def _width(points: int) -> int:
    """Bits of a place in a table of so many points."""
    return min(_WORD, BITS + max(0, (points - 1) // WIDE).bit_length())


def _runs(ordered: NDArray[np.generic]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Where each run of equal values begins, and how long it is."""
    if not len(ordered):
        return np.zeros(0, np.int64), np.zeros(0, np.int64)
    starts = np.flatnonzero(np.r_[True, ordered[1:] != ordered[:-1]])
    return starts, np.diff(np.r_[starts, len(ordered)])


def _alike(one: NDArray[np.uint64], two: NDArray[np.uint64], width: int) -> NDArray[np.bool_]:
    """Of rows in one place: whether their further bits are alike too, as far as a row holds them."""
    apart = np.bitwise_count((one ^ two) >> np.uint64(_NUMBER))
    return np.asarray(apart <= UNLIKE * (_WORD - width), np.bool_)


def _together(row: NDArray[np.uint64]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """All pairs of points that lie together in a table, alike as far as the row tells, but for crowds."""
    width = _width(len(row))
    _, sizes = _runs(row >> np.uint64(64 - width))
    row = row[np.repeat((sizes > 1) & (sizes <= CROWD), sizes)]
    place = row >> np.uint64(64 - width)
    one, two = [np.zeros(0, np.int64)], [np.zeros(0, np.int64)]
    for step in range(1, CROWD):
        at = np.flatnonzero((place[step:] == place[:-step]) & _alike(row[step:], row[:-step], width))
        one.append((row[at] & _NUMBERS).astype(np.int64))
        two.append((row[at + step] & _NUMBERS).astype(np.int64))
    return np.concatenate(one), np.concatenate(two)


def _in_both(row: NDArray[np.uint64], own: NDArray[np.uint64]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """The points of a table that lie where those of another do: pairs of numbers, but for crowds."""
    width = _width(len(row))
    place = own >> np.uint64(64 - width) << np.uint64(64 - width)
    first = np.searchsorted(row, place)
    last = np.searchsorted(row, place | np.uint64((1 << (64 - width)) - 1), side="right")
    sizes = np.where(last - first > CROWD, 0, last - first)
    within = np.arange(sizes.sum()) - np.repeat(np.cumsum(sizes) - sizes, sizes)
    theirs, ours = row[np.repeat(first, sizes) + within], np.repeat(own, sizes)
    alike = _alike(theirs, ours, width)
    return (theirs[alike] & _NUMBERS).astype(np.int64), (ours[alike] & _NUMBERS).astype(np.int64)


def _counted(group: NDArray[np.int64], laid: _Laid, enough: int) -> Candidates:
    """How many matches of each group agree with the one that most agree with."""
    starts, sizes = _runs(group)
    if not len(group):
        return Candidates(np.zeros((0, 2), np.int64), np.zeros(0, np.int64), np.zeros(0, np.bool_))
    votes = np.ones(len(group), np.int64)
    for one, two in _within_groups(starts, sizes):
        ok = laid.agree(one, two)
        np.add.at(votes, one[ok], 1)
        np.add.at(votes, two[ok], 1)
    most = np.maximum.reduceat(votes, starts)
    told = group[starts][most >= enough]
    pairs = np.stack([told >> 32, (told & 0xFFFFFFFF) >> 1], 1)
    return Candidates(pairs, most[most >= enough], (told & 1).astype(np.bool_))


def _within_groups(
    starts: NDArray[np.int64], sizes: NDArray[np.int64]
) -> Iterator[tuple[NDArray[np.int64], NDArray[np.int64]]]:
    """All pairs of places within each group, those of one distance at a time."""
    for step in range(1, int(sizes.max())):
        large = sizes > step
        firsts, lengths = starts[large], sizes[large] - step
        within = np.arange(lengths.sum()) - np.repeat(np.cumsum(lengths) - lengths, lengths)
        one = np.repeat(firsts, lengths) + within
        yield one, one + step
