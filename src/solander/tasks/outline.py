"""Outlines of the prints in a picture file, without a collection."""

from __future__ import annotations

import time
from pathlib import Path

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.locate import Found, locate_prints
from solander.tasks.prepare import read_picture

__all__ = ["Outlined", "outline"]

Rgb = NDArray[np.uint8]


@frozen
class Outlined:
    """The prints found in a picture of `width` × `height` pixels (after EXIF orientation); `ms` is the search
    alone, on one thread, without decoding."""

    width: int
    height: int
    prints: tuple[Found, ...]
    ms: float


def outline(image: Path, *, empty_stage: Path | None = None) -> Outlined:
    """The prints in the first page of a picture file.

    Raises
    ------
    Trouble
        When the file is missing or can't be read.
    """
    rgb = read_picture(image)
    stage = read_picture(empty_stage) if empty_stage else None
    cv2.setNumThreads(1)
    began = time.perf_counter()
    found = locate_prints(rgb, empty_stage=stage)
    spent = time.perf_counter() - began
    return Outlined(rgb.shape[1], rgb.shape[0], tuple(found), spent * 1000)
