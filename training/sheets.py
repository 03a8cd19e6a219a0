"""Sheets of paper as the segmenter shall know them: prints with and without borders, mounted ones, backs, cards.

Convention: encoded sRGB float32 from 0 to 1, (height, width, 3); how much of each pixel is paper, (height, width).
"""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
from numpy.typing import NDArray
from textures import Floats, Rng, colour, noise

Bytes = NDArray[np.uint8]
Sheet = tuple[Floats, Floats]


def sheet(rng: Rng, photographs: Sequence[Bytes], size: tuple[int, int]) -> Sheet:
    """A sheet of `size` (width, height) pixels, of any kind."""
    kind = rng.choice(4, p=[0.7, 0.11, 0.12, 0.07])
    drawn = (_print, _back, _card, _mounted)[int(kind)](rng, photographs, size)
    grain = rng.choice([0.0, rng.uniform(0, 0.05)])
    drawn *= 1 + grain * rng.standard_normal((*drawn.shape[:2], 1), np.float32)
    drawn *= _bent_light(rng, size)[..., None]
    return np.clip(drawn, 0, 1), _outline(rng, size)


def _bent_light(rng: Rng, size: tuple[int, int]) -> Floats:
    """Paper is never quite flat: a gentle slope of light over the sheet."""
    x, y = np.linspace(-1, 1, size[0], dtype=np.float32), np.linspace(-1, 1, size[1], dtype=np.float32)
    a, b, c = rng.normal(0, 0.05, 3)
    return np.asarray(1 + a * x[None] + b * y[:, None] + c * x[None] ** 2, np.float32)


def _stock(rng: Rng) -> Floats:
    """Paper white: new, yellowed, grey with dirt or badly lit; seldom black or coloured."""
    if rng.uniform() < 0.06:
        return colour(rng)
    return colour(rng, (25, 60), 0.45, float(rng.uniform(0.72, 1.0)))


def _filled(size: tuple[int, int], tone: Floats) -> Floats:
    return np.tile(tone.astype(np.float32), (size[1], size[0], 1))


def _picture(rng: Rng, photographs: Sequence[Bytes], size: tuple[int, int]) -> Floats:
    """Part of a photograph, toned and faded at random; now and then very dark or very light."""
    whole = photographs[int(rng.integers(len(photographs)))]
    share = rng.uniform(0.35, 1.0)
    high, wide = (max(8, int(s * share)) for s in whole.shape[:2])
    top, left = (int(rng.integers(0, s - part + 1)) for s, part in zip(whole.shape, (high, wide), strict=False))
    part = whole[top : top + high, left : left + wide][:, :: -1 if rng.uniform() < 0.5 else 1]
    picture = cv2.resize(part, size, interpolation=cv2.INTER_AREA).astype(np.float32) / 255
    if rng.uniform() < 0.5:
        grey = picture.mean(axis=2, keepdims=True)
        picture = grey ** (1 + rng.choice([0, 1]) * rng.uniform(0, 0.5) * np.array([0, 0.4, 1], np.float32))
    if rng.uniform() < 0.12:
        picture = picture * rng.uniform(0.1, 0.4)
    faded = rng.uniform(0, 0.5) * rng.choice([0, 1])
    return np.asarray(picture * (1 - faded) + faded * colour(rng, (0, 60), 0.5, 0.75), np.float32)


def _print(rng: Rng, photographs: Sequence[Bytes], size: tuple[int, int]) -> Floats:
    """A photographic print: picture, mostly a border, sometimes a keyline or a broader foot."""
    paper = _filled(size, _stock(rng))
    short = min(size)
    border = 0 if rng.uniform() < 0.3 else max(1, round(short * rng.uniform(0.015, 0.12)))
    foot = round(short * rng.uniform(0.05, 0.25)) if border and rng.uniform() < 0.12 else 0
    inner = (size[0] - 2 * border, size[1] - 2 * border - foot)
    if min(inner) >= 8:
        paper[border : border + inner[1], border : border + inner[0]] = _picture(rng, photographs, inner)
    if border > 1 and rng.uniform() < 0.2:
        inset = border - int(rng.integers(0, border))
        ends = (inset, inset), (size[0] - 1 - inset, size[1] - 1 - inset)
        cv2.rectangle(paper, *ends, tuple(float(v) for v in colour(rng)), 1, cv2.LINE_AA)
    return paper


def _mounted(rng: Rng, photographs: Sequence[Bytes], size: tuple[int, int]) -> Floats:
    """A print on its card: cabinet card, folder, window mount."""
    board = _filled(size, colour(rng, (15, 60), 0.5))
    board *= 1 + 0.03 * rng.standard_normal((size[1], size[0], 1), np.float32)
    x0, x1, y0, y1 = (round(s * rng.uniform(0.06, 0.2)) for s in (size[0], size[0], size[1], size[1]))
    inner = (size[0] - x0 - x1, size[1] - y0 - y1)
    if min(inner) >= 8:
        board[y0 : y0 + inner[1], x0 : x0 + inner[0]] = _picture(rng, photographs, inner)
    _write(rng, board, lines=1, tone=colour(rng))
    return board


