"""A stage seen by a tilted camera with a bent lens: bare, under the stage sheet, with a print on it.

Made by OpenCV's own camera model, apart from ours. Millimetres on the stage; its first corner at the top left.
"""

from __future__ import annotations

from functools import cache

import cv2
import numpy as np
from numpy.typing import NDArray

from solander.imaging.sheet import FIELD_MM, pattern
from solander.imaging.simulate import drawn_picture

Rgb = NDArray[np.uint8]

FRAME = (1280, 960)
STAGE_MM = (300, 225)
RASTER = 11.2  # px per mm: every box of the sheet's pattern then ends on whole pixels
SHEET_AT = (35.0, 22.5)
PRINT_MM = (90.0, 60.0)
FOCAL = 1.1  # in long sides of the frame

_MATRIX = np.array([[FOCAL * 1280, 0, 639.5], [0, FOCAL * 1280, 479.5], [0, 0, 1]])
_BEND = np.array([-0.05, 0.01, 0, 0])
_TURN = np.array([0.06, -0.04, 0.0])


@cache
def stage_seen(*, sheet: bool, print_: bool) -> Rgb:
    """The stage, grey, as the camera sees it."""
    stage = np.full((round(STAGE_MM[1] * RASTER), round(STAGE_MM[0] * RASTER), 3), 128, np.uint8)
    stage += np.random.default_rng(4).integers(0, 6, stage.shape, dtype=np.uint8)
    if sheet:
        _lay_sheet(stage)
    if print_:
        _lay_print(stage)
    grid = np.stack(np.meshgrid(np.arange(FRAME[0]), np.arange(FRAME[1])), axis=-1).reshape(-1, 1, 2)
    until = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_MAX_ITER, 30, 1e-9)
    rays = cv2.undistortPoints(grid.astype(float), _MATRIX, _BEND, criteria=until).reshape(-1, 2)
    turned = cv2.Rodrigues(_TURN)[0]
    place = np.array([0, 0, FOCAL * 320]) - turned @ [STAGE_MM[0] / 2, STAGE_MM[1] / 2, 0]
    flat = np.linalg.inv(np.column_stack([turned[:, :2], place])) @ np.column_stack([rays, np.ones(len(rays))]).T
    places = ((flat[:2] / flat[2]).T * RASTER - 0.5).astype(np.float32).reshape(*FRAME[::-1], 2)
    smooth = cv2.GaussianBlur(stage, (0, 0), 1.3)
    seen = cv2.remap(smooth, places[..., 0], places[..., 1], cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    noise = np.random.default_rng(9).normal(0, 1, seen.shape)
    return np.clip(seen + noise, 0, 255).astype(np.uint8)


def _lay_sheet(stage: Rgb) -> None:
    """Lying on its side: the pattern's x runs down the stage's y."""
    x, y = (round(v * RASTER) for v in SHEET_AT)
    stage[y : y + round(180 * RASTER), x : x + round(230 * RASTER)] = 245
    left, top, right, bottom = (round(v * RASTER) for v in FIELD_MM)
    stage[y + left : y + right, x + top : x + bottom] = 158
    for box in pattern():
        across, down, width, height = (round(v * RASTER) for v in box)
        stage[y + across : y + across + width, x + down : x + down + height] = 12
    # A pattern read in a mirror is none: the sheet is turned, not flipped.
    stage[y : y + round(180 * RASTER)] = stage[y : y + round(180 * RASTER)][::-1]


def _lay_print(stage: Rgb) -> None:
    """A print with a white border, turned by 5 degrees, off the middle."""
    width, height = (round(side * RASTER) for side in PRINT_MM)
    paper = np.full((height, width, 3), 244, np.uint8)
    inner = cv2.resize(drawn_picture(3, (480, 320)), (width - 90, height - 90), interpolation=cv2.INTER_AREA)
    paper[45:-45, 45:-45] = inner
    onto = cv2.getRotationMatrix2D((width / 2 - 0.5, height / 2 - 0.5), -5, 1)
    onto[:, 2] += np.array([170, 105]) * RASTER - np.array([width, height]) / 2
    size = stage.shape[1::-1]
    cover = cv2.warpAffine(np.ones((height, width), np.float32), onto, size)[..., None]
    stage[:] = (stage * (1 - cover) + cv2.warpAffine(paper, onto, size) * cover).astype(np.uint8)
