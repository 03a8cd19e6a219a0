"""Which lines belong together: one hand or one stamp, by angle, height, ink and where they stand."""

from __future__ import annotations

import math
from collections.abc import Sequence

from attrs import frozen

from solander.core.inscriptions.records import Line

__all__ = ["Block", "blocks_of"]

_ANGLE_DEG = 6.0
"""A hand's lines fan out by a few degrees; a stamp stands askew by more (our choice, no source)."""

_HEIGHT = 1.7
"""So many times as high may one line be as the other: ascenders make a hand's lines differ by half."""

_INK = 70.0
"""Distance of two inks, sRGB code values, up to which they may be the same pen pressed more or less."""

_GAP = 1.6
"""Heights of a line from one line's middle to the next one's: double spacing is no longer one block."""


@frozen
class Block:
    """Lines of one hand or one stamp, in the order of reading, by their places among the lines given."""

    lines: tuple[int, ...]


def blocks_of(lines: Sequence[Line]) -> tuple[Block, ...]:
    """The lines in blocks; each line is in one of them. Blocks stand in the order of their first lines."""
    blocks: list[list[int]] = []
    for place, line in enumerate(lines):
        beside = [block for block in blocks if any(_belong(lines[other], line) for other in block)]
        joined = sorted([place, *(other for block in beside for other in block)])
        blocks = [block for block in blocks if block not in beside] + [joined]
    return tuple(Block(tuple(block)) for block in sorted(blocks))


def _belong(one: Line, other: Line) -> bool:
    turn = abs((one.angle_deg - other.angle_deg + 180) % 360 - 180)
    low, high = sorted((one.height, other.height))
    return (
        turn <= _ANGLE_DEG
        and high <= _HEIGHT * low
        and math.dist(one.ink, other.ink) <= _INK
        and _is_near(one, other, (low + high) / 2)
    )


def _is_near(one: Line, other: Line, height: float) -> bool:
    """Below each other and side by side in part, or one right behind the other."""
    angle = math.radians(one.angle_deg)
    across = (other.centre[0] - one.centre[0]) * math.cos(angle) + (other.centre[1] - one.centre[1]) * math.sin(
        angle
    )
    down = (other.centre[1] - one.centre[1]) * math.cos(angle) - (other.centre[0] - one.centre[0]) * math.sin(
        angle
    )
    between = abs(across) - (one.length + other.length) / 2
    if abs(down) <= height / 2:
        return between <= 2 * height
    return abs(down) <= _GAP * height and between <= 0
