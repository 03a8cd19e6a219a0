"""Exact chances of every link of many chains at once: one pass forward, one back, averaged over candidates."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from attrs import frozen

from solander.core.chronology.kernels import BELIEF, Array, Step, candidates

__all__ = ["Batch", "chances_of", "fits_of"]


@frozen(eq=False)
class Batch:
    """Chains of one kind, the longest first.

    `allowed` (links, chains, cells) says how far a cell is allowed to each link, before its neighbours are
    heard, zero beyond a chain's own cells; `lengths` (chains,) counts the links of each; `ordered` holds one
    value for each gap; cells are `cell_days` long.
    """

    allowed: Array
    lengths: Sequence[int]
    ordered: Sequence[bool]
    cell_days: float

    def going_on(self, link: int) -> int:
        """How many chains have this link: the first ones."""
        return sum(length > link for length in self.lengths)


def fits_of(batch: Batch) -> Array:
    """How well each candidate explains what each chain allows, as logarithms, shape (candidates, chains); −∞
    when it can't."""
    return _forward(batch, _steps(batch))[1]


def chances_of(batch: Batch, belief: Array) -> Array:
    """The chance of every cell for every link, given all links of its chain, shape (links, chains, cells).

    `belief` (candidates, chains) is how far each candidate counts. Method: forward–backward on a chain (Rabiner
    1989, from memory). The first link is equally likely everywhere beforehand.
    """
    steps = _steps(batch)
    forward, _ = _forward(batch, steps)
    return _backward(batch, forward, belief=belief, steps=steps)


_Steps = dict[bool, tuple[Step, Step]]


def _steps(batch: Batch) -> _Steps:
    """To the next link and back to the one before, with and without a known order."""
    cells = batch.allowed.shape[2]
    found: _Steps = {}
    for ordered in set(batch.ordered):
        gaps = candidates(batch.cell_days, ordered=ordered)
        on = Step(gaps, cells, later=True, earlier=not ordered)
        back = Step(gaps, cells, later=False, earlier=True) if ordered else on
        found[ordered] = on, back
    return found


def _forward(batch: Batch, steps: _Steps) -> tuple[list[Array], Array]:
    """The chances of each link given those up to it, and the logarithm of how well each candidate fits."""
    fit = np.zeros((len(BELIEF), batch.allowed.shape[1]))
    reached = np.repeat(batch.allowed[:1], len(BELIEF), axis=0)
    found = [_scaled(reached, fit)]
    for link, ordered in enumerate(batch.ordered, 1):
        count = batch.going_on(link)
        reached = steps[ordered][0](found[-1][:, :count])
        reached *= batch.allowed[link, :count]
        found.append(_scaled(reached, fit[:, :count]))
    return found, fit


def _scaled(reached: Array, fit: Array) -> Array:
    total = reached.sum(axis=2)
    with np.errstate(divide="ignore"):
        fit += np.log(total)
    reached /= np.where(total > 0, total, 1.0)[:, :, None]
    return reached


def _backward(batch: Batch, forward: list[Array], *, belief: Array, steps: _Steps) -> Array:
    found = np.zeros_like(batch.allowed)
    after = np.ones_like(forward[0])
    for link in range(len(forward) - 1, -1, -1):
        count = batch.going_on(link)
        both = forward[link] * after[:, :count]
        total = both.sum(axis=2)
        share = belief[:, :count] / np.where(total > 0, total, 1.0)
        found[link, :count] = np.einsum("rct,rc->ct", both, share)
        if link:
            told = after[:, :count] * batch.allowed[link, :count]
            told /= np.maximum(told.max(axis=2, keepdims=True), np.finfo(float).tiny)
            after[:, :count] = steps[batch.ordered[link - 1]][1](told)
    return found
