"""Photographs rendered as prints that a box may hold twice, for `duplicates.py`: what is drawn, and how far.

Convention: BGR uint8 as OpenCV reads; all randomness comes from the generator that is given. A `first` print; the
`same` print captured again; a `second` print of the negative; one printed the wrong way round (`mirrored`); a
`part` of 30–80 % of the picture; another `exposure` of the scene (a step to the side, somebody who moved).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

import cv2
import numpy as np
from numpy.typing import NDArray

__all__ = ["KINDS", "Picture", "exposure", "first", "load", "mirrored", "part", "same", "second"]

Picture = NDArray[np.uint8]
Draw = np.random.Generator

LONG_SIDE = 1000


def load(path: Path) -> Picture:
    """A photograph at most `LONG_SIDE` pixels long."""
    picture = cv2.imread(str(path))
    scale = LONG_SIDE / max(picture.shape[:2])
    if scale < 1:
        picture = cv2.resize(picture, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    return np.asarray(picture, np.uint8)


def first(picture: Picture, draw: Draw) -> Picture:
    """A print as it was captured first: upright, some with a border."""
    return _captured(_aged(_bordered(_toned(picture, 0.15, draw), draw), draw), draw, turn=False)


def same(picture: Picture, draw: Draw) -> tuple[Picture, Picture]:
    """One print captured twice: other light and focus, corners set a little otherwise, maybe turned."""
    paper = _aged(_bordered(_toned(picture, 0.15, draw), draw), draw)
    again = _perspective(_toned(paper, 0.08, draw), 0.004, draw)
    return _captured(paper, draw, turn=False), _captured(again, draw)


def second(picture: Picture, draw: Draw) -> Picture:
    """Another print of the negative: other size, tone, contrast, paper, fading, border; up to 15 % cut off."""
    return _printed(_cut(picture, 0.85, 1.0, draw), draw)


def mirrored(picture: Picture, draw: Draw) -> Picture:
    """The same, the negative laid the wrong way round."""
    return second(np.ascontiguousarray(picture[:, ::-1]), draw)


def part(picture: Picture, draw: Draw) -> Picture:
    """An enlargement of 30–80 % of the picture's area."""
    return _printed(_cut(picture, 0.3, 0.8, draw), draw)


def exposure(picture: Picture, draw: Draw) -> Picture:
    """Another exposure of the scene: the camera moved, so that what is near moved against what is far, and one to
    three things (people) changed their place by 3–8 % of the picture's long side: where the picture shows much,
    as people do, and no bare sky."""
    return second(_moved_things(_parallax(picture, draw), draw), draw)


KINDS: Mapping[str, Callable[[Picture, Draw], Picture]] = {
    "second": second, "mirrored": mirrored, "part": part, "exposure": exposure,
}  # fmt: skip


def _printed(picture: Picture, draw: Draw) -> Picture:
    paper = _toned(picture, 0.35, draw)
    if draw.random() < 0.4:
        grey = cv2.cvtColor(cv2.cvtColor(paper, cv2.COLOR_BGR2GRAY), cv2.COLOR_GRAY2BGR)
        paper = _toned(np.asarray(grey, np.uint8), 0.2, draw)
    return _captured(_aged(_bordered(paper, draw), draw), draw)


def _toned(picture: Picture, strength: float, draw: Draw) -> Picture:
    """Contrast, paper tone and fading: a curve a channel, black lifted and white yellowed."""
    value = picture.astype(np.float32) / 255
    gamma = draw.uniform(1 - strength, 1 + strength, 3) * draw.uniform(1 - strength, 1 + strength)
    black = draw.uniform(0, 0.45 * strength, 3)
    white = 1 - draw.uniform(0, 0.45 * strength, 3)
    value = black + (white - black) * value ** np.clip(gamma, 0.5, 2)
    return np.asarray(np.clip(value, 0, 1) * 255, np.uint8)


def _cut(picture: Picture, least: float, most: float, draw: Draw) -> Picture:
    height, width = picture.shape[:2]
    area = draw.uniform(least, most)
    wide = min(1.0, float(np.sqrt(area) * np.exp(draw.uniform(-0.2, 0.2))))
    high = min(1.0, area / wide)
    x, y = draw.uniform(0, 1 - wide), draw.uniform(0, 1 - high)
    return picture[int(y * height) : int((y + high) * height), int(x * width) : int((x + wide) * width)]


