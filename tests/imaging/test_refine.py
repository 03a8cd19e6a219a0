from __future__ import annotations

import cv2
import numpy as np

from solander.imaging.conventions import Quad
from solander.imaging.locate import look
from solander.imaging.refine import refine
from solander.imaging.search import Candidate


def _with_another_edge(*, rises: float, from_x: int):
    """A sheet on grey whose upper edge is lost from a place on, where a plainer one begins and runs away upwards;
    its true corners, and the scene."""
    rgb = np.full((900, 1200, 3), 90, np.uint8)
    rgb[300:600, 300:900] = 150
    for column in range(from_x + 1, 900):
        top = 300 - round((column - from_x) * rises)
        rgb[top:300, column] = 150
        rgb[top - 40 : top, column] = 30
    blurred = cv2.GaussianBlur(rgb, (0, 0), 0.8)
    noisy = np.clip(blurred + np.random.default_rng(1).normal(0, 2, rgb.shape), 0, 255).astype(np.uint8)
    quad: Quad = np.array([[299.5, 299.5], [899.5, 299.5], [899.5, 599.5], [299.5, 599.5]])
    return quad, look(noisy)


def test_a_side_does_not_bend_over_to_another_edge():
    quad, scene = _with_another_edge(rises=0.1, from_x=550)
    refined = refine(scene, Candidate(scene.middle.from_full(quad), (0.0,) * 4, 1.0))
    # free to follow it, a curve of the third order puts the corner 15 pixels off
    assert np.abs(refined.corners - quad).max() < 1.0
