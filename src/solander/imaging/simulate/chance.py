"""Captures drawn by chance, one seed each, for measuring the print finder over many of them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from attrs import evolve, frozen

from solander.imaging.simulate.camera import Camera
from solander.imaging.simulate.captures import Glare, Shadow, Simulated, simulate_capture
from solander.imaging.simulate.geometry import Placement
from solander.imaging.simulate.light import Rgb, linear
from solander.imaging.simulate.papers import Paper
from solander.imaging.simulate.stages import Stage

__all__ = ["CASES", "PLAIN_CASES", "random_capture"]

PLAIN_CASES = ("grey stage", "blue stage", "green stage", "black felt")
CASES = (
    *PLAIN_CASES,
    "wood",
    "white on white",
    "dark on black",
    "rounded",
    "deckle",
    "curl",
    "several",
    "flatbed",
    "borderless",
    "glare",
    "empty",
)
_STAGE_OF = {
    "blue stage": "blue",
    "green stage": "green",
    "black felt": "black felt",
    "wood": "wood",
    "white on white": "white paper",
    "dark on black": "black felt",
    "flatbed": "flatbed lid",
}
# Sheets that albums hold, in mm (common practice, no source): contact prints to small enlargements.
_SHEETS = ((60, 60), (85, 60), (90, 65), (105, 75), (110, 70), (127, 89), (100, 100), (148, 100))


@frozen
class _Draw:
    """One draw: the generator, the capture's size and the case's name."""

    rng: np.random.Generator
    size: tuple[int, int]
    case: str

    def between(self, low: float, high: float) -> float:
        return float(self.rng.uniform(low, high))


def random_capture(
    seed: int, pictures: Sequence[Rgb], *, case: str = "grey stage", size: tuple[int, int] = (2400, 1800)
) -> Simulated:
    """A capture drawn by `seed` of one of the `CASES`; `pictures` are what may be printed, `size` (width, height).

    Plain stages hold one bordered print at any angle, tilted up to 4 degrees, filling 25–80 % of the shorter side.
    Raises ValueError for a case that is not in `CASES`.
    """
    if case not in CASES:
        raise ValueError(f"no such case: {case!r}; there are {', '.join(CASES)}")
    draw = _Draw(np.random.default_rng([seed, CASES.index(case)]), size, case)
    papers = [_paper(draw, pictures) for _ in range(_how_many(draw))]
    placements = _spread(draw, papers) if len(papers) > 1 else [_alone(draw, paper) for paper in papers]
    stage = Stage(_STAGE_OF.get(case, "grey"), unevenness=0.03 if case == "flatbed" else draw.between(0.04, 0.25))
    return simulate_capture(
        papers, placements, stage,
        size=size, seed=seed, camera=_camera(draw), shadow=_shadow(draw), glare=_glare(draw, placements),
    )  # fmt: skip


def _how_many(draw: _Draw) -> int:
    if draw.case == "empty":
        return 0
    return int(draw.rng.integers(2, 6)) if draw.case in ("several", "flatbed") else 1


def _paper(draw: _Draw, pictures: Sequence[Rgb]) -> Paper:
    rng = draw.rng
    picture = pictures[int(rng.integers(len(pictures)))]
    sheet = _SHEETS[int(rng.integers(len(_SHEETS)))]
    warm = rng.uniform(0, 1)
    paper = Paper(
        picture,
        size_mm=(float(sheet[0]), float(sheet[1])),
        border_mm=draw.between(2.0, 7.0),
        stock=(int(249 - 8 * warm), int(247 - 14 * warm), int(241 - 32 * warm)),
        tone=str(rng.choice(["grey", "sepia", "colour"])),
        fading=draw.between(0, 0.6),
        yellowing=draw.between(0, 0.7),
        texture=draw.between(0, 1),
        seed=int(rng.integers(2**31)),
    )
    paper = paper.turned() if rng.uniform() < 0.3 else paper
    return _of_case(draw, paper)


def _of_case(draw: _Draw, paper: Paper) -> Paper:
    match draw.case:
        case "rounded":
            return evolve(paper, corner_mm=draw.between(2, 6))
        case "deckle":
            return evolve(paper, deckle_mm=draw.between(0.5, 1.4), border_mm=max(4.0, paper.border_mm))
        case "curl":
            return evolve(paper, curl=draw.between(0.004, 0.02) * draw.rng.choice([-1, 1]))
        case "borderless":
            return evolve(paper, border_mm=0.0)
        case "dark on black":
            dark = _darkened(paper.picture)
            return evolve(paper, picture=dark, border_mm=0.0, fading=draw.between(0, 0.1))
        case "several" | "flatbed":
            return evolve(paper, border_mm=paper.border_mm * draw.rng.choice([0, 1, 1]))
    return paper


def _darkened(picture: Rgb) -> Rgb:
    """A night picture: a quarter of the light, so that much of its edge is as dark as black felt."""
    light = linear(picture) * 0.25
    return np.asarray(np.rint(255 * light ** (1 / 2.2)), np.uint8)


def _tilt(draw: _Draw) -> tuple[float, float]:
    return (0.0, 0.0) if draw.case == "flatbed" else (draw.between(-4, 4), draw.between(-4, 4))


def _alone(draw: _Draw, paper: Paper) -> Placement:
    """Anywhere that keeps the whole sheet, and a margin, inside the capture."""
    shorter = min(draw.size)
    diagonal = float(np.hypot(*paper.size_mm))
    scale = min(draw.between(0.25, 0.8) * shorter / min(paper.size_mm), 0.86 * shorter / diagonal)
    reach = 0.54 * diagonal * scale
    centre = (draw.between(reach, draw.size[0] - 1 - reach), draw.between(reach, draw.size[1] - 1 - reach))
    return Placement(centre, draw.between(-180, 180), scale, _tilt(draw))


def _spread(draw: _Draw, papers: Sequence[Paper]) -> list[Placement]:
    """One to a cell of a grid of three columns and two rows, as large as the cell allows."""
    cell = np.array([draw.size[0] / 3, draw.size[1] / 2])
    cells = draw.rng.permutation(6)[: len(papers)]
    angle = 6.0 if draw.case == "flatbed" else 180.0
    largest = max(float(np.hypot(*paper.size_mm)) for paper in papers)
    scale = 0.9 * float(cell.min()) / largest
    tilt, placements = _tilt(draw), []
    for index, paper in zip(cells, papers, strict=True):
        free = np.maximum(cell - 1.06 * scale * np.hypot(*paper.size_mm), 0) / 2
        middle = (np.array([index % 3, index // 3]) + 0.5) * cell + draw.rng.uniform(-free, free)
        placements.append(
            Placement((float(middle[0]), float(middle[1])), draw.between(-angle, angle), scale, tilt)
        )
    return placements


def _camera(draw: _Draw) -> Camera:
    if draw.case == "flatbed":
        return Camera(blur_px=0.6, noise=0.8)
    return Camera(
        blur_px=draw.between(0.4, 1.3),
        noise=draw.between(0.6, 3.0),
        distortion=draw.between(-0.015, 0.02),
        exposure=draw.between(0.8, 1.05),
        cast=(draw.between(0.93, 1.05), 1.0, draw.between(0.9, 1.05)),
        jpeg_quality=int(draw.rng.integers(80, 97)),
    )


def _shadow(draw: _Draw) -> Shadow:
    if draw.case == "flatbed":
        return Shadow(offset_px=(0.0, 2.0), softness_px=4.0, strength=0.12)
    offset = (draw.between(-6, 6), draw.between(-6, 6))
    return Shadow(offset, softness_px=draw.between(3, 10), strength=draw.between(0.1, 0.5))


def _glare(draw: _Draw, placements: Sequence[Placement]) -> Glare | None:
    if draw.case != "glare":
        return None
    centre = np.asarray(placements[0].centre) + draw.rng.uniform(-0.1, 0.1, 2) * draw.size
    return Glare((float(centre[0]), float(centre[1])), strength=draw.between(0.2, 0.8))
