"""What surfaces look like: card, felt, cloth, carpet, wood, tiles, stone, paper, a scanner's lid, in even light.

A surface is drawn as a change of its colour in linear light, (height, width); cells of its texture are in pixels
where a camera shows them alike at any distance (tooth, fibres), else in mm of the stage.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import numpy as np

from solander.imaging.simulate.light import Linear, clouds
from solander.imaging.simulate.masks import line_mask

__all__ = [
    "Surface",
    "album_leaf",
    "card",
    "carpet",
    "cloth",
    "felt",
    "gingham",
    "lid",
    "newsprint",
    "paper",
    "stone",
    "tiles",
    "wood",
]

Surface = Callable[[np.random.Generator, tuple[int, int], float], Linear]
"""Generator, size (width, height), px per mm → the change of colour, (height, width), around 0."""


def card(rng: np.random.Generator, size: tuple[int, int], mm: float) -> Linear:
    """Matt card: a fine tooth and faint clouds."""
    return 0.015 * clouds(rng, size, cell=(2, 2)) + 0.012 * clouds(rng, size, cell=(160, 160))


def felt(rng: np.random.Generator, size: tuple[int, int], mm: float) -> Linear:
    """Felt: short fibres in all directions, some of them catching the light."""
    fibres = clouds(rng, size, cell=(2, 9)) + clouds(rng, size, cell=(9, 2)) + clouds(rng, size, cell=(3, 3))
    lint = np.maximum(clouds(rng, size, cell=(3, 5)) - 2.6, 0)
    return np.asarray(0.14 * fibres + 0.9 * lint + 0.06 * clouds(rng, size, cell=(220, 220)), np.float32)


def cloth(rng: np.random.Generator, size: tuple[int, int], mm: float) -> Linear:
    """Woven cloth: threads over and under, slubs, and soft folds."""
    pitch = max(2.5, 0.9 * mm)
    x, y = (np.arange(side, dtype=np.float32) * np.float32(2 * np.pi / pitch) for side in size)
    slubs = clouds(rng, size, cell=(40 * mm, pitch)) + clouds(rng, size, cell=(pitch, 40 * mm))
    weave = np.outer(np.sin(y), np.sin(x)).astype(np.float32)
    folds = clouds(rng, size, cell=(90 * mm, 60 * mm))
    ridges = np.exp(-((clouds(rng, size, cell=(110 * mm, 45 * mm)) / 0.12) ** 2))
    return np.asarray(0.09 * weave + 0.05 * slubs + 0.10 * folds + 0.16 * ridges, np.float32)


def gingham(rng: np.random.Generator, size: tuple[int, int], mm: float) -> Linear:
    """Checked cloth: bands of dyed thread both ways, darkest where they cross, a little turned."""
    band = rng.uniform(9, 22) * mm
    turn = rng.uniform(-0.15, 0.15)
    x, y = (np.arange(side, dtype=np.float32) + np.float32(rng.uniform(0, band)) for side in size)
    across, down = x[None] + turn * y[:, None], y[:, None] - turn * x[None]
    dyed = sum((np.mod(axis // band, 2) for axis in (across, down)), np.float32(0))
    folds = clouds(rng, size, cell=(90 * mm, 60 * mm))
    return np.asarray(0.55 - 0.55 * dyed + 0.02 * clouds(rng, size, cell=(2, 2)) + 0.03 * folds, np.float32)


def newsprint(rng: np.random.Generator, size: tuple[int, int], mm: float) -> Linear:
    """A spread newspaper: columns of words, some with a headline or a picture's grey block."""
    width, height = size
    change = np.zeros((height, width), np.float32)
    column, line = 45 * mm, 3.2 * mm
    for left in np.arange(rng.uniform(-column, 0), width, column):
        for top in np.arange(rng.uniform(-line, 0), height, line):
            words = left + np.cumsum(rng.uniform(3, 11, 12)) * mm
            for start, end in pairwise(words):
                if end < left + column - 3 * mm and start > 0:
                    change[max(0, int(top)) : max(0, int(top + 0.5 * line)), int(start) : int(end - mm)] = -0.6
        if rng.uniform() < 0.6:
            high, deep = int(rng.uniform(0, height)), int(rng.uniform(25, 45) * mm)
            first, last = max(0, int(left + mm)), max(0, int(left + column - 4 * mm))
            block = change[high : high + deep, first:last]
            block[:] = -0.45 + 0.15 * clouds(rng, size, cell=(9 * mm, 9 * mm))[high : high + deep, first:last]
    return np.asarray(change - change.mean() + 0.02 * clouds(rng, size, cell=(2, 2)), np.float32)


