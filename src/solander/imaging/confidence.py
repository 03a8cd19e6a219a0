"""How sure an outline is, from what was seen of it."""

from __future__ import annotations

import numpy as np

from solander.imaging.refine import Refined
from solander.imaging.search import Candidate

__all__ = ["confidence_in"]


def confidence_in(candidate: Candidate, refined: Refined) -> float:
    """The outline's confidence, 0 to 1: the support of its sides, lessened where the fits don't agree."""
    return min(1.0, candidate.support * (0.5 + 0.5 * float(np.mean(refined.agreement or (0.0,)))))
