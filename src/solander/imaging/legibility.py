"""Writing made easier to see: pictures of a view for the eye and for the reader, never stored over it.

Convention (see `conventions`): pictures are uint8 sRGB of shape (height, width, 3) and keep their size; computed
in encoded values, as the eye compares them. Each raises `WrongPicture` for anything else.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

import cv2
import numpy as np
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb, require_rgb

__all__ = ["LEGIBILITY_VIEWS", "faint_ink", "flattened", "mirrored", "relief"]

Floats = NDArray[np.float32]

_BACKGROUND_SIDE = 480
"""Pixels of the long side at which the paper under the writing is estimated: it changes slowly."""

_CLOSED = 19
"""Of these, the window in which paper shows between strokes: 6 mm on a print of 15 cm."""

_SPREAD = 45.0
"""Standard deviation, in code values, that each decorrelated colour is brought to (our choice)."""

_MIDDLE = 160.0
"""Code value that the mean colour comes to: paper, most of a back, is a little lighter (our choice)."""

_SOME = 100_000
"""Pixels that tell how colours spread; a view has a hundred times as many."""

_FLOOR = 1.0
"""Least standard deviation of a colour: what has less is the sensor's noise and stays small."""


def flattened(rgb: Rgb) -> Rgb:
    """Even light on white paper: each channel divided by its background, the paper without the writing.

    The background is the closing of the channel (Serra, 1982: the larger value wins in a window, then the smaller)
    and a median of it, so that neither a stroke nor a speck is left.
    """
    small = _reduced(require_rgb(rgb), _BACKGROUND_SIDE)
    closed = cv2.morphologyEx(small, cv2.MORPH_CLOSE, np.ones((_CLOSED, _CLOSED), np.uint8))
    paper = cv2.resize(cv2.medianBlur(closed, _CLOSED), rgb.shape[1::-1], interpolation=cv2.INTER_LINEAR)
    return np.asarray(cv2.divide(rgb, np.maximum(paper, 1), scale=255), np.uint8)


def faint_ink(rgb: Rgb) -> Rgb:
    """Colours pulled apart until a pale ink differs from its paper: a decorrelation stretch.

    The three principal colours of the picture, its light flattened first, are brought to the same spread and
    turned back (Gillespie, Kahle and Walker, "Color enhancement of highly correlated images", 1986).
    """
    flat = flattened(rgb)
    colours = flat.reshape(-1, 3)
    some = colours[:: max(1, len(colours) // _SOME)].astype(np.float64)
    values, axes = np.linalg.eigh(np.cov(some.T, ddof=0))
    stretch = axes @ np.diag(_SPREAD / np.maximum(np.sqrt(np.maximum(values, 0)), _FLOOR)) @ axes.T
    offset = _MIDDLE - stretch @ np.array(cv2.mean(flat)[:3])
    pulled = cv2.transform(flat, np.column_stack([stretch, offset]))  # rounds, and holds at both ends
    return np.asarray(pulled, np.uint8)


def relief(rgb: Rgb) -> Rgb:
    """Dents and pale strokes brought out where they are: contrast-limited adaptive histogram equalisation (CLAHE;
    Zuiderveld, 1994) of the lightness, colours kept."""
    lab = cv2.cvtColor(require_rgb(rgb), cv2.COLOR_RGB2LAB)
    lab[..., 0] = cv2.createCLAHE(clipLimit=4.0, tileGridSize=(8, 8)).apply(lab[..., 0])
    return np.asarray(cv2.cvtColor(lab, cv2.COLOR_LAB2RGB), np.uint8)


def mirrored(rgb: Rgb) -> Rgb:
    """Left and right changed over: what shows through from the other side is read so."""
    return np.ascontiguousarray(require_rgb(rgb)[:, ::-1])


LEGIBILITY_VIEWS: Mapping[str, Callable[[Rgb], Rgb]] = {
    "flattened": flattened,
    "faint ink": faint_ink,
    "relief": relief,
    "mirrored": mirrored,
}
"""The views by their names."""


def _reduced(rgb: Rgb, long_side: int) -> Rgb:
    scale = min(1.0, long_side / max(rgb.shape[:2]))
    size = [max(1, round(side * scale)) for side in (rgb.shape[1], rgb.shape[0])]
    return np.asarray(cv2.resize(rgb, size, interpolation=cv2.INTER_AREA), np.uint8)
