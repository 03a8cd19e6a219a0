"""Pictures to put on prints, drawn once a run, when a test first asks: not while tests are being found."""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import NDArray

from solander.imaging.simulate import drawn_picture

_drawn = cache(drawn_picture)


def pictures(count: int) -> list[NDArray[np.uint8]]:
    """The first `count` of them; each belongs to all tests and must not be written to."""
    made = [_drawn(seed) for seed in range(count)]
    for picture in made:
        picture.flags.writeable = False
    return made
