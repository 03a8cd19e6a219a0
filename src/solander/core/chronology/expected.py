"""How many days an answer is expected to take off the ranges of things, for thousands of questions at once."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from attrs import frozen

from solander.core.chronology.possible_answers import Answers
from solander.core.chronology.pushes import Days, Numbers, Pushed, Side, pushed
from solander.core.chronology.worlds import Questions, Worlds, answers_in, sources_of

__all__ = ["Narrowed", "narrowings"]


@frozen
class Narrowed:
    """Thing `thing` is expected to lose `days` when question `query` is answered, all on one side: at its
    beginning (`early`) or at its end."""

    query: Numbers
    thing: Numbers
    days: Days
    early: bool


def narrowings(worlds: Worlds, asked: Questions) -> Iterator[Narrowed]:
    """The days that each thing is expected to lose, first on one side, then on the other.

    Exact where ranges have no holes; holes of other things than the one that is asked about are passed over.
    """
    answers, sources = answers_in(worlds, asked), sources_of(worlds, asked)
    for side, heard, era in (
        (worlds.later, answers, (worlds.years.first, worlds.years.last)),
        (worlds.earlier, answers.mirrored(), (-worlds.years.last, -worlds.years.first)),
    ):
        rises = _Rises(heard, *era)
        for part in pushed(side, sources, world=asked.world, top=heard.latest()):
            yield Narrowed(
                part.query, part.thing, _lost(part, side, asked=asked, rises=rises), side is worlds.later
            )


def _lost(part: Pushed, side: Side, *, asked: Questions, rises: _Rises) -> Days:
    things = len(side.starts) - 1
    floor = np.clip(side.first[asked.world[part.query] * things + part.thing], rises.era_first, rises.era_last)
    lost = rises.above(part.query, floor - part.push)
    beyond = np.flatnonzero(part.push > 0)
    # What is pushed out of the era has lost its days within the era only.
    lost[beyond] -= rises.above(part.query[beyond], rises.era_last - part.push[beyond])
    return lost


class _Rises:
    """How far the answers to each question are expected to lie above a day (E[max(0, answer − day)])."""

    def __init__(self, answers: Answers, era_first: float, era_last: float) -> None:
        self.era_first, self.era_last = era_first, era_last
        self._span = era_last - era_first + 2
        since = answers.first - era_first
        self._keys = answers.question() * self._span + since
        self._ends = answers.starts[1:]
        self._shares = np.concatenate([[0], np.cumsum(answers.share)])
        self._moments = np.concatenate([[0], np.cumsum(answers.share * since)])

    def above(self, query: Numbers, day: Days) -> Days:
        """The expected days above `day`, one for each pair of query and day."""
        since = day - self.era_first
        key = query * self._span + np.clip(since, -0.5, self._span - 1.5)
        at, end = np.searchsorted(self._keys, key, side="right"), self._ends[query]
        at = np.minimum(at, end)
        found: Days = self._moments[end] - self._moments[at] - since * (self._shares[end] - self._shares[at])
        return found
