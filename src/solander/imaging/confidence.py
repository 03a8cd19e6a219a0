"""How sure an outline is, from what was seen of it: the chance that its corners are right.

Right means a mean corner error of at most .3 % of the diagonal. What was measured of the sides, the fits and the
next best outline is weighed by a logistic regression; `benchmarks/calibrate_finder.py` fits it again.
"""

from __future__ import annotations

import numpy as np

from solander.imaging.conventions import diagonal
from solander.imaging.edges import Floats
from solander.imaging.refine import Refined
from solander.imaging.search import Candidate

__all__ = ["EVIDENCE", "PARTED", "confidence_in", "evidence"]

EVIDENCE = (
    "doubt",
    "spread",
    "moved",
    "margin",
    "softness",
    "unlike",
    "strength",
    "support",
)
"""What is weighed.

doubt, spread, moved: of `Refined`, as the decimal logarithm of thousandths of the diagonal. margin: merit by which
the next best outline is behind, at most 1. softness: width of the softest edge, as doubt. unlike: logarithm of the
softest edge's width over the usual one (a shadow's edge is softer than paper's). strength: of the faintest side's
evidence. support: of the sides together.
"""

WEIGHTS = np.array([-1.25, -1.27, -1.49, 1.16, -1.05, -0.24, 0.92, 2.95])
BIAS = -1.74
"""Fitted as `benchmarks/calibrate_finder.py --per-case 12` does, on the 368 finds that the finder of commit
e47c702 made in those captures of the evaluation's `tune` set, every second of them worsened. Fitted again to the
372 of commit 6a1560e they accept no more (docs/measured.md), and so these stand."""

WITHOUT_CURVES = 0.1
"""Most confidence in an outline whose sides are seen at the middle size only: far out of focus, mostly."""

MOST_MARGIN = 8.0
"""Merit beyond which it doesn't matter by how much a rival is behind."""


def confidence_in(candidate: Candidate, refined: Refined, *, at_rim: float = 1.0) -> float:
    """The outline's confidence, 0 to 1; a tenth at most where no curves could be fitted to its sides. `at_rim` is
    how likely the small network thinks print just within its sides."""
    if not refined.agreement:
        return WITHOUT_CURVES * candidate.support
    chance = float(1 / (1 + np.exp(-(WEIGHTS @ evidence(candidate, refined) + BIAS))))
    doubted = candidate.doubted or not candidate.chosen or at_rim < LEAST_AT_RIM
    return PARTED * chance if doubted else chance


LEAST_AT_RIM = 0.25
"""Likelihood of print within the sides below which the outline may be that of a board on which the print lies: a
board taken for a mount had 0.22, of 280 prints found right three had less."""

PARTED = 0.6
"""What the chance of a part counts: where prints touch, no stage tells border from seam. Of 70 drawn parts with a
chance of .9 or more 19 % are off by more than .3 % of the diagonal, and where the sides of both neighbours come to
the same line no fewer (of 28, 21 %): both take the wrong one then. So a person is asked; and about a whole that
may be several, a mount that may be a board, and what may be cut short."""


def evidence(candidate: Candidate, refined: Refined) -> Floats:
    """What was measured, in the order of `EVIDENCE`."""
    strength = min((choice.seen[0] for choice in candidate.chosen), default=candidate.support)
    softest = max(refined.softness)
    return np.array(
        [
            _thousandths(refined.doubt),
            _thousandths(refined.spread),
            _thousandths(refined.moved),
            float(np.clip(candidate.margin, 0, MOST_MARGIN)) / MOST_MARGIN,
            _thousandths(softest / diagonal(refined.corners)),
            float(np.log10(softest / np.median(refined.softness))),
            strength,
            candidate.support,
        ]
    )


def _thousandths(share: float) -> float:
    return float(np.log10(max(1000 * share, 0.05)))
