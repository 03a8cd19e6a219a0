"""Groups of like faces, with scipy's average linkage as the reference; and measures of real faces."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.cluster.hierarchy import fcluster, linkage

from solander.imaging.decode import decode
from solander.reading.faces import Face, find_faces
from solander.reading.likeness import ALIKE, LENGTH, grouped, measure_of
from solander.reading.models import SFACE, YUNET, installed

PHOTOS = Path(__file__).resolve().parents[3] / "shared" / "data" / "photos"
needs_models = pytest.mark.skipif(
    installed(YUNET) is None or installed(SFACE) is None,
    reason="the face models are not set up (solander faces --set-up)",
)
needs_photos = pytest.mark.skipif(not PHOTOS.is_dir(), reason="shared/data/photos does not lie beside the project")


def _measures(seed: int, people: int, each: int, spread: float) -> np.ndarray:
    """`each` measures of so many people, as far from the person's own as `spread`."""
    chance = np.random.default_rng(seed)
    own = chance.normal(size=(people, LENGTH)).repeat(each, axis=0)
    vectors = own + spread * chance.normal(size=own.shape)
    vectors = vectors[chance.permutation(len(vectors))]
    return (vectors / np.linalg.norm(vectors, axis=1, keepdims=True)).astype(np.float32)


def _same_partition(one: np.ndarray, other: np.ndarray) -> bool:
    return len(set(zip(one, other, strict=True))) == len(set(one)) == len(set(other))


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10_000), st.integers(2, 6), st.integers(1, 7), st.floats(0.3, 1.2))
def test_the_groups_are_those_of_scipys_average_linkage(seed, people, each, spread):
    measures = _measures(seed, people, each, spread)
    tree = linkage(measures.astype(np.float64), method="average", metric="cosine")
    expected = fcluster(tree, 1 - ALIKE, criterion="distance")
    assert _same_partition(grouped(measures, range(len(measures))), expected)


def test_two_faces_of_one_picture_are_two_people_however_alike():
    twins = np.tile(_measures(1, 1, 1, 0.0), (3, 1))
    assert grouped(twins, ["a", "b", "c"]).tolist() == [0, 0, 0]
    assert grouped(twins, ["a", "a", "b"]).tolist() in ([0, 1, 0], [0, 1, 1])


def test_no_faces_make_no_groups_and_one_makes_one():
    assert grouped(np.zeros((0, LENGTH), np.float32), []).tolist() == []
    assert grouped(_measures(2, 1, 1, 0.0), ["a"]).tolist() == [0]


@needs_models
@needs_photos
@pytest.mark.slow
def test_a_face_has_the_same_measure_however_the_picture_is_turned_and_another_has_another():
    """The three people of Prokudin-Gorsky's “Three generations” (1910) are three."""
    yunet, sface = installed(YUNET), installed(SFACE)
    assert yunet is not None
    assert sface is not None
    rgb = decode(PHOTOS / "pg_three_generations.jpg")
    faces = find_faces(rgb, yunet)
    measures = np.stack([measure_of(rgb, face, sface) for face in faces])
    assert len(faces) == 3
    assert grouped(measures, [0, 1, 2]).tolist() == [0, 1, 2]
    height, width = rgb.shape[:2]
    turned = np.ascontiguousarray(np.rot90(rgb, 2))
    for face, measure in zip(faces, measures, strict=True):
        points = tuple((width - 1 - x, height - 1 - y) for x, y in face.points)
        there = Face(
            width - face.x - face.width, height - face.y - face.height, face.width, face.height, 1, points
        )
        assert measure_of(turned, there, sface) @ measure > 0.98


def test_a_face_without_its_points_is_not_measured():
    with pytest.raises(ValueError, match="five points"):
        measure_of(np.zeros((9, 9, 3), np.uint8), Face(1, 1, 4, 4, 0.9), Path("none"))
