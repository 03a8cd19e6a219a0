"""Points and the tables in which they are looked up, against going through all pairs of words one by one."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from solander.imaging import point_tables
from solander.imaging.point_bits import CHOICES, FURTHER
from solander.imaging.point_tables import ENOUGH, PointTables
from solander.imaging.points import MIRRORED, PLAIN, POINT, Points, points_of
from solander.imaging.rectify import quarter_turn
from solander.imaging.simulate import drawn_picture

PICTURES = [cv2.resize(drawn_picture(seed), (480, 360), interpolation=cv2.INTER_AREA) for seed in range(8)]


@pytest.fixture(scope="module")
def known() -> list[Points]:
    return [points_of(rgb) for rgb in PICTURES]


def pairs_of(pictures: list[Points]) -> set[tuple[int, int, bool]]:
    found = PointTables.of(pictures).candidates()
    assert (found.votes >= ENOUGH).all()
    return {(a, b, m) for (a, b), m in zip(map(tuple, found.pairs.tolist()), found.mirrored.tolist(), strict=True)}


def test_points_are_kept_in_few_bytes_and_come_back(known):
    (one, *_) = known
    assert (len(one.plain) <= PLAIN, len(one.mirrored) <= MIRRORED) == (True, True)
    back = Points.from_bytes(one.to_bytes())
    assert (back.plain == one.plain).all()
    assert (back.mirrored == one.mirrored).all()
    assert len(one.to_bytes()) == 8 + 38 * (len(one.plain) + len(one.mirrored))
    for broken in (b"", b"123", one.to_bytes()[:-1], b"ORB2" + b"\xff" * 42, one.to_bytes()[4:]):
        with pytest.raises(ValueError, match="no points"):
            Points.from_bytes(broken)


def test_an_even_picture_has_no_points_and_is_in_no_pair(known):
    empty = points_of(np.full((30, 40, 3), 128, np.uint8))
    assert (len(empty.plain), len(empty.mirrored)) == (0, 0)
    assert pairs_of([empty, empty]) == set()
    assert pairs_of([]) == set()
    assert PointTables.of([empty]).candidates_of(known[0]).pairs.tolist() == []


def test_a_turned_faded_a_cropped_and_a_mirrored_print_are_found(known):
    faded = np.clip(quarter_turn(PICTURES[2], 1) * 0.7 + 60, 0, 255).astype(np.uint8)
    part = np.ascontiguousarray(PICTURES[3][40:330, 60:420])
    mirrored = np.ascontiguousarray(PICTURES[4][:, ::-1])
    found = pairs_of([*known, points_of(faded), points_of(part), points_of(mirrored)])
    assert {(2, 8, False), (3, 9, False), (4, 10, True)} <= found


def test_one_new_picture_finds_what_the_whole_joining_finds(known):
    again = points_of(cv2.GaussianBlur(PICTURES[5], (0, 0), 1.2))
    tables = PointTables.of(known)
    one = {(a, m) for (a, _), m in zip(
        tables.candidates_of(again).pairs.tolist(), tables.candidates_of(again).mirrored.tolist(), strict=True
    )}  # fmt: skip
    whole = {(a, m) for a, b, m in pairs_of([*known, again]) if b == len(known)}
    assert (5, False) in one
    assert one == whole


def test_words_that_share_a_row_of_bits_are_matched_whatever_their_other_bits():
    draw = np.random.default_rng(2)
    words = draw.integers(0, 2, (12, 256), np.uint8)
    other = words.copy()
    for row, choice, further in zip(range(12), CHOICES, FURTHER, strict=True):
        free = np.setdiff1d(np.arange(256), choice + further)
        other[row, draw.choice(free, 40, replace=False)] ^= 1

    def picture(bits: np.ndarray) -> Points:
        points = np.zeros(12, POINT)
        points["word"] = np.packbits(bits, axis=1)
        points["x"], points["y"] = np.linspace(5_000, 60_000, 12), np.linspace(9_000, 30_000, 12)
        return Points(points, np.zeros(0, POINT))

    found = PointTables.of([picture(words), picture(other)]).candidates()
    assert found.pairs.tolist() == [[0, 1]]
    assert found.votes.tolist() == [12]


def test_each_table_goes_by_bits_of_its_own():
    for choice, further in zip(CHOICES, FURTHER, strict=True):
        assert len(set(choice + further)) == 24 + 14
        assert all(0 <= bit < 256 for bit in choice + further)


def test_the_strongest_points_come_first(known):
    few = known[0].strongest(20, 5)
    assert (few.plain == known[0].plain[:20]).all()
    assert (len(few.plain), len(few.mirrored)) == (20, 5)
    assert pairs_of([points_of(PICTURES[2]).strongest(64, 0), known[2].strongest(64, 0)]) == {(0, 1, False)}


def test_more_pictures_have_narrower_places_and_still_find_each_other(known, monkeypatch):
    again = [points_of(cv2.GaussianBlur(rgb, (0, 0), 1.2)) for rgb in PICTURES]
    wide = pairs_of([*known, *again])
    monkeypatch.setattr(point_tables, "WIDE", 1 << 9)
    tables = PointTables.of([*known, *again])
    assert point_tables._width(len(tables.points)) > 24
    narrow = tables.candidates()
    there = {(number, number + 8) for number in range(8)}
    assert there <= set(map(tuple, narrow.pairs.tolist()))
    assert there <= {(a, b) for a, b, _ in wide}
    one = PointTables.of(known).candidates_of(again[3])
    assert [3, 0] in one.pairs.tolist()


def test_words_that_stand_in_too_many_pictures_tell_nothing(known):
    assert pairs_of([known[1]] * (point_tables.CROWD + 1)) == set()
