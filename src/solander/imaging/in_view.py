"""A print's way into the capture and back: paper, curl and bows, perspective, lens.

Convention (see `conventions`): pixels (x, y) of the capture; places on the paper are shares (u, v) of its width
and height from the first corner on, 0–1 across and down, along the paper itself.
"""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import ArrayLike, NDArray

from solander.imaging.conventions import Quad, as_quad
from solander.imaging.curl import Bows, Curl, curl_of, outward_of, side_normals
from solander.imaging.lens import Lens

__all__ = ["SHEET", "USUAL_FOCAL", "InView", "homography", "through"]

Points = NDArray[np.float64]

SHEET: Points = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
"""The corners of a sheet in shares of it, clockwise from the first."""

USUAL_FOCAL = 1.0
"""Focal length in long sides of the frame when the perspective is too weak to tell: between a telephone's main
camera (0.72, 26 mm equivalent) and a copy stand's normal lens (1.4, 50 mm); from memory, no source."""

ENOUGH_ROUNDS = 8
"""Rounds after which nothing is left to a thousandth of a pixel or so."""


class InView:
    """One print as a capture of `frame` (width, height) shows it.

    `corners` (4, 2) as in `rectify.straighten`; `bows` (px of the capture) tell how far the middles of the sides
    top, right, bottom, left lie outside the lines between the corners; `lens` and `focal` (in long sides of the
    frame) what is known of the camera.
    """

    def __init__(
        self,
        corners: ArrayLike,
        frame: tuple[int, int],
        *,
        lens: Lens | None = None,
        bows: Bows | None = None,
        focal: float | None = None,
    ) -> None:
        self.quad, self.frame, self.lens = as_quad(corners), frame, lens or Lens()
        self.is_plain = self.lens == Lens() and (bows is None or not any(bows))
        self.ideal: Quad = self.quad if self.lens == Lens() else self.lens.ideal(self.quad, frame)
        self.curl: Curl | None = None
        self._left_over = np.zeros(4)
        if bows is None and self.lens == Lens():
            return
        normals, middles = side_normals(self.quad)
        seen = middles if bows is None else middles + normals * np.array(bows)[:, None]
        ideal_bows = outward_of(self.ideal, self.lens.ideal(seen, frame)) if bows is not None else (0.0,) * 4
        if bows is not None:
            self.curl = curl_of(self.ideal, ideal_bows, frame=frame, focal=focal or USUAL_FOCAL)
        self._left_over = np.array(ideal_bows) - np.array(self._curled_bows())

    @property
    def stretch(self) -> tuple[float, float]:
        """How much longer the paper is across and down than between its corners."""
        if self.curl is None:
            return 1.0, 1.0
        return (self.curl.stretch, 1.0) if self.curl.axis == 0 else (1.0, self.curl.stretch)

    def seen(self, shares: ArrayLike) -> Points:
        """Where places on the paper, (…, 2) shares, lie in the capture."""
        places = np.asarray(shares, np.float64)
        ideal = through(homography(SHEET, self.ideal), places) if self.curl is None else self.curl.seen(places)
        if self._left_over.any():
            ideal = ideal + self._blended(places)
        return self.lens.captured(ideal, self.frame)

    def shares(self, points: ArrayLike) -> Points:
        """The other way round: places on the paper of (…, 2) points in the capture.

        Corners give a first answer, and what lens and bows bend is taken off it until nothing is left.
        """
        flat = homography(self.quad, SHEET)
        wanted = shares = through(flat, np.asarray(points, np.float64))
        for _ in range(0 if self.is_plain else ENOUGH_ROUNDS):
            shares = shares + wanted - through(flat, self.seen(shares))
        return shares

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


def homography(origin: Quad, target: Quad) -> NDArray[np.float64]:
    """The (3, 3) plane map that takes four corners to four others."""
    plane = cv2.getPerspectiveTransform(origin.astype(np.float32), target.astype(np.float32))
    return np.asarray(plane, np.float64)


def through(plane: NDArray[np.float64], points: Points) -> Points:
    """Points (…, 2) through a plane map."""
    lifted = points @ plane[:, :2].T + plane[:, 2]
    return np.asarray(lifted[..., :2] / lifted[..., 2:], np.float64)
