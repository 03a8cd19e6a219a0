"""The texture of silk or honeycomb paper: found by its peaks in the Fourier domain, and taken out there.

Convention (see `solander.imaging.conventions` and `deep`): peaks are (x, y) in cycles per pixel of the view, y
from 0 to 0.5 and x from −0.5 to 0.5; a peak stands for itself and for the one opposite.

Method. The paper is embossed all over with one pattern, while no photograph repeats itself from end to end: so the
mean of the spectra of overlapping tiles (Welch, IEEE Transactions on Audio and Electroacoustics 15(2), 1967) shows
the pattern as sharp peaks. A peak stands out from its surroundings by several deviations; a pattern shows itself
with a peak's double frequency, or with peaks of the same frequency at 60 or 90 degrees, and runs two ways. To
take it out, tiles with a window whose overlaps add up to one lose those peaks by Gaussian notches; what is lost of
the luma is taken from all three channels alike, so that no colour changes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from importlib import import_module
from types import ModuleType

import cv2
import numpy as np
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb, luma, require_rgb
from solander.imaging.treatment.blocks import Grid, is_of_blocks
from solander.imaging.treatment.deep import Deep

__all__ = ["Peaks", "texture_peaks", "without_texture"]

Peaks = tuple[tuple[float, float], ...]
Floats = NDArray[np.float32]

TILE = 512
"""Pixels a side of a tile: twenty periods of the coarsest texture and more, and a few across a face."""

SMALLEST = 256
"""Of a view that holds no four tiles, tiles of this size are looked at; of a smaller one nothing can be told."""

AROUND = 31
"""Bins a side in which a peak is compared with its surroundings."""

STANDS_OUT = 4.8
"""Deviations by which the strongest peak stands out at least, and
`STANDS_OUT_TOO` those that belong to it. Photographs without texture reach 4.6 (docs/measured.md)."""

STANDS_OUT_TOO = 3.6

FREQUENCIES = 0.04, 0.47
"""Cycles per pixel between which texture is sought: below, a photograph itself is too strong."""

OFF = 1.6
"""Bins by which a peak may be off its double or its turned place."""

TWO_WAYS = 0.34
"""Sine of the least angle between two directions of a pattern: 20 degrees."""

NOTCH = 1.8
"""Deviation of a notch, in bins of a tile."""

MOST_PEAKS = 200
"""Peaks of a pattern that are taken, the strongest: so many a step of a treatment holds."""

MOST_TILES = 36
"""Tiles that are looked at; more tell nothing more."""

DARKEST = 80.0
"""Code values added before the logarithm: relief shades light by a factor, but noise of the darkest is none."""


def texture_peaks(rgb: Rgb, *, grid: Grid | None = None) -> Peaks:
    """The peaks of the paper's texture, strongest first; empty where no periodic texture can be told.

    Words on a back, a brick wall or a fence repeat themselves too, though not all over: whoever asks for prints
    that show writing asks a person first. With the `grid` of the capture (see `blocks`) what its file and that
    of the view leave behind is not taken for paper.
    """
    grey = _logarithm(luma(require_rgb(rgb)))
    side = TILE if min(grey.shape) >= TILE + TILE // 2 else SMALLEST
    if min(grey.shape) < side:
        return ()
    strong = _standing_out(_spectrum(grey, side), side)
    if grid is not None:
        strong = [(height, place) for height, place in strong if not is_of_blocks(place, grid)]
    if not strong or strong[0][0] < STANDS_OUT:
        return ()
    members = [place for height, place in strong if height >= STANDS_OUT_TOO]
    in_pattern = [place for place in members if _has_partner(place, members, side)]
    strongest = strong[0][1]
    is_paper = strongest in in_pattern and _runs_two_ways(in_pattern) and _leaves_the_axes(in_pattern, side)
    return tuple(_shares(place) for place in in_pattern[:MOST_PEAKS]) if is_paper else ()


def without_texture(deep: Deep, peaks: Peaks, *, strength: float = 1.0) -> Deep:
    """The picture without the pattern of those peaks, which lose `strength` (0–1) of their height."""
    if not peaks:
        return deep
    grey = np.asarray(cv2.cvtColor(deep, cv2.COLOR_RGB2GRAY), np.uint16)
    cleared = np.empty_like(deep)
    for rows, lost in _lost_in_bands(grey, _notches(peaks, TILE, strength)):
        band, factor = deep[rows], np.exp(-lost)
        offset = (factor - 1) * (DARKEST * 257)
        for channel in range(3):
            new = band[..., channel] * factor + offset
            cleared[rows, :, channel] = np.clip(np.rint(new), 0, 65535)
    return cleared


@cache
def _fft() -> ModuleType:
    """SciPy's transforms: a fifth of a second to load, so only when texture is looked for."""
    return import_module("scipy.fft")


def _logarithm(grey: Floats) -> Floats:
    return np.asarray(np.log(grey + DARKEST), np.float32)


