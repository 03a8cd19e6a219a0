"""How many days an answer is expected to take off the ranges of things, for thousands of questions at once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np
import numpy.typing as npt
from attrs import evolve, field, frozen

from solander.core.chronology.domains import Domain, clipped
from solander.core.chronology.possible_answers import Answers, Calendar, Stretches, answers_to
from solander.core.chronology.pushes import Days, Numbers, Pushed, Side, Ties, pushed, side_of

__all__ = ["Narrowed", "Questions", "Worlds", "answers_in", "narrowings", "worlds_of"]

Flags = npt.NDArray[np.bool_]


@frozen
class Worlds:
    """Some ways in which things may stand: `first` and `last` day of every thing, a row a world, and the holes
    (`domains`) of things by number, which all worlds share."""

    ties: Ties
    first: Days
    last: Days
    domains: Mapping[int, Domain]
    years: Calendar
    holed: Flags
    later: Side = field(repr=False)
    earlier: Side = field(repr=False)

    def repeated(self, times: int) -> Worlds:
        """The first world as many times."""
        return self.with_days(np.repeat(self.first[:1], times, axis=0), np.repeat(self.last[:1], times, axis=0))

    def with_days(self, first: Days, last: Days) -> Worlds:
        """The same ties with other first and last days."""
        later, earlier = evolve(self.later, first=first.ravel()), evolve(self.earlier, first=-last.ravel())
        return evolve(self, first=first, last=last, later=later, earlier=earlier)

    def domain(self, thing: int, world: int = 0) -> Domain:
        """The days that a thing may be of."""
        first, last = self.first[world, thing].item(), self.last[world, thing].item()
        return clipped(self.domains[thing], first, last) if thing in self.domains else [(first, last)]


@frozen
class Questions:
    """The thing that each question asks about, and the number of the world in which it is asked."""

    thing: Numbers
    world: Numbers


@frozen
class Narrowed:
    """Thing `thing` is expected to lose `days` when question `query` is answered, all on one side: at its
    beginning (`early`) or at its end."""

    query: Numbers
    thing: Numbers
    days: Days
    early: bool


def worlds_of(
    ties: Ties, ranges: Sequence[tuple[float, float]], *, domains: Mapping[int, Domain], years: Calendar
) -> Worlds:
    """The one world in which things have these ranges."""
    first, last = np.array(ranges, dtype=np.float64).reshape(-1, 2).T.copy()
    holed = np.zeros(len(ranges), dtype=np.bool_)
    holed[list(domains)] = True
    return Worlds(
        ties,
        first[np.newaxis],
        last[np.newaxis],
        domains,
        years,
        holed,
        side_of(ties, ties.least, first),
        side_of(ties, -ties.most, -last),
    )


def answers_in(worlds: Worlds, asked: Questions) -> Answers:
    """What may be answered to each question, as things stand in its world."""
    plain = np.flatnonzero(~worlds.holed[asked.thing])
    spots = asked.world[plain], asked.thing[plain]
    pieces = [
        (query, *stretch)
        for query in np.flatnonzero(worlds.holed[asked.thing]).tolist()
        for stretch in worlds.domain(int(asked.thing[query]), int(asked.world[query]))
    ]
    holed = np.array(pieces, dtype=np.float64).reshape(-1, 3)
    stretches = Stretches(
        np.concatenate([plain, holed[:, 0].astype(np.int64)]),
        np.concatenate([worlds.first[spots], holed[:, 1]]),
        np.concatenate([worlds.last[spots], holed[:, 2]]),
    )
    return answers_to(stretches, questions=len(asked.thing), years=worlds.years)


def narrowings(worlds: Worlds, asked: Questions) -> Iterator[Narrowed]:
    """The days that each thing is expected to lose, first on one side, then on the other.

    Exact where ranges have no holes; holes of other things than the one that is asked about are passed over.
    """
    answers = answers_in(worlds, asked)
    for side, heard, era in (
        (worlds.later, answers, (worlds.years.first, worlds.years.last)),
        (worlds.earlier, answers.mirrored(), (-worlds.years.last, -worlds.years.first)),
    ):
        rises = _Rises(heard, *era)
        for part in pushed(side, asked.thing, world=asked.world, top=heard.latest()):
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
