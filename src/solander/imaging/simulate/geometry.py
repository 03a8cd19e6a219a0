"""Where a print's paper comes to lie in a capture, forth and back, exactly.

Convention
----------
Capture points are (x, y) in pixels; (0, 0) is the centre of the first pixel, x right, y down. Plane points are in
pixels of the capture's scale around the print's own middle, before it is turned. Points are arrays (…, 2).
The chain is paper → curl → turn, tilt and pinhole → lens; the capture is sampled through its inverse and the true
corners are sent forward, so the two agree to rounding.
"""

from __future__ import annotations

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

__all__ = ["Chain", "Curl", "Lens", "Placement", "Points"]

Points = NDArray[np.float64]

# Viewing distance in longer sides of the capture: a 50 mm lens over a 36 mm wide frame (1.4), rounded up.
_VIEWING_DISTANCE = 1.5
_CURL_TABLE = 513  # steps over the paper; the cubic term between two steps is below 1e-4 px at 3000 px


@frozen
class Placement:
    """How one print lies on the stage.

    `centre` is where its middle falls in the capture (px), `angle_deg` turns it clockwise on the screen,
    `tilt_deg` lifts it around its own x and y axis (perspective), `px_per_mm` is the capture's scale.
    """

    centre: tuple[float, float]
    angle_deg: float = 0.0
    px_per_mm: float = 10.0
    tilt_deg: tuple[float, float] = (0.0, 0.0)

    def homography(self, size: tuple[int, int]) -> NDArray[np.float64]:
        """The 3 × 3 matrix from plane points to capture points, before the lens; `size` is (width, height)."""
        turned = _tilted(self.tilt_deg) @ _turned(self.angle_deg)
        middle = _middle(size)
        distance = _VIEWING_DISTANCE * max(size)
        offset = np.asarray(self.centre, float) - middle
        plane = np.column_stack([turned[:, :2], [*offset, 0.0]])
        over_depth = np.array([0, 0, distance]) - plane[2]
        return np.vstack([plane[:2] * distance + np.outer(middle, over_depth), over_depth])

    def eye(self, size: tuple[int, int]) -> Points:
        """The point of the plane that lies under the lens (px around the print's middle, print not turned)."""
        offset = _middle(size) - np.asarray(self.centre, float)
        return np.asarray(_turned(-self.angle_deg)[:2, :2] @ offset)


@frozen
class Lens:
    """Radial distortion around the middle of a capture of `size` (width, height).

    An ideal radius is `r · (1 + bend · r² + bend_2 · r⁴)` of the captured radius r, in half diagonals; `bend` > 0
    is barrel, of the opposite sign to `bend_2` a moustache (Brown, 1966, radial terms).
    """

    size: tuple[int, int]
    bend: float = 0.0
    bend_2: float = 0.0

    def ideal(self, captured: Points) -> Points:
        """Captured points as a lens without distortion would show them."""
        middle = _middle(self.size)
        away = captured - middle
        square = self._square(away)
        return np.asarray(middle + away * (1 + square * (self.bend + self.bend_2 * square))[..., None])

    def captured(self, ideal: Points) -> Points:
        """Ideal points as the lens shows them; Newton's steps until rounding."""
        middle = _middle(self.size)
        away = np.asarray(ideal, float) - middle
        wanted = np.sqrt(self._square(away))
        radius = wanted.copy()
        for _ in range(12):
            reached = radius + self.bend * radius**3 + self.bend_2 * radius**5
            radius -= (reached - wanted) / (1 + 3 * self.bend * radius**2 + 5 * self.bend_2 * radius**4)
        ratio = np.divide(radius, wanted, out=np.ones_like(wanted), where=wanted > 0)
        return np.asarray(middle + away * ratio[..., None])

    def _square(self, away: Points) -> NDArray[np.float64]:
        half_diagonal = 0.5 * float(np.hypot(*self.size))
        return np.asarray((away[..., 0] ** 2 + away[..., 1] ** 2) / half_diagonal**2)


class Curl:
    """A paper bent to a cylinder, seen by a pinhole; flat plane points in, seen plane points out, and back.

    `bow` is how far the long edges bow, as a fraction of their length: > 0 the ends lift, < 0 the middle lifts.
    `size` is the paper's (width, height) in px, `eye` the plane point under the lens, `distance` px to the lens.
    The cylinder bends the paper's longer side; `axis_deg` turns it clockwise from there.
    """

    def __init__(
        self, bow: float, *, size: tuple[float, float], eye: Points, distance: float, axis_deg: float = 0.0
    ) -> None:
        along_deg = axis_deg + (0 if size[0] >= size[1] else 90)
        self._turn = _turned(along_deg)[:2, :2]  # rows of a point times this: the part along, the part aside
        length, width = np.abs(self._turn.T) @ np.asarray(size)
        along, aside = eye @ self._turn
        self._eye, self._distance, self._length = (float(along), float(aside)), distance, float(length)
        self.sweep = _sweep(abs(bow), length=length, lever=width / 2 + abs(aside), distance=distance)
        self._lean = np.sign(bow) * 2 * self.sweep / self._length
        radius = length / (2 * self.sweep) if self.sweep else np.inf
        self._table(bow, radius)

    def lean(self, flat: Points) -> NDArray[np.float64]:
        """How far the surface leans at points of the flat paper, in radians, signed."""
        return np.asarray(flat @ self._turn[:, 0] * self._lean)

    def _table(self, bow: float, radius: float) -> None:
        along = np.linspace(-0.6, 0.6, _CURL_TABLE) * self._length
        if np.isinf(radius):
            lift, ground = np.zeros_like(along), along
        else:
            lift = radius * (1 - np.cos(along / radius))
            lift = lift if bow > 0 else radius * (1 - np.cos(self.sweep)) - lift
            ground = radius * np.sin(along / radius)
        self._along, self._nearer = along, self._distance / (self._distance - lift)
        self._seen_along = self._eye[0] + (ground - self._eye[0]) * self._nearer

    def seen(self, flat: Points) -> Points:
        """Where points of the flat paper appear."""
        along, aside = np.moveaxis(flat @ self._turn, -1, 0)
        nearer = np.interp(along, self._along, self._nearer)
        return self._point(
            np.interp(along, self._along, self._seen_along), self._eye[1] + (aside - self._eye[1]) * nearer
        )

    def flat(self, seen: Points) -> Points:
        """Which points of the flat paper appear there."""
        apparent, aside = np.moveaxis(seen @ self._turn, -1, 0)
        # Beyond the table, so beyond the paper, it goes on straight: a jump there would reach back into the map.
        beyond = apparent - np.clip(apparent, self._seen_along[0], self._seen_along[-1])
        along = np.interp(apparent, self._seen_along, self._along) + beyond
        nearer = np.interp(along, self._along, self._nearer)
        return self._point(along, self._eye[1] + (aside - self._eye[1]) / nearer)

    def _point(self, along: NDArray[np.float64], aside: NDArray[np.float64]) -> Points:
        return np.asarray(np.stack([along, aside], axis=-1) @ self._turn.T)


