"""A chart of 24 patches, a blank sheet and a slanted square, photographed by a camera whose every fault is known.

Convention: light is linear sRGB, float; `ChartShot.truth` is what the camera shows of each patch without noise,
(24, 3) linear, in the order of the chart.
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

from solander.imaging.chart import Edition
from solander.imaging.colour import chart_lab, linear_of_lab
from solander.imaging.conventions import Rgb
from solander.imaging.linear_light import encoded

__all__ = ["ChartShot", "RigCamera", "chart_shot", "sheet_shot"]

Floats = NDArray[np.float64]

_ROWS, _COLUMNS = 4, 6
_FRAME, _TABLE = 0.031, 0.25


@frozen
class RigCamera:
    """A camera over a stand. `matrix` takes linear sRGB to what its file shows; `exposure` times the light;
    `fall` is the share of light that is lost at the frame's right lower corner, `vignette` at all corners;
    `blur_px` the deviation of its blur, `noise` that of its noise in code values; `aside_px` how far red lies to
    the right of green, 0 to 1."""

    matrix: Floats = field(factory=lambda: np.eye(3))
    exposure: float = 1.0
    fall: float = 0.0
    vignette: float = 0.0
    blur_px: float = 0.8
    noise: float = 1.0
    aside_px: float = 0.0

    def light_at(self, places: Floats, frame: tuple[int, int]) -> Floats:
        """The share of light that reaches places (…, 2) of the frame."""
        half = np.array(frame) / 2
        away = (places - half) / half
        along = (away.sum(axis=-1) + 2) / 4
        return np.asarray((1 - self.fall * along) * (1 - self.vignette * (away**2).sum(axis=-1) / 2))

    def takes(self, light: Floats, rng: np.random.Generator) -> Rgb:
        """The picture of a scene, (h, w, 3) linear."""
        height, width = light.shape[:2]
        places = np.stack(np.meshgrid(np.arange(width), np.arange(height)), axis=-1).astype(float)
        seen = (light @ self.matrix.T) * (self.exposure * self.light_at(places, (width, height)))[..., None]
        seen = np.asarray(cv2.GaussianBlur(seen, (0, 0), self.blur_px), np.float64)
        if self.aside_px:  # each pixel a mix of itself and its left neighbour: its centroid moves by that share
            red = seen[..., 0]
            before = np.concatenate([red[:, :1], red[:, :-1]], axis=1)
            seen[..., 0] = red + self.aside_px * (before - red)
        code = encoded(seen) + rng.normal(0, self.noise, seen.shape)
        return np.asarray(np.clip(np.rint(code), 0, 255), np.uint8)


@frozen(eq=False)
class ChartShot:
    """A capture of the chart, and the truth: the `edition`, the patches' `places` (24, 2) and `truth` (24, 3)."""

    rgb: Rgb
    edition: Edition
    places: Floats
    truth: Floats


def chart_shot(
    camera: RigCamera,
    *,
    edition: Edition = "after",
    frame: tuple[int, int] = (3000, 2000),
    share: float = 0.55,
    turn_deg: float = 4.0,
    seed: int = 0,
) -> ChartShot:
    """The chart, `share` of the frame's width wide, turned by `turn_deg`, on a dull table."""
    width, height = frame
    colours = np.clip(linear_of_lab(chart_lab(edition)), 0.002, 1)  # sRGB does not hold the cyan patch
    pitch = share * width / (_COLUMNS + 0.25)
    middle = np.array([width, height]) / 2
    turn = np.deg2rad(turn_deg)
    rotation = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])

    def placed(points: Floats) -> Floats:
        return np.asarray(middle + (points * pitch) @ rotation.T)

    light = np.full((height, width, 3), _TABLE)
    _fill(light, placed(_square((0, 0), _COLUMNS + 0.25, _ROWS + 0.25)), np.full(3, _FRAME))
    places = []
    for number, colour in enumerate(colours):
        row, column = divmod(number, _COLUMNS)
        centre = (column - (_COLUMNS - 1) / 2, row - (_ROWS - 1) / 2)
        _fill(light, placed(_square(centre, 0.86, 0.86)), colour)
        places.append(placed(np.array([centre]))[0])
    where = np.array(places)
    truth = (colours @ camera.matrix.T) * (camera.exposure * camera.light_at(where, frame))[:, None]
    return ChartShot(camera.takes(light, np.random.default_rng(seed)), edition, where, np.clip(truth, 0, 1))


def sheet_shot(
    camera: RigCamera, *, frame: tuple[int, int] = (3000, 2000), seed: int = 1, level: float = 0.8
) -> Rgb:
    """A blank white sheet that fills the frame."""
    light = np.full((frame[1], frame[0], 3), level)
    return camera.takes(light, np.random.default_rng(seed))


def _square(centre: tuple[float, float], width: float, height: float) -> Floats:
    reach = np.array([width, height]) / 2
    return np.array(centre) + np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * reach


def _fill(light: Floats, corners: Floats, colour: Floats) -> None:
    """A quadrilateral drawn to 1/16 pixel, its rim averaged over the pixels' squares."""
    left, top = np.floor(corners.min(axis=0)).astype(int) - 1
    right, bottom = np.ceil(corners.max(axis=0)).astype(int) + 2
    fine, shift = 4, 6
    mask = np.zeros(((bottom - top) * fine, (right - left) * fine), np.uint8)
    points = ((corners - (left, top) + 0.5) * fine - 0.5) * (1 << shift)
    cv2.fillPoly(mask, [np.rint(points).astype(np.int32)], 255, shift=shift)
    share = np.asarray(cv2.resize(mask, (right - left, bottom - top), interpolation=cv2.INTER_AREA), np.float64)
    window = light[top:bottom, left:right]
    window += share[..., None] / 255 * (colour - window)
