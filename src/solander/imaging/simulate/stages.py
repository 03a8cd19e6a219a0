"""What a print lies on: plain stages, cloth, wood, white paper, a scanner's lid; with texture and uneven light."""

from __future__ import annotations

from collections.abc import Callable

import cv2
import numpy as np
from attrs import field, frozen
from attrs.validators import in_

from solander.imaging.simulate.light import Linear, clouds, linear_colour

__all__ = ["STAGES", "Stage"]

_Surface = Callable[[np.random.Generator, tuple[int, int], Linear], Linear]


def _card(rng: np.random.Generator, size: tuple[int, int], colour: Linear) -> Linear:
    """Matt card: a fine tooth and faint clouds."""
    return _tinted(colour, 0.015 * clouds(rng, size, cell=(2, 2)) + 0.012 * clouds(rng, size, cell=(160, 160)))


def _felt(rng: np.random.Generator, size: tuple[int, int], colour: Linear) -> Linear:
    """Felt: short fibres in all directions, some of them catching the light."""
    fibres = clouds(rng, size, cell=(2, 9)) + clouds(rng, size, cell=(9, 2)) + clouds(rng, size, cell=(3, 3))
    lint = np.maximum(clouds(rng, size, cell=(3, 5)) - 2.6, 0)
    return _tinted(colour, 0.14 * fibres + 0.9 * lint + 0.06 * clouds(rng, size, cell=(220, 220)))


def _wood(rng: np.random.Generator, size: tuple[int, int], colour: Linear) -> Linear:
    """A table of boards: rings stretched along the grain, pores, a joint between two boards."""
    y = np.arange(size[1], dtype=np.float32)[:, None] / size[1]
    rings = y * 9 + 0.55 * clouds(rng, size, cell=(size[0] / 2.5, size[1] / 7))
    grain = 0.5 * np.sin(2 * np.pi * rings) + 0.25 * np.sin(2 * np.pi * 3.1 * rings)
    pores = clouds(rng, size, cell=(70, 2.5)) + 0.7 * clouds(rng, size, cell=(260, 5))
    boards = 0.1 * np.floor(y * 3 + rng.uniform(0, 1)) * rng.choice([-1, 1])
    joint = -0.6 * np.exp(-((np.mod(y * 3 + 0.4, 1) - 0.5) ** 2) / (2 * (1.5 / size[1] * 3) ** 2))
    return _tinted(colour, 0.13 * grain + 0.06 * pores + boards + joint)


def _paper(rng: np.random.Generator, size: tuple[int, int], colour: Linear) -> Linear:
    """Writing paper: nearly even, with pulp clouds."""
    return _tinted(colour, 0.006 * clouds(rng, size, cell=(2, 2)) + 0.006 * clouds(rng, size, cell=(40, 40)))


def _lid(rng: np.random.Generator, size: tuple[int, int], colour: Linear) -> Linear:
    """The white lid of a flatbed: smooth, with a trace of dust."""
    dust = np.maximum(clouds(rng, size, cell=(6, 6)) - 4.0, 0)
    return _tinted(colour, 0.002 * clouds(rng, size, cell=(3, 3)) - 0.3 * dust)


def _tinted(colour: Linear, change: Linear) -> Linear:
    return np.asarray(cv2.merge([(1 + change) * part for part in colour]), np.float32)


# Colours in sRGB code values. Grey, blue and green card: near the mid tones that copy stands are lined with
# (common practice, no source); the others are read off ordinary things by eye.
STAGES: dict[str, tuple[tuple[int, int, int], _Surface]] = {
    "grey": ((119, 119, 118), _card),
    "blue": ((52, 92, 156), _card),
    "green": ((58, 122, 82), _card),
    "black felt": ((30, 30, 32), _felt),
    "wood": ((142, 98, 62), _wood),
    "white paper": ((238, 237, 233), _paper),
    "flatbed lid": ((247, 247, 246), _lid),
}


@frozen
class Stage:
    """A surface of a `kind` named in `STAGES`; `unevenness` is how much light is lost towards one side (0–1)."""

    kind: str = field(default="grey", validator=in_(STAGES))
    unevenness: float = 0.12

    def surface(self, rng: np.random.Generator, size: tuple[int, int]) -> Linear:
        """The empty stage in linear light, evenly lit; `size` is (width, height), shape (height, width, 3)."""
        colour, texture = STAGES[self.kind]
        return texture(rng, size, linear_colour(colour))

    def light(self, rng: np.random.Generator, size: tuple[int, int]) -> Linear:
        """How much light falls on each point, 1 at the brightest; shape (height, width)."""
        angle = rng.uniform(0, 2 * np.pi)
        y, x = np.mgrid[-1:1:24j, -1:1:32j]
        slope = 0.5 * (1 + (x * np.cos(angle) + y * np.sin(angle)) / np.sqrt(2))
        bowl = 0.35 * (x**2 + y**2) / 2
        field = 1 - self.unevenness * (0.65 * slope + bowl)
        return np.asarray(cv2.resize(field.astype(np.float32), size, interpolation=cv2.INTER_CUBIC))