@frozen
class Chain:
    """From a paper of `paper_px` (width, height, px of the capture's scale) into a capture, and back.

    `curl` and `curl_axis_deg` bend the paper (see `Curl`); `cut` holds its true corners (4, 2) in px around its
    middle where it is not quite its outer rectangle.
    """

    placement: Placement
    paper_px: tuple[float, float]
    lens: Lens
    curl: float = 0.0
    curl_axis_deg: float = 0.0
    cut: Points | None = field(default=None, eq=False)

    @property
    def size(self) -> tuple[int, int]:
        """(width, height) of the capture."""
        return self.lens.size

    @property
    def is_straight(self) -> bool:
        """Whether a homography says it all."""
        return not (self.lens.bend or self.lens.bend_2 or self.curl)

    def corners(self) -> Points:
        """The paper's four true corners in the capture, clockwise from its own top left; shape (4, 2)."""
        return self.to_capture(_rectangle(self.paper_px) if self.cut is None else self.cut)

    def border(self, steps: int = 65) -> Points:
        """Points along the paper's outer rectangle in the capture, `steps` a side; shape (4 · steps, 2)."""
        corners = _rectangle(self.paper_px)
        share = np.linspace(0, 1, steps)[:, None]
        sides = [a + (b - a) * share for a, b in zip(corners, np.roll(corners, -1, axis=0), strict=True)]
        return self.to_capture(np.concatenate(sides))

    def to_capture(self, flat: Points) -> Points:
        """Plane points of the flat paper as capture points."""
        bent = self.bent()
        seen = bent.seen(flat) if bent else flat
        return self.lens.captured(_projected(self.placement.homography(self.size), seen))

    def to_paper(self, captured: Points) -> Points:
        """Capture points as plane points of the flat paper."""
        seen = _projected(_inverse(self.placement.homography(self.size)), self.lens.ideal(captured))
        bent = self.bent()
        return bent.flat(seen) if bent else seen

    def bent(self) -> Curl | None:
        """The paper's curl as seen from the lens; None when it lies flat."""
        if not self.curl:
            return None
        return Curl(
            self.curl,
            size=self.paper_px,
            eye=self.placement.eye(self.size),
            distance=_VIEWING_DISTANCE * max(self.size),
            axis_deg=self.curl_axis_deg,
        )


def _middle(size: tuple[int, int]) -> Points:
    return np.array([(size[0] - 1) / 2, (size[1] - 1) / 2])


def _rectangle(paper_px: tuple[float, float]) -> Points:
    return np.asarray(np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * np.asarray(paper_px) / 2, np.float64)


def _turned(angle_deg: float) -> NDArray[np.float64]:
    # Quarter turns come out exact: the sine of 180 degrees must not be 1e-16.
    cosine, sine = (round(float(f(np.deg2rad(angle_deg))), 15) for f in (np.cos, np.sin))
    return np.array([[cosine, -sine, 0], [sine, cosine, 0], [0, 0, 1]])


def _tilted(tilt_deg: tuple[float, float]) -> NDArray[np.float64]:
    x, y = np.deg2rad(tilt_deg)
    about_x = np.array([[1, 0, 0], [0, np.cos(x), -np.sin(x)], [0, np.sin(x), np.cos(x)]])
    about_y = np.array([[np.cos(y), 0, np.sin(y)], [0, 1, 0], [-np.sin(y), 0, np.cos(y)]])
    return np.asarray(about_x @ about_y)


def _inverse(homography: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.asarray(np.linalg.inv(homography), np.float64)


def _projected(homography: NDArray[np.float64], points: Points) -> Points:
    x, y = points[..., 0], points[..., 1]
    above = [homography[row, 0] * x + homography[row, 1] * y + homography[row, 2] for row in range(3)]
    return np.stack([above[0] / above[2], above[1] / above[2]], axis=-1)


def _sweep(bow: float, *, length: float, lever: float, distance: float) -> float:
    """Half the arc (radians) at which an edge `lever` px from the lens's foot bows by `bow` of its length."""
    rise = distance * bow * length / (lever + bow * length)
    low, high = 0.0, 1.3
    for _ in range(50):
        middle = (low + high) / 2
        if length / (2 * middle) * (1 - np.cos(middle)) < rise:
            low = middle
        else:
            high = middle
    return low
