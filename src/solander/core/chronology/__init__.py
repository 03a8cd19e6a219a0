"""Order in time: what statements allow every thing, which of them contradict, and one order for all."""

from __future__ import annotations

from solander.core.chronology.constraints import Between, Difference, Months, Pieces, Statement
from solander.core.chronology.contradictions import Contradiction
from solander.core.chronology.guess import Chain, Guess, Guesser, Weight, best_guesses
from solander.core.chronology.mending import Mend, mends, mends_most
from solander.core.chronology.network import Network, solve
from solander.core.chronology.order import Placed, put_in_order
from solander.core.chronology.problems import Problem, answer, problems_in, read_problem
from solander.core.chronology.solution import Reasons, Solution, reasons_of

__all__ = [
    "Between",
    "Chain",
    "Contradiction",
    "Difference",
    "Guess",
    "Guesser",
    "Mend",
    "Months",
    "Network",
    "Pieces",
    "Placed",
    "Problem",
    "Reasons",
    "Solution",
    "Statement",
    "Weight",
    "answer",
    "best_guesses",
    "mends",
    "mends_most",
    "problems_in",
    "put_in_order",
    "read_problem",
    "reasons_of",
    "solve",
]
