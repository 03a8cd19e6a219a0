"""The most useful next questions: whose date, if somebody knew it, would narrow most.

The gain of a question is the number of days that the ranges of all counted things (the exposures of prints) are
expected to lose when the year of one thing becomes known, its own range included. Expected means over all years
that are possible for it (see `possible_answers`); ranges are counted from their first to their last day, holes
included, as a ruler shows them, and inside an era, at whose ends open sides are cut off.

Without holes the gains are exact. With holes they are estimates that pass over the holes of neighbours; the
questions that promise most are then worked out exactly (`trial`). Months said of a thing whose range is open to
one side are passed over as well. Every question is looked at, so that without holes the first is proven the best
(but for evenness, see `_EVENNESS`), as long as that is a second's work; else samples lead to the best.

The five best would often be five neighbours. So each further question is chosen for what it adds when those
before have been answered (greedily), on average over some worlds, in each of which they were answered otherwise.
Questions are taken to gain nothing by the answers to others, which is not proven. On 121 random networks of four
and five things the first two together gained as much as the best pair in the median, 95 % of it at the 5th
percentile, 91 % at least; what they were said to add was right within 4 %. With holes, on 448 networks of up to
seven things, what the second was said to add was the truth in the median and up to 24 % above it at the 95th
percentile; once it added nothing. The ends of ranges keep out of holes in those worlds, but a hole is not cut
deeper by its neighbours' holes.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from math import inf

import numpy as np
from attrs import evolve, frozen

from solander.core.chronology.constraints import Statement
from solander.core.chronology.domains import Domain
from solander.core.chronology.expected import narrowings
from solander.core.chronology.network import Solution
from solander.core.chronology.possible_answers import calendar_of
from solander.core.chronology.pushes import Days, Flags, Numbers, ties_of
from solander.core.chronology.trial import Trial
from solander.core.chronology.worlds import Questions, Worlds, answered, answers_in, moved, worlds_of
from solander.core.days import from_day
from solander.core.errors import InvalidValue

__all__ = ["Asked", "best_questions"]

_YEAR = 365.2425

_LEAST_DAYS = 30
"""What an answer takes less off than a month is not worth a relative's time, and not told as narrowed (our
choice)."""

_WORLDS = 5
"""Answers that are imagined to each chosen question before the next is chosen: its fifths, by their middles."""

_LOOKED_AT = 64
"""So many questions are looked at together when the next one is chosen."""

_EVENNESS = 0.02
"""Of nearly equal questions the one is chosen that narrows at both ends alike, for its gain hangs least on the
answer: the middle of an undated album, not its first page. It counts up to a hundredth more."""

_STRIDES = (256, 64, 16, 4, 1)
_MOST_TOUCHED = 2_000_000
"""Every question is looked at when all of them touch no more things than this together, about a second's work;
else every 4th, 16th, 64th or 256th in the order of `askable`, and the most promising between them."""

_TOGETHER = 2_000
"""So many questions are looked at together at first, to keep memory small."""

_FINALISTS = 24
"""So many of the most promising questions are worked out exactly where ranges have holes."""


@frozen
class Asked:
    """A thing worth asking about, and what knowing its year is expected to bring.

    `gain_years` is taken off the ranges of all counted things together, `own_years` off the thing's own range;
    `added_years` is the gain when the questions before have been answered already. `narrowed` are the other
    counted things that are expected to lose a month or more, those that lose most first, `prints` the number of
    all counted things that do, the thing itself included; `days` are the first and the last day of its range, None
    where that side is open.
    """

    thing: str
    gain_years: float
    added_years: float
    own_years: float
    narrowed: tuple[str, ...]
    prints: int
    days: tuple[int | None, int | None]

    @property
    def years(self) -> tuple[int | None, int | None]:
        """The first and the last year that the answer may be, None where that side is open."""
        first, last = self.days
        return None if first is None else from_day(first)[0], None if last is None else from_day(last)[0]

    @property
    def others(self) -> int:
        """How many other things it would narrow."""
        return len(self.narrowed)


def best_questions(
    solution: Solution,
    statements: Sequence[Statement],
    *,
    askable: Sequence[str],
    counted: Collection[str],
    era: tuple[int, int],
    count: int = 5,
    groups: Mapping[str, Sequence[str]] | None = None,
    weights: Mapping[str, float] | None = None,
    guesses: Mapping[str, tuple[int, int]] | None = None,
) -> list[Asked]:
    """The `count` most useful questions, the best first; fewer when there is not so much to ask.

    Parameters
    ----------
    solution, statements
        The tightest ranges, and all statements that they follow from.
    askable
        The things that people can be asked about: prints, occasions. Of equal ones the first is chosen.
    counted
        The things whose narrowing counts: the exposures of all prints.
    era
        Days between which open sides are cut off, widened to whole years: from the oldest that pictures can
        be to today, say.
    groups
        Things whose year is said of others, one or more: an occasion's of all its prints. A year is possible for
        it only when it is for each of them.
    weights
        How likely it is that somebody knows, as a factor to the gain that only the choice sees; 1 for things
        that are not in it.
    guesses
        First and last day of the best guess for things: answers are expected in these years only, where any of
        them is possible. Without, and for all other things, every possible day counts alike.

    Raises
    ------
    InvalidValue
        When a thing is not in the solution, or the era ends before it begins.
    """
    _check(solution, [*askable, *counted, *(x for members in (groups or {}).values() for x in members)], era)
    search = _Search(solution, statements, askable=askable, counted=counted, groups=groups or {}, era=era)
    search.expect(guesses or {})
    at = np.array([search.places[thing] for thing in askable], dtype=np.int64)
    likely = np.array([(weights or {}).get(thing, 1.0) for thing in askable])
    return [search.told(int(at[pick]), added) for pick, added in search.chosen(at, likely, count=count)]


def _check(solution: Solution, things: Iterable[str], era: tuple[int, int]) -> None:
    if era[0] > era[1]:
        raise InvalidValue("The era ends before it begins", todo="Put the earlier day first")
    for thing in things:
        if thing not in solution.ranges:
            raise InvalidValue(f"There is no thing “{thing}” in this chronology")


class _Board:
    """What is known of each question: `days` that its answer takes off, how `even` that is on both sides (0 to
    1/2), the factor that neighbours' holes add (`holes`), how `likely` somebody knows; `looked` marks those
    whose days were worked out, the others' are estimates."""

    def __init__(self, at: Numbers, likely: Days) -> None:
        self.at, self.likely = at, likely.copy()
        self.days, self.even, self.holes = np.zeros(len(at)), np.zeros(len(at)), np.ones(len(at))
        self.by_holes, self.looked = np.zeros(len(at), np.bool_), np.zeros(len(at), np.bool_)

    def score(self) -> Days:
        """What the choice goes by, rounded so that sums in another order don't decide."""
        score: Days = np.round(self.days * self.holes * self.likely * (1 + _EVENNESS * self.even), 3)
        return score

    def estimate(self, places: Numbers, known: Numbers) -> None:
        """Takes the gains at `places` to be those at the nearest of the `known` places; both in order."""
        nearest = known[np.searchsorted((known[1:] + known[:-1]) / 2, places)]
        self.days[places], self.even[places] = self.days[nearest], self.even[nearest]


