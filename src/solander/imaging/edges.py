"""Edges beside a line: strips of a picture, straight lines voted for in them, curves fitted to sub-pixels.

Convention (see `conventions`): a strip is the picture beside a side of an outline, turned so that rows run along
the side (from its start to its end) and columns across it, from inside the outline (left) to outside (right).
`across` is the signed distance from the side in pixels of the picture, positive outside; `along` runs from −1 at
the side's start to 1 at its end. Outlines run clockwise.
"""

from __future__ import annotations

from itertools import pairwise

import cv2
import numpy as np
from attrs import evolve, frozen
from numpy.lib.stride_tricks import as_strided
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb, area, is_convex

__all__ = [
    "Curve",
    "Line",
    "Strip",
    "coherent_edges",
    "crossing",
    "cut_strip",
    "edge_places",
    "fit_curve",
    "meet",
    "vote_lines",
]

Floats = NDArray[np.float64]
Pixels = NDArray[np.float32]

_CODE = np.arange(256) / 255
LINEAR_OF: Pixels = np.where(_CODE <= 0.04045, _CODE / 12.92, ((_CODE + 0.055) / 1.055) ** 2.4).astype(np.float32)
"""Linear light (0–1) of each code value: IEC 61966-2-1."""


@frozen(eq=False)
class Strip:
    """The picture beside one side: `pixels` (rows along, columns across, channels) and where they come from.

    `along` (rows) from −1 to 1 over the whole side, though the strip leaves out the `ends` near the corners;
    `across` (columns) in pixels of the picture.
    """

    pixels: Pixels
    along: Floats
    across: Floats
    start: Floats
    end: Floats

    @property
    def outward(self) -> Floats:
        """The unit vector that points out of the outline."""
        return outward(self.start, self.end)

    def points(self, along: Floats, across: Floats) -> Floats:
        """Places in the picture, (n, 2), of places in the strip."""
        share = (np.asarray(along)[:, None] + 1) / 2
        return self.start + (self.end - self.start) * share + self.outward * np.asarray(across)[:, None]


@frozen
class Line:
    """A plain edge in a strip: `across` = middle + slope · along + bow · (1 − along²), its `strength` in noise
    units (0–12) and its `coverage`: the share of its length on which an edge is seen."""

    middle: float
    slope: float
    bow: float
    strength: float
    coverage: float

    def at(self, along: Floats) -> Floats:
        """Distance across at places along."""
        return self.middle + self.slope * along + self.bow * (1 - along**2)


@frozen(eq=False)
class Curve:
    """`across` as a polynomial of `along` (numpy order, highest first), the share of rows that agree with it, and
    their root mean square distance from it in pixels.

    `doubt` is the standard deviation (pixels) of the curve at the side's start and end that the spread leaves;
    `softness` the edge's width in pixels, of a straight ramp of the same steepness.
    """

    coefficients: Floats
    agreement: float
    spread: float
    doubt: tuple[float, float] = (0.0, 0.0)
    softness: float = 0.0

    def at(self, along: Floats | float) -> Floats:
        """Distance across at places along."""
        return np.asarray(np.polyval(self.coefficients, along), np.float64)


def outward(start: Floats, end: Floats) -> Floats:
    """The unit vector out of a clockwise outline, beside the side from `start` to `end`."""
    x, y = (end - start) / max(float(np.linalg.norm(end - start)), 1e-9)
    return np.array([y, -x])


