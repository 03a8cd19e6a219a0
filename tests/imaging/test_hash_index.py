"""The index of hashes finds what going through all of them finds (brute force is the outside check)."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solander.imaging.hash_index import FARTHEST, HashIndex

HASHES = st.integers(0, 2**64 - 1)


def near(hashes: list[int], code: int, within: int) -> list[int]:
    return [place for place, one in enumerate(hashes) if (one ^ code).bit_count() <= within]


@given(st.lists(HASHES, max_size=30), st.lists(HASHES, max_size=5), HASHES, st.integers(0, FARTHEST), st.data())
@settings(max_examples=60)
def test_all_that_is_near_is_found_and_nothing_else(sorted_in, added, code, within, data):
    flipped = data.draw(st.lists(st.lists(st.integers(0, 63), max_size=9, unique=True), max_size=20))
    hashes = [*sorted_in, *(code ^ sum(1 << bit for bit in bits) for bits in flipped)]
    index = HashIndex.of(hashes)
    places = [index.add(one) for one in added]
    assert places == list(range(len(hashes), len(hashes) + len(added)))
    assert index.near(code, within).tolist() == near([*hashes, *added], code, within)


def test_each_choice_of_seven_bits_in_seven_bytes_is_found():
    index = HashIndex.of([0])
    for spared in range(8):
        code = sum(1 << (8 * byte + spared) for byte in range(8) if byte != spared)
        assert index.near(code).tolist() == [0]


def test_many_hashes_are_sorted_in_as_they_come():
    draw = np.random.default_rng(3)
    hashes = draw.integers(0, 2**64, 9000, dtype=np.uint64).tolist()
    index = HashIndex()
    for one in hashes:
        index.add(one)
    assert len(index) == 9000
    code = hashes[5000] ^ 0b1011
    assert index.near(code).tolist() == near(hashes, code, FARTHEST)


def test_more_bits_than_it_is_exact_for_are_refused():
    with pytest.raises(ValueError, match="8 bits"):
        HashIndex.of([1]).near(1, 8)


def test_an_empty_index_finds_nothing():
    assert HashIndex().near(5).tolist() == []
    assert HashIndex.of([]).near(5).tolist() == []
