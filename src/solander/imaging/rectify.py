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
from solander.imaging.curl import Bows, Curl, curl_of, outward_of, side_normals
from solander.imaging.lens import Lens
from solander.imaging.scale import Plane

__all__ = ["USUAL_FOCAL", "paper_mm", "quarter_turn", "seen_at", "shares_of", "straight_size", "straighten"]

Points = NDArray[np.float64]

ALIKE = 0.01
"""Opposite sides that differ by less are taken for a view from straight above. At 1 % the mean of opposite sides
is wrong in aspect by less than 0.1 % (tests/imaging/test_rectify.py), less than the corners' own error."""

USUAL_FOCAL = 1.0
"""Focal length in long sides of the frame when the perspective is too weak to tell: between a telephone's main
camera (0.72, 26 mm equivalent) and a copy stand's normal lens (1.4, 50 mm); from memory, no source."""

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
    if _is_plain(lens, bows):
        to_capture = _homography(whole_frame(width, height), quad)
        flags = cv2.INTER_CUBIC | cv2.WARP_INVERSE_MAP
        plain = cv2.warpPerspective(rgb, to_capture, (width, height), flags=flags, borderMode=cv2.BORDER_REPLICATE)
        return np.asarray(plain, np.uint8)
    across, down = _bent_map(_Sheet(quad, frame, lens or Lens(), bows, focal), (width, height))
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
    sheet = _Sheet(quad, frame, lens or Lens(), bows, focal)
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
    sheet = _Sheet(as_quad(corners), plane.frame, plane.lens, bows, focal)
    width, height = plane.size_mm(corners)
    nearer = sheet.curl.nearer if sheet.curl else 1.0
    return width * sheet.stretch[0] / nearer, height * sheet.stretch[1] / nearer


def seen_at(
    shares: ArrayLike,
    corners: ArrayLike,
    *,
    frame: tuple[int, int],
    lens: Lens | None = None,
    bows: Bows | None = None,
    focal: float | None = None,
) -> Points:
    """Where places on the paper lie in the capture: (n, 2) pixels for (n, 2) shares of its width and height from
    the first corner on; the other values as in `straighten`."""
    return _Sheet(as_quad(corners), frame, lens or Lens(), bows, focal).seen(np.asarray(shares, np.float64))


def shares_of(
    points: ArrayLike,
    corners: ArrayLike,
    *,
    frame: tuple[int, int],
    lens: Lens | None = None,
    bows: Bows | None = None,
    focal: float | None = None,
) -> Points:
    """The other way round: places on the paper, in shares, of points in the capture.

    Corners give a first answer, and what lens and bows bend is taken off it until nothing is left to a thousandth
    of a pixel or so.
    """
    quad, seen = as_quad(corners), np.asarray(points, np.float64)
    sheet, unit = _Sheet(quad, frame, lens or Lens(), bows, focal), np.array([[0.0, 0.0], [1, 0], [1, 1], [0, 1]])
    flat = _homography(quad, unit)
    wanted = shares = _through(flat, seen)
    for _ in range(0 if _is_plain(lens, bows) else _ENOUGH_ROUNDS):
        shares = shares + wanted - _through(flat, sheet.seen(shares))
    return shares


_ENOUGH_ROUNDS = 8


def quarter_turn(rgb: Rgb, turns: int) -> Rgb:
    """The picture turned clockwise by `turns` quarter turns (any whole number); pixels move, none is resampled."""
    return np.ascontiguousarray(np.rot90(rgb, -turns))


class _Sheet:
    """One print's way into the capture: paper → curl and bows → perspective → lens."""

    def __init__(
        self, quad: Quad, frame: tuple[int, int], lens: Lens, bows: Bows | None, focal: float | None
    ) -> None:
        self.frame, self.lens = frame, lens
        self.ideal: Quad = lens.ideal(quad, frame) if lens != Lens() else quad
        self.curl: Curl | None = None
        self._left_over = np.zeros(4)
        if bows is None and lens == Lens():
            return
        normals, middles = side_normals(quad)
        seen = middles if bows is None else middles + normals * np.array(bows)[:, None]
        self._bows = outward_of(self.ideal, lens.ideal(seen, frame)) if bows is not None else (0.0,) * 4
        if bows is not None:
            self.curl = curl_of(self.ideal, self._bows, frame=frame, focal=focal or USUAL_FOCAL)
        self._left_over = np.array(self._bows) - np.array(self._curled_bows())

    @property
    def stretch(self) -> tuple[float, float]:
        """How much longer the paper is across and down than between its corners."""
        if self.curl is None:
            return 1.0, 1.0
        return (self.curl.stretch, 1.0) if self.curl.axis == 0 else (1.0, self.curl.stretch)

    def seen(self, shares: Points) -> Points:
        """Where places on the paper (shares of its width and height) lie in the capture."""
        if self.curl is not None:
            ideal = self.curl.seen(shares)
        else:
            unit = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
            plane = _homography(unit, self.ideal)
            lifted = shares @ plane[:, :2].T + plane[:, 2]
            ideal = lifted[..., :2] / lifted[..., 2:]
        if self._left_over.any():
            ideal = ideal + self._blended(shares)
        return self.lens.captured(ideal, self.frame)

    def _curled_bows(self) -> Bows:
        if self.curl is None:
            return 0.0, 0.0, 0.0, 0.0
        return outward_of(self.ideal, self.curl.seen(np.array([[0.5, 0.0], [1.0, 0.5], [0.5, 1.0], [0.0, 0.5]])))

    def _blended(self, shares: Points) -> Points:
        """What the sides bow beside all that, parabolas fading towards the opposite side (Coons, 1967)."""
        u, v = shares[..., 0], shares[..., 1]
        fading = np.stack(
            [4 * u * (1 - u) * (1 - v), 4 * v * (1 - v) * u, 4 * u * (1 - u) * v, 4 * v * (1 - v) * (1 - u)],
            axis=-1,
        )
        normals, _ = side_normals(self.ideal)
        return np.asarray(fading @ (normals * self._left_over[:, None]))


def _bent_map(sheet: _Sheet, size: tuple[int, int]) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
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


def _is_plain(lens: Lens | None, bows: Bows | None) -> bool:
    return (lens is None or lens == Lens()) and (bows is None or not any(bows))


def _mean_sides(quad: Quad) -> tuple[float, float]:
    top, right, bottom, left = np.linalg.norm(np.roll(quad, -1, axis=0) - quad, axis=1)
    return float(top + bottom) / 2, float(left + right) / 2


def _whole(width: float, height: float) -> tuple[int, int]:
    return max(1, round(float(width))), max(1, round(float(height)))


def _unlike(one: float, other: float) -> float:
    return abs(one - other) / max(one, other, 1e-9)


def _through(plane: NDArray[np.float64], points: Points) -> Points:
    lifted = points @ plane[:, :2].T + plane[:, 2]
    return np.asarray(lifted[..., :2] / lifted[..., 2:], np.float64)


def _homography(origin: Quad, target: Quad) -> NDArray[np.float64]:
    return np.asarray(
        cv2.getPerspectiveTransform(origin.astype(np.float32), target.astype(np.float32)), np.float64
    )


def _aspect(quad: Quad, frame: tuple[int, int], focal: float | None = None) -> float:
    """Width over height of the rectangle seen as `quad`."""
    unit = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
    long_side = max(frame)
    middle = (np.array(frame) - 1) / 2
    plane = _homography(unit, (quad - middle) / long_side)
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