def carpet(rng: np.random.Generator, size: tuple[int, int], mm: float) -> Linear:
    """Cut pile: tufts of a few millimetres with dark between them."""
    tufts = sum(clouds(rng, size, cell=(cell * mm, cell * mm)) * share for cell, share in ((2.6, 1.0), (1.2, 0.8)))
    fibres = clouds(rng, size, cell=(max(1.5, 0.4 * mm), max(1.5, 0.4 * mm)))
    wide = clouds(rng, size, cell=(40 * mm, 40 * mm))
    return np.asarray(np.maximum(0.2 * np.asarray(tufts) + 0.12 * fibres + 0.06 * wide, -0.75), np.float32)


def wood(rng: np.random.Generator, size: tuple[int, int], mm: float) -> Linear:
    """A table of boards: rings stretched along the grain, knots, pores, joints; the grain along x or along y."""
    if rng.uniform() < 0.5:
        return np.ascontiguousarray(_boards(rng, size[::-1], mm).T)
    return _boards(rng, size, mm)


def _boards(rng: np.random.Generator, size: tuple[int, int], mm: float) -> Linear:
    width, height = size
    board = rng.uniform(70, 180) * mm
    y = np.arange(height, dtype=np.float32)[:, None]
    place = y / board + np.float32(rng.uniform(0, 1))
    number = np.floor(place).astype(int)
    tones = rng.normal(0, 0.07, int(number.max()) + 1).astype(np.float32)
    rings = y / (9 * mm) + 1.1 * clouds(rng, size, cell=(width / 2.5, 40 * mm)) + (13.7 * number)
    dark = _knots(rings, rng, mm)
    grain = 0.5 * np.sin(2 * np.pi * rings) + 0.25 * np.sin(6.2 * np.pi * rings)
    pores = clouds(rng, size, cell=(7 * mm, max(1.6, 0.22 * mm)))
    pores += 0.7 * clouds(rng, size, cell=(26 * mm, 0.5 * mm))
    strength = rng.uniform(0.06, 0.22)
    from_joint = (0.5 - np.abs(np.mod(place, 1) - 0.5)) * board
    joints = np.exp(-((from_joint / (0.5 * mm + 0.5)) ** 2))
    return np.asarray(strength * grain + 0.06 * pores + tones[number] - 0.65 * joints - dark, np.float32)


def _knots(rings: Linear, rng: np.random.Generator, mm: float) -> Linear:
    """Bend the rings (in place) around some knots; tells how much darker the knots are."""
    height, width = rings.shape
    dark = np.zeros_like(rings)
    for _ in range(int(rng.integers(0, 4))):
        x, y, radius = rng.uniform(0, width), rng.uniform(0, height), rng.uniform(6, 14) * mm
        rows, columns = _near(y, 4 * radius, height), _near(x, 8 * radius, width)
        down = (np.arange(rows.start, rows.stop, dtype=np.float32)[:, None] - y) / radius
        along = (np.arange(columns.start, columns.stop, dtype=np.float32)[None] - x) / radius
        rings[rows, columns] += 3 * np.sign(down) * np.exp(-(down**2) / 2 - along**2 / 12)
        dark[rows, columns] += 0.45 * np.exp(-((down**2 + along**2 / 2.2) ** 2) * 3)
    return dark