def _spectrum(grey: Floats, side: int) -> Floats:
    """Mean logarithm of the power of overlapping tiles, (side, side / 2 + 1)."""
    window = np.outer(*(np.hanning(side).astype(np.float32),) * 2)
    starts = [(top, left) for top in _starts(grey.shape[0], side) for left in _starts(grey.shape[1], side)]
    every = -(-len(starts) // MOST_TILES)
    total = np.zeros((side, side // 2 + 1), np.float32)
    for top, left in starts[::every]:
        tile = grey[top : top + side, left : left + side]
        power = np.abs(_fft().rfft2((tile - tile.mean()) * window)) ** 2
        total += np.log(power + 1e-9)
    return np.asarray(total / len(starts[::every]), np.float32)


def _starts(length: int, side: int) -> list[int]:
    count = max(1, round((length - side) / (side / 2)) + 1)
    return [round(start) for start in np.linspace(0, length - side, count)]


def _standing_out(spectrum: Floats, side: int) -> list[tuple[float, tuple[float, float]]]:
    """Local peaks with their height in deviations, the highest first; places in bins (x, y), y ≥ 0."""
    whole = np.concatenate([spectrum, np.roll(spectrum[::-1, 1:-1][:, ::-1], 1, axis=0)], axis=1)
    centred = _fft().fftshift(whole)
    mean = cv2.blur(centred, (AROUND, AROUND))
    spread = np.sqrt(np.maximum(cv2.blur((centred - mean) ** 2, (AROUND, AROUND)), 1e-12))
    height = (centred - mean) / spread
    y, x = np.mgrid[-side // 2 : side // 2, -side // 2 : side // 2]
    radius = np.hypot(x, y) / side
    low, high = FREQUENCIES
    local = (height == cv2.dilate(height, np.ones((5, 5)))) & (height > STANDS_OUT_TOO)
    # an axis of the frame is where straight edges and the frame itself show
    chosen = local & (radius > low) & (radius < high) & ((y > 0) | ((y == 0) & (x > 0)))
    found = [(float(height[at]), _between(height, at, side)) for at in zip(*np.nonzero(chosen), strict=True)]
    return sorted(found, reverse=True)


def _between(height: Floats, at: tuple[int, int], side: int) -> tuple[float, float]:
    """A peak's place to a fraction of a bin, by a parabola through it and its neighbours."""
    place = []
    for axis in (1, 0):
        step = np.eye(2, dtype=int)[axis]
        before, here, after = (
            float(height[tuple(np.clip(np.array(at) + shift * step, 0, side - 1))]) for shift in (-1, 0, 1)
        )
        bend = before - 2 * here + after
        place.append(at[axis] - side // 2 + (0.5 * (before - after) / bend if bend < 0 else 0.0))
    return place[0] / side, place[1] / side


def _has_partner(place: tuple[float, float], others: Sequence[tuple[float, float]], side: int) -> bool:
    """Whether a peak's double or half is there, or the same frequency at 60 or 90 degrees."""
    here = complex(*place)
    turns = [np.exp(1j * np.pi * angle / 180) for angle in (60, -60, 90, -90)]
    wanted = [2 * here, here / 2, *(here * turn for turn in turns)]
    there = [complex(*other) for other in others if other != place]
    return any(min(abs(one - other), abs(one + other)) * side < OFF for one in wanted for other in there)


def _runs_two_ways(places: Sequence[tuple[float, float]]) -> bool:
    """Whether the pattern has more than one direction, as embossed paper has and a fence has not."""
    directions = [complex(*place) / abs(complex(*place)) for place in places]
    return any(abs((one * other.conjugate()).imag) > TWO_WAYS for one in directions for other in directions)


def _leaves_the_axes(places: Sequence[tuple[float, float]], side: int) -> bool:
    """Whether a peak lies beside the axes of the frame: a sensor, a scanner's rows and squares of a file that was
    made smaller leave peaks on both axes alone, while embossed paper is never laid and cut as true as that."""
    return any(min(abs(x), abs(y)) * side > OFF for x, y in places)


def _shares(place: tuple[float, float]) -> tuple[float, float]:
    return round(place[0], 5), round(place[1], 5)


def _notches(peaks: Peaks, side: int, strength: float) -> Floats:
    """What is left of each frequency of a tile, (side, side / 2 + 1), 0–1."""
    y, x = _fft().fftfreq(side)[:, None] * side, np.arange(side // 2 + 1)[None]
    left = np.ones((side, side // 2 + 1))
    for peak in peaks:
        for sign in (1, -1):
            off = (x - sign * peak[0] * side) ** 2 + (y - sign * peak[1] * side) ** 2
            left *= 1 - strength * np.exp(-off / (2 * NOTCH**2))
    return np.asarray(left, np.float32)


def _lost_in_bands(grey: NDArray[np.uint16], notches: Floats) -> Iterator[tuple[slice, Floats]]:
    """What the notches take away, by bands of half a tile's height; memory is bounded by a band of tiles."""
    half, height, width = TILE // 2, *grey.shape
    wide = -(-width // half) * half
    padded = cv2.copyMakeBorder(
        grey, half, -(-height // half) * half - height + half, half, wide - width + half, cv2.BORDER_REFLECT_101
    )
    window = np.sqrt(np.outer(*(np.hanning(TILE + 1)[:-1],) * 2)).astype(np.float32)
    before = np.zeros((half, wide + TILE), np.float32)
    for top in range(0, padded.shape[0] - half, half):
        band = np.zeros((TILE, wide + TILE), np.float32)
        band[:half] = before
        codes = _logarithm(np.asarray(padded[top : top + TILE], np.float32) / np.float32(257))
        for left in range(0, wide + half, half):
            tile = codes[:, left : left + TILE]
            level = float(tile.mean())
            spectrum = _fft().rfft2((tile - level) * window) * (1 - notches)
            band[:, left : left + TILE] += _fft().irfft2(spectrum, (TILE, TILE)) * window
        before = band[half:]
        if top:
            rows = slice(top - half, min(top, height))
            yield rows, band[: rows.stop - rows.start, half : half + width]
