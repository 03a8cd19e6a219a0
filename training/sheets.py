"""Sheets of paper as the segmenter shall know them: prints with and without borders, mounted ones, backs, cards.

Convention: encoded sRGB float32 from 0 to 1, (height, width, 3); how much of each pixel is paper, (height, width).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray
from textures import Floats, Rng, colour, noise

Bytes = NDArray[np.uint8]
Sheet = tuple[Floats, Floats]


@dataclass(frozen=True)
class Style:
    """What prints of one film or one album share: their paper, and how broad its border is (share of the short
    side)."""

    stock: Floats
    border: float

    @classmethod
    def of(cls, rng: Rng) -> Style:
        """Any style: without border, with a narrow one, a broad one."""
        border = (
            0.0 if rng.uniform() < 0.3 else float(rng.choice([rng.uniform(0.012, 0.05), rng.uniform(0.03, 0.13)]))
        )
        return cls(_stock(rng), border)


def sheet(rng: Rng, photographs: Sequence[Bytes], size: tuple[int, int], style: Style | None = None) -> Sheet:
    """A sheet of `size` (width, height) pixels, of any kind; mostly a print of the `style` where one is given."""
    if style is not None and rng.uniform() < 0.85:
        drawn = _print(rng, photographs, size, style)
    else:
        kind = rng.choice(6, p=[0.62, 0.09, 0.09, 0.08, 0.06, 0.06])
        drawn = (_print, _back, _card, _mounted, _several, _page)[int(kind)](rng, photographs, size)
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


def _print(rng: Rng, photographs: Sequence[Bytes], size: tuple[int, int], style: Style | None = None) -> Floats:
    """A photographic print: picture, mostly a border, sometimes a keyline or a broader foot."""
    style = style or Style.of(rng)
    paper = _filled(size, style.stock)
    short = min(size)
    border = max(1, round(short * style.border)) if style.border else 0
    foot = round(short * rng.uniform(0.05, 0.25)) if border and rng.uniform() < 0.12 else 0
    inner = (size[0] - 2 * border, size[1] - 2 * border - foot)
    if min(inner) >= 8:
        picture = _picture(rng, photographs, inner)
        if rng.uniform() < 0.4:
            _build(rng, photographs, picture)
        paper[border : border + inner[1], border : border + inner[0]] = picture
    if border > 1 and rng.uniform() < 0.2:
        inset = border - int(rng.integers(0, border))
        ends = (inset, inset), (size[0] - 1 - inset, size[1] - 1 - inset)
        cv2.rectangle(paper, *ends, tuple(float(v) for v in colour(rng)), 1, cv2.LINE_AA)
    return paper


def _build(rng: Rng, photographs: Sequence[Bytes], picture: Floats) -> None:
    """Put into a picture what looks like edges of paper: doors, windows, pictures on a wall, walls, horizons."""
    high, wide = picture.shape[:2]
    if rng.uniform() < 0.4:
        at = int(rng.uniform(0.2, 0.8) * (high if rng.uniform() < 0.5 else wide))
        part = picture[at:] if rng.uniform() < 0.5 and at < high else picture[:, min(at, wide - 1) :]
        part[:] = _other_tone(rng, photographs, part)
    for _ in range(int(rng.choice([0, 1, 1, 2, 4]))):
        size = np.maximum((rng.uniform(0.12, 0.95, 2) * (wide, high)).astype(int), 4)
        x, y = (int(rng.uniform(0, 1) * max(0, whole - s)) for whole, s in zip((wide, high), size, strict=True))
        part = picture[y : y + size[1], x : x + size[0]]
        part[:] = _other_tone(rng, photographs, part)
        if rng.uniform() < 0.7:
            line = int(rng.integers(1, max(2, min(size) // 12 + 2)))
            tone = tuple(float(v) for v in colour(rng, saturation=0.3))
            cv2.rectangle(part, (0, 0), (part.shape[1] - 1, part.shape[0] - 1), tone, line)
            if rng.uniform() < 0.3:
                cv2.line(part, (part.shape[1] // 2, 0), (part.shape[1] // 2, part.shape[0]), tone, line)


def _other_tone(rng: Rng, photographs: Sequence[Bytes], part: Floats) -> Floats:
    """A piece of another picture, or the same place lighter, darker or of one colour."""
    form = rng.integers(3)
    if form == 0 and min(part.shape[:2]) >= 8:
        return _picture(rng, photographs, (part.shape[1], part.shape[0]))
    if form == 1:
        return np.asarray(part * np.float32(rng.uniform(0.3, 1.6)), np.float32)
    share = np.float32(rng.uniform(0, 0.3))
    return np.asarray(share * part + (1 - share) * colour(rng, saturation=0.4), np.float32)


def _several(rng: Rng, photographs: Sequence[Bytes], size: tuple[int, int]) -> Floats:
    """One sheet of several pictures: a strip, a contact sheet, a page of a folder. It is one print."""
    paper = _filled(size, _stock(rng))
    long = int(np.argmax(size))
    number = [1, 1]
    number[long] = int(rng.integers(2, 5))
    number[1 - long] = int(rng.choice([1, 1, 2, 3]))
    between = max(1, int(min(size) * rng.uniform(0.01, 0.07)))
    cell = [(s - between) // n for s, n in zip(size, number, strict=True)]
    for row in range(number[1]):
        for column in range(number[0]):
            inner = (cell[0] - between, cell[1] - between)
            if min(inner) >= 8:
                x, y = between + column * cell[0], between + row * cell[1]
                paper[y : y + inner[1], x : x + inner[0]] = _picture(rng, photographs, inner)
    return paper


def _page(rng: Rng, photographs: Sequence[Bytes], size: tuple[int, int]) -> Floats:
    """A page of a newspaper or book: columns of print, rules, a picture."""
    paper = _filled(size, _stock(rng))
    columns = int(rng.integers(1, 5))
    margin, line = int(0.05 * min(size)) + 1, int(rng.integers(3, 7))
    ink = colour(rng, value=float(rng.uniform(0.05, 0.5)), saturation=0.2)
    wide = (size[0] - margin) / columns
    for column in range(columns):
        x0, x1 = int(margin + column * wide), int((column + 1) * wide)
        for y in range(margin, size[1] - margin, line):
            end = x1 if rng.uniform() < 0.85 else int(rng.uniform(x0, x1))
            row = paper[y : y + max(1, line // 2), x0:end]
            row += (rng.uniform(0.1, 0.9, (1, row.shape[1], 1)) * (ink - row)).astype(np.float32)
    if rng.uniform() < 0.6 and min(size) > 40:
        inner = (int(rng.uniform(0.3, 0.8) * size[0]), int(rng.uniform(0.2, 0.5) * size[1]))
        x, y = (int(rng.uniform(0, 1) * (s - i)) for s, i in zip(size, inner, strict=True))
        paper[y : y + inner[1], x : x + inner[0]] = _picture(rng, photographs, inner)
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
