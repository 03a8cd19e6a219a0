"""Prints cut out straight: one homography, one cubic resampling.

Convention (see `conventions`): points (x, y) with (0, 0) at the centre of the first pixel; corners lie on the
paper's edge, that is between pixels; a homography maps from the straight picture to the capture. Pixels outside
the capture repeat its outermost ones.
"""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import ArrayLike, NDArray

from solander.imaging.conventions import Quad, Rgb, as_quad, require_rgb, whole_frame

__all__ = ["quarter_turn", "straight_size", "straighten"]

ALIKE = 0.01
"""Opposite sides that differ by less are taken for a view from straight above. At 1 % the mean of opposite sides
is wrong in aspect by less than 0.1 % (tests/imaging/test_rectify.py), less than the corners' own error."""

USUAL_FOCAL = 1.0
"""Focal length in long sides of the frame when the perspective is too weak to tell: between a telephone's main
camera (0.72, 26 mm equivalent) and a copy stand's normal lens (1.4, 50 mm); from memory, no source."""

FOCAL_RANGE = (0.6, 4.0)


def straighten(rgb: Rgb, corners: ArrayLike, *, size: tuple[int, int] | None = None) -> Rgb:
    """The print inside `corners`, seen from straight above.

    Convention: `corners` (4, 2) in (x, y) of `rgb`, first corner becomes the top left, going clockwise; pixel
    (0, 0) is a centre, so an outline on pixel edges (9.5, 19.5)–(109.5, 69.5) gives back exactly those 100 × 50
    pixels. `size` is (width, height) of the answer in pixels, by default `straight_size` for this frame. The
    homography goes from answer to capture; colour stays encoded; one bicubic resampling in all.
    """
    require_rgb(rgb)
    quad = as_quad(corners)
    width, height = size or straight_size(quad, frame=(rgb.shape[1], rgb.shape[0]))
    to_capture = _homography(whole_frame(width, height), quad)
    flags = cv2.INTER_CUBIC | cv2.WARP_INVERSE_MAP
    straight = cv2.warpPerspective(rgb, to_capture, (width, height), flags=flags, borderMode=cv2.BORDER_REPLICATE)
    return np.asarray(straight, np.uint8)


def straight_size(corners: ArrayLike, *, frame: tuple[int, int] | None = None) -> tuple[int, int]:
    """Width and height of the straight picture, in pixels, at least 1 each.

    The means of opposite sides' lengths, rounded. With `frame` (width, height of the capture) and sides that
    differ, the aspect comes from the perspective and the mean area is kept.
    Method: the two vanishing directions of a rectangle are at right angles, which gives the focal length and then
    the aspect (Zhang and He, Whiteboard scanning and image enhancement, 2007); optical axis through the middle of
    the frame.
    """
    quad = as_quad(corners)
    top, right, bottom, left = np.linalg.norm(np.roll(quad, -1, axis=0) - quad, axis=1)
    width, height = (top + bottom) / 2, (left + right) / 2
    if frame and max(_unlike(top, bottom), _unlike(left, right)) > ALIKE:
        aspect = _aspect(quad, frame)
        width, height = np.sqrt(width * height * aspect), np.sqrt(width * height / aspect)
    return max(1, round(float(width))), max(1, round(float(height)))


def quarter_turn(rgb: Rgb, turns: int) -> Rgb:
    """The picture turned clockwise by `turns` quarter turns (any whole number); pixels move, none is resampled."""
    return np.ascontiguousarray(np.rot90(rgb, -turns))


def _unlike(one: float, other: float) -> float:
    return abs(one - other) / max(one, other, 1e-9)


def _homography(origin: Quad, target: Quad) -> NDArray[np.float64]:
    return np.asarray(
        cv2.getPerspectiveTransform(origin.astype(np.float32), target.astype(np.float32)), np.float64
    )


def _aspect(quad: Quad, frame: tuple[int, int]) -> float:
    """Width over height of the rectangle seen as `quad`."""
    unit = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
    long_side = max(frame)
    middle = (np.array(frame) - 1) / 2
    plane = _homography(unit, (quad - middle) / long_side)
    across, down = plane[:, 0], plane[:, 1]
    focal = _focal(across, down)
    scale = np.array([1 / focal, 1 / focal, 1.0])
    return float(np.linalg.norm(across * scale) / np.linalg.norm(down * scale))


def _focal(across: NDArray[np.float64], down: NDArray[np.float64]) -> float:
    """Focal length in long sides of the frame, from the right angle between the print's sides.

    Where the view is tilted about one side only, the angle says nothing; then the usual focal length stands in.
    """
    squared = -(across[0] * down[0] + across[1] * down[1]) / (across[2] * down[2] or np.inf)
    low, high = FOCAL_RANGE
    return float(np.sqrt(squared)) if low**2 <= squared <= high**2 else USUAL_FOCAL
