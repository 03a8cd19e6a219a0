"""How sharp a camera is: the spatial frequency response from a slanted edge.

Convention (see `conventions`): the picture is linear light, float; an edge is a segment between two places (x, y).
Frequencies are cycles a pixel across the edge; half the sampling frequency is 0.5.

Method: ISO 12233, the edge-based response. Each line across the edge is differentiated and its centroid taken; a
straight line through the centroids is the edge; all pixels are laid out by their distance from it in quarters of a
pixel, averaged, differentiated, windowed (Hamming), transformed and set to 1 at 0. The losses by the quarter-pixel
bins and by the difference of two neighbours are known and taken out.
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

__all__ = ["Response", "edge_response", "find_edges", "sharpest"]

Floats = NDArray[np.float64]
Segment = tuple[tuple[float, float], tuple[float, float]]

OVERSAMPLED = 4
"""Bins a pixel, as ISO 12233 has it."""

REACH = 20
"""Pixels on either side of the edge: the response is then known every 1/40 cycle a pixel."""

LEAST_SLANT_PX = 2.0
"""Pixels that an edge must run aside along its length, so that every quarter of a pixel is met."""

LEAST_CONTRAST = 1.5
"""Light on the one side over that on the other; below, noise speaks (our choice)."""

FLAT = 0.06
"""Deviation on either side of an edge, as a share of its step, up to which it is an edge between flat tones."""

LOOKED_AT = 40
"""Segments tried, the longest first."""

FOUND_AT = 1600
"""Long side of the copy in which segments are looked for."""


@frozen(eq=False)
class Response:
    """The response of one edge: `frequencies` (n,) in cycles a pixel from 0, `values` (n,), 1 at frequency 0.

    `upright` tells that the edge runs down the picture, so that it tells of sharpness across; `misregistration`
    is how far red or blue lies from green, whichever is farther, in pixels; `at` the middle of the edge.
    """

    frequencies: Floats
    values: Floats
    upright: bool
    misregistration: float
    at: tuple[float, float]

    def falls_to(self, level: float) -> float:
        """The first frequency at which the response falls to `level`; NaN where it never does."""
        below = np.flatnonzero(self.values < level)
        if not len(below) or below[0] == 0:
            return float("nan")
        after = int(below[0])
        high, low = self.values[after - 1], self.values[after]
        share = (high - level) / (high - low)
        return float(self.frequencies[after - 1] + share * (self.frequencies[after] - self.frequencies[after - 1]))

    def at_frequency(self, frequency: float) -> float:
        """The response there."""
        return float(np.interp(frequency, self.frequencies, self.values))

    @property
    def highest(self) -> float:
        """The highest response up to half the sampling frequency: above 1 the picture was sharpened."""
        return float(self.values[self.frequencies <= 0.5].max())


def edge_response(light: NDArray[np.floating], segment: Segment) -> Response | None:
    """The response of the edge that runs along `segment` in `light`, (h, w) or (h, w, 3).

    None where no response is told: the edge is too little slanted, too near the rim, too faint, not straight, or
    has more than two flat tones beside it.
    """
    found = _strip(light, segment)
    if found is None:
        return None
    strip, upright = found
    grey = _luminance(strip)
    line = _edge_line(grey)
    if line is None:
        return None
    spread = _edge_spread(grey, line)
    if spread is None or not _is_plain(spread):
        return None
    frequencies, values = _transformed(spread)
    (x0, y0), (x1, y1) = segment
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    return Response(frequencies, values, upright, _misregistration(strip, line), middle)


def find_edges(light: NDArray[np.floating]) -> list[Segment]:
    """Straight steps in a picture that may serve as slanted edges, the longest first; ends drawn in a little."""
    encoded = np.sqrt(np.clip(_luminance(light), 0, 1)) * 255
    scale = max(1.0, max(encoded.shape) / FOUND_AT)
    size = (round(encoded.shape[1] / scale), round(encoded.shape[0] / scale))
    small = cv2.resize(encoded.astype(np.float32), size, interpolation=cv2.INTER_AREA).astype(np.uint8)
    lines = cv2.createLineSegmentDetector().detect(small)[0]
    if lines is None:
        return []
    ends = (np.asarray(lines, np.float64).reshape(-1, 2, 2) + 0.5) * scale - 0.5
    longest = np.argsort(-np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1))[:LOOKED_AT]
    return [_drawn_in(*ends[i]) for i in longest]


def sharpest(light: NDArray[np.floating]) -> list[Response]:
    """The best edge across the picture and the best one down it, as far as there are any.

    Best is the one of median MTF50 among the sharper half: a single lucky edge is left out, and so are those
    that a fold of paper or a shadow softens.
    """
    told = [one for one in (edge_response(light, segment) for segment in find_edges(light)) if one]
    told = [one for one in told if np.isfinite(one.falls_to(0.5))]
    best = []
    for upright in (True, False):
        those = sorted((one for one in told if one.upright is upright), key=lambda one: -one.falls_to(0.5))
        if those:
            best.append(those[len(those) // 4])
    return best


def _luminance(light: NDArray[np.floating]) -> Floats:
    """Y of linear sRGB (IEC 61966-2-1)."""
    return np.asarray(light @ np.array([0.2126, 0.7152, 0.0722]) if light.ndim == 3 else light, np.float64)


def _drawn_in(start: Floats, end: Floats) -> Segment:
    """Without its ends, where corners round it."""
    along = end - start
    first, last = start + 0.12 * along, end - 0.12 * along
    return (float(first[0]), float(first[1])), (float(last[0]), float(last[1]))


def _strip(light: NDArray[np.floating], segment: Segment) -> tuple[Floats, bool] | None:
    """The pixels around an edge, turned so that it runs downwards, and whether it did so as it was.

    Shape (rows, columns[, 3]): a box that holds the edge and `REACH` on either side of it.
    """
    (x0, y0), (x1, y1) = segment
    upright = abs(y1 - y0) >= abs(x1 - x0)
    if not upright:
        light, (x0, y0, x1, y1) = np.swapaxes(light, 0, 1), (y0, x0, y1, x1)
    if y1 < y0:
        x0, y0, x1, y1 = x1, y1, x0, y0
    slant = abs(x1 - x0)
    rows = np.arange(int(np.ceil(y0)), int(np.floor(y1)) + 1)
    if slant < LEAST_SLANT_PX or len(rows) < 3 * OVERSAMPLED:
        return None
    middle = x0 + (rows - y0) * (x1 - x0) / (y1 - y0)
    reach = REACH + int(np.ceil(slant / 2)) + 2
    left, right = round(float(middle.mean())) - reach, round(float(middle.mean())) + reach
    if rows[0] < 0 or rows[-1] >= light.shape[0] or left < 0 or right >= light.shape[1]:
        return None
    return np.asarray(light[rows[0] : rows[-1] + 1, left : right + 1], np.float64), upright


def _edge_line(grey: Floats) -> tuple[float, float] | None:
    """Place of the edge in the first row and its change per row, in columns of the strip."""
    rows = np.arange(len(grey))
    slope = np.diff(grey, axis=1)
    places = np.arange(slope.shape[1]) + 0.5
    centre = (np.abs(slope) * places).sum(axis=1) / np.maximum(np.abs(slope).sum(axis=1), 1e-12)
    line = np.polyfit(rows, centre, 1)
    for reach in (REACH, REACH / 2, REACH / 2):  # the windows follow the edge, so that noise far off says nothing
        near = np.abs(places - np.polyval(line, rows)[:, None]) <= reach
        weight = np.where(near, slope, 0.0)
        total = weight.sum(axis=1)
        if (np.abs(total) < 1e-9).any():
            return None
        centre = (weight * places).sum(axis=1) / total
        line = np.polyfit(rows, centre, 1)
    if np.median(np.abs(centre - np.polyval(line, rows))) > 0.5 or abs(line[0]) * len(rows) < LEAST_SLANT_PX:
        return None
    return float(line[1]), float(line[0])


def _edge_spread(grey: Floats, line: tuple[float, float]) -> Floats | None:
    """The light by distance from the edge, in quarters of a pixel from −REACH to REACH, dark first."""
    start, slope = line
    rows, columns = np.mgrid[: grey.shape[0], : grey.shape[1]]
    distance = (columns - start - slope * rows) / np.hypot(1.0, slope)
    number = 2 * REACH * OVERSAMPLED
    place = np.floor((distance + REACH) * OVERSAMPLED).astype(int)
    inside = (place >= 0) & (place < number)
    total = np.bincount(place[inside], grey[inside], number)
    count = np.bincount(place[inside], minlength=number)
    if np.count_nonzero(count == 0) > number // 20:
        return None
    spread = np.interp(np.arange(number), np.flatnonzero(count), total[count > 0] / count[count > 0])
    return spread[::-1] if spread[: number // 4].mean() > spread[-number // 4 :].mean() else spread


def _is_plain(spread: Floats) -> bool:
    """Whether it is one step between two flat tones."""
    flank = REACH * OVERSAMPLED // 2
    dark, light = spread[:flank], spread[-flank:]
    step = float(light.mean() - dark.mean())
    if step <= 0 or light.mean() < LEAST_CONTRAST * max(dark.mean(), 1e-4):
        return False
    return float(max(dark.std(), light.std())) < FLAT * step


def _transformed(spread: Floats) -> tuple[Floats, Floats]:
    """Frequencies up to half a bin's, and the response there."""
    derivative = np.diff(spread)
    peak = int(np.argmax(cv2.GaussianBlur(derivative[None], (0, 0), OVERSAMPLED / 2)))
    derivative = derivative * _window(len(derivative), peak)
    padded = 8 * len(derivative)
    values = np.abs(np.fft.rfft(derivative, padded))
    frequencies = np.fft.rfftfreq(padded, 1 / OVERSAMPLED)
    kept = frequencies <= 1.0
    loss = np.sinc(frequencies[kept] / OVERSAMPLED) ** 2  # of averaging in bins, and of the difference of two
    return np.asarray(frequencies[kept], np.float64), np.asarray(values[kept] / values[0] / loss, np.float64)


def _window(number: int, peak: int) -> Floats:
    """Hamming's window around the peak, as wide as the farther end is away."""
    away = np.arange(number) - peak
    reach = max(peak, number - 1 - peak)
    return np.asarray(0.54 + 0.46 * np.cos(np.pi * away / reach), np.float64)


def _misregistration(strip: Floats, line: tuple[float, float]) -> float:
    """How far the edge of red or blue lies from that of green, the larger, px across the edge; 0 for grey."""
    if strip.ndim == 2:
        return 0.0
    start, slope = line
    rows = np.arange(strip.shape[0])[:, None]
    away = (np.arange(strip.shape[1] - 1) + 0.5 - start - slope * rows) / np.hypot(1.0, slope)
    near = np.abs(away) <= REACH / 2
    places = []
    for channel in range(3):
        change = np.where(near, np.diff(strip[..., channel], axis=1), 0.0)
        if abs(change.sum()) < 1e-9:
            return 0.0
        places.append(float((change * away).sum() / change.sum()))
    return max(abs(places[0] - places[1]), abs(places[2] - places[1]))
