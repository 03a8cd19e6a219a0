"""Captures drawn by chance, one seed each, for measuring the print finder over many of them."""

from __future__ import annotations

from collections.abc import Sequence

from solander.imaging.simulate import surroundings
from solander.imaging.simulate.arrangements import alone, apart, outline, reaching, touching
from solander.imaging.simulate.captures import Simulated, simulate_capture
from solander.imaging.simulate.draws import CASES, PLAIN_CASES, Draw
from solander.imaging.simulate.geometry import Placement
from solander.imaging.simulate.light import Rgb
from solander.imaging.simulate.papers import Paper
from solander.imaging.simulate.sheets import random_papers

__all__ = ["CASES", "PLAIN_CASES", "random_capture"]

_UNKNOWN_SCALE = 9.0  # px per mm at 2400 px of a stage on which nothing lies


def random_capture(
    seed: int,
    pictures: Sequence[Rgb],
    *,
    case: str = "grey stage",
    size: tuple[int, int] = (2400, 1800),
    with_empty: bool = False,
) -> Simulated:
    """A capture drawn by `seed` of one of the `CASES`; `pictures` are what may be printed, `size` (width, height).

    Prints are whole within the capture and a margin of it; `with_empty` adds the frame of the empty stage.
    Raises ValueError for a case that is not in `CASES`.
    """
    if case not in CASES:
        raise ValueError(f"no such case: {case!r}; there are {', '.join(CASES)}")
    draw = Draw.of(seed, case, size)
    papers = random_papers(draw, pictures, _how_many(draw))
    placements = _placed(draw, papers)
    papers = papers[: len(placements)]
    outlines = [outline(paper, at) for paper, at in zip(papers, placements, strict=True)]
    px_per_mm = placements[0].px_per_mm if placements else _UNKNOWN_SCALE * draw.unit
    return simulate_capture(
        papers,
        placements,
        surroundings.stage(draw, outlines, px_per_mm),
        size=size,
        seed=int(draw.rng.integers(2**31)),
        camera=surroundings.camera(draw),
        shadow=surroundings.lamps(draw, px_per_mm),
        glare=surroundings.glare(draw, outlines),
        casts=surroundings.casts(draw),
        things=surroundings.rulers(draw, px_per_mm),
        hands=[reaching(draw, papers[0], placements[0])] if case == "finger" else [],
        with_empty=with_empty,
    )


def _how_many(draw: Draw) -> int:
    match draw.case:
        case "empty":
            return 0
        case "apart" | "touching" | "flatbed" | "flatbed touching":
            return int(draw.rng.integers(2, 9))
        case "album page":
            return int(draw.rng.integers(1, 5))
        case "household" if draw.often(0.3):
            return int(draw.rng.integers(2, 4))
    return 1


def _placed(draw: Draw, papers: Sequence[Paper]) -> list[Placement]:
    if draw.case in ("touching", "flatbed touching"):
        return touching(draw, papers)
    return apart(draw, papers) if len(papers) > 1 else [alone(draw, paper) for paper in papers]
