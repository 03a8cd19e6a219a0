"""The stage sheet: its pattern of squares and markers, and reading it back from a capture.

Convention
----------
Places on the sheet are (x, y) in millimetres; (0, 0) is the outer corner of the pattern's first square at the top
left, x right, y down. Places in a capture as in `conventions`. The pattern is a ChArUco board (a chessboard with a
marker in each white square) of which only the outer two rings are printed: the field inside is for prints. Each
marker names its place, so what prints, hands or the frame's edge hide is merely left out.
"""

from __future__ import annotations

from functools import cache

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb, require_rgb

__all__ = ["FIELD_MM", "PATTERN_MM", "SQUARE_MM", "Box", "SeenSheet", "pattern", "read_sheet"]

Points = NDArray[np.float64]

SQUARE_MM = 10.0
"""Side of a square: whole centimetres, so that anybody can check the print with a ruler."""

MARKER_MM = 7.5
"""Side of a marker: three quarters of its square, as OpenCV's guide to boards advises."""

SQUARES = (18, 23)
"""Squares across and down: the most that leave room for rulers and words on both A4 and Letter."""

RIM = 0.8 * (SQUARE_MM - MARKER_MM) / 2 / SQUARE_MM
"""White around a marker as a share of its square, less a fifth for the lens's blur."""

RINGS = 2
"""Printed rings of squares: the fewest between which chessboard corners lie."""

CELLS = 7
"""Cells along a marker: 5 × 5 bits and a black rim."""

PATTERN_MM = (SQUARES[0] * SQUARE_MM, SQUARES[1] * SQUARE_MM)
FIELD_MM = (
    RINGS * SQUARE_MM,
    RINGS * SQUARE_MM,
    (SQUARES[0] - RINGS) * SQUARE_MM,
    (SQUARES[1] - RINGS) * SQUARE_MM,
)
"""The field for prints: left, top, right, bottom."""

FEWEST = 8
"""Chessboard corners below which the sheet does not count as seen: eight numbers make a homography, twice over."""

SEARCHED = 2200
"""Long side at which markers are looked for; the corners are then placed at full size."""

Box = tuple[float, float, float, float]
"""Left, top, width, height in millimetres."""


@frozen(eq=False)
class SeenSheet:
    """What a capture of `frame` (width, height) shows of the sheet: chessboard corners on it, `mm` (n, 2), and in
    the capture, `px` (n, 2), in the same order."""

    mm: Points
    px: Points
    frame: tuple[int, int]


