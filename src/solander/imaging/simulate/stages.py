"""What prints lie on: a surface of some colour, in uneven light, perhaps ending within the frame."""

from __future__ import annotations

import cv2
import numpy as np
from attrs import field, frozen
from attrs.validators import in_
from numpy.typing import ArrayLike

from solander.imaging.simulate import surfaces
from solander.imaging.simulate.geometry import Points
from solander.imaging.simulate.light import Linear, linear_colour
from solander.imaging.simulate.masks import line_mask, polygon_mask

__all__ = ["STAGES", "Around", "Stage"]

_Colour = tuple[int, int, int]

# Colours in sRGB code values. Grey, blue and green card: near the mid tones that copy stands are lined with
# (common practice, no source); the others are read off ordinary things by eye.
STAGES: dict[str, tuple[_Colour, surfaces.Surface]] = {
    "grey": ((119, 119, 118), surfaces.card),
    "blue": ((52, 92, 156), surfaces.card),
    "green": ((58, 122, 82), surfaces.card),
    "black felt": ((30, 30, 32), surfaces.felt),
    "black card": ((34, 34, 35), surfaces.card),
    "wood": ((142, 98, 62), surfaces.wood),
    "white paper": ((238, 237, 233), surfaces.paper),
    "flatbed lid": ((247, 247, 246), surfaces.lid),
    "cloth": ((70, 82, 110), surfaces.cloth),
    "gingham": ((120, 132, 170), surfaces.gingham),
    "newsprint": ((184, 178, 166), surfaces.newsprint),
    "carpet": ((150, 128, 98), surfaces.carpet),
    "tiles": ((176, 164, 146), surfaces.tiles),
    "stone": ((186, 184, 178), surfaces.stone),
    "album leaf": ((48, 46, 44), surfaces.album_leaf),
}


@frozen
class Around:
    """What lies around a stage that ends within the frame; `outline` is the stage's own, (n, 2) capture px."""

    kind: str = field(validator=in_(STAGES))
    outline: Points = field(eq=False)
    colour: _Colour | None = None
    shadow: float = 0.3


@frozen
class Stage:
    """A surface of a `kind` named in `STAGES`, in its usual colour or in `colour` (sRGB code values).

    `unevenness` is how much light is lost towards one side (0–1), `px_per_mm` the scale of its texture. `lint` and
    `scratches` count what lies on it or was cut into it.
    """

    kind: str = field(default="grey", validator=in_(STAGES))
    unevenness: float = 0.12
    colour: _Colour | None = None
    px_per_mm: float = 10.0
    lint: int = 0
    scratches: int = 0
    around: Around | None = None

    def surface(self, rng: np.random.Generator, size: tuple[int, int]) -> Linear:
        """The empty stage in linear light, evenly lit; `size` is (width, height), shape (height, width, 3)."""
        scene = _coloured(rng, size, self.kind, self.colour, self.px_per_mm)
        if self.lint or self.scratches:
            self._use(scene, rng)
        return _bounded(scene, rng, size, self.around, self.px_per_mm) if self.around else scene

    def light(self, rng: np.random.Generator, size: tuple[int, int]) -> Linear:
        """How much light falls on each point, 1 at the brightest; shape (height, width)."""
        angle = rng.uniform(0, 2 * np.pi)
        y, x = np.mgrid[-1:1:24j, -1:1:32j]
        slope = 0.5 * (1 + (x * np.cos(angle) + y * np.sin(angle)) / np.sqrt(2))
        bowl = 0.35 * (x**2 + y**2) / 2
        lit = 1 - self.unevenness * (0.65 * slope + bowl)
        return np.asarray(cv2.resize(lit.astype(np.float32), size, interpolation=cv2.INTER_CUBIC))

    def _use(self, scene: Linear, rng: np.random.Generator) -> None:
        """Bits of thread, paler or darker than the stage, and straight scratches."""
        for _ in range(self.lint):
            turns = rng.uniform(0, 2 * np.pi) + np.cumsum(rng.normal(0, 0.35, 24))
            steps = _heading(turns) * rng.uniform(0.1, 0.7) * self.px_per_mm
            tone, opacity = float(rng.choice([0.08, 0.75])), rng.uniform(0.3, 0.8)
            _stroke(scene, _anywhere(scene, rng) + np.cumsum(steps, axis=0), 0.25 * self.px_per_mm, tone, opacity)
        for _ in range(self.scratches):
            run = np.outer([0, 1], _heading(rng.uniform(0, 2 * np.pi))) * rng.uniform(20, 120) * self.px_per_mm
            tone, opacity = float(scene.mean()) * float(rng.choice([0.6, 1.5])), rng.uniform(0.2, 0.6)
            _stroke(scene, _anywhere(scene, rng) + run, 0.15 * self.px_per_mm, tone, opacity)


def _anywhere(scene: Linear, rng: np.random.Generator) -> Points:
    return np.asarray(rng.uniform(0, 1, 2) * scene.shape[1::-1])


def _heading(angle: ArrayLike) -> Points:
    return np.stack([np.cos(angle), np.sin(angle)], axis=-1)


def _coloured(
    rng: np.random.Generator, size: tuple[int, int], kind: str, colour: _Colour | None, px_per_mm: float
) -> Linear:
    usual, surface = STAGES[kind]
    change = surface(rng, size, px_per_mm)
    return np.asarray(cv2.merge([(1 + change) * part for part in linear_colour(colour or usual)]), np.float32)


def _bounded(
    scene: Linear, rng: np.random.Generator, size: tuple[int, int], around: Around, px_per_mm: float
) -> Linear:
    """The stage within its outline, on the surface around it, over which it throws a shadow."""
    table = _coloured(rng, size, around.kind, around.colour, px_per_mm)
    mask = polygon_mask(around.outline, size)
    dark = cv2.GaussianBlur(mask, (0, 0), max(0.8, 0.4 * px_per_mm)) * np.float32(around.shadow)
    table *= (1 - dark)[..., None]
    scene -= table
    scene *= mask[..., None]
    scene += table
    return scene


def _stroke(scene: Linear, path: Points, width: float, tone: float, opacity: float) -> None:
    low = np.clip(np.floor(path.min(axis=0) - width - 2), 0, scene.shape[1::-1]).astype(int)
    high = np.clip(np.ceil(path.max(axis=0) + width + 2), 0, scene.shape[1::-1]).astype(int)
    box = scene[low[1] : high[1], low[0] : high[0]]
    if not box.size:
        return
    mask = line_mask(path - low, box.shape[1::-1], width)[..., None]
    box += (np.float32(tone) - box) * (mask * np.float32(opacity))
