"""An index of 64-bit perceptual hashes, exact to a Hamming distance of 7.

Method: two hashes that differ in at most 7 bits have at least one of their 8 bytes in common (pigeonhole), so that
what shares a byte with the hash sought is compared in full, and nothing else need be. The hashes are kept eight
times over, each time sorted by another byte, so that those that share it lie side by side.

Convention: a hash is a whole number 0 … 2⁶⁴ − 1, as `compare.fingerprint` gives it in hex; an entry is known by
its place, counted from 0 in the order of adding.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from attrs import define, field
from numpy.typing import NDArray

__all__ = ["FARTHEST", "HashIndex"]

FARTHEST = 7
"""Bits within which the index finds all there is: one less than its bytes."""

_BYTES = 8
_UNSORTED = 4096
"""New entries are gone through one by one until there are so many: 2 µs, less than sorting anew (our choice)."""


@define
class HashIndex:
    """Hashes that are looked up by nearness; 128 bytes of memory each."""

    _hashes: NDArray[np.uint64] = field(factory=lambda: np.empty(0, np.uint64), init=False)
    _new: NDArray[np.uint64] = field(factory=lambda: np.empty(_UNSORTED, np.uint64), init=False)
    _count: int = field(default=0, init=False)
    _sorted: list[NDArray[np.uint64]] = field(factory=list, init=False)
    _places: list[NDArray[np.uint32]] = field(factory=list, init=False)
    _starts: list[NDArray[np.intp]] = field(factory=list, init=False)

    @classmethod
    def of(cls, hashes: Iterable[int]) -> HashIndex:
        """An index of these."""
        index = cls()
        index._sort(np.fromiter(hashes, np.uint64))
        return index

    def __len__(self) -> int:
        return len(self._hashes) + self._count

    def add(self, code: int) -> int:
        """Adds one; gives its place."""
        self._new[self._count] = code
        self._count += 1
        if self._count == _UNSORTED:
            self._sort(self._new)
            self._count = 0
        return len(self) - 1

    def near(self, code: int, within: int = FARTHEST) -> NDArray[np.intp]:
        """The places of all hashes that differ in at most `within` bits, in rising order.

        Raises
        ------
        ValueError
            When `within` is more than `FARTHEST`: some would be missed.
        """
        if not 0 <= within <= FARTHEST:
            raise ValueError(f"{within} bits are not from 0 to {FARTHEST}")
        sought = np.uint64(code)
        found = [self._sharing(byte, sought, within) for byte in range(_BYTES)] if self._sorted else []
        new = self._new[: self._count]
        found.append(len(self._hashes) + np.flatnonzero(np.bitwise_count(new ^ sought) <= within))
        return np.unique(np.concatenate(found)).astype(np.intp)

    def _sharing(self, byte: int, sought: np.uint64, within: int) -> NDArray[np.intp]:
        """Those that have this byte in common and are near."""
        value = int(sought >> np.uint64(8 * byte)) & 0xFF
        these = slice(self._starts[byte][value], self._starts[byte][value + 1])
        near = np.bitwise_count(self._sorted[byte][these] ^ sought) <= within
        return np.asarray(self._places[byte][these][near], np.intp)

    def _sort(self, new: NDArray[np.uint64]) -> None:
        """Sorts all anew, with these."""
        self._hashes = np.concatenate([self._hashes, new])
        self._sorted, self._places, self._starts = [], [], []
        for byte in range(_BYTES):
            values = (self._hashes >> np.uint64(8 * byte)).astype(np.uint8)
            order = np.argsort(values, kind="stable").astype(np.uint32)
            self._places.append(order)
            self._sorted.append(self._hashes[order])
            counts = np.bincount(values, minlength=256)
            self._starts.append(np.concatenate([[0], np.cumsum(counts)]).astype(np.intp))
