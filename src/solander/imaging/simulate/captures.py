"""Captures of paper prints on a stage, with the exact corners of each print.

Convention: capture pixel (0, 0) is the centre of the first pixel, x right, y down; sizes are (width, height).
True corners are those of the paper's outer rectangle (where rounded edges would meet, the real corners of a curled
sheet), clockwise from the print's own top left, lens distortion included. Light is mixed in linear light, each
paper is rastered by area at the capture's scale and sampled once, linearly: before the lens's blur an edge is a
straight ramp one pixel wide, centred on the truth.
"""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

from solander.imaging.simulate.camera import Camera
from solander.imaging.simulate.geometry import Chain, Placement, Points
from solander.imaging.simulate.light import Linear, Rgb
from solander.imaging.simulate.papers import Paper
from solander.imaging.simulate.stages import Stage

__all__ = ["Glare", "Shadow", "Simulated", "simulate_capture"]

_Box = tuple[slice, slice]

# Against the map of every pixel (tests/imaging/test_simulate.py): below 0.01 px with 2 % of curl at 2400 px.
_KNOT = 4


@frozen
class Shadow:
    """A soft shadow cast by the paper's thickness: moved by `offset_px`, `softness_px` wide, 0–1 `strength`."""

    offset_px: tuple[float, float] = (3.0, 4.0)
    softness_px: float = 5.0
    strength: float = 0.35


@frozen
class Glare:
    """A lamp mirrored in the gloss of the papers: an ellipse of added light around `centre` (capture px)."""

    centre: tuple[float, float]
    radius_px: tuple[float, float] = (220.0, 120.0)
    strength: float = 0.35


@frozen
class Simulated:
    """A capture and what is true of it: `rgb` (height, width, 3) uint8 sRGB; `truths`, one (4, 2) a print."""

    rgb: Rgb = field(eq=False)
    truths: tuple[Points, ...] = field(eq=False)


def simulate_capture(
    papers: Sequence[Paper],
    placements: Sequence[Placement],
    stage: Stage,
    *,
    size: tuple[int, int],
    seed: int,
    camera: Camera | None = None,
    shadow: Shadow | None = None,
    glare: Glare | None = None,
) -> Simulated:
    """A capture of the papers as placed, later ones above earlier ones; the same seed gives the same bytes."""
    camera = camera or Camera()
    rng = np.random.default_rng(seed)
    scene = stage.surface(rng, size)
    chains = [_chain(paper, at, size, camera) for paper, at in zip(papers, placements, strict=True)]
    for paper, chain in zip(papers, chains, strict=True):
        _lay(scene, paper, chain, shadow or Shadow(), glare)
    scene *= stage.light(rng, size)[..., None]
    return Simulated(camera.expose(scene, rng), tuple(chain.corners() for chain in chains))


def _chain(paper: Paper, at: Placement, size: tuple[int, int], camera: Camera) -> Chain:
    paper_px = (paper.size_mm[0] * at.px_per_mm, paper.size_mm[1] * at.px_per_mm)
    return Chain(placement=at, paper_px=paper_px, size=size, bend=camera.distortion, bow=paper.curl)


def _lay(scene: Linear, paper: Paper, chain: Chain, shadow: Shadow, glare: Glare | None) -> None:
    """Lay one paper into the scene: its shadow first, then itself, then the lamp that it mirrors."""
    box = _box(chain, margin=3 * shadow.softness_px + max(np.abs(shadow.offset_px)) + 3)
    sheet = _sampled(_shaded(paper.raster(chain.placement.px_per_mm), chain), chain, box)
    coverage = sheet[..., 3]
    under = scene[box] * (1 - _cast(coverage, shadow))[..., None]
    under *= 1 - coverage[..., None]
    under += sheet[..., :3]
    if glare:
        under += (_mirrored(glare, box) * coverage)[..., None]
    scene[box] = under


def _box(chain: Chain, *, margin: float) -> _Box:
    points = chain.border()
    low = np.floor(points.min(axis=0) - margin).astype(int)
    high = np.ceil(points.max(axis=0) + margin).astype(int) + 1
    low, high = np.clip(low, 0, chain.size), np.clip(high, 0, chain.size)
    return slice(int(low[1]), int(high[1])), slice(int(low[0]), int(high[0]))


