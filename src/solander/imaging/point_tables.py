"""Which of many pictures have points in common: candidates for one negative, also where one is a crop.

Method. Bits of the words, in `TABLES` choices of `BITS` that are balanced and hardly correlated, sort the points
into as many tables (locality-sensitive hashing by bit sampling, Indyk and Motwani 1998): points that lie together
in one and whose whole words are near are matches. Of two pictures those matches count that agree on one turn, one
scale and one place of the one picture over the other.

Convention: pictures are numbered from 0 in the order given. `plain` points make the tables; a match of mirrored
points of one with plain points of another says that the one was printed the wrong way round.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor

import numpy as np
from attrs import define, frozen
from numpy.typing import NDArray

from solander.imaging.point_bits import CHOICES
from solander.imaging.points import POINT, STEP, Points

__all__ = ["Candidates", "PointTables"]

ENOUGH = 3
ENOUGH_OF_MANY = 4
MANY = 20_000
"""Matches that agree from which two pictures are looked at closely; among more than `MANY` pictures one more, for
what agrees by chance grows with the square of their number (17 in a million pairs against 1)."""

NEAR = 60
"""Bits of 256 in which two words may differ to be a match."""

CROWD = 8
"""Points of one place of a table beyond which they tell nothing: what many pictures have tells none."""

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


@frozen(eq=False)
class Candidates:
    """Pairs of pictures (n, 2), the smaller number first; how many matches agree; whether one is mirrored."""

    pairs: NDArray[np.int64]
    votes: NDArray[np.int64]
    mirrored: NDArray[np.bool_]


@define(eq=False)
class PointTables:
    """The tables of many pictures: `points` of all, whose they are (`owner`), and which are mirrored ones.

    `tables` (TABLES, n) hold key and number of each point in one, sorted: 96 bytes a point besides its own 38.
    """

    points: NDArray[np.void]
    owner: NDArray[np.uint32]
    mirrored: NDArray[np.bool_]
    tables: NDArray[np.uint64]

    @classmethod
    def of(cls, pictures: Sequence[Points]) -> PointTables:
        """The tables of these."""
        kept = [part for one in pictures for part in (one.plain, one.mirrored)]
        points = np.concatenate(kept) if kept else np.zeros(0, POINT)
        counts = np.array([len(part) for part in kept], np.int64)
        owner = np.repeat(np.arange(len(kept)) // 2, counts).astype(np.uint32)
        mirrored = np.repeat(np.arange(len(kept)) % 2 == 1, counts)
        with ThreadPoolExecutor(THREADS) as threads:  # numpy lets go of the interpreter while it works
            tables = np.stack(list(threads.map(lambda choice: _sorted_keys(points["word"], choice), CHOICES)))
        return cls(points, owner, mirrored, tables)

    def candidates(self) -> Candidates:
        """All pairs of pictures that have enough in common."""
        with ThreadPoolExecutor(THREADS) as threads:
            found = list(threads.map(lambda table: self._near(*_together(table)), self.tables))
        return self._agreeing(_each_once(found))

    def candidates_of(self, picture: Points) -> Candidates:
        """The same for one that is not among them: the second number of each pair is 0, the first is theirs."""
        other = PointTables.of([picture])
        found = []
        for table, own in zip(self.tables, other.tables, strict=True):
            theirs, ours = _in_both(table, own)
            found.append(self._near(theirs, ours, other))
        return self._agreeing(_each_once(found), other)

    def _near(
        self, one: NDArray[np.int64], two: NDArray[np.int64], other: PointTables | None = None
    ) -> NDArray[np.int64]:
        """Those of the pairs of points (n, 2) that are matches of two pictures; `two` are of `other` if given."""
        of = other or self
        ok = ~(self.mirrored[one] & of.mirrored[two])
        if other is None:
            ok &= self.owner[one] != self.owner[two]
        one, two = one[ok], two[ok]
        kept = []
        for start in range(0, len(one), _CHUNK):
            a, b = one[start : start + _CHUNK], two[start : start + _CHUNK]
            apart = _bits_apart(self.points["word"][a], of.points["word"][b])
            kept.append(np.stack([a, b], 1)[apart <= NEAR])
        return np.concatenate(kept) if kept else np.zeros((0, 2), np.int64)

    def _agreeing(self, matches: NDArray[np.int64], other: PointTables | None = None) -> Candidates:
        """The pictures of which enough matches agree."""
        of = other or self
        a, b = matches.T
        if other is None:
            swap = self.owner[a] > self.owner[b]
            a, b = np.where(swap, b, a), np.where(swap, a, b)
        mirrored = (self.mirrored[a] | of.mirrored[b]).astype(np.int64)
        group = (self.owner[a].astype(np.int64) << 32) | (of.owner[b].astype(np.int64) << 1) | mirrored
        order = np.argsort(group, kind="stable")
        group, a, b = group[order], a[order], b[order]
        starts = np.flatnonzero(np.r_[True, group[1:] != group[:-1]]) if len(group) else np.zeros(0, np.int64)
        sizes = np.diff(np.r_[starts, len(group)])
        pictures = int(self.owner[-1]) + 1 if len(self.owner) else 0
        enough = ENOUGH_OF_MANY if pictures > MANY else ENOUGH
        many = np.repeat(sizes >= enough, sizes)
        group, a, b = group[many], a[many], b[many]
        return _counted(group, self.points[a], of.points[b], enough)


_CHUNK = 1 << 20


def _sorted_keys(words: NDArray[np.uint8], choice: Sequence[int]) -> NDArray[np.uint64]:
    """Key and number of each point, sorted: the key in the upper half."""
    keys = np.zeros(len(words), np.uint64)
    for place, bit in enumerate(choice):
        byte, shift = words[:, bit // 8], 7 - bit % 8
        keys |= ((byte >> shift) & 1).astype(np.uint64) << np.uint64(32 + place)
    keys |= np.arange(len(words), dtype=np.uint64)
    keys.sort()
    return keys


def _together(table: NDArray[np.uint64]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """All pairs of points that lie together in a table, but for crowds."""
    keys, numbers = table >> np.uint64(32), (table & np.uint64(0xFFFFFFFF)).astype(np.int64)
    starts = np.flatnonzero(np.r_[True, keys[1:] != keys[:-1]]) if len(keys) else np.zeros(0, np.int64)
    sizes = np.diff(np.r_[starts, len(keys)])
    crowded = np.repeat(sizes > CROWD, sizes)
    one, two = [np.zeros(0, np.int64)], [np.zeros(0, np.int64)]
    for step in range(1, CROWD):
        at = np.flatnonzero((keys[step:] == keys[:-step]) & ~crowded[step:])
        one.append(numbers[at])
        two.append(numbers[at + step])
    return np.concatenate(one), np.concatenate(two)


def _in_both(table: NDArray[np.uint64], own: NDArray[np.uint64]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """The points of a table that lie where those of another do: pairs of numbers, but for crowds."""
    keys = own >> np.uint64(32)
    first = np.searchsorted(table, keys << np.uint64(32))
    last = np.searchsorted(table, (keys + np.uint64(1)) << np.uint64(32))
    sizes = np.where(last - first > CROWD, 0, last - first)
    ours = np.repeat((own & np.uint64(0xFFFFFFFF)).astype(np.int64), sizes)
    within = np.arange(sizes.sum()) - np.repeat(np.cumsum(sizes) - sizes, sizes)
    theirs = table[np.repeat(first, sizes) + within] & np.uint64(0xFFFFFFFF)
    return theirs.astype(np.int64), ours


def _bits_apart(one: NDArray[np.uint8], two: NDArray[np.uint8]) -> NDArray[np.int64]:
    a, b = (np.ascontiguousarray(words).view(np.uint64) for words in (one, two))
    return np.asarray(np.bitwise_count(a ^ b).sum(axis=1, dtype=np.int64), np.int64)


def _each_once(found: Sequence[NDArray[np.int64]]) -> NDArray[np.int64]:
    """The matches of all tables, each once."""
    codes = np.unique(np.concatenate([(one[:, 0] << 32) | one[:, 1] for one in found]))
    return np.stack([codes >> 32, codes & 0xFFFFFFFF], 1)


def _counted(group: NDArray[np.int64], a: NDArray[np.void], b: NDArray[np.void], enough: int) -> Candidates:
    """How many matches of each group agree with the one that most agree with."""
    if not len(group):
        return Candidates(np.zeros((0, 2), np.int64), np.zeros(0, np.int64), np.zeros(0, np.bool_))
    starts = np.flatnonzero(np.r_[True, group[1:] != group[:-1]])
    sizes = np.diff(np.r_[starts, len(group)])
    votes = np.ones(len(group), np.int64)
    places = [np.stack([one["x"], one["y"]], 1).astype(np.float32) / np.float32(65_535) for one in (a, b)]
    turn = b["turn"] - a["turn"]  # modulo 256
    size = b["size"].astype(np.float32) - a["size"]
    for one, two in _within_groups(starts, sizes):
        ok = _agree(places[0][one], places[0][two], places[1][one], places[1][two], turn[one], turn[two],
                    size[one], size[two])  # fmt: skip
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
        one = (
            np.repeat(firsts, lengths)
            + np.arange(lengths.sum())
            - np.repeat(np.cumsum(lengths) - lengths, lengths)
        )
        yield one, one + step


def _agree(
    a_one: NDArray[np.float32], a_two: NDArray[np.float32],
    b_one: NDArray[np.float32], b_two: NDArray[np.float32],
    turn_one: NDArray[np.uint8], turn_two: NDArray[np.uint8],
    size_one: NDArray[np.float32], size_two: NDArray[np.float32],
) -> NDArray[np.bool_]:  # fmt: skip
    """Whether two matches tell of one turn, one scale and one place."""
    turned = np.abs((turn_one - turn_two).astype(np.int8).astype(np.int16)) <= TURN
    sized = np.abs(size_one - size_two) <= SIZES
    way_a, way_b = a_two - a_one, b_two - b_one
    mean_turn = turn_one + (turn_two - turn_one).astype(np.int8) / np.float32(2)
    angle = mean_turn * np.float32(2 * np.pi / 256)
    scale = np.float32(STEP) ** ((size_one + size_two) / 2)
    said_x = scale * (np.cos(angle) * way_a[:, 0] - np.sin(angle) * way_a[:, 1])
    said_y = scale * (np.sin(angle) * way_a[:, 0] + np.cos(angle) * way_a[:, 1])
    far = np.hypot(way_b[:, 0], way_b[:, 1])
    off = np.hypot(said_x - way_b[:, 0], said_y - way_b[:, 1])
    apart = (far > _LEAST_APART) & (np.hypot(way_a[:, 0], way_a[:, 1]) > _LEAST_APART)
    return np.asarray(turned & sized & apart & (off <= AWAY + 0.2 * far))
