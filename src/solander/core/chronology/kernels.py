"""How far apart in time two neighbours lie, and what a spread over cells of time becomes one neighbour on.

The gap between neighbours is a mixture: in the same cell with some chance (the same occasion), else a falling
exponential of a typical length, with a long one in reserve for the pause after which an album went on.
Exponentials need no table of gaps: sums over all earlier cells follow from each other by one decay. They are
taken in blocks, as small products of matrices, so that numpy does many chains and many candidates at once; the
price of a step grows with the number of cells, not with its square. Sums are of positive numbers only, so that
small chances stay exact to the last digits.
"""

from __future__ import annotations

from itertools import product

import numpy as np
import numpy.typing as npt
from attrs import frozen

__all__ = ["BLOCK", "CANDIDATES", "Gaps", "Step", "belief_before", "candidates", "gap_chances", "mixed"]

Array = npt.NDArray[np.float64]

BLOCK = 24
"""Cells in a block: 16, 24 and 32 took 1.02, 1.04 and 1.17 s of one processor for the collection of
benchmarks/best_guess.py, and 2.33, 1.87 and 1.80 s for one of envelopes over a century (2026-11-25)."""

_SAME_OCCASION = (0.0, 0.93)
"""Chances that a neighbour is of the same occasion."""

_TYPICAL_DAYS = {True: (5.0, 40.0, 300.0, 1000.0), False: (2000.0, 4000.0, 8000.0, 16_000.0)}
"""Typical gaps to the next occasion, in a known order and in none."""

_LIKELY_OF_MANY = np.repeat([1 / 11, 10 / 11], 4) / 4
"""How far each candidate is believed beforehand in a chain of many things: occasions as a rule."""

_LIKELY_OF_FEW = {
    True: np.array([0.1, 0.2, 0.3, 0.4, 0.25, 0.25, 0.25, 0.25]) / 2,
    False: np.repeat([0.25, 0.25], 4) / 2,
}
_FEW, _FALL = 8, 2.0
"""In an envelope of at most eight things one occasion is as likely as prints of several years, whose few gaps in
a known order are long ones; its dates are too few to tell. In longer chains that belief falls by the square of
their number. With the belief of many in all chains, 82 and 79 % of the truths of envelopes in order and in none
were held, with this one 91 and 90 % (benchmarks/best_guess.py, seeds 1000–1013)."""

_OCCASION_DAYS = 0.5
_LONG_SHARE, _LONG = 0.01, 10.0
"""One gap in a hundred is ten times as long. These numbers were chosen on seeds 1000–1013 of
benchmarks/best_guess.py: with them the 90 % ranges of all its kinds of chain come nearest to 90 %."""

CANDIDATES = len(_SAME_OCCASION) * len(_TYPICAL_DAYS[True])
"""How many candidates there are, R."""


@frozen(eq=False)
class Gaps:
    """Candidates for the gap of a chain, R of them, over cells of one length.

    `same` (R,) is each one's chance of a gap of 0 cells; `heights` and `decays` (R, S) give its S exponentials:
    their chance of a gap of 1 cell and what is left of it with each cell more. Without a known order both sides
    share the chances of all gaps but 0.
    """

    same: Array
    heights: Array
    decays: Array

    def chosen(self, places: npt.NDArray[np.intp]) -> Gaps:
        """Some of the candidates."""
        return Gaps(self.same[places], self.heights[places], self.decays[places])


def belief_before(things: int, *, ordered: bool) -> Array:
    """How likely each candidate is for a chain of so many things before its dates are heard, shape (R,)."""
    few = min(1.0, _FEW / things) ** _FALL
    belief: Array = few * _LIKELY_OF_FEW[ordered] + (1 - few) * _LIKELY_OF_MANY
    return belief


