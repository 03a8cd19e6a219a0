"""A camera's frames of one stage, many a second: what doesn't change from frame to frame is drawn once.

Convention: as in `captures`. The stage keeps its texture, papers and hands are rastered once for each scale, and
the noise of a frame is one of a few drawn before, moved.
"""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
from attrs import define, evolve, field, frozen

from solander.imaging.simulate.camera import Camera
from solander.imaging.simulate.captures import Thing, chain_of, lay
from solander.imaging.simulate.geometry import Lens, Placement
from solander.imaging.simulate.hands import Hand
from solander.imaging.simulate.light import Linear, Rgb
from solander.imaging.simulate.papers import Paper
from solander.imaging.simulate.shadows import Cast, Glare, Shadow
from solander.imaging.simulate.stages import Stage

__all__ = ["Filmed", "Shot"]

Laid = tuple[Paper, Placement]


@frozen
class Shot:
    """What is in front of the camera in one frame, in what light, and how the camera sees it.

    `papers` lie from the lowest to the topmost. `gain` multiplies the light of each colour, `slope` by how much
    more of it falls on the right edge than in the middle (share, and less on the left). `defocus_px` and
    `shift_px` are as in `Camera` and `Sight`.
    """

    papers: tuple[Laid, ...] = ()
    hands: tuple[tuple[Hand, Placement], ...] = ()
    casts: tuple[Cast, ...] = ()
    glare: Glare | None = None
    gain: tuple[float, float, float] = (1.0, 1.0, 1.0)
    slope: tuple[float, float, float] = (0.0, 0.0, 0.0)
    defocus_px: float = 0.0
    shift_px: tuple[float, float] = (0.0, 0.0)


@define
class Filmed:
    """One stage under one camera, `size` (width, height); `shoot` gives a frame."""

    stage: Stage
    size: tuple[int, int]
    seed: int
    shadows: Sequence[Shadow] = ()
    camera: Camera = field(factory=lambda: Camera(noise=0.0))
    noise: float = 2.0
    jpeg_quality: int = 80
    _surface: Linear = field(init=False)
    _light: Linear = field(init=False)
    _noises: list[Linear] = field(init=False)
    _rng: np.random.Generator = field(init=False)
    _drawn: dict[int, _Once] = field(init=False, factory=dict)
    _under: tuple[tuple[Laid, ...], Glare | None, Linear] | None = field(init=False, default=None)

    def __attrs_post_init__(self) -> None:
        rng = self._rng = np.random.default_rng(self.seed)
        self._surface, self._light = self.stage.surface(rng, self.size), self.stage.light(rng, self.size)
        shape = (self.size[1], self.size[0], 3)
        self._noises = [rng.standard_normal(shape, dtype=np.float32) * self.noise for _ in range(3)]

    def shoot(self, shot: Shot) -> bytes:
        """The frame as a JPEG."""
        scene = self._laid(shot.papers, shot.glare).copy()
        lens = self._lens()
        for hand, at in shot.hands:
            lay(scene, [(self._once(hand), chain_of(hand, at, lens))], [hand.shadow(at)], None)
        light = self._light
        for cast in shot.casts:
            light = light * cast.left(self.size)
        scene *= light[..., None]
        scene *= self._gain(shot)
        focused = evolve(self.camera, defocus_px=shot.defocus_px)
        rgb = _moved(focused.expose(scene, self._rng), shot.shift_px)
        data = cv2.imencode(".jpg", self._noisy(rgb)[..., ::-1], [cv2.IMWRITE_JPEG_QUALITY, self.jpeg_quality])[1]
        return bytes(data.tobytes())

    def _laid(self, papers: tuple[Laid, ...], glare: Glare | None) -> Linear:
        """The stage with the papers on it, drawn once as long as they lie as they do."""
        under = self._under
        if under is None or under[0] is not papers or under[1] is not glare:
            scene = self._surface.copy()
            for paper, at in papers:
                lay(scene, [(self._once(paper), chain_of(paper, at, self._lens()))], self.shadows, glare)
            under = self._under = (papers, glare, scene)
        return under[2]

    def _lens(self) -> Lens:
        return Lens(self.size, self.camera.distortion, self.camera.distortion_2)

    def _once(self, thing: Thing) -> _Once:
        return self._drawn.setdefault(id(thing), _Once(thing))

    def _gain(self, shot: Shot) -> Linear:
        across = np.linspace(-1, 1, self.size[0], dtype=np.float32)[None, :, None]
        gain: Linear = np.asarray(shot.gain, np.float32) * (1 + across * np.asarray(shot.slope, np.float32))
        return gain

    def _noisy(self, rgb: Rgb) -> Rgb:
        noise = self._noises[int(self._rng.integers(len(self._noises)))]
        rolled = np.roll(noise, int(self._rng.integers(self.size[1])), axis=0)
        return np.asarray(np.clip(np.rint(rgb + rolled), 0, 255), np.uint8)


@define
class _Once:
    """A thing whose rasters are drawn once; it keeps the thing, so that no other can come to have its id."""

    thing: Thing
    _rasters: dict[float, Linear] = field(factory=dict)

    @property
    def size_mm(self) -> tuple[float, float]:
        return self.thing.size_mm

    def raster(self, px_per_mm: float) -> Linear:
        if px_per_mm not in self._rasters:
            self._rasters[px_per_mm] = self.thing.raster(px_per_mm)
        return self._rasters[px_per_mm].copy()


def _moved(rgb: Rgb, shift: tuple[float, float]) -> Rgb:
    if shift == (0.0, 0.0):
        return rgb
    move = np.array([[1, 0, shift[0]], [0, 1, shift[1]]], float)
    flags = cv2.INTER_LINEAR
    return np.asarray(
        cv2.warpAffine(rgb, move, rgb.shape[1::-1], flags=flags, borderMode=cv2.BORDER_REPLICATE), np.uint8
    )
