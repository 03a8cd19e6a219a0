"""Whether an outline may be cut short, as the sizes of the other prints in the capture tell.

Convention (see `conventions`): corners in pixels, clockwise. Prints of one box are of few sizes: what is a little
smaller than another one, both ways, has mostly lost a border that the stage is as white as.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from solander.imaging.conventions import Quad

__all__ = ["may_be_cut_short"]

LEAST, MOST = 0.02, 0.09
"""Logarithms of the longer difference from which, and up to which, a smaller print is not just of another size.
Of 108 drawn prints with a confidence of .9 or more, lying apart, three were off by more than .3 % of the diagonal:
all three were smaller than the print most like them by .023 to .053, and none of the others. Prints of 3½ × 5 in
beside some of 9 × 13 cm (.011 and .023) are asked about, too."""

BOTH = 0.005
"""By which the other difference must agree."""


def may_be_cut_short(quad: Quad, others: Sequence[Quad]) -> bool:
    """Whether the print most like it in size, upright or turned, is a little larger both ways."""
    size = _size(quad)
    more = [one - size for other in others for one in (_size(other), _size(other)[::-1])]
    nearest = min(more, key=lambda by: float(np.abs(by).max()), default=np.zeros(2))
    return bool(nearest.min() > BOTH and LEAST < nearest.max() < MOST)


def _size(quad: Quad) -> NDArray[np.float64]:
    """Logarithms of width and height: the means of opposite sides."""
    top, right, bottom, left = np.linalg.norm(np.roll(quad, -1, axis=0) - quad, axis=1)
    return np.log([(top + bottom) / 2, (right + left) / 2])
