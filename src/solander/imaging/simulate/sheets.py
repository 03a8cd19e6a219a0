"""Sheets drawn by chance: sizes that were sold, borders, mounts, how they were cut, what became of them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from attrs import evolve

from solander.imaging.linear_light import linear
from solander.imaging.simulate.cutting import KNIVES, Cut, Wear
from solander.imaging.simulate.draws import Draw
from solander.imaging.simulate.light import Rgb
from solander.imaging.simulate.openings import with_opening
from solander.imaging.simulate.papers import Frame, Paper

__all__ = ["SHEETS", "random_papers"]

# Sizes that albums hold, in mm (common practice, no source): contact prints and centimetre sizes, inch sizes,
# squares, carte de visite, cabinet card. What is listed twice is met twice as often.
SHEETS = (
    (60, 60), (90, 60), (90, 60), (130, 90), (130, 90), (150, 100), (150, 100), (180, 130),
    (127, 89), (127, 89), (152, 102), (152, 102), (178, 127), (254, 203),
    (89, 89), (127, 127), (102, 64), (165, 108),
)  # fmt: skip
_WHITES = ((249, 247, 241), (246, 243, 232), (241, 234, 212), (248, 248, 247))
_BLACK = (24, 22, 21)
_CARDS = ((228, 214, 184), (70, 62, 54), (120, 40, 38), (44, 62, 52), (206, 204, 198), (238, 232, 216))


def random_papers(draw: Draw, pictures: Sequence[Rgb], count: int) -> list[Paper]:
    """Sheets with some of the pictures, as the case of the draw wants them; together they are of few sizes."""
    sizes = [draw.one_of(SHEETS) for _ in range(int(draw.rng.integers(1, 4)))]
    return [_paper(draw, draw.one_of(pictures), draw.one_of(sizes)) for _ in range(count)]


def _paper(draw: Draw, picture: Rgb, size: tuple[int, int]) -> Paper:
    paper = Paper(
        picture,
        size_mm=(size[0] + draw.between(-0.6, 0.6), size[1] + draw.between(-0.6, 0.6)),
        stock=draw.one_of(_WHITES),
        tone=draw.one_of(("grey", "sepia", "colour")),
        fading=draw.between(0, 0.6),
        yellowing=draw.between(0, 0.7),
        texture=draw.between(0, 1),
        creases=draw.between(0, 0.6) if draw.often(0.1) else 0.0,
        seed=int(draw.rng.integers(2**31)),
    )
    paper = _bordered(draw, paper.turned() if draw.often(0.3) else paper)
    paper = evolve(paper, cut=_cut(draw, paper.size_mm), wear=_wear(draw))
    if draw.often(0.3):  # paper is hardly ever quite flat
        paper = _curled(draw, paper, 0.0005, 0.003)
    return _of_case(draw, paper)


def _bordered(draw: Draw, paper: Paper) -> Paper:
    """No border, a white one, a wide one, a black one; printed a little off the middle."""
    # Black borders on black belong to the case "dark on black": nobody lays them on black felt by choice.
    black = 0.0 if draw.case in ("black felt", "stage edge") else 0.08
    kind = draw.rng.choice(["none", "white", "wide", "black"], p=[0.25, 0.63 - black, 0.12, black])
    shorter = min(paper.size_mm)
    width = {"none": 0.0, "wide": draw.between(0.1, 0.16) * shorter}.get(str(kind), draw.between(2, 7))
    shift = (draw.between(-0.25, 0.25) * width, draw.between(-0.25, 0.25) * width)
    stock = _BLACK if kind == "black" else paper.stock
    return evolve(paper, border_mm=min(width, 0.2 * shorter), shift_mm=shift, stock=stock)


def _cut(draw: Draw, size_mm: tuple[float, float]) -> Cut:
    """Two sheets in three left a machine; the third was trimmed by hand, up to half a per cent askew."""
    if draw.often(0.65):
        return Cut()
    lengths = (size_mm[0], size_mm[0], size_mm[1], size_mm[1])
    bows = [draw.between(-0.0008, 0.0008) * length for length in lengths]
    ends = [
        (draw.between(0, 0.005) * length + abs(bow), draw.between(0, 0.005) * length + abs(bow))
        for length, bow in zip(lengths, bows, strict=True)
    ]
    return Cut((ends[0], ends[1], ends[2], ends[3]), (bows[0], bows[1], bows[2], bows[3]))


def _wear(draw: Draw) -> Wear:
    lamp = draw.between(0, 2 * np.pi)
    towards = np.array([-np.sin(lamp), np.sin(lamp), -np.cos(lamp), np.cos(lamp)])
    bevel = draw.between(0, 0.45) * towards
    return Wear(
        rim=draw.between(0.2, 1) if draw.often(0.4) else 0.0,
        dents=draw.between(0.1, 0.8) if draw.often(0.25) else 0.0,
        tears=draw.between(0.2, 1) if draw.often(0.12) else 0.0,
        bevel=(float(bevel[0]), float(bevel[1]), float(bevel[2]), float(bevel[3])),
    )


def _curled(draw: Draw, paper: Paper, low: float, high: float) -> Paper:
    bow = draw.between(low, high) * draw.one_of((-1, 1))
    return evolve(paper, curl=bow, curl_axis_deg=draw.between(-25, 25) if draw.often(0.5) else 0.0)


def _of_case(draw: Draw, paper: Paper) -> Paper:
    match draw.case:
        case "rounded":
            return evolve(paper, cut=Cut(corner_mm=draw.between(2, 6)))
        case "deckle":
            cut = Cut(knife=draw.one_of(tuple(KNIVES)), deckle_mm=draw.between(0.5, 1.4))
            border = max(4.0, paper.border_mm)
            return evolve(paper, cut=cut, wear=Wear(), border_mm=border, stock=draw.one_of(_WHITES))
        case "curl":
            return _curled(draw, paper, 0.004, 0.02)
        case "borderless":
            return evolve(paper, border_mm=0.0)
        case "white on white":
            border = max(paper.border_mm, draw.between(2.5, 7))
            return evolve(paper, border_mm=border, stock=draw.one_of(_WHITES))
        case "dark on black":
            dark, wear = _darkened(paper.picture), evolve(paper.wear, rim=0)
            border = draw.between(2, 6) if draw.often(0.25) else 0.0
            fading = draw.between(0, 0.1)
            return evolve(paper, picture=dark, stock=_BLACK, border_mm=border, fading=fading, wear=wear)
        case "doors and mounts":
            return _framed(draw, paper)
        case "flatbed" | "flatbed touching" | "touching":
            return evolve(paper, curl=0.0)  # pressed flat, or the edges would not touch
        case "household":
            return evolve(paper, border_mm=max(paper.border_mm, draw.between(2, 5)), stock=draw.one_of(_WHITES))
    return paper


def _framed(draw: Draw, paper: Paper) -> Paper:
    """A picture with frames of its own: printed lines, a mount, a door or window within it."""
    match draw.one_of(("opening", "opening in a border", "line", "two lines", "passe-partout", "mount")):
        case "opening":
            return evolve(paper, picture=with_opening(paper.picture, draw.rng), border_mm=0.0)
        case "opening in a border":
            return evolve(
                paper, picture=with_opening(paper.picture, draw.rng), border_mm=max(2.0, paper.border_mm)
            )
        case "line" | "two lines" as lines:
            return _lined(draw, paper, lines == "two lines")
        case kind:
            return _mounted(draw, paper, kind == "mount")


def _lined(draw: Draw, paper: Paper, twice: bool) -> Paper:
    """A white border with one dark line around the picture, or with two and white between them."""
    white, line = draw.one_of(_WHITES), Frame(draw.between(0.3, 0.9), (40, 36, 33))
    frames = (line, Frame(draw.between(2, 6), white), line) if twice else (line,)
    return evolve(paper, stock=white, border_mm=draw.between(2, 8), frames=frames)


def _mounted(draw: Draw, paper: Paper, ruled: bool) -> Paper:
    """On card with a ruled line, or under a passe-partout whose cut shows white."""
    if ruled:
        rule = draw.one_of(((170, 140, 70), (40, 36, 33)))
        frames = (Frame(0.5, rule), Frame(draw.between(1, 3), draw.one_of(_CARDS)))
    else:
        frames = (Frame(0.6, (250, 249, 246)), Frame(draw.between(0, 4), draw.one_of(_WHITES)))
    border = draw.between(0.06, 0.18) * min(paper.size_mm)
    return evolve(paper, stock=draw.one_of(_CARDS), border_mm=border, frames=frames)


def _darkened(picture: Rgb) -> Rgb:
    """A night picture: a quarter of the light, so that much of its edge is as dark as black felt."""
    light = linear(picture) * 0.25
    return np.asarray(np.rint(255 * light ** (1 / 2.2)), np.uint8)
