"""Prints that age on purpose, each with the print as it was: fading, yellowing, texture, glare, dust.

Everything is drawn from a random generator, so that tuning and judging differ by their seeds and photographs.
Pictures are uint8 sRGB; what ages works on linear light or density (see `solander.imaging.treatment.deep`).

Strengths are our own choice (no source) but for those of the trial in ../shared/standards/image-quality.md: dyes
kept at 55 / 85 / 75 %, stain of 0.02 / 0.04 / 0.12, texture of amplitude 0.03 on noise of 0.01.
"""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb
from solander.imaging.linear_light import encode_light
from solander.imaging.treatment.deep import as_deep, densities, encode_density, light_of_codes

SHARED = Path(__file__).resolve().parents[2] / "shared" / "data" / "photos"
MONOCHROME = ("bw", "bw, dark", "bw warm", "sepia")

SIDE_ABSORPTIONS = np.array([[0.90, 0.09, 0.01], [0.17, 0.76, 0.07], [0.07, 0.20, 0.73]])
"""Density in red, green, blue of one unit of cyan, magenta, yellow dye; three equal units are neutral. The
order of size is that of chromogenic dyes, the numbers are ours."""


@frozen(eq=False)
class Aged:
    """A print as it `was` and as it `is`, and the place (x, y, shares) of a neutral dark that a person would
    point at, None where the photograph has none; `second` is the capture with the other light, `marks` where dust
    lies."""

    was: Rgb
    now: Rgb
    neutral: tuple[float, float] | None = None
    second: Rgb | None = None
    marks: NDArray[np.uint8] | None = None


@cache
def photographs() -> tuple[dict[str, str], ...]:
    """The rows of the manifest; empty where the folder is not beside the project."""
    if not (SHARED / "manifest.csv").is_file():
        return ()
    return tuple(csv.DictReader((SHARED / "manifest.csv").read_text("utf-8").splitlines()))


def photograph(row: dict[str, str], side: int) -> Rgb:
    """The photograph with its longer side at that many pixels, at most."""
    picture = cv2.cvtColor(cv2.imread(str(SHARED / row["file"])), cv2.COLOR_BGR2RGB)
    scale = side / max(picture.shape[:2])
    return cv2.resize(picture, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA) if scale < 1 else picture


def bordered(picture: Rgb, *, share: float = 0.05, paper: tuple[int, int, int] = (252, 251, 249)) -> Rgb:
    """On white paper, with a border of so much of the longer side."""
    width = round(share * max(picture.shape[:2]))
    return cv2.copyMakeBorder(picture, width, width, width, width, cv2.BORDER_CONSTANT, value=paper)


def faded(picture: Rgb, rng: np.random.Generator, *, kept: tuple[float, ...] | None = None) -> Aged:
    """A colour print on white paper that lost a share of each dye, and gained a yellow stain."""
    was = bordered(picture)
    shares = np.array(kept or rng.uniform([0.45, 0.75, 0.60], [0.80, 0.95, 0.95]))
    stain = np.array([0.02, 0.04, 0.12]) * (1 if kept else rng.uniform(0.5, 1.5))
    dyes = densities(as_deep(was)) @ np.linalg.inv(SIDE_ABSORPTIONS).T
    now = (dyes * shares) @ SIDE_ABSORPTIONS.T + stain
    return Aged(was, _rgb(encode_density(now)), _neutral_dark(was))


def yellowed(picture: Rgb, rng: np.random.Generator, tone: str) -> Aged:
    """A monochrome print on white paper, "neutral", "sepia" or "selenium", that gained an even yellow stain."""
    grey = cv2.cvtColor(cv2.cvtColor(picture, cv2.COLOR_RGB2GRAY), cv2.COLOR_GRAY2RGB)
    strength = {"neutral": (1.0, 1.0, 1.0), "sepia": (0.82, 1.0, 1.30), "selenium": (0.96, 1.04, 0.98)}[tone]
    inked = densities(as_deep(bordered(grey))) * np.array(strength)
    was = _rgb(encode_density(inked))
    stain = np.array([0.01, 0.05, 0.18]) * rng.uniform(0.4, 1.5)
    return Aged(was, _rgb(encode_density(densities(as_deep(was)) + stain)))


