"""Edges beside a line: strips of a picture, and straight lines voted for in them.

Convention (see `conventions`): a strip is the picture beside a side of an outline, turned so that rows run along
the side (from its start to its end) and columns across it, from inside the outline (left) to outside (right).
`across` is the signed distance from the side in pixels of the picture, positive outside; `along` runs from −1 at
the side's start to 1 at its end. Outlines run clockwise.
"""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb, area, is_convex
from solander.imaging.linear_light import decoding

__all__ = [
    "Line",
    "Strip",
    "coherent_edges",
    "crossings",
    "cut_strip",
    "cut_strips",
    "gradient",
    "length_of",
    "meet",
    "outward",
    "vote_lines",
]

Floats = NDArray[np.float64]
Pixels = NDArray[np.float32]

LINEAR_OF: Pixels = decoding().astype(np.float32)
"""Linear light (0–1) of each code value."""


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
    shown = 1 - 2 * ends
    fine = max(rows, round(float(np.linalg.norm(end - start)) * shown / density / rows) * rows)
    columns = round(inward) + round(outward_px) + 1
    out, step = outward(start, end), (end - start) * shown / fine
    first = (start + end - (end - start) * shown + step) / 2 - out * round(inward)
    to_picture = np.array([[out[0], step[0], first[0]], [out[1], step[1], first[1]]])
    flags = cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP
    sampled = cv2.warpAffine(picture, to_picture, (columns, fine), flags=flags, borderMode=cv2.BORDER_REPLICATE)
    sampled = cv2.LUT(sampled, LINEAR_OF) if linear else sampled.astype(np.float32)
    averaged = cv2.resize(sampled, (columns, rows), interpolation=cv2.INTER_AREA)
    return Strip(
        pixels=np.asarray(averaged.reshape(rows, columns, -1), np.float32),
        along=(2 * (np.arange(rows) + 0.5) / rows - 1) * shown,
        across=np.arange(columns, dtype=np.float64) - round(inward),
        start=start,
        end=end,
    )


def cut_strips(
    picture: Rgb | Pixels, outline: Floats, *, wide: float, rows: int, ends: float, linear: bool = False
) -> list[Strip]:
    """The strips beside all sides of an outline, `wide` pixels to either side; see `cut_strip`."""
    return [
        cut_strip(picture, (start, end), inward=wide, outward_px=wide, rows=rows, ends=ends, linear=linear)
        for start, end in zip(outline, np.roll(outline, -1, axis=0), strict=True)
    ]


SLOPE: Pixels = np.array([[-0.2, -0.1, 0, 0.1, 0.2]], np.float32)
"""Derivative at the middle of a parabola through five columns."""


def gradient(pixels: Pixels) -> Pixels:
    """Change of every channel across each of (…, rows, columns, channels), per pixel."""
    rows = pixels.reshape(-1, *pixels.shape[-2:])
    change = cv2.filter2D(rows, -1, SLOPE, borderType=cv2.BORDER_REPLICATE)
    return np.asarray(change, np.float32).reshape(pixels.shape)


def coherent_edges(strip: Strip, segments: int) -> Pixels:
    """Edge strength (segments, columns): within a segment changes add with their sign, so that only what runs
    along the side adds up; between segments signs are free, for a picture's edge changes its contrast."""
    rows = strip.pixels.shape[0] // segments * segments
    together = strip.pixels[:rows].reshape(segments, -1, *strip.pixels.shape[1:]).mean(axis=1)
    return length_of(gradient(together))


def length_of(change: Pixels) -> Pixels:
    """Length of each of (…, channels); numpy's own sums are slow along so short an axis."""
    squares = (change * change).reshape(-1, 1, change.shape[-1])
    total = cv2.transform(squares, np.ones((1, change.shape[-1]), np.float32))
    return np.asarray(np.sqrt(total), np.float32).reshape(change.shape[:-1])


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
    slopes = np.tile(np.arange(-reach, reach + 1.0), len(bows))
    bent = np.repeat(bows, 2 * reach + 1)
    shift = np.rint(slopes[:, None] * middles + bent[:, None] * (1 - middles**2)).astype(np.int32)
    favour = np.where(bent == bows[len(bows) // 2], 1.0, LESS_BOWED).astype(np.float32)[:, None]
    row = np.arange(segments)[:, None]
    lines = []
    for _ in range(MOST_LINES):
        total = _sums(evidence, shift) * favour
        shape, column = divmod(int(total.argmax()), columns)
        if total[shape, column] < SEEN:
            break
        near = np.clip(column + shift[shape][:, None] + np.arange(-3, 4), 0, columns - 1)
        covered = float((evidence[row, near[:, 2:5]].max(axis=1) > SEEN).mean())
        evidence[row, near] = 0.0
        if 1 < column < columns - 2:
            turned, bow = float(slopes[shape]), float(bent[shape])
            lines.append(Line(float(strip.across[column]), turned, bow, float(total[shape, column]), covered))
    return sorted(lines, key=lambda line: line.middle)


def _sums(evidence: Pixels, shift: NDArray[np.int32]) -> Pixels:
    """Mean evidence over the segments along each shape of line (rows of `shift`) from each column."""
    reach = int(np.abs(shift).max())
    segments, columns = evidence.shape
    padded = np.asarray(cv2.copyMakeBorder(evidence, 0, 0, reach, reach, cv2.BORDER_REPLICATE), np.float32)
    down, along = padded.strides
    windows = np.ndarray((segments, 2 * reach + 1, columns), np.float32, padded, strides=(down, along, along))
    total = np.zeros((len(shift), columns), np.float32)
    for by_start, start in zip(windows, (shift + reach).T, strict=True):  # one by one: no large array of all
        total += by_start[start]
    return total / np.float32(segments)


def _on_a_crest(strength: Pixels) -> NDArray[np.bool_]:
    """Where strength is within a column of its segment's local maximum: slopes of a blurred edge are no edges."""
    highest = cv2.dilate(strength, np.ones((1, 5), np.uint8))
    crest = (strength >= highest).astype(np.uint8)
    return np.asarray(cv2.dilate(crest, np.ones((1, 3), np.uint8)) > 0)


def meet(sides: Sequence[tuple[Floats, Floats]]) -> Floats | None:
    """Corners where neighbouring sides, two points each, meet, the first where the last meets the first; None
    where the sides bound no clockwise convex shape."""
    lines = np.array(sides)
    quad = crossings(np.roll(lines, 1, axis=0), lines)
    return quad if quad is not None and is_convex(quad) and area(quad) > 0 else None


def crossings(some: Floats, others: Floats) -> Floats | None:
    """Where lines cross, (n, 2), of lines through two points each, (n, 2, 2); None where any are parallel."""
    u, v = some[:, 1] - some[:, 0], others[:, 1] - others[:, 0]
    apart = others[:, 0] - some[:, 0]
    cross = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
    if np.abs(cross).min() < 1e-12:
        return None
    share = (apart[:, 0] * v[:, 1] - apart[:, 1] * v[:, 0]) / cross
    return np.asarray(some[:, 0] + u * share[:, None], np.float64)
