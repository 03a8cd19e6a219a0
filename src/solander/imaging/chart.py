"""The chart of 24 patches in a capture: where it is, what its patches show, which edition it is.

Convention (see `conventions`): places in pixels of the capture; patches are counted row by row as printed, from
"dark skin" to "black", the six greys last; colours are linear sRGB unless named.
"""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Literal

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.colour import chart_lab, difference, fitted, lab_of, linear_of_lab, roots
from solander.imaging.conventions import Rgb, require_rgb
from solander.imaging.linear_light import linear

__all__ = ["EDITIONS", "GREYS", "ChartSeen", "Edition", "noise_of", "read_chart"]

Floats = NDArray[np.float64]
Edition = Literal["before", "after"]

EDITIONS: tuple[Edition, Edition] = ("before", "after")
"""Made before or after November 2014, when the maker changed the pigments."""

GREYS = slice(18, 24)
"""The six neutral patches, white first."""

TRIED = (1000, 700, 1400, 1200, 850, 1700)
"""Long sides at which the chart is looked for: the finder misses it at some that it knows at others."""

INNER = 0.55
"""Share of a patch's width that is looked at: its rim is shaded, blurred, or not quite where it was found."""

CLIPPED = 250
"""Code value from which a patch may be cut off; a patch with more than 1 % of such pixels tells no colour."""


@frozen(eq=False)
class ChartSeen:
    """`colours` (24, 3) mean linear sRGB of the patches; `places` (24, 2) their middles; `noise` (24,) the
    standard deviation of L* in each after a plane is taken out; `clipped` (24,) which are cut off at the scale's
    end; `edition` the one whose table fits better, `residuals` the mean ΔE00 that the fit of each leaves, infinite
    where too many patches are cut off to tell."""

    colours: Floats
    places: Floats
    noise: Floats
    clipped: NDArray[np.bool_]
    edition: Edition
    residuals: tuple[float, float]

    @property
    def reference(self) -> Floats:
        """The published Lab (D50) of its patches, (24, 3)."""
        return chart_lab(self.edition)

    @property
    def lab(self) -> Floats:
        """Lab (D50) of what the capture shows, (24, 3)."""
        return lab_of(self.colours)


def read_chart(rgb: Rgb) -> ChartSeen | None:
    """The chart in a capture, lying any way round; None where none is found.

    Found by OpenCV's own finder of 24-patch charts (`cv2.mcc`).
    """
    quads = _patches(require_rgb(rgb))
    if quads is None:
        return None
    looked = [_inner(rgb, quad) for quad in quads]
    light = [linear(one).astype(np.float64) for one in looked]
    colours = np.array([one.reshape(-1, 3).mean(axis=0) for one in light])
    cut = np.array([((one >= CLIPPED).any(axis=-1)).mean() > 0.01 for one in looked])
    noise = np.array([noise_of(one) for one in light])
    residuals = tuple(_residual(colours, chart_lab(edition), ~cut) for edition in EDITIONS)
    edition = EDITIONS[int(np.argmin(residuals))]
    return ChartSeen(colours, quads.mean(axis=1), noise, cut, edition, (residuals[0], residuals[1]))


def _patches(rgb: Rgb) -> Floats | None:
    """Four corners of each patch, (24, 4, 2)."""
    with _on_one_thread():
        return next((found for found in _tries(rgb) if found is not None), None)


_ALONE = threading.Lock()


@contextmanager
def _on_one_thread() -> Iterator[None]:
    """OpenCV works on one thread meanwhile, for on several the finder's answer changes from time to time.

    It knows only one number of threads for the whole process. So charts are looked for one after the other, that
    none takes the one thread of another for what is to be set again; other work is slower meanwhile, not wrong.
    """
    with _ALONE:
        threads = cv2.getNumThreads()
        cv2.setNumThreads(1)
        try:
            yield
        finally:
            cv2.setNumThreads(threads)


def _tries(rgb: Rgb) -> Iterator[Floats | None]:
    """What the finder says of the capture at each size, lying as it does, turned once, and without fine noise."""
    for blurred in (True, False):
        for long_side in TRIED:
            scale = max(rgb.shape[:2]) / long_side
            size = (round(rgb.shape[1] / scale), round(rgb.shape[0] / scale))
            small = cv2.resize(rgb, size, interpolation=cv2.INTER_AREA if scale > 1 else cv2.INTER_LINEAR)
            small = cv2.medianBlur(small, 5) if blurred else small
            for turns in (0, 1):
                corners = _found(np.ascontiguousarray(np.rot90(small, turns)[..., ::-1]))
                if corners is not None and turns:  # the right side of the turned copy is the top of the other
                    corners = np.stack([size[0] - 1 - corners[..., 1], corners[..., 0]], axis=-1)
                yield None if corners is None else np.asarray((corners + 0.5) * scale - 0.5)


def _found(bgr: Rgb) -> Floats | None:
    finder, settings = cv2.mcc.CCheckerDetector.create(), cv2.mcc.DetectorParametersMCC()
    settings.minContoursAreaRate, settings.minContoursArea = (
        0.0005,
        30.0,
    )  # a chart may fill a quarter of the frame
    settings.findCandidatesApproxPolyDPEpsMultiplier = 0.1
    finder.setDetectionParams(settings)
    if not finder.process(bgr, 1):
        return None
    return np.asarray(finder.getBestColorChecker().getColorCharts(), np.float64).reshape(24, 4, 2)


def _inner(rgb: Rgb, quad: Floats) -> Rgb:
    """The middle of a patch, its pixels as they are."""
    middle = quad.mean(axis=0)
    away = np.abs((quad - middle) * INNER).max(axis=0) * 0.95
    left, top = np.maximum(np.floor(middle - away), 0).astype(int)
    right, bottom = np.ceil(middle + away).astype(int) + 1
    return rgb[top:bottom, left:right]


def noise_of(light: Floats) -> float:
    """Standard deviation of L* in a flat piece of linear light, (h, w, 3), after removing a plane."""
    luminance = light @ np.array([0.2126, 0.7152, 0.0722])
    lightness = 116 * np.cbrt(np.maximum(luminance, 1e-4)) - 16
    y, x = np.mgrid[: lightness.shape[0], : lightness.shape[1]]
    plane = np.stack([np.ones(lightness.size), x.ravel(), y.ravel()], axis=1)
    left, *_ = np.linalg.lstsq(plane, lightness.ravel(), rcond=None)
    return float(np.std(lightness.ravel() - plane @ left))


def _residual(colours: Floats, reference: Floats, told: NDArray[np.bool_]) -> float:
    """Mean ΔE00 that the best root-polynomial leaves of an edition's table."""
    if np.count_nonzero(told) < 12:
        return float("inf")
    matrix = fitted(colours[told], linear_of_lab(reference[told]))
    return float(difference(lab_of(roots(colours[told]) @ matrix.T), reference[told]).mean())