class _Search:
    """One search for the best questions in one network."""

    def __init__(
        self,
        solution: Solution,
        statements: Sequence[Statement],
        *,
        askable: Sequence[str],
        counted: Collection[str],
        groups: Mapping[str, Sequence[str]],
        era: tuple[int, int],
    ) -> None:
        self.things = tuple(solution.ranges)
        self.places = {thing: place for place, thing in enumerate(self.things)}
        self.counts = self._flags(counted)
        ties = ties_of(statements, self.places, self.counts | self._flags(askable))
        self.worlds = worlds_of(
            ties,
            [(-inf if a is None else a, inf if b is None else b) for a, b in solution.ranges.values()],
            domains={self.places[thing]: list(pieces) for thing, pieces in solution.pieces.items()},
            groups={self.places[each]: [self.places[x] for x in dict.fromkeys(groups[each])] for each in groups},
            years=calendar_of(*era),
        )
        self.trial = Trial(ties, self.worlds.domain)

    def expect(self, guesses: Mapping[str, tuple[int, int]]) -> None:
        """Expects answers within the years of these days."""
        if not guesses:
            return
        first, last = self.worlds.guessed_first.copy(), self.worlds.guessed_last.copy()
        places = [self.places[thing] for thing in guesses]
        ends = np.array(list(guesses.values()), dtype=np.float64)
        first[places], last[places] = self.worlds.years.whole_years(ends[:, 0], ends[:, 1])
        self.worlds = evolve(self.worlds, guessed_first=first, guessed_last=last)
        self.trial = Trial(self.worlds.ties, self.worlds.domain)

    def _flags(self, things: Collection[str]) -> Flags:
        flags = np.zeros(len(self.things), dtype=np.bool_)
        flags[[self.places[thing] for thing in things]] = True
        return flags

    def chosen(self, at: Numbers, likely: Days, *, count: int) -> Iterator[tuple[int, float]]:
        """The places of the best questions in `at`, each with the days that it adds to those before it."""
        board, worlds = _Board(at, likely), self.worlds
        self._first_look(board)
        self._correct(board)
        for turn in range(min(count, len(at))):
            pick = self._best(worlds, board)
            added = board.days[pick] * board.holes[pick]
            if board.likely[pick] <= 0 or added < _LEAST_DAYS:
                return
            yield pick, float(added)
            board.likely[pick] = 0
            before = worlds if turn else worlds.repeated(_WORLDS)
            worlds = answered(before, int(at[pick]), turn)
            self._look_again(worlds, board, moved(before, worlds)[at])

    def _first_look(self, board: _Board) -> None:
        """Looks at every question; where that is too much, at some, and takes the others to be like these."""
        touched, every = 0, np.arange(len(board.at))
        for stride in _STRIDES:
            wanted = every[::stride]
            if touched / max(1, board.looked.sum()) * len(wanted) > _MOST_TOUCHED:
                break
            touched += self._look(self.worlds, board, wanted[~board.looked[wanted]])
        board.estimate(every[~board.looked], every[board.looked])

    def _look_again(self, worlds: Worlds, board: _Board, about_moved: Flags) -> None:
        """Forgets what was known in other worlds, and looks at some questions about things that have moved."""
        places = np.flatnonzero(about_moved & (board.likely > 0))
        board.looked[:] = False
        if len(places):
            some = places[:: -(-len(places) // _LOOKED_AT)]
            self._look(worlds, board, some)
            board.estimate(places[~board.looked[places]], some)

    def _look(self, worlds: Worlds, board: _Board, places: Numbers) -> int:
        """Works out the questions at `places`, on average over the worlds; gives how many things they touch."""
        together, touched = _TOGETHER // len(worlds.first), 0
        for start in range(0, len(places), together):
            touched += self._look_at_few(worlds, board, places[start : start + together])
        return touched

    def _look_at_few(self, worlds: Worlds, board: _Board, places: Numbers) -> int:
        count = len(worlds.first)
        asked = Questions(np.repeat(board.at[places], count), np.tile(np.arange(count), len(places)))
        row = np.repeat(np.arange(len(places)), count)
        early, late, holes, touched = *np.zeros((3, len(places))), 0
        for part in narrowings(worlds, asked):
            lost = np.bincount(row[part.query], part.days * self.counts[part.thing], minlength=len(places))
            holes += np.bincount(row[part.query], worlds.holed[part.thing], minlength=len(places))
            touched += len(part.query)
            if part.early:
                early += lost
            else:
                late += lost
        board.days[places] = (early + late) / count
        board.even[places] = np.minimum(early, late) / np.maximum(early + late, 1)
        board.by_holes[places], board.looked[places] = holes > 0, True
        return touched

    def _correct(self, board: _Board) -> None:
        """Works out the most promising questions with the holes of neighbours, where they play a part."""
        for place in np.argsort(-board.score(), kind="stable")[:_FINALISTS]:
            if board.looked[place] and board.by_holes[place] and board.days[place] > 0:
                lost = self._tried(int(board.at[place]))
                board.holes[place] = sum(lost[x] for x in lost if self.counts[x]) / board.days[place]

    def _best(self, worlds: Worlds, board: _Board) -> int:
        """The place of the best question in these worlds: looks until one that was looked at leads."""
        while True:
            leading = np.argsort(-board.score(), kind="stable")[:_LOOKED_AT]
            if board.looked[leading[0]] or not board.likely[leading[0]]:
                return int(leading[0])
            self._look(worlds, board, np.sort(leading[~board.looked[leading]]))

    def told(self, thing: int, added: float) -> Asked:
        """The question about a thing with all that its answer is expected to bring."""
        lost = self._lost(thing)
        prints = [x for x, days in lost.items() if self.counts[x] and days >= _LEAST_DAYS]
        return Asked(
            self.things[thing],
            sum(days for x, days in lost.items() if self.counts[x]) / _YEAR,
            added / _YEAR,
            lost.get(thing, 0.0) / _YEAR,
            tuple(self.things[x] for x in sorted(prints, key=lambda x: (-round(lost[x], 3), x)) if x != thing),
            len(prints),
            (_day(self.worlds.first[0, thing]), _day(self.worlds.last[0, thing])),
        )

    def _lost(self, thing: int) -> dict[int, float]:
        """The days that each thing is expected to lose when one is known."""
        lost: dict[int, float] = defaultdict(float)
        for part in narrowings(self.worlds, _about(thing)):
            for x, days in zip(part.thing.tolist(), part.days.tolist(), strict=True):
                lost[x] += days
        return self._tried(thing) if self.worlds.holed[list(lost)].any() else lost

    def _tried(self, thing: int) -> dict[int, float]:
        """The same worked out answer by answer, holes included; answers that can't be are left out."""
        answers = answers_in(self.worlds, _about(thing))
        lost: dict[int, float] = defaultdict(float)
        possible = 0.0
        for first, last, share in zip(answers.first, answers.last, answers.share, strict=True):
            changed = self.trial.changed(self.worlds.members(thing), [(float(first), float(last))])
            if changed is None:
                continue
            possible += float(share)
            for x, left in changed.items():
                lost[x] += float(share) * (self._length(self.worlds.domain(x)) - self._length(left))
        return {x: days / possible for x, days in lost.items()}

    def _length(self, days: Domain) -> float:
        """Days from the first to the last within the era."""
        first, last = np.clip((days[0][0], days[-1][1]), self.worlds.years.first, self.worlds.years.last)
        return float(last - first)


def _day(bound: float) -> int | None:
    return None if np.isinf(bound) else int(bound)


def _about(thing: int) -> Questions:
    return Questions(np.array([thing]), np.array([0]))
