"""Pictures to treat: a drawn one with fine detail, on paper."""

from __future__ import annotations

from functools import cache
from typing import Any

import cv2
import numpy as np
from attrs import field, frozen

from solander.imaging.conventions import Rgb
from solander.imaging.simulate import drawn_picture
from solander.imaging.treatment.deep import as_deep, densities, encode_density

PAPER = (252, 251, 249)


@frozen
class Step:
    """A step as the imaging functions take it."""

    name: str
    parameters: dict[str, Any] = field(factory=dict)


@cache
def scene(width: int = 480, height: int = 320, *, grey: bool = False) -> Rgb:
    """A picture in colour, or grey, with tones from black to white and a neutral black patch."""
    picture = cv2.resize(drawn_picture(seed=3), (width, height), interpolation=cv2.INTER_AREA)
    picture[height // 2 : height // 2 + 40, width // 2 : width // 2 + 40] = 24
    picture[10:30, 10:60] = 240
    if grey:
        picture = cv2.cvtColor(cv2.cvtColor(picture, cv2.COLOR_RGB2GRAY), cv2.COLOR_GRAY2RGB)
    return picture


BLACK = ((240 + 20 + 24) / (480 + 48), (160 + 20 + 24) / (320 + 48))
"""Where the black patch lies in `bordered(scene())`, as shares."""


def bordered(picture: Rgb, width: int = 24, paper: tuple[int, int, int] = PAPER) -> Rgb:
    return cv2.copyMakeBorder(picture, width, width, width, width, cv2.BORDER_CONSTANT, value=paper)


def printed(density: np.ndarray) -> Rgb:
    return np.asarray(np.rint(np.clip(encode_density(density), 0, 1) * 255), np.uint8)


def densities_of(picture: Rgb) -> np.ndarray:
    return densities(as_deep(picture)).astype(float)


def lab(picture: Rgb) -> np.ndarray:
    return cv2.cvtColor((picture / 255).astype(np.float32), cv2.COLOR_RGB2LAB)
