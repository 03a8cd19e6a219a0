"""Sizes in millimetres: what a capture of the stage sheet tells of everything that lies where it lay.

Convention: a `Plane` maps places on the stage, (x, y) in millimetres, to places in the capture as a lens without
distortion would show them; places in captures as in `conventions`.
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import field, frozen
from numpy.typing import ArrayLike, NDArray

from solander.imaging.conventions import Quad, as_quad
from solander.imaging.lens import Lens
from solander.imaging.sheet import SeenSheet

__all__ = ["Plane", "plane_of_sheet"]

Points = NDArray[np.float64]


@frozen(eq=False)
class Plane:
    """The stage as the camera sees it: `to_capture` is the 3 × 3 homography from millimetres to ideal pixels, in a
    capture of `frame` (width, height) under `lens`."""

    to_capture: Points
    frame: tuple[int, int]
    lens: Lens = field(factory=Lens)

    def millimetres(self, captured: ArrayLike) -> Points:
        """Places in the capture, (n, 2), as places on the stage."""
        ideal = self.lens.ideal(np.asarray(captured, np.float64), self.frame)
        return np.asarray(cv2.perspectiveTransform(ideal[None], np.linalg.inv(self.to_capture))[0], np.float64)

    def size_mm(self, corners: ArrayLike) -> tuple[float, float]:
        """Width and height of a flat print: the means of opposite sides."""
        quad: Quad = self.millimetres(as_quad(corners))
        top, right, bottom, left = np.linalg.norm(np.roll(quad, -1, axis=0) - quad, axis=1)
        return float(top + bottom) / 2, float(right + left) / 2

    def px_per_mm(self, at: ArrayLike | None = None) -> float:
        """Pixels a millimetre has around a place of the capture, by default its middle."""
        place = np.asarray((np.array(self.frame) - 1) / 2 if at is None else at, np.float64)
        around = place + np.array([[0.0, 0.0], [2.0, 0.0], [0.0, 2.0]])
        across, down = np.diff(self.millimetres(around), axis=0)[0], np.subtract(*self.millimetres(around)[[2, 0]])
        return float(2 / np.sqrt(abs(across[0] * down[1] - across[1] * down[0])))

    def turned(self, quarters: int) -> Plane:
        """The same stage in the same capture turned clockwise by `quarters` quarter turns."""
        plane, (width, height) = self.to_capture, self.frame
        for _ in range(quarters % 4):
            plane = np.array([[0.0, -1.0, height - 1.0], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0]]) @ plane
            width, height = height, width
        return Plane(plane, (width, height), self.lens)

    def tilt_deg(self, focal: float) -> float:
        """Degrees between the camera's axis and the plumb line of the stage; `focal` in long sides of the frame.

        The stage's horizon in the picture is as far from its middle as the focal length over the tangent.
        """
        middle = (np.array(self.frame) - 1) / 2
        centred = np.array([[1, 0, -middle[0]], [0, 1, -middle[1]], [0, 0, 1]]) @ self.to_capture
        horizon = np.linalg.inv(centred).T[:, 2]
        slope = float(np.hypot(horizon[0], horizon[1])) * focal * max(self.frame)
        return float(np.degrees(np.arctan2(slope, abs(horizon[2]))))


def plane_of_sheet(seen: SeenSheet, lens: Lens) -> Plane | None:
    """The stage under a sheet that was read; None where its corners make no plane."""
    plane, _ = cv2.findHomography(seen.mm, lens.ideal(seen.px, seen.frame))
    return None if plane is None else Plane(np.asarray(plane, np.float64), seen.frame, lens)
