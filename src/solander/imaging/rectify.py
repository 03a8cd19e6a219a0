"""Prints cut out straight: lens, perspective and curl in one map, one cubic resampling.

Convention (see `conventions`): points (x, y) with (0, 0) at the centre of the first pixel; corners lie on the
paper's edge, that is between pixels; a homography maps from the straight picture to the capture. Pixels outside
the capture repeat its outermost ones.
"""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import ArrayLike, NDArray

from solander.imaging.conventions import Quad, Rgb, as_quad, require_rgb, whole_frame
from solander.imaging.curl import Bows
from solander.imaging.in_view import SHEET, USUAL_FOCAL, InView, homography
from solander.imaging.lens import Lens
from solander.imaging.scale import Plane

__all__ = ["paper_mm", "quarter_turn", "straight_size", "straighten"]

ALIKE = 0.01
"""Opposite sides that differ by less are taken for a view from straight above. At 1 % the mean of opposite sides
is wrong in aspect by less than 0.1 % (tests/imaging/test_rectify.py), less than the corners' own error."""

FOCAL_RANGE = (0.6, 4.0)

KNOT = 8
"""Pixels between places where a bent map is exact; between them it is straight, wrong by 0.01 px at most with a
sweep of half a radian over 3000 px."""


def straighten(
    rgb: Rgb,
    corners: ArrayLike,
    *,
    size: tuple[int, int] | None = None,
    lens: Lens | None = None,
    bows: Bows | None = None,
    focal: float | None = None,
) -> Rgb:
    """The print inside `corners`, seen from straight above, flat.

    Convention: `corners` (4, 2) in (x, y) of `rgb`, first corner becomes the top left, going clockwise; pixel
    (0, 0) is a centre, so an outline on pixel edges (9.5, 19.5)–(109.5, 69.5) gives back exactly those 100 × 50
    pixels. `size` is (width, height) of the answer in pixels, by default `straight_size` for this frame. `bows`
    (px of the capture) tell how far the middles of the sides top, right, bottom, left lie outside the lines
    between the corners; `lens` and `focal` (in long sides of the frame) what is known of the camera. Without lens
    and bows the map is a homography. Colour stays encoded; one bicubic resampling in all.
    """
    require_rgb(rgb)
    quad, frame = as_quad(corners), (rgb.shape[1], rgb.shape[0])
    width, height = size or straight_size(quad, frame=frame, lens=lens, bows=bows, focal=focal)
    sheet = InView(quad, frame, lens=lens, bows=bows, focal=focal)
    if sheet.is_plain:
        to_capture = homography(whole_frame(width, height), quad)
        flags = cv2.INTER_CUBIC | cv2.WARP_INVERSE_MAP
        plain = cv2.warpPerspective(rgb, to_capture, (width, height), flags=flags, borderMode=cv2.BORDER_REPLICATE)
        return np.asarray(plain, np.uint8)
    across, down = _bent_map(sheet, (width, height))
    bent = cv2.remap(rgb, across, down, cv2.INTER_CUBIC, borderMode=cv2.BORDER_REPLICATE)
    return np.asarray(bent, np.uint8)


