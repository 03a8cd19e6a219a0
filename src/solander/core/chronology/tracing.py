"""Reasons for bounds that were found in bulk: the way back over ties that hand on just their day."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Sequence
from functools import cached_property

import numpy as np
from attrs import evolve, field, frozen

from solander.core.chronology.bulk import Bulk
from solander.core.chronology.constraints import Statement
from solander.core.chronology.contradictions import state_of, things_of
from solander.core.chronology.rounds import NOTHING, Graph, Ranges, Whole
from solander.core.chronology.solution import Chain, Written

__all__ = ["Traced"]


@frozen(eq=False)
class Traced:
    """Grounds of a solution in bulk. `holed` are the things with holes: what makes a bound of theirs is found by
    solving their neighbourhood alone, as large as it takes to make the same bound."""

    bulk: Bulk
    ranges: Ranges
    holed: frozenset[int] = frozenset()
    cores: dict[tuple[str, int], list[Statement]] = field(factory=dict)

    def chain(self, thing: str, side: int) -> Chain | None:
        x = self.bulk.places[thing]
        days = -self.ranges.last if side else self.ranges.first
        if days[x] == NOTHING:
            return None
        ties, end = self._tight_path(x, days, side)
        path = tuple(self._differences(ties))
        if end not in self.holed:
            return Chain(path, self._things[end], (self._bound_on(end, side, int(days[end])),), False)
        chain = self._near(end, side)
        return evolve(chain, ties=(*path, *chain.ties))

    @cached_property
    def _things(self) -> Sequence[str]:
        return tuple(self.bulk.places)

    def _tight_path(self, x: int, days: Whole, side: int) -> tuple[list[int], int]:
        """The fewest ties from a thing to one with holes or with its day by itself, each handing on its day."""
        into, alone = self._into(side), self.ranges.alone[side]
        came: dict[int, tuple[int, int] | None] = {x: None}
        waiting = deque([x])
        while days[y := waiting.popleft()] != alone[y] and y not in self.holed:
            for tie in into.out_of_one(y):
                z = int(into.target[tie])
                if z not in came and days[z] > NOTHING and days[z] + into.days[tie] == days[y]:
                    came[z] = (y, tie)
                    waiting.append(z)
        end, path = y, []
        while (step := came[y]) is not None:
            y, tie = step
            path.append(tie)
        return path[::-1], end

    def _into(self, side: int) -> Graph:
        return self.ranges.graph if side else self.ranges.graph.turned

    def _differences(self, ties: Sequence[int]) -> list[Statement]:
        rows = self.ranges.difference[np.array(ties, dtype=np.int64)]
        return [self.bulk.statements[number] for number in self.bulk.difference_numbers[rows].tolist()]

    def _bound_on(self, x: int, side: int, day: int) -> Statement:
        bounds = self.bulk.bounds
        days = -bounds.latest if side else bounds.earliest
        number = int(self.bulk.bound_numbers[(bounds.thing == x) & (days == day)][0])
        return self.bulk.statements[number]

    # -- near a thing with holes -----------------------------------------------------------------------------

    def _near(self, x: int, side: int) -> Chain:
        goal = (self.ranges.last if side else self.ranges.first)[x]
        for statements in self._around(x):
            names = dict.fromkeys(name for said in statements for name in things_of(said))
            places = {name: place for place, name in enumerate(names)}
            state = state_of(statements, places)
            assert state is not None, "some of statements that agree contradict each other"
            place = places[self._things[x]]
            if (state.last if side else state.first)[place] == goal:
                chain = Written(places, statements, (state.first_why, state.last_why)).chain(self._things[x], side)
                assert chain is not None, "a bound without a cause"
                return chain
        raise AssertionError("all statements that a thing hangs on do not make its bound")

    def _around(self, x: int) -> Iterator[list[Statement]]:
        """All statements about the things within 4, 8, 16 … ties of a thing, until there are no more."""
        reached, edge, steps, most = {x}, {x}, 0, 4
        while edge:
            while edge and steps < most:
                edge = {z for y in edge for z in self._tied_to(y)} - reached
                reached |= edge
                steps += 1
            yield self._about(reached)
            most *= 2

    def _tied_to(self, x: int) -> Iterator[int]:
        for side in (0, 1):
            graph = self._into(side)
            yield from (int(graph.target[tie]) for tie in graph.out_of_one(x))

    def _about(self, things: set[int]) -> list[Statement]:
        into = self.ranges.graph
        ties = [tie for x in things for tie in into.out_of_one(x) if int(into.target[tie]) in things]
        own = (said for x in things for said in self.bulk.own.get(x, ()))
        return [*own, *dict.fromkeys(self._differences(ties))]
