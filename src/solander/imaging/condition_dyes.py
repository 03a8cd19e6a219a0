"""The state of a print's image: how its dyes stand to each other, how yellow its paper is, where its silver
mirrors.

Convention (see `conventions`): a small copy of the view, encoded sRGB. Densities are −log10 of linear light over
that of the paper's white; colours CIELAB (D65).

Method. White is the bare border where there is one, else the lightest per cent. Each of the three dyes comes to
its full density somewhere in the blacks; what the cyan dye has lost against the others, as it does in the dark,
shows there (Chatterjee, Trumpy, Ruedel, Heritage 6(4), 2023, read the degree of fading in neutral blacks).
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb
from solander.imaging.edges import LINEAR_OF
from solander.imaging.linear_light import encode_light
from solander.imaging.stage import Lab, to_lab

__all__ = ["ImageState", "image_state"]

Pixels = NDArray[np.float32]

SIDE = 240
"""Pixels of the longer side that are looked at: grain and noise are gone by then."""

SMALLEST = 40
"""Pixels a side below which nothing is told."""

MONOCHROME = 0.03
"""Spread of the colour left over after the tone, in density, up to which a print is monochrome."""

DARKS = 0.98
"""Quantile of density from which the darks are read."""

LEAST_DARK = 0.45
"""Density below which a picture has no darks to tell by."""


@frozen
class ImageState:
    """`colour`: whether it has colours of its own; `density` of its darks over its paper, NaN where it has none;
    `dye_balance`: the darks' density in red over that in green and blue, 1 where the cyan dye stands as the
    others do, NaN for monochrome prints; `yellowing`: b* of the paper's white brought to L* 95; `mirroring`:
    share (0–1) of the darks near the edges that shine bluish."""

    colour: bool
    density: float
    dye_balance: float
    yellowing: float
    mirroring: float


def image_state(small: Rgb) -> ImageState:
    """What a view of about `SIDE` pixels shows of its dyes, its paper and its silver."""
    if min(small.shape[:2]) < SMALLEST:
        return ImageState(False, *[float("nan")] * 4)
    rim, border = _border(small)
    inner = small[border:-border, border:-border] if border else small
    light = LINEAR_OF[inner].reshape(-1, 3)
    white = _white(light) if rim is None else rim
    density = -np.log10(np.clip(light / white, 10**-2.6, 1.0))
    colour = _colour_left(_middle(density, inner.shape)) > MONOCHROME
    darks, balance = _darks(density)
    return ImageState(
        colour,
        darks,
        balance if colour else float("nan"),
        _yellowness(white),
        float("nan") if colour else _mirrored(to_lab(inner)),
    )


def _border(small: Rgb) -> tuple[Pixels | None, int]:
    """Linear light of the bare border and the pixels that it is wide at least; None and 0 without one."""
    height, width = small.shape[:2]
    deep = max(3, round(0.016 * max(height, width)))
    skip = max(1, round(0.006 * max(height, width)))
    ends = 3 * deep
    band = slice(skip, skip + deep)
    sides = [
        small[band, ends:-ends], small[-skip - deep : -skip, ends:-ends],
        small[ends:-ends, band], small[ends:-ends, -skip - deep : -skip],
    ]  # fmt: skip
    colours = [np.median(side.reshape(-1, 3), axis=0) for side in sides]
    plain = [
        float(np.abs(side.reshape(-1, 3).astype(np.float32) - colour).max(axis=1).mean()) < PLAIN
        and float(colour.min()) > PALE
        for side, colour in zip(sides, colours, strict=True)
    ]
    chosen = np.array([colour for colour, bare in zip(colours, plain, strict=True) if bare])
    if len(chosen) < 3 or float(np.ptp(chosen, axis=0).max()) > ALIKE:
        return None, 0
    mean = chosen.mean(axis=0)
    return np.interp(mean, np.arange(256), LINEAR_OF).astype(np.float32), skip + deep + 1


PLAIN, PALE, ALIKE = 5.0, 90.0, 30.0
"""A border's mean deviation from its colour, its least code value, and how far its sides may differ, in code
values."""


def _white(light: Pixels) -> Pixels:
    """The light of the lightest per cent."""
    total = light @ np.ones(3, np.float32)
    lightest = np.argpartition(total, -max(1, len(total) // 100))[-max(1, len(total) // 100) :]
    return np.asarray(np.median(light[lightest], axis=0) + 1e-3, np.float32)


def _middle(density: Pixels, shape: tuple[int, ...]) -> Pixels:
    """The densities of the middle of the picture, where silver seldom mirrors."""
    high, wide = shape[0] // 5, shape[1] // 5
    return density.reshape(shape)[high : shape[0] - high, wide : shape[1] - wide].reshape(-1, 3)


def _colour_left(density: Pixels) -> float:
    """Spread of red against green and blue against green that isn't a matter of tone: deviation, in density, from
    their means over each of ten tones."""
    tones = np.argsort(density @ np.ones(3, np.float32))
    off = [(density[:, channel] - density[:, 1]).take(tones) for channel in (0, 2)]
    red, blue = (one[: len(one) // TENTHS * TENTHS].reshape(TENTHS, -1).std(axis=1) for one in off)
    return float(np.median(np.hypot(red, blue)))


TENTHS = 10
"""Tones that a picture is parted into, as many places in each."""


def _darks(density: Pixels) -> tuple[float, float]:
    """Mean density of the darks, and that in red over that in green and blue: each channel by its own darks, for
    the darkest place of a picture may be coloured."""
    red, green, blue = (float(one) for one in [np.quantile(one, DARKS) for one in density.T.copy()])
    top = (red + green + blue) / 3
    return top, 2 * red / (green + blue) if top >= LEAST_DARK else float("nan")


def _yellowness(white: Pixels) -> float:
    """b* of a white at L* 95, so that the exposure doesn't matter."""
    luminance = float(white @ np.array([0.2126, 0.7152, 0.0722], np.float32))
    scaled = np.clip(white * (0.875 / max(luminance, 1e-3)), 0, 1.4)
    code = encode_light(np.asarray(scaled, np.float32))
    return float(cv2.cvtColor(code[None, None], cv2.COLOR_RGB2Lab)[0, 0, 2])


