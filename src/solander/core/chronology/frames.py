"""The stretch of cells that each link of a batch is worked out in, for most are allowed few of their chain's."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
from attrs import frozen

from solander.core.chronology.kernels import BLOCK, Array

__all__ = ["Frames", "frames_of", "moved"]

Places = npt.NDArray[np.intp]

_NEARLY_ALL = 0.75
"""A frame of more of the blocks than this is made to hold all: moving it would cost more than it saves (of the
same order as the share of a step that a move takes; not measured more closely)."""


@frozen(eq=False)
class Frames:
    """The blocks of cells in which the links of a batch are worked out.

    In a known order a link reaches from the dated link before it to the next one only. Each chain has its own
    first block for each link, `starts` (links, chains); `blocks` (links,) is how many there are from there, the
    same for all chains of a batch.
    """

    starts: Places
    blocks: Sequence[int]

    def cut_out(self, cells: Array, link: int) -> Array:
        """Of all cells of the chains that are given, shape (chains, cells), those in the frames of a link."""
        framed: Array = moved(cells[None], -self.starts[link, : len(cells)], self.blocks[link])[0]
        return framed

    def put_back(self, framed: Array, link: int, *, cells: int) -> Array:
        """All cells, with zeros outside the frames."""
        whole: Array = moved(framed[None], self.starts[link, : len(framed)], cells // BLOCK)[0]
        return whole

    def joined(self, link: int, to: int, *, chains: int) -> tuple[Places, int]:
        """The first blocks and the number of blocks of frames that hold those of two links."""
        first, other = self.starts[link, :chains], self.starts[to, :chains]
        starts = np.minimum(first, other)
        ends = np.maximum(first + self.blocks[link], other + self.blocks[to])
        return starts, int((ends - starts).max())


def frames_of(allowed: Array) -> Frames:
    """The smallest that hold all that is allowed, shape (links, chains, cells)."""
    links, chains, cells = allowed.shape
    most = cells // BLOCK
    used = allowed.reshape(links, chains, most, BLOCK).max(axis=3) > 0
    starts = used.argmax(axis=2)
    ends = np.where(used.max(axis=2), most - used[:, :, ::-1].argmax(axis=2), starts + 1)
    blocks = (ends - starts).max(axis=1)
    blocks[blocks > _NEARLY_ALL * most] = most
    return Frames(np.minimum(starts, most - blocks[:, None]), blocks.tolist())


def moved(chances: Array, shifts: Places, blocks: int) -> Array:
    """The same chances, shape (candidates, chains, cells), in frames of so many blocks in which each chain lies
    `shifts` blocks later; zeros where nothing came from."""
    kinds, chains, cells = chances.shape
    if cells == blocks * BLOCK and not shifts.any():
        return chances
    old = np.arange(blocks) - shifts[:, None]
    inside = (old >= 0) & (old < cells // BLOCK)
    whole = chances.reshape(kinds, chains, cells // BLOCK, BLOCK)
    found: Array = whole[:, np.arange(chains)[:, None], np.where(inside, old, 0)]
    found[:, ~inside] = 0
    return found.reshape(kinds, chains, blocks * BLOCK)
