"""Captures of paper prints on a stage, with the exact corners of each print.

Convention: capture pixel (0, 0) is the centre of the first pixel, x right, y down; sizes are (width, height).
True corners are where the paper's edges meet (or would, if rounded or dented; of a deckled one those of the outer
rectangle; of a curled one the real corners), clockwise from the print's own top left, lens distortion included.
Light is mixed in linear light, each paper is rastered by area at the capture's scale and sampled once, linearly:
before the lens's blur an edge is a straight ramp one pixel wide, centred on the truth.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

import cv2
import numpy as np
from attrs import evolve, field, frozen
from numpy.typing import NDArray

from solander.imaging.simulate.camera import Camera
from solander.imaging.simulate.geometry import Chain, Lens, Placement, Points
from solander.imaging.simulate.hands import Hand
from solander.imaging.simulate.light import Linear, Rgb
from solander.imaging.simulate.papers import Paper
from solander.imaging.simulate.shadows import Box, Cast, Glare, Shadow, Slope
from solander.imaging.simulate.stages import Stage

__all__ = ["Simulated", "Thing", "chain_of", "lay", "simulate_capture"]

# Against the map of every pixel (tests/imaging/test_simulate.py): below 0.01 px with 2 % of curl at 2400 px.
_KNOT = 4


@frozen
class Simulated:
    """A capture and what is true of it.

    `rgb` is (height, width, 3) uint8 sRGB; `truths` are the corners of each print, (4, 2); `empty` is a capture
    of the same stage by the same camera before anything lay there, where it was asked for; `hand` tells whether a
    hand or finger is in the picture.
    """

    rgb: Rgb = field(eq=False)
    truths: tuple[Points, ...] = field(eq=False)
    empty: Rgb | None = field(default=None, eq=False)
    hand: bool = False


class Thing(Protocol):
    """What can be laid on a stage: a paper, or what is no print (a ruler, a hand)."""

    @property
    def size_mm(self) -> tuple[float, float]:
        """(width, height) of its outer rectangle."""

    def raster(self, px_per_mm: float) -> Linear:
        """Its look at that scale: (height, width, 4), light premultiplied by coverage, then coverage."""


def simulate_capture(
    papers: Sequence[Paper],
    placements: Sequence[Placement],
    stage: Stage,
    *,
    size: tuple[int, int],
    seed: int,
    camera: Camera | None = None,
    shadow: Shadow | Sequence[Shadow] | None = None,
    glare: Glare | None = None,
    casts: Sequence[Cast | Slope] = (),
    things: Sequence[tuple[Thing, Placement]] = (),
    hands: Sequence[tuple[Hand, Placement]] = (),
    with_empty: bool = False,
) -> Simulated:
    """A capture of the papers as placed; the same seed gives the same bytes.

    Papers lie on the stage (later ones would cover earlier ones, but throw no shadow on them); `shadow` is that of
    one lamp or of several. `things` lie there, too, under the papers; `hands` reach in above all.
    `with_empty` adds the frame of the empty stage: exposed and shaken a trifle differently, with noise of its own.
    """
    camera = camera or Camera()
    shadows = [shadow or Shadow()] if shadow is None or isinstance(shadow, Shadow) else list(shadow)
    rng = np.random.default_rng(seed)
    scene = stage.surface(rng, size)
    light = stage.light(rng, size)
    for cast in casts:
        light *= cast.left(size)
    bare = scene * light[..., None] if with_empty else None
    lens = Lens(size, camera.distortion, camera.distortion_2)
    chains = [chain_of(paper, at, lens) for paper, at in zip(papers, placements, strict=True)]
    lay(scene, [(thing, chain_of(thing, at, lens)) for thing, at in things], shadows, None)
    lay(scene, list(zip(papers, chains, strict=True)), shadows, glare)
    for hand, at in hands:
        lay(scene, [(hand, chain_of(hand, at, lens))], [hand.shadow(at)], None)
    scene *= light[..., None]
    rgb = camera.expose(scene, rng)
    empty = None if bare is None else _empty_frame(bare, camera, rng)
    return Simulated(rgb, tuple(chain.corners() for chain in chains), empty, bool(hands))


def _empty_frame(bare: Linear, camera: Camera, rng: np.random.Generator) -> Rgb:
    """Automatic exposure wavers by some per cent, a stand by half a pixel (common practice, no source)."""
    x, y = rng.uniform(-0.5, 0.5, 2)
    move = np.array([[1, 0, x], [0, 1, y]])
    moved = cv2.warpAffine(bare, move, bare.shape[1::-1], borderMode=cv2.BORDER_REPLICATE)
    other = evolve(camera, exposure=camera.exposure * rng.uniform(0.97, 1.03))
    return other.expose(np.asarray(moved, np.float32), rng)


def chain_of(thing: Thing, at: Placement, lens: Lens) -> Chain:
    """How a thing that lies there comes into the capture."""
    paper_px = (thing.size_mm[0] * at.px_per_mm, thing.size_mm[1] * at.px_per_mm)
    if not isinstance(thing, Paper):
        return Chain(at, paper_px, lens)
    corners = thing.corners()
    cut = None if corners is None else corners * at.px_per_mm
    return Chain(at, paper_px, lens, thing.curl, thing.curl_axis_deg, cut)


def lay(
    scene: Linear, things: Sequence[tuple[Thing, Chain]], shadows: Sequence[Shadow], glare: Glare | None
) -> None:
    """Lay things of one height into the scene: all their shadows, then themselves, then the mirrored lamp."""
    margin = max((shadow.reach_px for shadow in shadows), default=0.0)
    laid = []
    for thing, chain in things:
        box = _box(chain, margin=margin)
        sheet = _sampled(_shaded(thing.raster(chain.placement.px_per_mm), chain), chain, box)
        laid.append((box, sheet))
        for shadow in shadows:
            scene[box] *= (1 - shadow.taken(sheet[..., 3]))[..., None]
    for box, sheet in laid:
        coverage = sheet[..., 3]
        under = scene[box]
        under *= 1 - coverage[..., None]
        under += sheet[..., :3]
        if glare:
            under += (glare.added(box) * coverage)[..., None]


def _box(chain: Chain, *, margin: float) -> Box:
    points = chain.border()
    low = np.floor(points.min(axis=0) - margin).astype(int)
    high = np.ceil(points.max(axis=0) + margin).astype(int) + 1
    low, high = np.clip(low, 0, chain.size), np.clip(high, 0, chain.size)
    return slice(int(low[1]), int(high[1])), slice(int(low[0]), int(high[0]))


def _sampled(raster: Linear, chain: Chain, box: Box) -> Linear:
    rows, columns = box
    if rows.start >= rows.stop or columns.start >= columns.stop:
        return np.zeros((max(0, rows.stop - rows.start), max(0, columns.stop - columns.start), 4), np.float32)
    if not chain.is_straight:
        across, down = _map(raster, chain, box)
        return np.asarray(cv2.remap(raster, across, down, cv2.INTER_LINEAR, borderMode=cv2.BORDER_CONSTANT))
    onto = _corner_moved(box) @ chain.placement.homography(chain.size) @ _raster_to_plane(raster, chain)
    size = (columns.stop - columns.start, rows.stop - rows.start)
    return np.asarray(cv2.warpPerspective(raster, onto, size, flags=cv2.INTER_LINEAR))


def _map(raster: Linear, chain: Chain, box: Box) -> tuple[Linear, Linear]:
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


def _corner_moved(box: Box) -> NDArray[np.float64]:
    return np.array([[1, 0, -box[1].start], [0, 1, -box[0].start], [0, 0, 1]], float)


def _shaded(raster: Linear, chain: Chain) -> Linear:
    """A curled sheet leans away from the light: up to a fifth darker at a lean of half a radian."""
    bent = chain.bent()
    if bent is None:
        return raster
    x, y = (
        ((np.arange(steps) + 0.5) / steps - 0.5) * px for steps, px in zip((65, 65), chain.paper_px, strict=True)
    )
    gain = 1 + 0.4 * np.sin(bent.lean(np.stack(np.meshgrid(x, y), axis=-1)))
    fine = cv2.resize(gain.astype(np.float32), raster.shape[1::-1], interpolation=cv2.INTER_CUBIC)
    raster[..., :3] *= fine[..., None]
    return raster
