"""The squares of 8 × 8 pixels in which a JPEG file was packed: they repeat all over, as embossed paper does.

Convention (see `solander.imaging.conventions`): frequencies are (x, y) in cycles per pixel. A JPEG file
(ITU-T T.81, A.3.1) cuts the capture into such squares, so that whatever they leave behind has frequencies that are
multiples of an eighth along the axes of the capture, wherever the print lay in it and however it was turned since.
A view is kept as such a file itself, with squares along its own axes.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = ["Grid", "grid_of", "is_of_blocks"]

Grid = NDArray[np.float64]
"""(2, 2): its columns are a step of one pixel of the view to the right, and one down, in pixels of the capture."""

BLOCK = 8

OFF = 0.004
"""Cycles per pixel by which a frequency may be off a multiple: two bins of a tile of 512 pixels."""

_OWN = np.eye(2)
"""The grid of the view's own file."""

_CLOCKWISE = np.array([[0.0, -1.0], [1.0, 0.0]])


def grid_of(corners: ArrayLike, laid_size: tuple[int, int], turn: int) -> Grid:
    """The grid of a view cut out at `corners` (4, 2) of its capture, `laid_size` (width, height) in pixels before
    it was turned `turn` quarters clockwise; of a print seen aslant, its mean."""
    top_left, top_right, bottom_right, bottom_left = np.asarray(corners, np.float64)
    right = (top_right - top_left + bottom_right - bottom_left) / (2 * laid_size[0])
    down = (bottom_left - top_left + bottom_right - top_right) / (2 * laid_size[1])
    return np.asarray(np.column_stack([right, down]) @ np.linalg.matrix_power(_CLOCKWISE, -turn % 4), np.float64)


def is_of_blocks(frequency: tuple[float, float], grid: Grid) -> bool:
    """Whether a frequency of the view is one that the squares of the capture's file have, or those of its own."""
    return any(_is_multiple(np.linalg.solve(each.T, np.asarray(frequency))) for each in (grid, _OWN))


def _is_multiple(frequency: NDArray[np.float64]) -> bool:
    multiple = np.rint(frequency * BLOCK)
    return bool(multiple.any() and (np.abs(frequency - multiple / BLOCK) < OFF).all())