def cut_strip(
    picture: Rgb | Pixels,
    side: tuple[Floats, Floats],
    *,
    inward: float,
    outward_px: float,
    rows: int,
    ends: float = 0.04,
    density: float = 2.0,
    linear: bool = False,
) -> Strip:
    """The strip beside a side, `inward` pixels inside to `outward_px` outside at one column a pixel.

    `rows` are averages along the side, so that texture and noise fade and a straight edge stays; `density` bounds
    the samples averaged to about one in that many pixels. `ends` is the share left out at each end, where corners
    may be rounded. Outside the picture its outermost pixels repeat. `linear` brings an encoded picture to
    linear light (0–1) first: a lens blurs light, so only there does a blurred edge stay centred on the true one
    (median corner error on simulated felt .08 % encoded, .01 % linear).
    """
    start, end = side
    length = float(np.linalg.norm(end - start)) * (1 - 2 * ends)
    fine = max(rows, round(length / density / rows) * rows)
    columns = round(inward) + round(outward_px) + 1
    along = (2 * (np.arange(fine) + 0.5) / fine - 1) * (1 - 2 * ends)
    origin = start + (end - start) * (along[0] + 1) / 2
    step = (end - start) * (along[1] - along[0]) / 2 if fine > 1 else np.zeros(2)
    out = outward(start, end)
    first = origin - out * round(inward)
    to_picture = np.array([[out[0], step[0], first[0]], [out[1], step[1], first[1]]])
    flags = cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP
    sampled = cv2.warpAffine(picture, to_picture, (columns, fine), flags=flags, borderMode=cv2.BORDER_REPLICATE)
    sampled = cv2.LUT(sampled, LINEAR_OF) if linear else sampled.astype(np.float32)
    averaged = cv2.resize(sampled, (columns, rows), interpolation=cv2.INTER_AREA)
    return Strip(
        pixels=np.asarray(averaged.reshape(rows, columns, -1), np.float32),
        along=np.asarray(along.reshape(rows, -1).mean(axis=1), np.float64),
        across=np.arange(columns, dtype=np.float64) - round(inward),
        start=start,
        end=end,
    )


def gradient(pixels: Pixels) -> Pixels:
    """Change of every channel across the strip, per pixel: derivative of a parabola through five columns."""
    padded = np.concatenate([pixels[:, :1], pixels[:, :1], pixels, pixels[:, -1:], pixels[:, -1:]], axis=1)
    return np.asarray((2 * (padded[:, 4:] - padded[:, :-4]) + padded[:, 3:-1] - padded[:, 1:-3]) / 10, np.float32)


def coherent_edges(strip: Strip, segments: int) -> Pixels:
    """Edge strength (segments, columns): within a segment changes add with their sign, so that only what runs
    along the side adds up; between segments signs are free, for a picture's edge changes its contrast."""
    change = gradient(strip.pixels)
    rows = change.shape[0] // segments * segments
    together = change[:rows].reshape(segments, -1, *change.shape[1:]).mean(axis=1)
    return _length(together)


def _length(change: Pixels) -> Pixels:
    """Length of each of (rows, columns, channels); numpy's own sums are slow along so short an axis."""
    squares = change * change
    total = squares[..., 0].copy()
    for channel in range(1, change.shape[-1]):
        total += squares[..., channel]
    return np.asarray(np.sqrt(total), np.float32)


SATURATION = 12.0
"""Noise units beyond which more evidence of one segment counts for little: one glaring segment is no side."""

SEEN = 2.5
"""Noise units from which a segment counts as showing an edge."""

MOST_LINES = 6

LESS_BOWED = 0.93
"""What the evidence of another bow than the expected one counts: a freedom that must earn its keep."""


