"""What was learnt of a stand's light and colour, as plain numbers that views are made with."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any

from attrs import asdict, evolve, frozen

__all__ = ["Light", "StandProfile", "light_of", "profile_of"]

Numbers = tuple[float, ...]


@frozen
class Light:
    """The light and colour by which a view is put right: what its pixels are made with, whole.

    `profile` names the numbers (the first 12 digits of their SHA-256) and `made` is the day of their making (UTC).
    `flat` holds for red, green and blue the 15 coefficients of a smooth surface of light, seen within `box`, as
    the capture lies (`imaging.evenness.Flat`); `colour` the 18 numbers of the root-polynomial of degree 2 that
    takes the camera's linear light to linear sRGB. Either may be missing.
    """

    profile: str
    made: str
    flat: tuple[Numbers, Numbers, Numbers] | None = None
    box: tuple[float, float, float, float] = (-1.0, -1.0, 1.0, 1.0)
    colour: Numbers | None = None

    @property
    def recipe(self) -> list[object]:
        """All that decides pixels."""
        return [self.flat, self.box if self.flat else None, self.colour]


@frozen
class StandProfile:
    """The light of a stand, and for which captures it speaks: those of its `frame` (width, height, as the camera
    wrote it upright), turned or not, of that focal length (in long sides of the frame; None where none is told).
    `turns` are the quarter turns by which the picture that told the flat field was turned upright.

    `captures` are the SHA-256 of the pictures it was made from; `edition` is that of the chart, `error_before` and
    `error_after` the mean ΔE2000 of its patches without and with the profile; None where no chart was seen.
    """

    light: Light
    frame: tuple[int, int]
    turns: int | None = 0
    focal: float | None = None
    captures: tuple[str, ...] = ()
    edition: str | None = None
    error_before: float | None = None
    error_after: float | None = None

    def told(self) -> str:
        """As a line of JSON."""
        return json.dumps(asdict(self))

    def with_name(self) -> StandProfile:
        """Named by its numbers."""
        digest = hashlib.sha256(json.dumps(self.light.recipe).encode()).hexdigest()
        return evolve(self, light=evolve(self.light, profile=digest[:12]))


def light_of(kept: Mapping[str, Any] | None) -> Light | None:
    """The light of a record as `asdict` and JSON leave it."""
    if kept is None:
        return None
    flat = kept["flat"] and tuple(tuple(one) for one in kept["flat"])
    colour = kept["colour"] and tuple(kept["colour"])
    return Light(**{**kept, "flat": flat, "box": tuple(kept["box"]), "colour": colour})


def profile_of(told: str) -> StandProfile | None:
    """The profile of a line of JSON; None of an empty one."""
    if not told:
        return None
    kept = json.loads(told)
    light = light_of(kept["light"])
    assert light is not None
    return StandProfile(
        **{**kept, "light": light, "frame": tuple(kept["frame"]), "captures": tuple(kept["captures"])}
    )
