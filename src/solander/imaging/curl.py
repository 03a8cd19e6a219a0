"""Curled prints: a sheet bent to a cylinder, told from how two opposite sides bow.

Convention: places in pixels of an ideal capture (no lens distortion); `bows` are how far the middles of the four
sides (top, right, bottom, left) lie outside the straight line between their corners, in pixels, < 0 inside. Places
on the paper are shares (u, v), 0–1 across and down, along the paper itself.
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Quad

__all__ = ["Bows", "Curl", "curl_of", "outward_of", "side_normals"]

Points = NDArray[np.float64]

Bows = tuple[float, float, float, float]

LEAST_BOW = 5e-4
"""Bow of a side, as a share of its length, below which a print is flat: corners are found to about as much."""

OTHER_SIDES = 0.6
"""What the other two sides may bow, as a share of what the curled ones do: a cylinder leaves them straight, a lens
bows all four."""

MOST_SWEEP = 1.1
"""Half the arc, radians, beyond which nobody would capture a print (our choice)."""


@frozen(eq=False)
class Curl:
    """A sheet whose side `axis` (0 across, 1 down) is an arc of half-angle `sweep` (> 0 the middle lifts towards
    the camera), over the plane of its corners: `pose` (3 × 3) holds that plane's two axes and its place, per share
    of the chord, in units of the camera (focal length 1), `lift` its way towards the camera."""

    axis: int
    sweep: float
    pose: Points
    lift: Points
    to_pixels: Points

    @property
    def stretch(self) -> float:
        """Length of the arc over that of its chord."""
        return self.sweep / float(np.sin(self.sweep))

    @property
    def nearer(self) -> float:
        """How much larger the corners appear than they would lying on the stage: 1 unless the ends lift."""
        if self.sweep >= 0:
            return 1.0
        depth = float(self.pose[2, 2] + self.pose[2, :2].sum() / 2)
        rise = float(np.tan(-self.sweep / 2) / 2 * np.linalg.norm(self.lift))
        return (depth + rise) / depth

    def seen(self, shares: Points) -> Points:
        """Where places on the paper appear, (…, 2)."""
        along = self.sweep * (2 * shares[..., self.axis] - 1)
        on_chord = 0.5 + np.sin(along) / (2 * np.sin(self.sweep))
        rise = (np.cos(along) - np.cos(self.sweep)) / (2 * np.sin(self.sweep))
        flat = [on_chord, shares[..., 1]] if self.axis == 0 else [shares[..., 0], on_chord]
        place = np.stack([*flat, np.ones_like(rise)], axis=-1) @ self.pose.T + rise[..., None] * self.lift
        seen = place @ self.to_pixels.T
        return np.asarray(seen[..., :2] / seen[..., 2:])


def curl_of(quad: Quad, bows: Bows, *, frame: tuple[int, int], focal: float) -> Curl | None:
    """The cylinder that bows the sides as seen; None for a flat print, or where no cylinder does.

    `focal` is the focal length in long sides of the frame. Method: the corners give the plane and the way to the
    camera; the one unknown, the arc's sweep, is fitted to the two opposite sides that bow most (Gauss-Newton).
    What it leaves unexplained is for the caller to blend in.
    """
    lengths = np.linalg.norm(np.roll(quad, -1, axis=0) - quad, axis=1)
    share = np.array(bows) / lengths
    pairs = np.hypot(share[[0, 1]], share[[2, 3]])
    axis = int(pairs.argmax())
    if pairs[axis] < LEAST_BOW or pairs[1 - axis] > OTHER_SIDES * pairs[axis]:
        return None
    pose, lift, to_pixels = _pose(quad, frame, focal)
    length = float(np.linalg.norm(pose[:, axis]))
    wanted = np.array([bows[axis], bows[axis + 2]])
    ends = np.array([[[0.5, 0.0], [0.5, 1.0]], [[1.0, 0.5], [0.0, 0.5]]])[axis]
    normals, middles = side_normals(quad)

    def off(sweep: float) -> NDArray[np.float64]:
        bent = Curl(axis, sweep, pose, lift * length, to_pixels).seen(ends)
        away = bent - middles[[axis, axis + 2]]
        return np.asarray((away * normals[[axis, axis + 2]]).sum(axis=1) - wanted)

    sweep, step = 1e-3, 1e-4
    for _ in range(12):
        now = off(sweep)
        slope = (off(sweep + step) - now) / step
        sweep = float(np.clip(sweep - slope @ now / max(float(slope @ slope), 1e-12), -MOST_SWEEP, MOST_SWEEP))
        sweep = sweep if abs(sweep) > 1e-6 else 1e-6
    explained = float(np.linalg.norm(off(sweep))) < 0.5 * float(np.linalg.norm(wanted))
    return Curl(axis, sweep, pose, lift * length, to_pixels) if explained else None


def side_normals(quad: Quad) -> tuple[Points, Points]:
    """Unit vectors out of the four sides, and the sides' middles, (4, 2) each."""
    ahead = np.roll(quad, -1, axis=0) - quad
    along = ahead / np.maximum(np.linalg.norm(ahead, axis=1), 1e-9)[:, None]
    return np.stack([along[:, 1], -along[:, 0]], axis=1), quad + ahead / 2


def outward_of(quad: Quad, middles: Points) -> Bows:
    """How far places near the sides' middles, (4, 2), lie outside them."""
    normals, straight = side_normals(quad)
    top, right, bottom, left = ((middles - straight) * normals).sum(axis=1)
    return float(top), float(right), float(bottom), float(left)


def _pose(quad: Quad, frame: tuple[int, int], focal: float) -> tuple[Points, Points, Points]:
    """The corners' plane before the camera: axes and place per share; the unit way up; camera to pixels."""
    middle, long_side = (np.array(frame, float) - 1) / 2, max(frame)
    to_pixels = np.array([[focal * long_side, 0, middle[0]], [0, focal * long_side, middle[1]], [0, 0, 1]])
    unit = np.array([[0, 0], [1, 0], [1, 1], [0, 1]], np.float32)
    plane = np.linalg.inv(to_pixels) @ cv2.getPerspectiveTransform(unit, quad.astype(np.float32))
    up = -np.cross(plane[:, 0] / np.linalg.norm(plane[:, 0]), plane[:, 1] / np.linalg.norm(plane[:, 1]))
    return np.asarray(plane, np.float64), np.asarray(up / np.linalg.norm(up)), to_pixels
