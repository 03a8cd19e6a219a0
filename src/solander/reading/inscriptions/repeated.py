"""What the maker of the paper prints all over its back, told by its repetition.

It stands aslant in most papers, pale and in rows. A person writes a name once or twice; what stands there three
times and more, in one direction and one size, is print. Read with the rest it would drown it.
"""

from __future__ import annotations

from collections.abc import Sequence

from rapidfuzz import fuzz

from solander.core.inscriptions.records import Line

__all__ = ["is_of_print", "lies_as_print", "set_apart"]

_TIMES = 3
"""So often it must stand there; a hand's "Dieter, Dieter, Dieter" is beyond us (ours, no source)."""

_TIMES_ASLANT, _ASLANT = 2, (15.0, 75.0)
"""Aslant, between these degrees from an edge, so often is enough: hands and stamps hardly lie so."""

_ALIKE = 70.0
"""Likeness of two readings of pale print, 0 to 100 (`rapidfuzz` partial ratio, for some stand cut at the edge)."""

_ANGLE_DEG, _HEIGHT, _INK = 4.0, 1.5, 60.0
_SHORTEST, _IN_PART = 3, 5
"""Letters below which anything is like anything, and below which a part is."""


def set_apart(lines: Sequence[Line]) -> tuple[list[Line], list[Line]]:
    """The lines that a person wrote or stamped, and those that repeat."""
    plain = [_plain(line.text) for line in lines]
    twins = [
        [other for other in range(len(lines)) if _same(lines, plain, place, other)] for place in range(len(lines))
    ]
    repeats = {place for place, alike in enumerate(twins) if len(alike) >= _needed(lines[place])}
    angle, ink = _of_print([lines[place] for place in repeats])
    cut = {
        place
        for place, line in enumerate(lines)
        if repeats
        and place not in repeats
        and _is_a_piece(line, plain[place], [plain[each] for each in repeats])
        and _turned(line.angle_deg, angle) <= _ANGLE_DEG
        and _differ(line.ink, ink) <= _INK
    }
    apart = repeats | cut
    own = [line for place, line in enumerate(lines) if place not in apart]
    return own, [line for place, line in enumerate(lines) if place in apart]


def is_of_print(line: Line, repeated: Sequence[Line]) -> bool:
    """Whether a line says what repeats elsewhere on the page, or a part of it."""
    return _is_a_piece(line, _plain(line.text), [_plain(each.text) for each in repeated if each.text])


def lies_as_print(line: Line, repeated: Sequence[Line]) -> bool:
    """Whether a line, read or not, has the direction, the height and the ink of what repeats."""
    angle, ink = _of_print(repeated)
    height = sorted(each.height for each in repeated)[len(repeated) // 2]
    low, high = sorted((line.height, height))
    return (
        _turned(line.angle_deg, angle) <= _ANGLE_DEG and high <= _HEIGHT * low and _differ(line.ink, ink) <= _INK
    )


def _needed(line: Line) -> int:
    return _TIMES_ASLANT if _ASLANT[0] <= line.angle_deg % 90 <= _ASLANT[1] else _TIMES


def _same(lines: Sequence[Line], plain: Sequence[str], one: int, other: int) -> bool:
    if min(len(plain[one]), len(plain[other])) < _SHORTEST:
        return False
    low, high = sorted((lines[one].height, lines[other].height))
    return (
        high <= _HEIGHT * low
        and _turned(lines[one].angle_deg, lines[other].angle_deg) <= _ANGLE_DEG
        and _differ(lines[one].ink, lines[other].ink) <= _INK
        and _alike(plain[one], plain[other])
    )


def _of_print(repeats: Sequence[Line]) -> tuple[float, tuple[int, int, int]]:
    """The angle and the ink of what repeats: of its middle one."""
    if not repeats:
        return 0.0, (0, 0, 0)
    middle = sorted(repeats, key=lambda line: line.angle_deg)[len(repeats) // 2]
    return middle.angle_deg, middle.ink


def _is_a_piece(line: Line, plain: str, repeats: Sequence[str]) -> bool:
    """A word of it that stands cut off at the edge, or could not be read."""
    return not plain or any(plain in each or _alike(plain, each) for each in repeats)


def _alike(one: str, other: str) -> bool:
    """Whole or in part; of short words only as a whole, for "Nan" lies in "and Bill" nearly as it is."""
    ratio = fuzz.ratio if min(len(one), len(other)) < _IN_PART else fuzz.partial_ratio
    return ratio(one, other) >= _ALIKE


def _turned(one: float, other: float) -> float:
    return abs((one - other + 180) % 360 - 180)


def _differ(one: tuple[int, int, int], other: tuple[int, int, int]) -> float:
    return float(sum((a - b) ** 2 for a, b in zip(one, other, strict=True)) ** 0.5)


def _plain(text: str) -> str:
    return "".join(sign for sign in text.casefold() if sign.isalnum())