def pattern() -> tuple[Box, ...]:
    """What is printed black: squares, and the black cells of markers, none overlapping another."""
    board = _board()
    left, top, right, bottom = FIELD_MM
    boxes: list[Box] = []
    marked = set()
    for marker, corners in zip(np.ravel(board.getIds()), board.getObjPoints(), strict=True):
        x, y = (float(v) for v in corners[0][:2])
        square = (int(x // SQUARE_MM), int(y // SQUARE_MM))
        marked.add(square)
        if not (left < x < right and top < y < bottom):
            boxes += _marker(int(marker), x, y)
    for column in range(SQUARES[0]):
        for row in range(SQUARES[1]):
            x, y = column * SQUARE_MM, row * SQUARE_MM
            if (column, row) not in marked and not (left <= x < right and top <= y < bottom):
                boxes.append((x, y, SQUARE_MM, SQUARE_MM))
    return tuple(boxes)


def read_sheet(rgb: Rgb) -> SeenSheet | None:
    """The sheet's chessboard corners in a capture; None where too little of it is seen.

    Markers are found in a smaller copy, chessboard corners between two seen markers are placed from them, then to
    sub-pixels at full size, where four squares meet. Method: Garrido-Jurado and others, Automatic generation and
    detection of highly reliable fiducial markers under occlusion, 2014 (OpenCV's objdetect).
    """
    require_rgb(rgb)
    grey = np.asarray(cv2.cvtColor(rgb, cv2.COLOR_RGB2GRAY), np.uint8)
    scale = max(1.0, max(grey.shape) / SEARCHED)
    small = grey
    if scale > 1:
        size = (round(grey.shape[1] / scale), round(grey.shape[0] / scale))
        small = np.asarray(cv2.resize(grey, size, interpolation=cv2.INTER_AREA), np.uint8)
    corners, ids, _, _ = cv2.aruco.CharucoDetector(_board()).detectBoard(small)
    if ids is None or len(ids) < FEWEST:
        return None
    mm = np.asarray(_board().getChessboardCorners(), np.float64)[np.asarray(ids).ravel(), :2]
    whole = _between_rings(mm)
    steps = np.array([grey.shape[1] / small.shape[1], grey.shape[0] / small.shape[0]])
    mm, px = mm[whole], ((np.asarray(corners, np.float64).reshape(-1, 2) + 0.5) * steps - 0.5)[whole]
    if len(mm) < FEWEST:
        return None
    return _sound(SeenSheet(mm, _placed(grey, mm, px), (grey.shape[1], grey.shape[0])))


def _between_rings(mm: Points) -> NDArray[np.bool_]:
    """Which chessboard corners have all four of their squares printed: not those where the field begins."""
    left, top, right, bottom = FIELD_MM
    x, y = mm[:, 0], mm[:, 1]
    return np.asarray((x < left) | (x > right) | (y < top) | (y > bottom))


@cache
def _board() -> cv2.aruco.CharucoBoard:
    return cv2.aruco.CharucoBoard(SQUARES, SQUARE_MM, MARKER_MM, _dictionary())


@cache
def _dictionary() -> cv2.aruco.Dictionary:
    return cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_5X5_250)


def _marker(marker: int, x: float, y: float) -> list[Box]:
    """The black cells of a marker at (x, y), those side by side as one box."""
    cell = MARKER_MM / CELLS
    bits = _dictionary().generateImageMarker(marker, CELLS) == 0
    boxes = []
    for row in range(CELLS):
        edges = np.flatnonzero(np.diff(np.concatenate([[0], bits[row].astype(int), [0]])))
        for start, end in edges.reshape(-1, 2):
            boxes.append((x + float(start) * cell, y + row * cell, float(end - start) * cell, cell))
    return boxes


def _placed(grey: NDArray[np.uint8], mm: Points, px: Points) -> Points:
    """Each corner where the picture is most even on opposite sides, looked for no farther than the white rim
    around the markers, whose edges would pull it."""
    plane, _ = cv2.findHomography(mm, px, cv2.RANSAC, 8.0)
    if plane is None:
        return px
    square = float(np.sqrt(abs(np.linalg.det(plane[:2, :2] / plane[2, 2]))) * SQUARE_MM)
    reach = int(np.clip(RIM * square, 2, 30))
    until = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_MAX_ITER, 40, 0.002)
    start = px.astype(np.float32).reshape(-1, 1, 2).copy()
    placed = cv2.cornerSubPix(grey, start, (reach, reach), (-1, -1), until)
    return np.asarray(placed, np.float64).reshape(-1, 2)


def _sound(seen: SeenSheet) -> SeenSheet | None:
    """Without corners that lie far from where the others put them: half hidden squares, chance markers.

    A lens's bend and a sheet that does not lie quite flat move corners by less than half a square.
    """
    plane, inlier = cv2.findHomography(seen.mm, seen.px, cv2.RANSAC, _half_square(seen))
    if plane is None or int(inlier.sum()) < FEWEST:
        return None
    kept = inlier.ravel() > 0
    if np.linalg.matrix_rank(seen.mm[kept] - seen.mm[kept].mean(axis=0)) < 2:
        return None
    return SeenSheet(seen.mm[kept], seen.px[kept], seen.frame)


def _half_square(seen: SeenSheet) -> float:
    spread_px, spread_mm = (float(np.ptp(points, axis=0).max()) for points in (seen.px, seen.mm))
    return 0.5 * SQUARE_MM * spread_px / max(spread_mm, SQUARE_MM)
