"""A lamp mirrored in a print is told, with its edge; white paper and a frame too bright are none."""

from __future__ import annotations

import numpy as np
import pytest

from solander.imaging.glare import glare_at
from solander.imaging.simulate import drawn_picture

CORNERS = np.array([[99.5, 79.5], [399.5, 79.5], [399.5, 279.5], [99.5, 279.5]])


def frame(*, gain=1.0, lamp=None, wide=22.0):
    seen = np.full((400, 560, 3), 118, np.float32)
    seen[80:280, 100:400] = 238
    seen[90:270, 110:390] = 0.9 * drawn_picture(3, (280, 180))
    seen *= gain
    if lamp:
        y, x = np.mgrid[:400, :560]
        seen += 400 * np.exp(-((x - lamp[0]) ** 2 + (y - lamp[1]) ** 2) / wide**2)[..., None]
    return np.clip(seen + np.random.default_rng(1).normal(0, 2, seen.shape), 0, 255).astype(np.uint8)


@pytest.mark.parametrize(
    ("lamp", "edge"),
    [
        ((250, 100), "top edge"),
        ((380, 180), "right edge"),
        ((240, 262), "bottom edge"),
        ((120, 170), "left edge"),
        ((250, 180), "middle"),
    ],
)
def test_a_mirrored_lamp_is_told_with_its_edge(lamp, edge):
    assert glare_at(frame(lamp=lamp), CORNERS) == edge


def test_white_paper_is_none():
    assert glare_at(frame(), CORNERS) == ""


def test_a_frame_that_is_too_bright_tells_nothing():
    assert glare_at(frame(gain=1.3), CORNERS) == ""
    assert glare_at(frame(gain=1.3, lamp=(250, 180)), CORNERS) == ""