def _near(middle: float, reach: float, length: int) -> slice:
    return slice(max(0, int(middle - reach)), max(0, min(length, int(middle + reach))))


def tiles(rng: np.random.Generator, size: tuple[int, int], mm: float) -> Linear:
    """Floor tiles, clouded, with paler or darker grout between them, the rows a little turned."""
    pitch, grout = rng.uniform(90, 200) * mm, rng.uniform(2.5, 5) * mm
    turn, tone = rng.uniform(-0.2, 0.2), rng.choice([-0.35, 0.3])
    x, y = (np.arange(side, dtype=np.float32) + np.float32(rng.uniform(0, pitch)) for side in size)
    across, down = x[None] + turn * y[:, None], y[:, None] - turn * x[None]
    gap = np.minimum(*(np.abs(np.mod(axis, pitch) - pitch / 2) for axis in (across, down)))
    joints = np.clip((grout / 2 - gap) / (0.4 * mm) + 0.5, 0, 1)
    number = (across // pitch * 7 + down // pitch * 13).astype(int) % 16
    body = rng.normal(0, 0.05, 16).astype(np.float32)[number] + 0.06 * clouds(rng, size, cell=(22 * mm, 22 * mm))
    body += 0.03 * clouds(rng, size, cell=(2 * mm, 2 * mm))
    return np.asarray(body + (tone + 0.05 * clouds(rng, size, cell=(3, 3)) - body) * joints, np.float32)


def stone(rng: np.random.Generator, size: tuple[int, int], mm: float) -> Linear:
    """Marble: clouds and thin dark veins."""
    turbulence = clouds(rng, size, cell=(70 * mm, 25 * mm)) + 0.5 * clouds(rng, size, cell=(22 * mm, 14 * mm))
    fine = clouds(rng, size, cell=(5 * mm, 4 * mm))
    veins = np.exp(-(((turbulence + 0.15 * fine) / 0.07) ** 2))
    return np.asarray(0.06 * turbulence - 0.4 * veins * np.clip(0.5 + 0.4 * fine, 0, 1) + 0.03 * fine, np.float32)


def paper(rng: np.random.Generator, size: tuple[int, int], mm: float) -> Linear:
    """Writing paper: nearly even, with pulp clouds."""
    return 0.006 * clouds(rng, size, cell=(2, 2)) + 0.006 * clouds(rng, size, cell=(40, 40))


def lid(rng: np.random.Generator, size: tuple[int, int], mm: float) -> Linear:
    """The white lid of a flatbed: smooth, with a trace of dust."""
    dust = np.maximum(clouds(rng, size, cell=(6, 6)) - 4.0, 0)
    return np.asarray(0.002 * clouds(rng, size, cell=(3, 3)) - 0.3 * dust, np.float32)


def album_leaf(rng: np.random.Generator, size: tuple[int, int], mm: float) -> Linear:
    """An album's leaf: soft card with a felt mark, a ripple, and captions in white pencil."""
    tooth = 0.05 * clouds(rng, size, cell=(2.5, 2.5)) + 0.04 * clouds(rng, size, cell=(60 * mm, 25 * mm))
    words = np.zeros(tooth.shape, np.float32)
    for _ in range(int(rng.integers(0, 5))):
        _scrawl(words, rng, mm)
    return np.asarray(tooth + 2.2 * words, np.float32)


def _scrawl(words: Linear, rng: np.random.Generator, mm: float) -> None:
    """One line of writing that nobody can read."""
    height, width = words.shape
    along = np.linspace(0, 1, 160)
    length, tall = rng.uniform(25, 70) * mm, rng.uniform(1.5, 3) * mm
    loops = np.cumsum(rng.normal(0, 1, 160))
    x = rng.uniform(0, width) + length * along + 0.5 * tall * np.sin(along * length / mm * 2.2)
    y = rng.uniform(0, height) + tall * np.sin(along * length / mm * 1.9 + 0.6 * loops) * rng.uniform(0.3, 1, 160)
    words += line_mask(np.column_stack([x, y]), (width, height), 0.35 * mm)