def straight_size(
    corners: ArrayLike,
    *,
    frame: tuple[int, int] | None = None,
    lens: Lens | None = None,
    bows: Bows | None = None,
    focal: float | None = None,
    plane: Plane | None = None,
) -> tuple[int, int]:
    """Width and height of the straight picture, in pixels, at least 1 each.

    The means of opposite sides' lengths, rounded. Where the `plane` of the stage is known, the aspect is that of
    the paper's size on it. Else, with `frame` (width, height of the capture) and sides that differ, it comes from
    the perspective; the mean area is kept. A curled sheet is as long as its arc.
    Method: with a known `focal` length the lengths of the rectangle's sides before the camera; without one the two
    vanishing directions of a rectangle are at right angles, which gives the focal length (Zhang and He, Whiteboard
    scanning and image enhancement, 2007); optical axis through the middle of the frame.
    """
    quad = as_quad(corners)
    if frame is None:
        return _whole(*_mean_sides(quad))
    sheet = InView(quad, frame, lens=lens, bows=bows, focal=focal)
    width, height = _mean_sides(sheet.ideal)
    top, right, bottom, left = np.linalg.norm(np.roll(sheet.ideal, -1, axis=0) - sheet.ideal, axis=1)
    aspect = width / height
    if plane is not None:
        across, along = plane.size_mm(quad)
        aspect = across / along
    elif focal is not None or max(_unlike(top, bottom), _unlike(left, right)) > ALIKE:
        aspect = _aspect(sheet.ideal, frame, focal)
    width, height = np.sqrt(width * height * aspect), np.sqrt(width * height / aspect)
    stretch = sheet.stretch
    return _whole(width * stretch[0], height * stretch[1])


def paper_mm(
    corners: ArrayLike, plane: Plane, *, bows: Bows | None = None, focal: float | None = None
) -> tuple[float, float]:
    """Width and height of the paper in millimetres, along the paper; a lifted end is nearer and counts as such."""
    sheet = InView(corners, plane.frame, lens=plane.lens, bows=bows, focal=focal)
    width, height = plane.size_mm(corners)
    nearer = sheet.curl.nearer if sheet.curl else 1.0
    return width * sheet.stretch[0] / nearer, height * sheet.stretch[1] / nearer


def quarter_turn(rgb: Rgb, turns: int) -> Rgb:
    """The picture turned clockwise by `turns` quarter turns (any whole number); pixels move, none is resampled."""
    return np.ascontiguousarray(np.rot90(rgb, -turns))


def _bent_map(sheet: InView, size: tuple[int, int]) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """Where in the capture each pixel of the straight picture is read."""
    axes = (np.arange(0.0, side + KNOT, KNOT) for side in size)
    pixels = np.stack(np.meshgrid(*axes), axis=-1)
    knots = sheet.seen((pixels + 0.5) / np.array(size)).astype(np.float32)
    finer = np.array([[1 / KNOT, 0, 0], [0, 1 / KNOT, 0]])
    flags = cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP
    across, down = (
        cv2.warpAffine(np.ascontiguousarray(knots[..., axis]), finer, size, flags=flags) for axis in (0, 1)
    )
    return np.asarray(across, np.float32), np.asarray(down, np.float32)


def _mean_sides(quad: Quad) -> tuple[float, float]:
    top, right, bottom, left = np.linalg.norm(np.roll(quad, -1, axis=0) - quad, axis=1)
    return float(top + bottom) / 2, float(left + right) / 2


def _whole(width: float, height: float) -> tuple[int, int]:
    return max(1, round(float(width))), max(1, round(float(height)))


def _unlike(one: float, other: float) -> float:
    return abs(one - other) / max(one, other, 1e-9)


def _aspect(quad: Quad, frame: tuple[int, int], focal: float | None = None) -> float:
    """Width over height of the rectangle seen as `quad`."""
    middle = (np.array(frame) - 1) / 2
    plane = homography(SHEET, (quad - middle) / max(frame))
    across, down = plane[:, 0], plane[:, 1]
    focal = focal or _focal(across, down)
    scale = np.array([1 / focal, 1 / focal, 1.0])
    return float(np.linalg.norm(across * scale) / np.linalg.norm(down * scale))


def _focal(across: NDArray[np.float64], down: NDArray[np.float64]) -> float:
    """Focal length in long sides of the frame, from the right angle between the print's sides.

    Where the view is tilted about one side only, the angle says nothing; then the usual focal length stands in.
    """
    squared = -(across[0] * down[0] + across[1] * down[1]) / (across[2] * down[2] or np.inf)
    low, high = FOCAL_RANGE
    return float(np.sqrt(squared)) if low**2 <= squared <= high**2 else USUAL_FOCAL