def candidates(cell_days: float, *, ordered: bool) -> Gaps:
    """The candidates that a chain's own dates choose among, over cells of so many days."""
    same, typical = (
        np.array(values) for values in zip(*product(_SAME_OCCASION, _TYPICAL_DAYS[ordered]), strict=True)
    )
    shares = [(1 - same) * (1 - _LONG_SHARE), (1 - same) * _LONG_SHARE]
    means = [typical, typical * _LONG]
    if cell_days == 1:
        # A week or a month holds an occasion whole; chances to leave it with each print would add up to too many.
        shares.append(same)
        means.append(np.full_like(typical, _OCCASION_DAYS))
    return mixed(np.stack(shares, axis=1), mean_cells=np.stack(means, axis=1) / cell_days)


def mixed(shares: Array, *, mean_cells: Array) -> Gaps:
    """Gaps of exponentials with these shares and means, shapes (R, S).

    Each has the mean and the variance of the true exponential where cells allow that, that is from half a cell
    on; a shorter one leads to the next cell as often as its mean says, and no farther.
    """
    decays = np.maximum(2 * mean_cells - 1, 0) / (2 * mean_cells + 1)
    moves = shares * mean_cells * (1 - decays)
    return Gaps(1 - moves.sum(axis=1), moves * (1 - decays), decays)


def gap_chances(gaps: Gaps, cells: int, *, ordered: bool) -> Array:
    """The chance of a gap of 0 … `cells` − 1 cells, one way, shape (R, cells); what `Step` sums over."""
    far = np.arange(cells - 1)
    moves = (gaps.heights[:, :, None] * gaps.decays[:, :, None] ** far).sum(axis=1)
    return np.concatenate([gaps.same[:, None], moves if ordered else moves / 2], axis=1)


class Step:
    """From the chances of one link over cells to those of its neighbour, for all candidates of `gaps`.

    What comes over from other blocks is summed up at the end of a block, carried on from block to block, and
    spread over the cells of the block where it arrives; towards later and towards earlier cells at once.

    Parameters
    ----------
    cells
        The most that are given at once, a multiple of `BLOCK`.
    later, earlier
        Whether the neighbour may lie in later and in earlier cells than the link; both when no order is known.
    """

    def __init__(self, gaps: Gaps, cells: int, *, later: bool, earlier: bool) -> None:
        near = gap_chances(gaps, BLOCK, ordered=not (later and earlier))
        far = np.arange(BLOCK) - np.arange(BLOCK)[:, None]
        self._inside: Array = near[:, np.abs(far)] * (((far >= 0) & later) | ((far <= 0) & earlier))
        within = gaps.decays[:, :, None] ** np.arange(BLOCK)
        carries = _carries(gaps.decays, cells // BLOCK)
        spreads = gaps.heights[:, :, None] * within / (2 if later and earlier else 1)
        turns = [1] * later + [-1] * earlier
        # One axis of exponentials, those towards later cells first: (R, S or 2 S, …).
        self._sums: Array = np.concatenate([within[:, :, ::-turn] for turn in turns], axis=1)
        self._carries: Array = np.concatenate([carries[:, :, ::turn, ::turn] for turn in turns], axis=1)
        self._spreads: Array = np.concatenate([spreads[:, :, ::turn] for turn in turns], axis=1)

    def __call__(self, chances: Array) -> Array:
        """The neighbour's chances, shape (R, chains, cells) as given; what leaves the cells is lost."""
        kinds, chains, cells = chances.shape
        blocks = cells // BLOCK
        flat = chances.reshape(kinds, chains * blocks, BLOCK)
        ends = (self._sums @ flat.transpose(0, 2, 1)).reshape(kinds, -1, chains, blocks)
        carried = ends @ self._carries[:, :, :blocks, :blocks]
        found: Array = flat @ self._inside
        found += carried.reshape(kinds, -1, chains * blocks).transpose(0, 2, 1) @ self._spreads
        return found.reshape(chances.shape)


def _carries(decays: Array, blocks: int) -> Array:
    """What is left in each later block of the sum at the end of a block, shape (R, S, blocks, blocks)."""
    far = np.arange(blocks) - np.arange(blocks)[:, None] - 1
    left = decays[:, :, None] ** (np.arange(blocks) * BLOCK)
    carries: Array = np.where(far >= 0, left[:, :, np.maximum(far, 0)], 0.0)
    return carries
