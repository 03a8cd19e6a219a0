"""The reader that the models make, on open photographs beside the project; skipped where either is missing.

What the photographs show comes from their collections (shared/data/photos/manifest.csv).
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from solander.core.faces import Box
from solander.imaging.decode import decode
from solander.reading.likeness import LENGTH, WIDE_ENOUGH
from solander.tasks.face_reader import FaceReader, face_reader

PHOTOS = Path(__file__).resolve().parents[3] / "shared" / "data" / "photos"

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(not PHOTOS.is_dir(), reason="shared/data/photos does not lie beside the project"),
]


@pytest.fixture
def reader() -> FaceReader:
    found = face_reader()
    if found is None or found.measurer is None:
        pytest.skip("the face models are not set up (solander faces --set-up)")
    return found


def _vector(measure: bytes) -> np.ndarray:
    return np.frombuffer(measure, "<f4")


def test_three_people_are_seen_side_by_side_and_measured(reader: FaceReader) -> None:
    """Prokudin-Gorsky's “Three generations” (1910): an old man and two younger people, from left to right."""
    seen = sorted(reader.faces_in(decode(PHOTOS / "pg_three_generations.jpg")), key=lambda one: one.box.left)
    assert len(seen) == 3
    for one in seen:
        assert one.box.on_paper() == one.box
        assert all(one.box.left < x < one.box.left + one.box.width for x, _ in one.points[:3])
        assert len(_vector(one.measure)) == LENGTH
        assert np.linalg.norm(_vector(one.measure)) == pytest.approx(1, abs=1e-4)


def test_a_box_drawn_roughly_finds_the_same_face_and_an_empty_one_none(reader: FaceReader) -> None:
    rgb = decode(PHOTOS / "pg_emir.jpg")
    (face,) = reader.faces_in(rgb)
    box = face.box
    drawn = Box(box.left - 0.15 * box.width, box.top - 0.1 * box.height, 1.2 * box.width, 1.25 * box.height)
    again = reader.face_here(rgb, drawn)
    assert again is not None
    assert again.box.overlap(box) > 0.6
    assert _vector(again.measure) @ _vector(face.measure) > 0.85
    assert reader.face_here(rgb, Box(0.02, 0.02, 0.05, 0.07)) is None
    assert reader.face_here(rgb, Box(0.5, 0.5, 0.001, 0.001)) is None


def test_a_face_too_small_to_be_told_apart_is_found_and_not_measured(reader: FaceReader) -> None:
    rgb = decode(PHOTOS / "pg_emir.jpg")
    step = round(reader.faces_in(rgb)[0].box.width * rgb.shape[1] / (WIDE_ENOUGH * 0.7))
    (small,) = reader.faces_in(np.ascontiguousarray(rgb[::step, ::step]))
    assert small.measure == b""