def _mirrored(lab: Lab) -> float:
    """Share of the darks near the edges that are bluer than the same tone is in the middle."""
    height, width = lab.shape[:2]
    deep_y, deep_x = round(0.25 * height), round(0.25 * width)
    middle = np.zeros((height, width), np.bool_)
    middle[deep_y:-deep_y, deep_x:-deep_x] = True
    edge = np.ones((height, width), np.bool_)
    wide = max(3, round(0.12 * min(height, width)))
    edge[wide:-wide, wide:-wide] = False
    dark = lab[..., 0] < DARK
    if np.count_nonzero(dark & edge) < ENOUGH * lab.shape[0] * lab.shape[1] or not (dark & middle).any():
        return 0.0
    tones = np.clip((lab[..., 0] / DARK * TONES).astype(int), 0, TONES - 1)
    usual = np.full(TONES, np.nan)
    for tone in range(TONES):
        those = lab[..., 2][middle & dark & (tones == tone)]
        if len(those) >= 12:
            usual[tone] = np.median(those)
    if np.isnan(usual).all():
        return 0.0
    known = np.flatnonzero(~np.isnan(usual))
    usual = np.interp(np.arange(TONES), known, usual[known])
    bluer = usual[tones] - lab[..., 2] > BLUER
    return float(np.count_nonzero(bluer & dark & edge) / np.count_nonzero(dark & edge))


DARK, TONES, BLUER, ENOUGH = 55.0, 8, 2.5, 0.01
"""L* below which silver lies thick enough to mirror; tones told apart; b* by which a place must be bluer; least
share of the picture that is dark and near an edge."""