def _bordered(picture: Picture, draw: Draw) -> Picture:
    """Half of the prints have a white border, a third of these with writing on it."""
    if draw.random() < 0.5:
        return picture
    wide = int(draw.uniform(0.02, 0.08) * max(picture.shape[:2]))
    paper = cv2.copyMakeBorder(picture, wide, wide, wide, wide, cv2.BORDER_CONSTANT, value=(222, 234, 238))
    if draw.random() < 0.33:
        at = (int(draw.uniform(0.1, 0.6) * paper.shape[1]), paper.shape[0] - wide // 4)
        cv2.putText(paper, "Sommer 1953", at, cv2.FONT_HERSHEY_SCRIPT_SIMPLEX, wide / 40, (90, 40, 30), 1)
    return np.asarray(paper, np.uint8)


def _aged(picture: Picture, draw: Draw) -> Picture:
    """Dust and a scratch or two, of this paper alone."""
    paper = picture.copy()
    height, width = paper.shape[:2]
    for _ in range(int(draw.integers(0, 40))):
        at = (int(draw.uniform(0, width)), int(draw.uniform(0, height)))
        tone = int(draw.choice([35, 240]))
        cv2.circle(paper, at, int(draw.integers(1, 4)), (tone, tone, tone), -1)
    for _ in range(int(draw.integers(0, 3))):
        ends = [(int(draw.uniform(0, width)), int(draw.uniform(0, height))) for _ in range(2)]
        cv2.line(paper, ends[0], ends[1], (235, 235, 235), 1)
    return paper


def _captured(paper: Picture, draw: Draw, *, turn: bool = True) -> Picture:
    """Blur, noise, another scale, JPEG; half of them turned; corners off by up to 0.3 %."""
    seen = cv2.GaussianBlur(_perspective(paper, 0.003, draw), (0, 0), draw.uniform(0.3, 1.3))
    seen = np.clip(seen + draw.normal(0, draw.uniform(1, 5), seen.shape), 0, 255).astype(np.uint8)
    scale = draw.uniform(0.7, 1.3)
    seen = cv2.resize(seen, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    if turn and draw.random() < 0.5:
        seen = np.ascontiguousarray(np.rot90(seen, draw.integers(1, 4)))
    return np.asarray(cv2.imdecode(cv2.imencode(".jpg", seen, [1, int(draw.integers(75, 95))])[1], 1), np.uint8)


def _perspective(picture: Picture, far: float, draw: Draw) -> Picture:
    height, width = picture.shape[:2]
    corners = np.array([[0, 0], [width, 0], [width, height], [0, height]], np.float32)
    moved = corners + draw.uniform(-far, far, (4, 2)).astype(np.float32) * np.array([width, height], np.float32)
    onto = cv2.getPerspectiveTransform(corners, moved.astype(np.float32))
    return np.asarray(
        cv2.warpPerspective(picture, onto, (width, height), borderMode=cv2.BORDER_REPLICATE), np.uint8
    )


def _parallax(picture: Picture, draw: Draw) -> Picture:
    """The camera a step to the side: by up to 3 % as a whole, and 1–2.5 % more where it is near (made-up depths
    of 4 × 3 places, smooth between them)."""
    height, width = picture.shape[:2]
    side = max(height, width)
    depth = cv2.resize(
        draw.uniform(0, 1, (3, 4)).astype(np.float32), (width, height), interpolation=cv2.INTER_CUBIC
    )
    way = draw.uniform(0, 2 * np.pi)
    near = draw.uniform(0.01, 0.025) * side
    moved = _perspective(picture, 0.03, draw)
    return _displaced(moved, depth * near * np.cos(way), depth * near * np.sin(way))


def _moved_things(picture: Picture, draw: Draw) -> Picture:
    height, width = picture.shape[:2]
    side = max(height, width)
    y, x = np.mgrid[0:height, 0:width].astype(np.float32)
    dx, dy = np.zeros((height, width), np.float32), np.zeros((height, width), np.float32)
    for _ in range(int(draw.integers(1, 4))):
        at = _where_much_shows(picture, draw)
        size = draw.uniform(0.06, 0.15, 2) * side
        inside = np.exp(-((((x - at[0]) / size[0]) ** 2 + ((y - at[1]) / size[1]) ** 2) ** 2))
        way, far = draw.uniform(0, 2 * np.pi), draw.uniform(0.03, 0.08) * side
        dx += inside * far * np.cos(way)
        dy += inside * far * np.sin(way)
    return _displaced(picture, dx, dy)


def _where_much_shows(picture: Picture, draw: Draw) -> NDArray[np.float64]:
    """Of twenty random places the one around which the luma differs most."""
    height, width = picture.shape[:2]
    grey, reach = cv2.cvtColor(picture, cv2.COLOR_BGR2GRAY), max(height, width) // 12
    places = draw.uniform(0.2, 0.8, (20, 2)) * (width, height)

    def shows(place: NDArray[np.float64]) -> float:
        x, y = place.astype(int)
        return float(grey[max(0, y - reach) : y + reach, max(0, x - reach) : x + reach].std())

    return np.asarray(max(places, key=shows), np.float64)


def _displaced(picture: Picture, dx: NDArray[np.floating], dy: NDArray[np.floating]) -> Picture:
    height, width = picture.shape[:2]
    y, x = np.mgrid[0:height, 0:width].astype(np.float32)
    to = (x + dx).astype(np.float32), (y + dy).astype(np.float32)
    return np.asarray(cv2.remap(picture, *to, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REFLECT), np.uint8)
