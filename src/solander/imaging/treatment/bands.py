"""What is smooth, kept small and enlarged in bands of rows: the whole of it at full size would fill the memory.

Convention (see `solander.imaging.conventions`): (0, 0) is the centre of the first pixel of either size.
"""

from __future__ import annotations

from collections.abc import Iterator

import cv2
import numpy as np
from numpy.typing import NDArray

__all__ = ["enlarged_bands"]

BAND = 256


def enlarged_bands(small: NDArray[np.int16], size: tuple[int, int]) -> Iterator[tuple[int, NDArray[np.int16]]]:
    """The first row and the rows of each band of `small`, (height, width) or (height, width, 3), at another size
    (height, width), straight between its pixels."""
    scale_y, scale_x = small.shape[0] / size[0], small.shape[1] / size[1]
    flags = cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP
    for top in range(0, size[0], BAND):
        rows = min(BAND, size[0] - top)
        matrix = np.array([[scale_x, 0, 0.5 * scale_x - 0.5], [0, scale_y, (top + 0.5) * scale_y - 0.5]])
        band = cv2.warpAffine(small, matrix, (size[1], rows), flags=flags, borderMode=cv2.BORDER_REPLICATE)
        yield top, np.asarray(band, np.int16)
