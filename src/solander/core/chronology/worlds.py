"""Ways in which things may stand in time, and what becomes of them when a question is answered."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import reduce
from math import inf

import numpy as np
from attrs import evolve, field, frozen

from solander.core.chronology.domains import Domain, clipped, common
from solander.core.chronology.possible_answers import Answers, Calendar, Stretches, answers_to
from solander.core.chronology.pushes import Days, Flags, Numbers, Side, Sources, Ties, pushed, side_of

__all__ = ["Questions", "Worlds", "answered", "answers_in", "moved", "sources_of", "worlds_of"]


@frozen
class Worlds:
    """Some ways in which things may stand: `first` and `last` day of every thing, a row a world, and the holes
    (`domains`) of things by number, which all worlds share. Answers are expected within `guessed_first` and
    `guessed_last` of the thing, whole years, as long as these leave any. An answer about a thing in `groups` is
    one about each of its members."""

    ties: Ties
    first: Days
    last: Days
    domains: Mapping[int, Domain]
    years: Calendar
    guessed_first: Days
    guessed_last: Days
    holed: Flags
    groups: Mapping[int, Sequence[int]]
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

    def members(self, thing: int) -> Sequence[int]:
        """The things that an answer about a thing is about."""
        return self.groups.get(thing, (thing,))

    def possible(self, thing: int, world: int) -> Domain:
        """The days that an answer about a thing may speak of: those that all it is about may be of."""
        return reduce(common, (self.domain(member, world) for member in self.members(thing)))


@frozen
class Questions:
    """The thing that each question asks about, and the number of the world in which it is asked."""

    thing: Numbers
    world: Numbers


def worlds_of(
    ties: Ties,
    ranges: Sequence[tuple[float, float]],
    *,
    domains: Mapping[int, Domain],
    groups: Mapping[int, Sequence[int]],
    years: Calendar,
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
        np.full(len(ranges), -inf),
        np.full(len(ranges), inf),
        holed,
        groups,
        side_of(ties, ties.least, first),
        side_of(ties, -ties.most, -last),
    )


def answers_in(worlds: Worlds, asked: Questions) -> Answers:
    """What may be answered to each question, as things stand in its world."""
    possible = _stretches(worlds, asked)
    thing = asked.thing[possible.question]
    first = np.maximum(possible.first, worlds.guessed_first[thing])
    last = np.minimum(possible.last, worlds.guessed_last[thing])
    expected = first <= last
    some = np.bincount(possible.question, expected, minlength=len(asked.thing)) > 0
    kept = expected | ~some[possible.question]
    stretches = Stretches(
        possible.question[kept],
        np.where(expected, first, possible.first)[kept],
        np.where(expected, last, possible.last)[kept],
    )
    answers = answers_to(stretches, questions=len(asked.thing), years=worlds.years)
    return answers.in_whole_years(_are_groups(worlds, asked), worlds.years) if worlds.groups else answers


def sources_of(worlds: Worlds, asked: Questions) -> Sources:
    """The things that an answer to each question moves itself."""
    grouped = _are_groups(worlds, asked)
    plain = np.flatnonzero(~grouped)
    pairs = [
        (query, member)
        for query in np.flatnonzero(grouped).tolist()
        for member in worlds.members(int(asked.thing[query]))
    ]
    members = np.array(pairs, dtype=np.int64).reshape(-1, 2)
    query = np.concatenate([plain, members[:, 0]])
    order = np.argsort(query, kind="stable")
    return Sources(query[order], np.concatenate([asked.thing[plain], members[:, 1]])[order])


def _are_groups(worlds: Worlds, asked: Questions) -> Flags:
    return np.isin(asked.thing, list(worlds.groups))


def _stretches(worlds: Worlds, asked: Questions) -> Stretches:
    apart = worlds.holed[asked.thing] | _are_groups(worlds, asked)
    plain = np.flatnonzero(~apart)
    spots = asked.world[plain], asked.thing[plain]
    pieces = [
        (query, *stretch)
        for query in np.flatnonzero(apart).tolist()
        for stretch in worlds.possible(int(asked.thing[query]), int(asked.world[query]))
    ]
    listed = np.array(pieces, dtype=np.float64).reshape(-1, 3)
    return Stretches(
        np.concatenate([plain, listed[:, 0].astype(np.int64)]),
        np.concatenate([worlds.first[spots], listed[:, 1]]),
        np.concatenate([worlds.last[spots], listed[:, 2]]),
    )


def answered(worlds: Worlds, thing: int, turn: int) -> Worlds:
    """The worlds after a thing became known, in each otherwise: each takes one of the equal parts of what may be
    answered in it, the parts dealt anew at each turn so that answers don't rise and fall together."""
    count = len(worlds.first)
    step = turn % (count - 1) + 1
    asked = Questions(np.full(count, thing), np.arange(count))
    answers = answers_in(worlds, asked)
    ends = np.array([_picked(answers, world, (world * step % count + 0.5) / count) for world in range(count)])
    sources = sources_of(worlds, asked)
    after = _kept_to(worlds, sources, world=asked.world, first=ends[:, 0], last=ends[:, 1])
    return _out_of_holes(worlds, after)


def _out_of_holes(before: Worlds, after: Worlds) -> Worlds:
    """The worlds with no end of a range in a hole: an answer leaves a whole year, of which a summer is possible.

    Else the days up to the next summer would seem to be left for another question to take off.
    """
    while True:
        changed = (before.first != after.first) | (before.last != after.last)
        world, thing = np.nonzero(changed & after.holed)
        left = [after.domain(x, w) for w, x in zip(world.tolist(), thing.tolist(), strict=True)]
        ends = np.array([(days[0][0], days[-1][1]) if days else (-inf, inf) for days in left]).reshape(-1, 2)
        loose = (ends[:, 0] > after.first[world, thing]) | (ends[:, 1] < after.last[world, thing])
        if not loose.any():
            return after
        sources, (first, last) = Sources(np.arange(loose.sum()), thing[loose]), ends[loose].T
        before, after = after, _kept_to(after, sources, world=world[loose], first=first, last=last)


def _picked(answers: Answers, question: int, part: float) -> tuple[float, float]:
    """The answer to a question up to which this part of all lies; all days where there is none."""
    start, end = answers.starts[question], answers.starts[question + 1]
    if start == end:
        return -inf, inf
    at = min(start + np.searchsorted(np.cumsum(answers.share[start:end]), part), end - 1)
    return float(answers.first[at]), float(answers.last[at])


def _kept_to(worlds: Worlds, sources: Sources, *, world: Numbers, first: Days, last: Days) -> Worlds:
    """The worlds after the sources of each query keep to its days, `first` to `last`, in its `world`."""
    return worlds.with_days(
        _raised(worlds.later, sources, world=world, top=first).reshape(worlds.first.shape),
        -_raised(worlds.earlier, sources, world=world, top=-last).reshape(worlds.first.shape),
    )


def _raised(side: Side, sources: Sources, *, world: Numbers, top: Days) -> Days:
    """The first days of all things after the sources of each query rose to its `top`."""
    first, things = side.first.copy(), len(side.starts) - 1
    for part in pushed(side, sources, world=world, top=top):
        np.maximum.at(first, world[part.query] * things + part.thing, top[part.query] + part.push)
    return first


def moved(before: Worlds, after: Worlds) -> Flags:
    """Which things have another range in some world."""
    changed: Flags = ((before.first != after.first) | (before.last != after.last)).any(axis=0)
    return changed
