"""How large a view is once it is treated, and its scale: arithmetic alone, so that pages can lay it out unmade."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from solander.core.treatments import Treatment

__all__ = ["Size", "done_to", "treated_ppi", "treated_size"]

Size = tuple[int, int]
"""Width and height in pixels."""


def treated_size(treatment: Treatment, size: Size) -> Size:
    """Width and height of a view of that `size` after the steps that are on; `imaging.treatment.frame` does it."""
    for step in treatment.applied:
        if step.name in _CHANGES:
            size = _CHANGES[step.name](step.parameters, size)
    return size


def done_to(treatment: Treatment, size: Size) -> Treatment:
    """What of a treatment is done to a view of that `size`: one that is no larger than its "output" is not made so
    long, nor sharpened."""
    output = treatment.step("output")
    if output is None or max(treated_size(treatment.without("output"), size)) > output.parameters["long_side"]:
        return treatment
    return treatment.without("output")


def treated_ppi(treatment: Treatment, size: Size, ppi: float) -> float:
    """Pixels per inch on the paper of a view of that `size` and scale after the steps that are on.

    A fine turn enlarges it until its frame is filled; "output" makes it smaller; a keystone is taken to leave it.
    """
    for step in treatment.applied:
        before, size = size, treated_size(Treatment((step,)), size)
        if step.name == "fine turn":
            angle = math.radians(abs(step.parameters["degrees"]))
            ppi *= math.cos(angle) + math.sin(angle) * max(before) / min(before)
        if step.name == "output":
            ppi *= max(size) / max(before)
    return ppi


def _straightened(given: Mapping[str, Any], size: Size) -> Size:
    corners = [(x * size[0], y * size[1]) for x, y in given["corners"]]
    top, right, bottom, left = (math.dist(corners[at], corners[(at + 1) % 4]) for at in range(4))
    return max(1, round((top + bottom) / 2)), max(1, round((right + left) / 2))


def _cropped(given: Mapping[str, Any], size: Size) -> Size:
    left, top, right, bottom = given["box"]
    return _between(left, right, size[0]), _between(top, bottom, size[1])


def _between(start: float, end: float, length: int) -> int:
    first = min(round(start * length), length - 1)
    return max(first + 1, round(end * length)) - first


def _turned(given: Mapping[str, Any], size: Size) -> Size:
    return (size[1], size[0]) if given["turns"] % 2 else size


def _reduced(given: Mapping[str, Any], size: Size) -> Size:
    scale = min(1.0, given["long_side"] / max(size))
    return max(1, round(size[0] * scale)), max(1, round(size[1] * scale))


_CHANGES = {"keystone": _straightened, "crop": _cropped, "quarter turn": _turned, "output": _reduced}
