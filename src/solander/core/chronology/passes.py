"""Exact chances of every link of many chains at once: one pass forward, one back, averaged over candidates."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
from attrs import frozen

from solander.core.chronology.kernels import BELIEF, Array, Step, candidates

__all__ = ["Batch", "chances_of", "fits_of"]


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


def fits_of(batch: Batch) -> Array:
    """How well each candidate explains what each chain allows, as logarithms, shape (candidates, chains); −∞
    when it can't."""
    return _forward(batch, _Steps(batch))[1]


def chances_of(batch: Batch, belief: Array) -> Array:
    """The chance of every cell for every link, given all links of its chain, shape (links, chains, cells).

    `belief` (candidates, chains) is how far each candidate counts. Method: forward–backward on a chain (Rabiner
    1989, from memory). The first link is equally likely everywhere beforehand.
    """
    steps = _Steps(batch)
    forward, _ = _forward(batch, steps)
    return _backward(batch, forward, belief=belief, steps=steps)


class _Steps:
    """To the next links and back to the ones before, with and without a known order."""

    def __init__(self, batch: Batch) -> None:
        cells = batch.allowed.shape[2]
        self._on: dict[bool, Step] = {}
        self._back: dict[bool, Step] = {}
        for ordered in {bool(value) for value in batch.ordered.flat}:
            gaps = candidates(batch.cell_days, ordered=ordered)
            self._on[ordered] = Step(gaps, cells, later=True, earlier=not ordered)
            self._back[ordered] = Step(gaps, cells, later=not ordered, earlier=True)

    def on(self, chances: Array, ordered: npt.NDArray[np.bool_]) -> Array:
        """From links to the next ones; `ordered` has a value for each chain."""
        return self._each(self._on, chances, ordered)

    def back(self, chances: Array, ordered: npt.NDArray[np.bool_]) -> Array:
        """From links to the ones before."""
        return self._each(self._back, chances, ordered)

    def _each(self, steps: dict[bool, Step], chances: Array, ordered: npt.NDArray[np.bool_]) -> Array:
        if (ordered == ordered[0]).all():
            return steps[bool(ordered[0])](chances)
        found = np.empty_like(chances)
        for kind, step in steps.items():
            found[:, ordered == kind] = step(chances[:, ordered == kind])
        return found


def _forward(batch: Batch, steps: _Steps) -> tuple[list[Array], Array]:
    """The chances of each link given those up to it, and the logarithm of how well each candidate fits."""
    fit = np.zeros((len(BELIEF), batch.allowed.shape[1]))
    reached = np.repeat(batch.allowed[:1], len(BELIEF), axis=0)
    found = [_scaled(reached, fit)]
    for link in range(1, len(batch.allowed)):
        count = batch.going_on(link)
        reached = steps.on(found[-1][:, :count], batch.ordered[link - 1, :count])
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
            after[:, :count] = steps.back(told, batch.ordered[link - 1, :count])
    return found
