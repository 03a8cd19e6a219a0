"""What a picture is known again by, however it was printed: its strongest points, each with a binary word.

Method: ORB (Rublee, Rabaud, Konolige and Bradski 2011, "ORB: an efficient alternative to SIFT or SURF") on luma
at `SIDE` pixels, local contrast made even first (CLAHE, Pizer et al. 1987), so that a faded print has points where
a fresh one has them. The words don't hold for the mirrored picture: it has points of its own, fewer, for a
negative is seldom laid the wrong way round.

Convention: pictures as in `conventions`. Places are shares of the picture's long side, x to the right and y down
from its top left corner, of mirrored points in the mirrored picture.
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb, require_rgb

__all__ = ["MIRRORED", "PLAIN", "POINT", "SIDE", "Points", "points_of"]

SIDE = 320
"""Long side, in pixels, at which points are looked for (tuning half of benchmarks/duplicates.py: at 400 and 480 no
more is found, and more pictures seem alike)."""

PLAIN = 400
MIRRORED = 128
"""Points a picture, and of its mirrored picture, the strongest first; so many that a part has some of them."""

STEP = 1.2
"""Ratio between one size of points and the next (the paper's pyramid)."""

_EDITION = b"ORB2"
"""How files of points begin: those of before were found at another size, and agree badly with these."""

_SIZES = 8
_WHOLE = 65_535
_EVEN_GRID = (4, 4)
_EVEN_CLIP = 3.0

POINT = np.dtype(
    [("word", np.uint8, 32), ("x", np.uint16), ("y", np.uint16), ("turn", np.uint8), ("size", np.uint8)]
)
"""A point as it is kept: its word (256 bits), its place in 65535ths of the long side, its direction in 256ths of
the circle, its size as a number of steps (`STEP`). 38 bytes."""


@frozen(eq=False)
class Points:
    """Points of a picture, `plain`, and of its mirrored picture; arrays (n,) of `POINT`."""

    plain: NDArray[np.void]
    mirrored: NDArray[np.void]

    def to_bytes(self) -> bytes:
        """As a file keeps them."""
        return _EDITION + np.uint32(len(self.plain)).tobytes() + self.plain.tobytes() + self.mirrored.tobytes()

    @classmethod
    def from_bytes(cls, kept: bytes) -> Points:
        """The same again.

        Raises
        ------
        ValueError
            When they are no such points, or of another edition.
        """
        begin = len(_EDITION) + 4
        if not kept.startswith(_EDITION) or len(kept) < begin or (len(kept) - begin) % POINT.itemsize:
            raise ValueError("these are no points of a picture")
        plain = int(np.frombuffer(kept, np.uint32, 1, offset=len(_EDITION))[0])
        points = np.frombuffer(kept, POINT, offset=begin)
        if plain > len(points):
            raise ValueError("these are no points of a picture")
        return cls(points[:plain], points[plain:])

    def strongest(self, plain: int, mirrored: int) -> Points:
        """At most so many of them."""
        return Points(self.plain[:plain], self.mirrored[:mirrored])


def points_of(rgb: Rgb) -> Points:
    """The points of a picture of any size; a picture that shows nothing has none."""
    grey = cv2.cvtColor(require_rgb(rgb), cv2.COLOR_RGB2GRAY)
    scale = SIDE / max(grey.shape)
    size = max(1, round(grey.shape[1] * scale)), max(1, round(grey.shape[0] * scale))
    grey = cv2.resize(grey, size, interpolation=cv2.INTER_AREA if scale < 1 else cv2.INTER_LINEAR)
    smooth = cv2.GaussianBlur(grey, (0, 0), 0.8)
    even = np.asarray(cv2.createCLAHE(_EVEN_CLIP, _EVEN_GRID).apply(smooth), np.uint8)
    return Points(_found(even, PLAIN), _found(np.ascontiguousarray(even[:, ::-1]), MIRRORED))


def _found(grey: NDArray[np.uint8], most: int) -> NDArray[np.void]:
    detector = cv2.ORB.create(most, scaleFactor=STEP, nlevels=_SIZES, edgeThreshold=15, fastThreshold=7)
    seen, words = detector.detectAndCompute(grey, None)
    if words is None or not len(seen):
        return np.zeros(0, POINT)
    strongest = np.argsort([-one.response for one in seen], kind="stable")[:most]
    kept = [seen[at] for at in strongest]
    points = np.zeros(len(kept), POINT)
    points["word"] = words[strongest]
    places = np.array([one.pt for one in kept]) / max(grey.shape) * _WHOLE
    points["x"], points["y"] = np.clip(places.round(), 0, _WHOLE).T
    points["turn"] = np.array([one.angle for one in kept]) / 360 * 256 % 256
    points["size"] = [one.octave for one in kept]
    return points