def _sampled(raster: Linear, chain: Chain, box: _Box) -> Linear:
    rows, columns = box
    if rows.start >= rows.stop or columns.start >= columns.stop:
        return np.zeros((max(0, rows.stop - rows.start), max(0, columns.stop - columns.start), 4), np.float32)
    if chain.bend or chain.bow:
        across, down = _map(raster, chain, box)
        return np.asarray(cv2.remap(raster, across, down, cv2.INTER_LINEAR, borderMode=cv2.BORDER_CONSTANT))
    onto = _corner_moved(box) @ chain.placement.homography(chain.size) @ _raster_to_plane(raster, chain)
    size = (columns.stop - columns.start, rows.stop - rows.start)
    return np.asarray(cv2.warpPerspective(raster, onto, size, flags=cv2.INTER_LINEAR))


def _map(raster: Linear, chain: Chain, box: _Box) -> tuple[Linear, Linear]:
    """Where in the raster each pixel of the box is read: exact at every `_KNOT` pixels, straight in between."""
    rows, columns = ((s.start, s.stop - s.start) for s in box)
    axes = (start + _KNOT * np.arange(count // _KNOT + 2, dtype=float) for start, count in (columns, rows))
    flat = chain.to_paper(np.stack(np.meshgrid(*axes), axis=-1))
    scale = np.array([raster.shape[1], raster.shape[0]]) / np.asarray(chain.paper_px)
    knots = ((flat + np.asarray(chain.paper_px) / 2) * scale - 0.5).astype(np.float32)
    finer = np.array([[1 / _KNOT, 0, 0], [0, 1 / _KNOT, 0]])
    flags = cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP
    across, down = (
        cv2.warpAffine(np.ascontiguousarray(knots[..., axis]), finer, (columns[1], rows[1]), flags=flags)
        for axis in (0, 1)
    )
    return np.asarray(across, np.float32), np.asarray(down, np.float32)


def _raster_to_plane(raster: Linear, chain: Chain) -> NDArray[np.float64]:
    x, y = (px / side for px, side in zip(chain.paper_px, raster.shape[1::-1], strict=True))
    return np.array(
        [[x, 0, x / 2 - chain.paper_px[0] / 2], [0, y, y / 2 - chain.paper_px[1] / 2], [0, 0, 1]], float
    )


def _corner_moved(box: _Box) -> NDArray[np.float64]:
    return np.array([[1, 0, -box[1].start], [0, 1, -box[0].start], [0, 0, 1]], float)


def _shaded(raster: Linear, chain: Chain) -> Linear:
    """A curled sheet leans away from the light: up to a fifth darker at a lean of half a radian."""
    shade = chain.shade()
    if shade is None:
        return raster
    axis = 1 if chain.paper_px[0] >= chain.paper_px[1] else 0
    along = (np.arange(raster.shape[axis]) + 0.5) / raster.shape[axis] - 0.5
    gain = (1 + 0.4 * np.sin(shade(along * max(chain.paper_px)))).astype(np.float32)
    raster[..., :3] *= gain[None, :, None] if axis == 1 else gain[:, None, None]
    return raster


def _cast(coverage: Linear, shadow: Shadow) -> Linear:
    """How much light the paper's shadow takes; blurred at a quarter of the size, since it is soft."""
    if not shadow.strength or not coverage.size:
        return np.zeros_like(coverage)
    size = coverage.shape[1::-1]
    small = cv2.resize(coverage, (max(1, size[0] // 4), max(1, size[1] // 4)), interpolation=cv2.INTER_AREA)
    soft = cv2.GaussianBlur(small, (0, 0), max(0.3, shadow.softness_px / 4), borderType=cv2.BORDER_CONSTANT)
    x, y = shadow.offset_px
    moved = cv2.warpAffine(cv2.resize(soft, size), np.array([[1, 0, x], [0, 1, y]], float), size)
    return np.asarray(moved * np.float32(shadow.strength))


def _mirrored(glare: Glare, box: _Box) -> Linear:
    rows, columns = (np.arange(s.start, s.stop, dtype=np.float32) for s in box)
    x = (columns - glare.centre[0]) / glare.radius_px[0]
    y = (rows - glare.centre[1]) / glare.radius_px[1]
    return np.asarray(glare.strength * np.exp(-(x[None] ** 2 + y[:, None] ** 2)), np.float32)