def textured(picture: Rgb, rng: np.random.Generator, *, shading: bool) -> Aged:
    """On honeycomb paper: three waves at 60 degrees with their doubles, amplitude 0.03, on noise of 0.01;
    `shading` as a factor of the light, as relief does, else added to the encoded values, as in the trial."""
    was = enlarged(picture, 1000)
    height, width = was.shape[:2]
    y, x = np.mgrid[:height, :width].astype(np.float32)
    pattern, start, period = np.zeros((height, width)), rng.uniform(0, np.pi / 3), rng.uniform(6, 14)
    for angle in start + np.pi / 3 * np.arange(3):
        phase = 2 * np.pi * (x * np.cos(angle) + y * np.sin(angle)) / period + rng.uniform(0, 2 * np.pi)
        pattern += np.cos(phase) + 0.35 * np.cos(2 * phase)
    pattern = 0.03 * pattern[..., None] / pattern.std()
    noisy = was / 255 + rng.normal(0, 0.01, was.shape)
    return Aged(was, _rgb(noisy * (1 + 1.76 * pattern) if shading else noisy + pattern))


def under_two_lights(picture: Rgb, rng: np.random.Generator) -> Aged:
    """Two captures with noise, a soft lamp's image in each at another place, the second darker and off."""
    was = enlarged(picture, 800)
    light = light_of_codes()[as_deep(was)]
    height, width = was.shape[:2]
    y, x = np.mgrid[:height, :width]
    seen = []
    for side in (0.25, 0.75):
        centre = (side + rng.uniform(-0.1, 0.1)) * width, rng.uniform(0.25, 0.75) * height
        radius = rng.uniform(0.08, 0.16) * width
        away = ((x - centre[0]) / radius) ** 2 + ((y - centre[1]) / (0.7 * radius)) ** 2
        glare = rng.uniform(0.3, 1.2) * np.exp(-away)
        seen.append(light + glare[..., None] + rng.normal(0, 0.004, light.shape))
    off = rng.uniform(-1.5, 1.5, 2)
    moved = cv2.warpAffine(
        seen[1].astype(np.float32), np.array([[1, 0, off[0]], [0, 1, off[1]]]), (width, height),
        flags=cv2.INTER_CUBIC, borderMode=cv2.BORDER_REPLICATE,
    )  # fmt: skip
    return Aged(was, _rgb(encode_light(seen[0])), second=_rgb(encode_light(moved * rng.uniform(0.9, 1.0))))


def dusty(picture: Rgb, rng: np.random.Generator) -> Aged:
    """Dust, lint and scratches, light and dark, over a print; grain of 1.5 code values over all."""
    was = enlarged(picture, 1000)
    height, width = was.shape[:2]
    cover = np.zeros((height, width), np.uint8)
    for _ in range(int(rng.integers(15, 40))):
        centre = int(rng.uniform(0, width)), int(rng.uniform(0, height))
        axes = int(rng.integers(1, 4)), int(rng.integers(1, 3))
        cv2.ellipse(cover, centre, axes, rng.uniform(0, 180), 0, 360, 255, -1, cv2.LINE_AA)
    for _ in range(int(rng.integers(0, 4))):
        start = rng.uniform(0, 1, 2) * [width, height]
        end = start + rng.normal(0, 0.12, 2) * width
        ends = [(int(point[0]), int(point[1])) for point in (start, end)]
        cv2.line(cover, ends[0], ends[1], 255, int(rng.integers(1, 3)), cv2.LINE_AA)
    grained = was + rng.normal(0, 1.5, was.shape)
    _, labels = cv2.connectedComponents((cover > 0).astype(np.uint8))
    colour = np.where(rng.random(labels.max() + 1) < 0.6, rng.uniform(215, 250), rng.uniform(10, 45))[labels]
    share = (cover / 255 * 0.9)[..., None]
    now = grained * (1 - share) + colour[..., None] * share
    return Aged(_rgb(grained / 255), _rgb(now / 255), marks=(cover > 60).astype(np.uint8))


def enlarged(picture: Rgb, side: int) -> Rgb:
    """With the longer side at that many pixels."""
    scale = side / max(picture.shape[:2])
    return cv2.resize(
        picture, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA if scale < 1 else cv2.INTER_CUBIC
    )


def _neutral_dark(was: Rgb) -> tuple[float, float] | None:
    """The middle of the largest patch that is dark (L* 4–35) and grey (C* < 4)."""
    lab = cv2.cvtColor((was / np.float32(255)).astype(np.float32), cv2.COLOR_RGB2LAB)
    grey = np.hypot(lab[..., 1], lab[..., 2]) < 4
    fit = (grey & (lab[..., 0] > 4) & (lab[..., 0] < 35)).astype(np.uint8)
    depth = cv2.distanceTransform(cv2.copyMakeBorder(fit, 1, 1, 1, 1, cv2.BORDER_CONSTANT), cv2.DIST_L2, 3)
    y, x = np.unravel_index(int(depth.argmax()), depth.shape)
    return ((x - 0.5) / was.shape[1], (y - 0.5) / was.shape[0]) if depth.max() >= 2.5 else None


def _rgb(codes: NDArray[np.floating]) -> Rgb:
    return np.asarray(np.rint(np.clip(codes, 0, 1) * 255), np.uint8)
