"""A grammar drawn as a network: arcs of words between numbered states."""

from __future__ import annotations

from collections.abc import Sequence

from attrs import define, field

from solander.reading.speech.grammar import Any, Loop, Maybe, Row, Rule, Turns, Word

__all__ = ["Drawing"]


@define
class Drawing:
    """`arcs` are words from one state to another, `empty` arcs without a word; it begins in state 0 and ends in
    1."""

    arcs: list[tuple[int, int, Word]] = field(factory=list)
    empty: list[tuple[int, int]] = field(factory=list)
    states: int = 2

    @classmethod
    def of(cls, rule: Rule) -> Drawing:
        """The network of a rule."""
        drawing = cls()
        drawing._draw(rule, 0, 1)
        return drawing

    def reached_from(self) -> Sequence[Sequence[int]]:
        """For each state those from which empty arcs lead to it, itself first."""
        into: list[list[int]] = [[] for _ in range(self.states)]
        for source, target in self.empty:
            into[target].append(source)
        return [_all_before(state, into) for state in range(self.states)]

    def _state(self) -> int:
        self.states += 1
        return self.states - 1

    def _draw(self, rule: Rule, start: int, end: int) -> None:
        match rule:
            case Word():
                self.arcs.append((start, end, rule))
            case Row(rules):
                middles = [self._state() for _ in rules[1:]]
                for each, begins, ends in zip(rules, [start, *middles], [*middles, end], strict=True):
                    self._draw(each, begins, ends)
            case Any(rules):
                for each in rules:
                    self._draw(each, start, end)
            case Maybe(inner):
                self._draw(inner, start, end)
                self.empty.append((start, end))
            case Loop(inner, between):
                first, last = self._state(), self._state()
                self.empty += [(start, first), (last, end)]
                self._draw(inner, first, last)
                self._draw(between, last, first)
            case Turns(rules, between, again):
                self._draw_turns(rules, between, again, (start, end))

    def _draw_turns(self, rules: Sequence[Rule], between: Rule, again: Rule, ends: tuple[int, int]) -> None:
        begins, after = [self._state() for _ in rules], [self._state() for _ in rules]
        anew = self._state()
        self.empty += [(each, begun) for begun in begins for each in (ends[0], anew)]
        for place, rule in enumerate(rules):
            self._draw(rule, begins[place], after[place])
            self.empty.append((after[place], ends[1]))
            self._draw(again, after[place], anew)
            self._draw(between, after[place], then := self._state())
            self.empty += [(then, begun) for other, begun in enumerate(begins) if other != place]


def _all_before(state: int, into: Sequence[Sequence[int]]) -> list[int]:
    found, waiting = [state], [state]
    while waiting:
        for source in into[waiting.pop()]:
            if source not in found:
                found.append(source)
                waiting.append(source)
    return found
