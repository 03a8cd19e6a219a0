from __future__ import annotations

import cv2
import numpy as np
import pytest

from solander.imaging.locate import locate_prints
from solander.imaging.simulate import random_capture

pytestmark = pytest.mark.slow


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize(("length", "width"), [(600, 24), (700, 80), (500, 90)], ids=["pencil", "ruler", "short"])
def test_a_ruler_or_pencil_on_an_empty_stage_is_no_print(seed, length, width):
    rgb = random_capture(seed, [np.zeros((9, 9, 3), np.uint8)], case="empty", size=(1200, 900)).rgb.copy()
    box = cv2.boxPoints(((600.0, 450.0), (float(length), float(width)), 20.0 + 35 * seed))
    cv2.fillConvexPoly(rgb, np.rint(box * 16).astype(np.int32), (222, 190, 60), cv2.LINE_AA, 4)
    assert locate_prints(rgb) == ()