def _back(rng: Rng, photographs: Sequence[Bytes], size: tuple[int, int]) -> Floats:
    """A back or a page: empty, written on, ruled or stamped."""
    paper = _filled(size, _stock(rng))
    if rng.uniform() < 0.25:
        for y in range(size[1] // 8, size[1], max(4, size[1] // int(rng.integers(8, 24)))):
            cv2.line(paper, (0, y), (size[0], y), (0.6, 0.65, 0.75), 1, cv2.LINE_AA)
    _write(rng, paper, lines=int(rng.integers(0, 8)), tone=colour(rng, value=float(rng.uniform(0.05, 0.6))))
    return paper


def _card(rng: Rng, photographs: Sequence[Bytes], size: tuple[int, int]) -> Floats:
    """A greeting, visiting, playing or index card: marks, letters and frames on light stock."""
    card = _filled(size, _stock(rng))
    short = min(size)
    for _ in range(int(rng.integers(1, 14))):
        at = [int(v) for v in (rng.uniform(0.08, 0.92, 2) * size)]
        reach = max(2, int(short * rng.uniform(0.02, 0.16)))
        tone = tuple(float(v) for v in (colour(rng, (340, 380), 1.6, 0.8) if rng.uniform() < 0.3 else colour(rng)))
        corners = (np.array(at) + rng.normal(0, reach, (int(rng.integers(3, 9)), 2))).astype(np.int32)
        match rng.integers(4):
            case 0:
                cv2.circle(card, at, reach, tone, -1, cv2.LINE_AA)
            case 1:
                cv2.fillPoly(card, [corners], tone, cv2.LINE_AA)
            case 2:
                letter, ink = chr(int(rng.integers(48, 91))), np.zeros((size[1], size[0]), np.uint8)
                cv2.putText(ink, letter, at, 0, reach / 12, 255, max(1, reach // 8), cv2.LINE_AA)
                card += (ink / np.float32(255))[..., None] * (np.array(tone, np.float32) - card)
            case _:
                cv2.polylines(card, [corners], True, tone, 1, cv2.LINE_AA)
    if rng.uniform() < 0.4:
        inset = int(short * rng.uniform(0.05, 0.22))
        if rng.uniform() < 0.5:
            inner = (size[0] - 2 * inset, size[1] - 2 * inset)
            card[inset : inset + inner[1], inset : inset + inner[0]] = _picture(rng, photographs, inner)
        cv2.rectangle(card, (inset, inset), (size[0] - inset, size[1] - inset), (0.15, 0.2, 0.5), 1, cv2.LINE_AA)
    return card


def _write(rng: Rng, paper: Floats, *, lines: int, tone: Floats) -> None:
    """Lines of something like handwriting."""
    height, width = paper.shape[:2]
    for _ in range(lines):
        x0, length = rng.uniform(0.05, 0.4) * width, rng.uniform(0.2, 0.6) * width
        t = np.arange(0, length, 1.5)
        tall = height * rng.uniform(0.01, 0.04)
        y = rng.uniform(0.1, 0.95) * height + tall * np.sin(t / tall * 1.2) * rng.uniform(0.3, 1, len(t))
        points = np.stack([x0 + t + tall * rng.normal(0, 0.3, len(t)), y], axis=1).astype(np.int32)
        cv2.polylines(paper, [points], False, tuple(float(v) for v in tone), 1, cv2.LINE_AA)


def _outline(rng: Rng, size: tuple[int, int]) -> Floats:
    """Straight edges, rounded corners, or a deckle."""
    paper = np.ones((size[1], size[0]), np.float32)
    form = rng.uniform()
    if form < 0.25:
        radius = max(1, int(min(size) * rng.uniform(0.015, 0.09)))
        paper[:] = 0
        far = (size[0] - 1 - radius, size[1] - 1 - radius)
        cv2.rectangle(paper, (radius, 0), (far[0], size[1] - 1), 1.0, -1)
        cv2.rectangle(paper, (0, radius), (size[0] - 1, far[1]), 1.0, -1)
        for x in (radius, far[0]):
            for y in (radius, far[1]):
                cv2.circle(paper, (x, y), radius, 1.0, -1, cv2.LINE_AA)
    elif form < 0.33:
        rough = noise(rng, rng.uniform(2, 6))
        deep = rng.uniform(0.5, 0.015 * min(size) + 0.6)
        x, y = np.arange(size[0]), np.arange(size[1])
        for side, along, rows in ((x, y, 10), (x[::-1], y, 40), (y, x, 80), (y[::-1], x, 120)):
            bite = np.clip(deep * (1 + rough[rows, along % len(rough)]), 0, None)
            keep = np.clip(side[None, :] - bite[:, None] + 1, 0, 1)
            paper *= (keep if len(along) == size[1] else keep.T).astype(np.float32)
    return paper
