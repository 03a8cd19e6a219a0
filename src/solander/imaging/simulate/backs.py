"""The back of a print: cream paper with handwriting, a laboratory's stamp, what the album's glue left behind."""

from __future__ import annotations

import io

import cv2
import numpy as np
from attrs import field, frozen
from PIL import Image, ImageDraw, ImageFont

from solander.imaging.simulate.light import Linear, Rgb, clouds

__all__ = ["Inscription", "written_back"]

_SCALE = 18.0  # px per mm that writing is drawn at: above every capture of the made-up box (17 at most)


@frozen
class Inscription:
    """Words on a back.

    `text` may have several lines; `font` holds the bytes of a font file; `height_mm` is the letters' nominal size;
    `at_mm` is the left end of the first line's baseline from the top left; `angle_deg` turns it clockwise; `ink`
    is in sRGB code values; `stamped` breaks the ink up as a rubber stamp does, else it flows like a pen's.
    """

    text: str
    font: bytes = field(repr=False)
    height_mm: float = 5.0
    at_mm: tuple[float, float] = (8.0, 14.0)
    angle_deg: float = -1.5
    ink: tuple[int, int, int] = (38, 44, 78)
    stamped: bool = False


def written_back(
    inscriptions: tuple[Inscription, ...],
    *,
    size_mm: tuple[float, float],
    stock: tuple[int, int, int] = (240, 233, 214),
    glue: float = 0.0,
    seed: int = 0,
) -> Rgb:
    """The picture of a back, (height, width, 3) uint8 sRGB, to be printed without a border.

    `size_mm` is (width, height); `glue` (0–1) how much of an album's glue stayed in the corners.
    """
    rng = np.random.default_rng([seed, 23])
    size = (round(size_mm[0] * _SCALE), round(size_mm[1] * _SCALE))
    back = _bare(rng, size, stock)
    if glue:
        _spread_glue(back, rng, glue)
    for inscription in inscriptions:
        cover = _worn(rng, _drawn(inscription, size), stamped=inscription.stamped)[..., None]
        back += (np.asarray(inscription.ink, np.float32) - back) * cover
    return np.asarray(np.clip(np.rint(back), 0, 255), np.uint8)


def _bare(rng: np.random.Generator, size: tuple[int, int], stock: tuple[int, int, int]) -> Linear:
    pulp = 1 + 0.01 * clouds(rng, size, cell=(4, 4)) + 0.008 * clouds(rng, size, cell=(150, 150))
    foxing = np.clip(clouds(rng, size, cell=(46, 46)) - 2.7, 0, 1) * 0.35
    bare = np.asarray(stock, np.float32) * pulp[..., None]
    return np.asarray(bare * (1 - foxing[..., None] * np.array([0.15, 0.35, 0.6], np.float32)), np.float32)


def _spread_glue(back: Linear, rng: np.random.Generator, glue: float) -> None:
    height, width = back.shape[:2]
    y, x = np.mgrid[-1 : 1 : height * 1j, -1 : 1 : width * 1j].astype(np.float32)
    near = np.minimum((1 - np.abs(x)) * width, (1 - np.abs(y)) * height) / 2
    corner = np.hypot((0.84 - np.abs(x)) * width / 2, (0.8 - np.abs(y)) * height / 2)
    ragged = 55 + 16 * clouds(rng, (width, height), cell=(30, 30)) + 6 * clouds(rng, (width, height), cell=(8, 8))
    cover = np.clip((ragged - corner) / 3, 0, 1) * (near > 8) * glue
    cover *= 0.75 + 0.25 * clouds(rng, (width, height), cell=(22, 22))
    back += (np.array([176, 148, 104], np.float32) - back) * np.clip(cover, 0, 1)[..., None] * 0.6


def _drawn(inscription: Inscription, size: tuple[int, int]) -> Linear:
    """Where the ink goes, 0–1, (height, width); each line starts a little off the one above, as by hand."""
    layer = Image.new("L", size, 0)
    pen = ImageDraw.Draw(layer)
    font = ImageFont.truetype(io.BytesIO(inscription.font), round(inscription.height_mm * _SCALE))
    left, base = (round(part * _SCALE) for part in inscription.at_mm)
    for number, line in enumerate(inscription.text.split("\n")):
        away = 0 if inscription.stamped else (number * 37) % 19 - 9
        down = round(number * inscription.height_mm * _SCALE * 1.25)
        pen.text((left + away, base + down), line, fill=255, font=font, anchor="ls")
    turned = layer.rotate(-inscription.angle_deg, Image.Resampling.BICUBIC, center=(left, base))
    return np.asarray(np.asarray(turned, np.float32) / 255, np.float32)


def _worn(rng: np.random.Generator, cover: Linear, *, stamped: bool) -> Linear:
    size = (cover.shape[1], cover.shape[0])
    if stamped:
        gaps = np.clip(
            0.85 + 0.35 * clouds(rng, size, cell=(60, 40)) - 0.5 * (clouds(rng, size, cell=(3, 3)) > 1), 0, 1
        )
        return np.asarray(cv2.GaussianBlur(cover, (0, 0), 0.9) * gaps, np.float32)
    flow = np.clip(0.84 + 0.11 * clouds(rng, size, cell=(40, 120)), 0.35, 1)
    return np.asarray(cv2.GaussianBlur(cover, (0, 0), 0.8) * flow, np.float32)
