"""Faces on real photographs in all four turns, where the models are set up and the photographs lie there.

The photographs and what they show come from open collections (shared/data/photos/manifest.csv); all are upright.
"""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest

from solander.core.upright import turn_by_faces
from solander.imaging.decode import decode
from solander.imaging.rectify import quarter_turn
from solander.reading.faces import Face, find_faces, turn_votes
from solander.reading.models import YUNET, installed

PHOTOS = Path(__file__).resolve().parents[3] / "shared" / "data" / "photos"
MODEL = installed(YUNET)

needs_model = pytest.mark.skipif(MODEL is None, reason="the face models are not set up (solander faces --set-up)")
needs_photos = pytest.mark.skipif(not PHOTOS.is_dir(), reason="shared/data/photos does not lie beside the project")


def _model() -> Path:
    assert MODEL is not None
    return MODEL


@needs_model
def test_an_empty_picture_has_no_face_and_tells_no_turn() -> None:
    grey = np.full((300, 400, 3), 128, np.uint8)
    assert find_faces(grey, _model()) == ()
    assert turn_by_faces(turn_votes(grey, _model())) is None


@needs_model
@needs_photos
def test_a_face_is_where_it_is_at_any_size() -> None:
    """The emir sits right of the middle of Prokudin-Gorsky's picture of 1911, his face in its upper half."""
    rgb = decode(PHOTOS / "pg_emir.jpg")
    (face,) = find_faces(rgb, _model())
    assert 850 < face.x < face.x + face.width < 1060
    assert 340 < face.y < face.y + face.height < 560
    (half,) = find_faces(np.ascontiguousarray(rgb[::2, ::2]), _model())
    assert _middle(half) == pytest.approx([value / 2 for value in _middle(face)], abs=8)


def _middle(face: Face) -> list[float]:
    return [face.x + face.width / 2, face.y + face.height / 2]


@needs_model
@needs_photos
@pytest.mark.slow
def test_where_faces_tell_a_turn_they_are_right() -> None:
    """A sample of benchmarks/right_way_up.py: portraits and groups in their four turns."""
    with (PHOTOS / "manifest.csv").open(encoding="utf-8", newline="") as file:
        faces = [row["file"] for row in csv.DictReader(file) if row["faces"].startswith("yes")]
    told = []
    for name in faces[::2]:
        rgb = decode(PHOTOS / name)
        for laid in range(4):
            answer = turn_by_faces(turn_votes(quarter_turn(rgb, laid), _model()))
            if answer is not None:
                told.append((answer + laid) % 4)
    assert len(told) >= 20
    assert set(told) == {0}