def vote_lines(strength: Pixels, strip: Strip, *, reach: int, bows: tuple[float, ...], noise: float) -> list[Line]:
    """The edges in a strip, from inside to outside, of all that turn by up to `reach` pixels at the ends and bow
    by one of `bows` pixels, of which the middle one is expected.

    `strength` comes from `coherent_edges` and counts in units of `noise`, saturating. The strongest line is taken
    and its evidence taken away, until what is left is weak: so a faint border beside a strong picture edge is not
    lost in the strong one's tilted lines.
    """
    segments, columns = strength.shape
    evidence = SATURATION * np.tanh(strength / (noise * SATURATION)) + 0.02 * strength / noise
    evidence *= _on_a_crest(strength)
    middles = (2 * (np.arange(segments) + 0.5) / segments - 1) * float(strip.along.max())
    shapes = [(float(slope), bow) for bow in bows for slope in range(-reach, reach + 1)]
    slopes, bent = np.array(shapes).T[:, :, None]
    shift = np.rint(slopes * middles + bent * (1 - middles**2)).astype(np.int32)
    favour = np.array([[1.0 if bow == bows[len(bows) // 2] else LESS_BOWED] for _, bow in shapes], np.float32)
    lines = []
    for _ in range(MOST_LINES):
        total = _sums(evidence, shift) * favour
        shape, column = (int(i) for i in np.unravel_index(total.argmax(), total.shape))
        if total[shape, column] < SEEN:
            break
        row = np.arange(segments)[:, None]
        near = np.clip(column + shift[shape][:, None] + np.arange(-3, 4), 0, columns - 1)
        covered = float((evidence[row, near[:, 2:5]].max(axis=1) > SEEN).mean())
        evidence[row, near] = 0.0
        if 1 < column < columns - 2:
            slope, bow = shapes[shape]
            lines.append(Line(float(strip.across[column]), slope, bow, float(total[shape, column]), covered))
    return sorted(lines, key=lambda line: line.middle)


def _sums(evidence: Pixels, shift: NDArray[np.int32]) -> Pixels:
    """Mean evidence over the segments along each shape of line (rows of `shift`) from each column."""
    reach = int(np.abs(shift).max())
    segments, columns = evidence.shape
    padded = cv2.copyMakeBorder(evidence, 0, 0, reach, reach, cv2.BORDER_REPLICATE)
    down, along = padded.strides
    windows = as_strided(padded, (segments, 2 * reach + 1, columns), (down, along, along), writeable=False)
    total = np.zeros((len(shift), columns), np.float32)
    for by_start, start in zip(windows, (shift + reach).T, strict=True):  # one by one: no large array of all
        total += by_start[start]
    return total / np.float32(segments)


def _on_a_crest(strength: Pixels) -> NDArray[np.bool_]:
    """Where strength is within a column of its segment's local maximum: slopes of a blurred edge are no edges."""
    highest = cv2.dilate(strength, np.ones((1, 5), np.uint8))
    crest = (strength >= highest).astype(np.uint8)
    return np.asarray(cv2.dilate(crest, np.ones((1, 3), np.uint8)) > 0)


ROWS_TOGETHER = 5
"""Rows whose changes are averaged before the strongest is placed; so many rows are then one observation."""


def fit_curve(strip: Strip, expected: Floats, *, order: int, window: float, softness: bool = True) -> Curve | None:
    """The edge near an `expected` curve (coefficients of `along`) as a low-order curve; None where too few rows
    show one.

    In each row the strongest change within `window` pixels of the curve so far is placed to sub-pixels (parabola
    through three columns), then a polynomial is fitted with Tukey's weights; the window narrows in three rounds.
    Where nobody asks for the edge's `softness` it stays 0.
    """
    change = gradient(strip.pixels)
    smooth = cv2.blur(change, (1, ROWS_TOGETHER), borderType=cv2.BORDER_REPLICATE)
    strength = _length(np.asarray(smooth, np.float32).reshape(change.shape))
    coefficients = expected
    curve: Curve | None = None
    for narrow, degree in ((1.0, len(expected) - 1), (0.6, order), (0.4, order)):
        reach = max(1.6, window * narrow)
        place, weight = _peaks(strength, np.polyval(coefficients, strip.along) - strip.across[0], reach)
        curve = _robust(strip.along, place + strip.across[0], weight, degree=degree)
        if curve is None:
            return None
        coefficients = curve.coefficients
    return evolve(curve, softness=_softness(strip, curve, change)) if curve and softness else curve


SIDE_PARTS = 20
"""Parts of a side whose widths are looked at one by one."""


def _softness(strip: Strip, curve: Curve, change: Pixels) -> float:
    """Width of the edge: what changes within five pixels to either side over the greatest change of one pixel, in
    parts of the side; their median."""
    rows, columns = strip.pixels.shape[:2]
    parts = min(SIDE_PARTS, rows)
    rows = rows // parts * parts
    at = np.rint(curve.at(strip.along[:rows]) - strip.across[0]).astype(int)[:, None]
    row = np.arange(rows)[:, None]

    def beside(pixels: Pixels, offsets: NDArray[np.int_]) -> Pixels:
        picked = pixels[row, np.clip(at + offsets, 0, columns - 1)]
        return np.asarray(picked.reshape(parts, -1, len(offsets), picked.shape[-1]).mean(axis=1), np.float32)

    step = beside(strip.pixels, np.array([4, 5])).mean(axis=1) - beside(strip.pixels, np.array([-5, -4])).mean(
        axis=1
    )
    whole = np.linalg.norm(step, axis=1)
    steepest = np.linalg.norm(beside(change, np.arange(-2, 3)), axis=2).max(axis=1)
    return float(np.median(whole / np.maximum(steepest, 1e-6)))


def edge_places(strip: Strip, expected: Floats, reach: float) -> tuple[Floats, Floats]:
    """Distance across and height (0 for none) of each row's strongest change within `reach` of the expected."""
    change = gradient(strip.pixels)
    place, height = _peaks(_length(change), expected - strip.across[0], reach)
    return place + strip.across[0], height


def _peaks(strength: Pixels, expected: Floats, reach: float) -> tuple[Floats, Floats]:
    """Column (sub-pixel) and height of the strongest change near the expected column of each row."""
    rows, columns = strength.shape
    near = np.abs(np.arange(columns)[None] - expected[:, None]) <= reach
    near[:, 0] = near[:, -1] = False
    masked = np.where(near, strength, -1.0)
    top = np.clip(masked.argmax(axis=1), 1, columns - 2)
    row = np.arange(rows)
    left, here, right = strength[row, top - 1], strength[row, top], strength[row, top + 1]
    bend = left - 2 * here + right
    shift = np.where(bend < -1e-6, 0.5 * (left - right) / np.minimum(bend, -1e-6), 0.0)
    is_peak = (here >= left) & (here >= right) & (masked.max(axis=1) > 0)
    return top + np.clip(shift, -0.5, 0.5), np.where(is_peak, here, 0.0).astype(np.float64)


SETTLED = 0.003
"""Pixels by which a fit may still change to be done."""


def _robust(along: Floats, across: Floats, weight: Floats, *, degree: int) -> Curve | None:
    """Polynomial by iterated weighted least squares: Tukey's weights times the root of the edge's height."""
    used = weight > 0
    if used.sum() < max(8, 0.25 * len(along)):
        return None
    s, y, height = along[used], across[used], np.sqrt(weight[used])
    basis = np.vander(s, degree + 1)
    powers = np.ascontiguousarray(basis.T)
    trust, little = np.ones(len(s)), 1e-9 * np.eye(degree + 1)
    coefficients: NDArray[np.floating] = np.zeros(degree + 1)
    half = len(s) // 2
    for _ in range(8):
        weighted = powers * (height * trust) ** 2
        before = coefficients
        coefficients = np.linalg.solve(weighted @ basis + little, weighted @ y)
        residual = y - coefficients @ powers
        if np.abs(coefficients - before).max() < SETTLED:
            break
        scale = max(0.15, 1.4826 * float(np.partition(np.abs(residual), half)[half]))
        trust = np.maximum(1 - (residual / (4 * scale)) ** 2, 0)
    agree = trust > 0.3
    if agree.sum() < max(8, 0.2 * len(along)):
        return None
    spread = float(np.sqrt(np.mean(residual[agree] ** 2)))
    ends = np.vander([-1.0, 1.0], degree + 1)
    normal = basis[agree].T @ basis[agree] + 1e-9 * np.eye(degree + 1)
    doubt = spread * np.sqrt(ROWS_TOGETHER * np.einsum("ij,ij->i", ends, np.linalg.solve(normal, ends.T).T))
    share = float(agree.sum() / len(along))
    return Curve(np.asarray(coefficients, np.float64), share, spread, (float(doubt[0]), float(doubt[1])))


def meet(sides: list[tuple[Floats, Floats]]) -> Floats | None:
    """Corners where neighbouring sides, two points each, meet, the first where the last meets the first; None
    where the sides bound no clockwise convex shape."""
    corners = [crossing(before, after) for before, after in pairwise([sides[-1], *sides])]
    if any(corner is None for corner in corners):
        return None
    quad = np.array(corners, np.float64)
    return quad if is_convex(quad) and area(quad) > 0 else None


def crossing(one: tuple[Floats, Floats], other: tuple[Floats, Floats]) -> Floats | None:
    """Where two lines through two points each cross; None for parallels."""
    (a, b), (c, d) = one, other
    u, v = b - a, d - c
    cross = u[0] * v[1] - u[1] * v[0]
    if abs(cross) < 1e-12:
        return None
    return np.asarray(a + u * ((c - a)[0] * v[1] - (c - a)[1] * v[0]) / cross, np.float64)
