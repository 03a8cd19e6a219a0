"""What each word of what was said weighs as each part of a name; our own scale."""

from __future__ import annotations

from collections.abc import Iterator

from solander.authorities.naming.names_held import Part
from solander.authorities.naming.said import Said

__all__ = ["LAST", "SEX_OF", "weighed"]

SEX_OF = dict.fromkeys("FBHS", "male") | dict.fromkeys("MZWD", "female")

_ALONE = {Part.GIVEN: 1.0, Part.FURTHER: 0.95, Part.BORN: 0.88, Part.MARRIED: 0.88, Part.OF_PARTNER: 0.8}
_FIRST = {Part.GIVEN: 1.0, Part.FURTHER: 0.96, Part.BORN: 0.75, Part.MARRIED: 0.75, Part.OF_PARTNER: 0.7}
_MIDDLE = {Part.GIVEN: 0.9, Part.FURTHER: 1.0, Part.BORN: 0.95, Part.MARRIED: 0.95, Part.OF_PARTNER: 0.9}
LAST = {Part.GIVEN: 0.75, Part.FURTHER: 0.8, Part.BORN: 1.0, Part.MARRIED: 1.0, Part.OF_PARTNER: 0.97}
_MAIDEN = {Part.BORN: 1.0, Part.MARRIED: 0.7, Part.OF_PARTNER: 0.6}
_FAMILY_NAME = {Part.BORN: 1.0, Part.MARRIED: 1.0, Part.OF_PARTNER: 0.97, Part.GIVEN: 0.4}


def weighed(reading: Said) -> Iterator[tuple[str, dict[Part, float], float]]:
    """Each word, the parts of a name that it may be, and what it weighs."""
    last = len(reading.names) - 1
    for place, word in enumerate(reading.names):
        if last == 0:
            yield word, _FAMILY_NAME if reading.family else _ALONE, 1.0
        elif place == 0:
            yield word, _FIRST, 1.0
        else:
            yield word, LAST if place == last else _MIDDLE, 1.0 if place == last else 0.5
    for word in reading.maiden:
        yield word, _MAIDEN, 1.0
    for word in reading.married:
        yield word, _FAMILY_NAME, 1.0
