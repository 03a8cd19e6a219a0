"""Rough outlines of prints that lie together, from drawn maps of a network: no weights are needed."""

import cv2
import numpy as np

from solander.imaging.conventions import iou
from solander.imaging.cores import cores_apart
from solander.imaging.segment import Likely

BOXES = [np.array([[x, 60], [x + 80, 60], [x + 80, 180], [x, 180]], float) for x in (20, 100, 180)]


def likely(cores):
    inside, edge, core = (np.zeros((224, 320), np.float32) for _ in range(3))
    for box in BOXES:
        cv2.fillConvexPoly(inside, box.astype(np.int32), 1.0)
        cv2.polylines(edge, [box.astype(np.int32)], True, 1.0, 3)
    for x0, x1 in cores:
        core[68:173, x0:x1] = 1.0
    return Likely(inside, edge, core, (2.0, 2.0))


def test_three_prints_side_by_side_are_told_apart():
    rough = cores_apart(likely([(28, 92), (108, 172), (188, 252)]))
    assert len(rough) == 3
    # Rough outlines: half a pixel of the maps on every side of 80 × 120 already costs 2 %.
    for box in BOXES:
        assert max(iou(quad, 2 * box + 0.5) for quad in rough) > 0.9


def test_a_sliver_between_prints_is_no_print():
    assert len(cores_apart(likely([(28, 92), (108, 172), (188, 252), (97, 102)]))) == 3
