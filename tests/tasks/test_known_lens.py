"""A camera's lens, learnt from the outlines of its earlier captures."""

from __future__ import annotations

import hashlib

import numpy as np
import pytest
from attrs import evolve

from solander.core.prints import Capture, Outline, Print, Side, Stand, View, accession_number
from solander.imaging.curl import outward_of
from solander.imaging.decode import FileFacts
from solander.imaging.lens import Lens
from solander.tasks.collection import Collection
from solander.tasks.lens import KnownLenses

FRAME = (4000, 3000)
FACTS = FileFacts("image/jpeg", ".jpg", *FRAME, 1, None, None, focal=0.8)


def entered(collection: Collection, lens: Lens, count: int, *, focal: float = 0.8) -> None:
    """Prints of a camera, found exactly: their sides bow by nothing but the lens."""
    rng = np.random.default_rng(5)
    with collection.catalogue.act("archivist", "took in") as act, act.work() as work:
        for number in range(1, count + 1):
            sha256 = hashlib.sha256(f"{focal} {number}".encode()).hexdigest()
            work.keep_capture(Capture(sha256, f"{number}.jpg", "image/jpeg", 9, *FRAME))
            size, angle = rng.uniform([1800, 1200], [2900, 2100]), rng.uniform(-0.2, 0.2)
            turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
            flat = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * size / 2 @ turn.T + np.array(FRAME) / 2
            middles = (flat + np.roll(flat, -1, axis=0)) / 2
            corners = lens.captured(flat, FRAME)
            bows = outward_of(corners, lens.captured(middles, FRAME) + rng.normal(0, 0.3, (4, 2)))
            outline = Outline(tuple(map(tuple, corners.tolist())), 0.97, bows=bows)
            view = View(sha256, 0, outline, Side.RECTO, 900, 600, stand=Stand(focal=focal))
            running = work.next_number(None)
            work.add_print(Print(accession_number(None, running), None, running, (view,)))
        work.commit()


@pytest.mark.parametrize("k1", [-0.03, 0.02])
def test_a_bent_lens_is_learnt(collection: Collection, k1: float) -> None:
    entered(collection, Lens(k1), 12)
    found = KnownLenses(collection).of(FACTS)
    assert found is not None
    assert found[0] == pytest.approx(k1, abs=0.004)
    assert KnownLenses(collection).of(evolve(FACTS, width=3000, height=4000)) == found


def test_another_camera_has_another_lens(collection: Collection) -> None:
    entered(collection, Lens(-0.03), 12)
    entered(collection, Lens(0.02), 12, focal=1.4)
    known = KnownLenses(collection)
    assert known.of(FACTS) == (pytest.approx(-0.03, abs=0.004), 0.0)
    assert known.of(evolve(FACTS, focal=1.4)) == (pytest.approx(0.02, abs=0.004), 0.0)
    assert known.of(evolve(FACTS, focal=0.5)) is None


@pytest.mark.parametrize(("k1", "count"), [(0.0, 12), (-0.03, 3)])
def test_what_is_not_clear_is_not_believed(collection: Collection, k1: float, count: int) -> None:
    entered(collection, Lens(k1), count)
    assert KnownLenses(collection).of(FACTS) is None


def test_a_scanner_has_no_lens(collection: Collection) -> None:
    entered(collection, Lens(-0.03), 12)
    assert KnownLenses(collection).of(evolve(FACTS, focal=None)) is None
