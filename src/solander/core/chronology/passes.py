"""Exact chances of every link of many chains at once: one pass forward, one back, averaged over candidates."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
from attrs import frozen

from solander.core.chronology.frames import frames_of, moved
from solander.core.chronology.kernels import CANDIDATES, Array, Step, candidates

__all__ = ["Batch", "Passes"]


@frozen(eq=False)
class Batch:
    """Chains over cells of one length, the longest first.

    `allowed` (links, chains, cells) says how far a cell is allowed to each link, before its neighbours are
    heard, zero beyond a chain's own cells; `lengths` (chains,) counts the links of each; `ordered`
    (links − 1, chains) says of each gap whether its order is known; cells are `cell_days` long.
    """

    allowed: Array
    lengths: Sequence[int]
    ordered: npt.NDArray[np.bool_]
    cell_days: float

    def going_on(self, link: int) -> int:
        """How many chains have this link: the first ones."""
        return sum(length > link for length in self.lengths)


class Passes:
    """The pass forward over a batch, made at once, and the pass back.

    Method: forward–backward on a chain (Rabiner 1989, from memory). The first link is equally likely everywhere
    beforehand.
    """

    def __init__(self, batch: Batch) -> None:
        self._batch, self._frames = batch, frames_of(batch.allowed)
        self.fits: Array = np.zeros((CANDIDATES, batch.allowed.shape[1]))
        """How well each candidate explains what each chain allows, as logarithms, shape (candidates, chains);
        −∞ when it can't."""
        self._forward = self._pass_forward()

    def _pass_forward(self) -> list[Array]:
        """The chances of each link given those up to it, in its frames."""
        steps = _Steps(self._batch, later=True)
        found = [_scaled(np.repeat(self._allowed(0)[None], CANDIDATES, axis=0), self.fits)]
        for link in range(1, len(self._batch.allowed)):
            count = self._batch.going_on(link)
            reached = self._stepped(steps, found[-1][:, :count], link=link - 1, to=link)
            reached *= self._allowed(link)
            found.append(_scaled(reached, self.fits[:, :count]))
        return found

    def chances(self, belief: Array) -> Array:
        """The chance of every cell for every link, given all links of its chain, shape (links, chains, cells).

        `belief` (candidates, chains) is how far each candidate counts; those that count nowhere cost nothing.
        A chain for which none counts has no chances.
        """
        if not belief.any():
            return np.zeros_like(self._batch.allowed)
        counting = np.flatnonzero(belief.any(axis=1))
        steps = _Steps(self._batch, later=False, chosen=counting)
        found = np.empty_like(self._batch.allowed)
        after = np.ones((len(counting), 0, self._forward[-1].shape[2]))
        for link in range(len(self._forward) - 1, -1, -1):
            after = _with_ends(after, chains=self._forward[link].shape[1])
            both = self._forward[link][counting] * after
            framed = _averaged(both, belief[counting, : both.shape[1]])
            found[link] = 0
            found[link, : len(framed)] = self._frames.put_back(framed, link, cells=found.shape[2])
            if link:
                after *= self._allowed(link)
                after /= np.maximum(after.max(axis=2, keepdims=True), np.finfo(float).tiny)
                after = self._stepped(steps, after, link=link, to=link - 1)
        return found

    def _allowed(self, link: int) -> Array:
        return self._frames.cut_out(self._batch.allowed[link, : self._batch.going_on(link)], link)

    def _stepped(self, steps: _Steps, chances: Array, *, link: int, to: int) -> Array:
        """From the frames of a link to those of its neighbour, by way of frames that hold both."""
        count = chances.shape[1]
        starts, blocks = self._frames.joined(link, to, chains=count)
        wide = moved(chances, self._frames.starts[link, :count] - starts, blocks)
        found = steps(wide, self._batch.ordered[min(link, to), :count])
        return moved(found, starts - self._frames.starts[to, :count], self._frames.blocks[to])


def _with_ends(after: Array, *, chains: int) -> Array:
    """What is told from behind, with ones for the chains that end here."""
    ends = np.ones((after.shape[0], chains - after.shape[1], after.shape[2]))
    return np.concatenate([after, ends], axis=1)


def _averaged(chances: Array, belief: Array) -> Array:
    """The chances of each candidate made to sum to one and averaged as far as it counts, shape (chains, cells)."""
    total = chances.sum(axis=2)
    found: Array = np.einsum("rct,rc->ct", chances, belief / np.where(total > 0, total, 1.0))
    return found


def _scaled(reached: Array, fit: Array) -> Array:
    total = reached.sum(axis=2)
    with np.errstate(divide="ignore"):
        fit += np.log(total)
    reached /= np.where(total > 0, total, 1.0)[:, :, None]
    return reached


class _Steps:
    """To the next links, or back to the ones before, with and without a known order."""

    def __init__(self, batch: Batch, *, later: bool, chosen: npt.NDArray[np.intp] | None = None) -> None:
        self._each: dict[bool, Step] = {}
        for ordered in {bool(value) for value in batch.ordered.flat}:
            gaps = candidates(batch.cell_days, ordered=ordered)
            gaps = gaps if chosen is None else gaps.chosen(chosen)
            cells = batch.allowed.shape[2]
            self._each[ordered] = Step(gaps, cells, later=later or not ordered, earlier=not (later and ordered))

    def __call__(self, chances: Array, ordered: npt.NDArray[np.bool_]) -> Array:
        """The neighbours' chances; `ordered` has a value for each chain."""
        if (ordered == ordered[0]).all():
            return self._each[bool(ordered[0])](chances)
        found = np.empty_like(chances)
        for kind, step in self._each.items():
            found[:, ordered == kind] = step(chances[:, ordered == kind])
        return found
