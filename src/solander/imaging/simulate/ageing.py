"""What time and hands do to a print: dyes fade, paper yellows, silver mirrors, dust lies on it, corners are lost.

Convention: `light` is linear, (height, width, 3) float32, before coverage; densities are −log10 of it. In the
dark each dye loses a share of its density and a stain is added (Ando et al., JIST 41(3), 1997).
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import frozen

from solander.imaging.simulate.light import Linear, clouds
from solander.imaging.simulate.papers import Paper

__all__ = ["CORNERS", "SIDES", "AgedPaper", "dyes_faded", "mirrored", "stained", "torn_corner", "torn_side"]

CORNERS = "top left", "top right", "bottom right", "bottom left"
SIDES = "top", "right", "bottom", "left"

_DARKEST = 0.004  # linear light: density 2.4, above what photographic paper reaches


@frozen(kw_only=True)
class AgedPaper(Paper):
    """A sheet after some decades.

    `dyes_kept` are the shares of cyan, magenta and yellow that are left; `stain` the density added to red, green
    and blue; `mirroring` from 0 to 1; `dust` counts specks; `lost_corner` and `tear` tell where (0–3, clockwise
    from the top left, the top) and how large in millimetres, None for none.
    """

    dyes_kept: tuple[float, float, float] = (1.0, 1.0, 1.0)
    stain: tuple[float, float, float] = (0.0, 0.0, 0.0)
    mirroring: float = 0.0
    dust: int = 0
    lost_corner: tuple[int, float] | None = None
    tear: tuple[int, float] | None = None

    def raster(self, px_per_mm: float) -> Linear:
        """The sheet at that scale, shape (height, width, 4); see `papers`."""
        sheet = super().raster(px_per_mm)
        rng = np.random.default_rng([self.seed, 31])
        coverage = sheet[..., 3]
        light = np.asarray(sheet[..., :3] / np.maximum(coverage, 1e-3)[..., None], np.float32)
        if min(self.dyes_kept) < 1:
            light = dyes_faded(light, self.dyes_kept)
        if max(self.stain) > 0:
            light = stained(light, self.stain)
        if self.mirroring:
            light = mirrored(light, rng, self.mirroring)
        if self.dust:
            _lay_dust(light, rng, self.dust, px_per_mm)
        coverage = coverage.copy()
        if self.lost_corner:
            torn_corner(coverage, rng, self.lost_corner[0], self.lost_corner[1] * px_per_mm)
        if self.tear:
            torn_side(coverage, rng, self.tear[0], self.tear[1] * px_per_mm)
        return np.dstack([light * coverage[..., None], coverage]).astype(np.float32, copy=False)


def dyes_faded(light: Linear, kept: tuple[float, float, float]) -> Linear:
    """Each dye keeps a share of its density: cyan holds back red, magenta green, yellow blue."""
    return np.asarray(np.maximum(light, _DARKEST) ** np.asarray(kept, np.float32), np.float32)


def stained(light: Linear, density: tuple[float, float, float]) -> Linear:
    """Paper and gelatine turn yellow: a density is added all over."""
    return np.asarray(light * 10 ** -np.asarray(density, np.float32), np.float32)


def mirrored(light: Linear, rng: np.random.Generator, strength: float) -> Linear:
    """Silver that came to the surface: a bluish sheen over the darks, from the edges inwards, in patches."""
    height, width = light.shape[:2]
    y, x = np.mgrid[0 : 1 : height * 1j, 0 : 1 : width * 1j].astype(np.float32)
    from_edge = np.minimum(np.minimum(x, 1 - x) * width, np.minimum(y, 1 - y) * height) / min(width, height)
    cell = (width / 9, height / 9)
    ragged = 0.17 + 0.04 * clouds(rng, (width, height), cell=cell)
    cover = np.clip((ragged - from_edge) / 0.08, 0, 1)
    dark = np.clip(1 - light.mean(axis=2) / 0.45, 0, 1)
    sheen = np.array([0.055, 0.075, 0.115], np.float32) * strength
    return np.asarray(light + (cover * dark)[..., None] * sheen, np.float32)


def _lay_dust(light: Linear, rng: np.random.Generator, specks: int, px_per_mm: float) -> None:
    """Specks of 0.15 to 0.6 mm, and a few hairs; pale ones mostly, as dust is in slanting light."""
    for number in range(specks):
        tone = 0.75 if rng.uniform() < 0.7 else 0.03
        spot = np.array([rng.uniform(0, light.shape[1]), rng.uniform(0, light.shape[0])])
        reach = rng.uniform(0.15, 0.6) * px_per_mm / 2
        if number % 12 == 11:
            _hair(light, rng, spot, px_per_mm, tone)
        else:
            _speck(light, spot, (reach, reach * rng.uniform(0.5, 1)), tone, rng.uniform(0.6, 1.0))


def _speck(light: Linear, spot: np.ndarray, radii: tuple[float, float], tone: float, opacity: float) -> None:
    margin = max(radii) + 2
    left, top = (max(0, int(v - margin)) for v in spot)
    box = light[top : int(spot[1] + margin) + 1, left : int(spot[0] + margin) + 1]
    y, x = np.ogrid[top : top + box.shape[0], left : left + box.shape[1]]
    away = np.hypot((x - spot[0]) / radii[0], (y - spot[1]) / radii[1])
    cover = np.clip((1 - away) * min(radii) + 0.5, 0, 1) * opacity
    box += (np.float32(tone) - box) * cover[..., None].astype(np.float32)


def _hair(light: Linear, rng: np.random.Generator, spot: np.ndarray, px_per_mm: float, tone: float) -> None:
    turns = rng.uniform(0, 2 * np.pi) + np.cumsum(rng.normal(0, 0.25, 12))
    path = spot + np.cumsum(np.stack([np.cos(turns), np.sin(turns)], axis=-1), axis=0) * 0.25 * px_per_mm
    mask = np.zeros(light.shape[:2], np.float32)
    wide = max(1, round(0.1 * px_per_mm))
    cv2.polylines(mask, [np.rint(path * 16).astype(np.int32)], False, 1.0, wide, cv2.LINE_AA, 4)
    light += (np.float32(tone) - light) * mask[..., None]


def torn_corner(coverage: Linear, rng: np.random.Generator, corner: int, legs_px: float) -> None:
    """Takes a corner off, in place, along a ragged slanting line between `legs_px` on either side."""
    view = (coverage, coverage[:, ::-1], coverage[::-1, ::-1], coverage[::-1])[corner]
    wide, tall = legs_px * rng.uniform(0.85, 1.15, 2)
    box = view[: int(1.3 * tall) + 4, : int(1.3 * wide) + 4]
    y, x = np.mgrid[0.5 : box.shape[0], 0.5 : box.shape[1]]
    ragged = 0.05 * clouds(rng, (box.shape[1], box.shape[0]), cell=(legs_px / 6, legs_px / 6))
    steep = np.hypot(1 / wide, 1 / tall)
    box *= np.clip((x / wide + y / tall - 1 + ragged) / steep + 0.5, 0, 1).astype(np.float32)


def torn_side(coverage: Linear, rng: np.random.Generator, side: int, deep_px: float) -> None:
    """Opens a tear, in place: a ragged wedge as deep as that, a seventh to a fifth as wide at the paper's edge,
    but a millimetre or so at least."""
    view = (coverage, coverage[:, ::-1].T, coverage[::-1], coverage.T)[side]
    wide = max(deep_px * rng.uniform(0.14, 0.2), min(deep_px / 2, 10.0))
    at = rng.uniform(0.2, 0.8) * view.shape[1]
    slant = rng.uniform(-0.5, 0.5)
    rows = np.arange(int(deep_px) + 1)
    box = view[: len(rows)]
    middle = at + slant * rows + np.cumsum(rng.normal(0, 0.35, len(rows)))
    half = wide / 2 * (1 - rows / deep_px)
    x = np.arange(view.shape[1])
    box *= 1 - np.clip(half[:, None] - np.abs(x[None] - middle[:, None]) + 0.5, 0, 1).astype(np.float32)
