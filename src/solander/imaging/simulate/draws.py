"""The cases that captures are drawn of, and one draw: a generator with what every choice needs to know."""

from __future__ import annotations

import zlib
from collections.abc import Sequence
from typing import TypeVar

import numpy as np
from attrs import frozen

__all__ = ["CASES", "PLAIN_CASES", "Draw"]

PLAIN_CASES = ("grey stage", "blue stage", "green stage", "black felt")
CASES = (
    *PLAIN_CASES,
    "borderless",
    "wood",
    "white on white",
    "dark on black",
    "doors and mounts",
    "glare",
    "curl",
    "rounded",
    "deckle",
    "finger",
    "stage edge",
    "apart",
    "touching",
    "flatbed",
    "flatbed touching",
    "album page",
    "household",
    "empty",
)
SCANS = ("flatbed", "flatbed touching")
"""Cases in which a scanner looks."""

_Choice = TypeVar("_Choice")


@frozen
class Draw:
    """One draw: the generator, the capture's size (width, height) and the case's name."""

    rng: np.random.Generator
    size: tuple[int, int]
    case: str

    @classmethod
    def of(cls, seed: int, case: str, size: tuple[int, int]) -> Draw:
        """A draw whose generator depends on the seed and on the case's name only."""
        return cls(np.random.default_rng([seed, zlib.crc32(case.encode())]), size, case)

    @property
    def unit(self) -> float:
        """What counts as a pixel when the picture is 2400 wide: for what scales with the view."""
        return self.size[0] / 2400

    @property
    def is_scan(self) -> bool:
        """Whether a scanner looks instead of a camera."""
        return self.case in SCANS

    def between(self, low: float, high: float) -> float:
        """A number between the two, all alike."""
        return float(self.rng.uniform(low, high))

    def often(self, share: float) -> bool:
        """True in that share of draws."""
        return bool(self.rng.uniform() < share)

    def one_of(self, choices: Sequence[_Choice]) -> _Choice:
        """One of the choices, all alike."""
        return choices[int(self.rng.integers(len(choices)))]
