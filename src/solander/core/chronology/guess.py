"""The best guess for every thing within what is possible, and the range that holds it nine times in ten.

What is possible comes from the solver and is never left. Within it, a thing in an album or roll is drawn to its
neighbours: the gaps between prints are alike within a chain, mostly short, now and then long, and which kind of
gap a chain has is read off its own dates. Soft evidence counts as a weight for each day. A chain is worked out
by itself: what ties it to other chains is heard through the solver's ranges and stretches only, so that a new
date elsewhere changes nothing here unless it changes what is possible here.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from math import ceil, log, log2

import numpy as np
from attrs import evolve, field, frozen, validators

from solander.core.chronology.cells import Cells, Days, Weighing, allowed_shares, cells_between, day_at
from solander.core.chronology.kernels import BELIEF, BLOCK, Array
from solander.core.chronology.passes import Batch, chances_of, fits_of
from solander.core.chronology.solution import Solution
from solander.core.errors import InvalidValue

__all__ = ["Chain", "Guess", "Weight", "best_guesses"]

_YEAR = 365.2425
_CENTURY = round(100 * _YEAR)
_LEAST_FLOOR = 1e-6

_TAIL = 10 * _YEAR
"""Mean days by which a thing lies beyond the one bound that is known (our choice, no source)."""

_LOOSE_REACH, _LONGEST_REACH = round(60 * _YEAR), round(40 * _YEAR)
"""How far an open side is followed: beyond one bound alone, and at most beyond the dated links of a chain."""

_SHORTEST_REACH = {True: round(5 * _YEAR), False: round(10 * _YEAR)}
"""At least so far, in a known order and in none: boxes reach farther beyond their dated prints than albums
(benchmarks/best_guess.py, seeds 1000–1013: 5 years hold 88 % of the truths of boxes, 10 years 89.5 %)."""

_MOST_NUMBERS = 8_000_000
"""Chances that a batch holds at once: 64 MB."""

_SHARES = (0.05, 0.5, 0.95)


@frozen
class Weight:
    """Soft evidence for a thing: full weight on the days `peak_from` … `peak_to`, falling in straight lines to
    a floor outside `earliest` … `latest`; days are ordinals, None leaves that side open at full weight.

    `trust` is the share of such evidence that is right: were all days of a century alike beforehand, the floor
    leaves 1 − `trust` of the chances outside. It is never quite 0, so that other evidence can overrule it.

    Raises
    ------
    InvalidValue
        When its days are out of order, both sides are open, or the trust is not above 0 and at most 1.
    """

    thing: str
    earliest: int | None
    peak_from: int | None
    peak_to: int | None
    latest: int | None
    trust: float

    def __attrs_post_init__(self) -> None:
        days = [day for day in self._corners() if day is not None]
        if not 0 < self.trust <= 1:
            raise InvalidValue(f"The trust in evidence for {self.thing} is {self.trust}", todo="Give 0 to 1")
        if self.earliest is None and self.latest is None:
            raise InvalidValue(f"Soft evidence for {self.thing} says nothing", "both its sides are open")
        if days != sorted(days):
            raise InvalidValue(f"Soft evidence for {self.thing} cannot be true", "its days are out of order")

    def _corners(self) -> tuple[int | None, int | None, int | None, int | None]:
        rises = None if self.earliest is None else self.earliest if self.peak_from is None else self.peak_from
        falls = None if self.latest is None else self.latest if self.peak_to is None else self.peak_to
        return self.earliest, rises, falls, self.latest

    @property
    def bounds(self) -> list[int]:
        """Its known outer bounds, one or two."""
        return [day for day in (self.earliest, self.latest) if day is not None]

    def weighing(self) -> Weighing:
        """The weight of any day."""
        earliest, rises, falls, latest = self._corners()
        corners: list[tuple[float, float]] = []
        if earliest is not None and rises is not None:
            corners += [(earliest - 1, self._floor), (rises, 1.0)]
        if latest is not None and falls is not None:
            corners += [(falls + 0.5, 1.0), (latest + 1, self._floor)]
        return Weighing(*zip(*corners, strict=True))

    @property
    def _floor(self) -> float:
        earliest, rises, falls, latest = self._corners()
        area = _CENTURY / 2
        if earliest is not None and rises is not None and falls is not None and latest is not None:
            area = (latest - earliest + 2 + falls - rises) / 2
        floor = (1 - self.trust) / self.trust * area / _CENTURY
        return min(max(floor, _LEAST_FLOOR), 1.0)


@frozen
class Chain:
    """The things of one container, album or roll in their sequence; `ordered[i]` speaks of the things i and
    i + 1: True when i + 1 is known not to come before i, False when they are only neighbours.

    Raises
    ------
    InvalidValue
        When there is not one `ordered` for each two neighbours.
    """

    things: tuple[str, ...] = field(validator=validators.min_len(1))
    ordered: tuple[bool, ...]

    def __attrs_post_init__(self) -> None:
        if len(self.ordered) != len(self.things) - 1:
            raise InvalidValue(f"A chain of {len(self.things)} things has {len(self.ordered)} gaps told")


@frozen
class Guess:
    """The best day, and the `first` and `last` day of the range that holds the truth nine times in ten."""

    day: int
    first: int
    last: int


def best_guesses(
    solution: Solution,
    chains: Iterable[Chain],
    *,
    weights: Iterable[Weight] = (),
    things: Iterable[str] | None = None,
) -> dict[str, Guess]:
    """A guess for each of `things` (all of the solution without) about which anything is known.

    `day` is the median of what is possible, weighed by the evidence, so that its error in days is the least to
    be expected; `first` and `last` leave a twentieth of the chances on either side. All three are days that
    the solver allows. Along a chain none of them comes before that of a thing known to be earlier.

    A chain is worked out in days when it lies within 512 days, in weeks within ten years, else in
    months; within a cell of time the chances are spread over the days that are allowed. A thing in no chain
    may lie anywhere in its own range alike. Beyond a single known bound the chances fall by half every seven
    years. A thing in a chain without any date, bound or weight, or alone without, has no guess.

    A chain whose known order does not fit what the solver allows (because a statement of that order was left
    out) is taken as one of mere neighbours.

    Raises
    ------
    InvalidValue
        When a chain or weight names an unknown thing, or a thing is in two chains.
    """
    links = _links(solution, weights)
    linked = {thing: chain for thing, chain in _checked(chains, links).items() if len(chain.things) > 1}
    wanted = links.keys() if things is None else dict.fromkeys(things)
    alone = [thing for thing in wanted if thing not in linked]
    whole = [*dict.fromkeys(linked.values()), *(Chain((thing,), ()) for thing in alone if links[thing].weights)]
    found = _worked_out(whole, links)
    for thing in alone:
        if not links[thing].weights and (guess := _guess_alone(links[thing])) is not None:
            found[thing] = guess
    return {thing: found[thing] for thing in wanted if thing in found}


@frozen
class _Link:
    """What is known of a thing by itself."""

    first: int | None
    last: int | None
    pieces: tuple[tuple[int, int], ...] | None
    weights: tuple[Weight, ...]

    @property
    def bounds(self) -> list[int]:
        hard = [day for day in (self.first, self.last) if day is not None]
        return [*hard, *(day for weight in self.weights for day in weight.bounds)]

    @property
    def is_one_day(self) -> bool:
        return self.first is not None and self.first == self.last

    @property
    def is_dated(self) -> bool:
        """Whether something is known on both sides."""
        after = self.first is not None or any(weight.earliest is not None for weight in self.weights)
        before = self.last is not None or any(weight.latest is not None for weight in self.weights)
        return after and before


def _links(solution: Solution, weights: Iterable[Weight]) -> dict[str, _Link]:
    said = defaultdict(list)
    for weight in weights:
        if weight.thing not in solution.ranges:
            raise InvalidValue(f"Soft evidence speaks of “{weight.thing}”", "there is no such thing")
        said[weight.thing].append(weight)
    return {
        thing: _Link(first, last, solution.pieces.get(thing), tuple(said.get(thing, ())))
        for thing, (first, last) in solution.ranges.items()
    }


def _checked(chains: Iterable[Chain], links: Mapping[str, _Link]) -> dict[str, Chain]:
    """The chain of each thing."""
    found: dict[str, Chain] = {}
    for chain in chains:
        for thing in chain.things:
            if thing not in links:
                raise InvalidValue(f"A chain names “{thing}”", "there is no such thing")
            if thing in found:
                raise InvalidValue(f"“{thing}” is in a chain twice", todo="Put it into one chain only")
            found[thing] = chain
    return found


# -- one thing alone -----------------------------------------------------------------------------------------


def _guess_alone(link: _Link) -> Guess | None:
    first, last = link.first, link.last
    if first is not None and last is not None:
        stretches = link.pieces or ((first, last),)
        early, middle, late = (_day_of_share(stretches, share) for share in _SHARES)
        return Guess(middle, early, late)
    near, middle_way, far = (int(-_TAIL * log(1 - share)) for share in _SHARES)
    if first is not None:
        return Guess(first + middle_way, first + near, first + far)
    if last is not None:
        return Guess(last - middle_way, last - far, last - near)
    return None


def _day_of_share(stretches: Sequence[tuple[int, int]], share: float) -> int:
    left = ceil(share * sum(last - first + 1 for first, last in stretches))
    for first, last in stretches:
        if left <= last - first + 1:
            return first + max(left, 1) - 1
        left -= last - first + 1
    return stretches[-1][1]


# -- chains --------------------------------------------------------------------------------------------------


@frozen(eq=False)
class _Task:
    """A chain, or a part of one, with the cells of time that it is worked out in.

    `whole` is the place of its chain among all: the parts of a chain have the same kind of gap.
    """

    whole: int
    chain: Chain
    days: list[Days]
    cells: Cells
    tails: tuple[int, int] | None
    """Where chances begin to fall, when no link is dated on both sides."""

    @property
    def kind(self) -> tuple[object, ...]:
        """What chains of one batch share; the number of cells only roughly."""
        return set(self.chain.ordered) == {True}, self.cells.days, ceil(4 * log2(len(self.cells.lengths) + BLOCK))


def _tasks(whole: int, chain: Chain, links: Mapping[str, _Link]) -> list[_Task]:
    """The parts of a chain; none when nothing is known of any link."""
    known = [links[thing] for thing in chain.things]
    if not any(link.bounds for link in known):
        return []
    beyond = _open_reaches(known, all(chain.ordered))
    return [
        _task(
            Chain(chain.things[start : end + 1], chain.ordered[start:end]),
            known[start : end + 1],
            beyond=beyond,
            whole=whole,
        )
        for start, end in _parts(chain, known)
    ]


def _parts(chain: Chain, links: Sequence[_Link]) -> Iterable[tuple[int, int]]:
    """The first and last places of the parts that a chain falls into, neighbouring parts sharing a link.

    A link known to the day tells those before it all that those after it know. It ends a part that is in known
    order up to the next such link, or to the end, for that part is worked out more finely for being shorter.
    """
    last = len(links) - 1
    known = [0, *(place for place in range(1, last) if links[place].is_one_day), last]
    cuts = {at for part in pairwise(known) if all(chain.ordered[slice(*part)]) for at in part}
    return pairwise(sorted({0, *cuts, last})) if last else [(0, 0)]


def _task(chain: Chain, links: Sequence[_Link], *, beyond: tuple[int, int], whole: int) -> _Task:
    bounds = [day for link in links for day in link.bounds]
    firsts = [min(bounds) - beyond[0] if link.first is None else link.first for link in links]
    lasts = [max(bounds) + beyond[1] if link.last is None else link.last for link in links]
    cells = cells_between(min(firsts), max(lasts))
    tails = None if any(link.is_dated for link in links) else (min(bounds), max(bounds))
    return _Task(whole, chain, [_days(link, cells) for link in links], cells, tails)


def _open_reaches(links: Sequence[_Link], ordered: bool) -> tuple[int, int]:
    """How far to follow open ends: four times as far as their links would take at the pace between the first
    and the last dated one, and some years more; at most forty."""
    dated = [place for place, link in enumerate(links) if link.is_dated]
    if not dated:
        return _LOOSE_REACH, _LOOSE_REACH
    bounds = [day for link in links for day in link.bounds]
    pace = (max(bounds) - min(bounds)) / max(dated[-1] - dated[0], 1)
    ends = dated[0], len(links) - 1 - dated[-1]
    before, after = (min(_LONGEST_REACH, _SHORTEST_REACH[ordered] + round(4 * pace * end)) for end in ends)
    return before, after


def _days(link: _Link, cells: Cells) -> Days:
    begin, end = int(cells.edges[0]), int(cells.edges[-1]) - 1
    whole = ((begin if link.first is None else link.first, end if link.last is None else link.last),)
    return Days(link.pieces or whole, tuple(weight.weighing() for weight in link.weights))


def _worked_out(chains: Sequence[Chain], links: Mapping[str, _Link]) -> dict[str, Guess]:
    batches = list(_batches([task for place, chain in enumerate(chains) for task in _tasks(place, chain, links)]))
    beliefs = _beliefs(batches)
    found: dict[str, Guess] = {}
    for batch in batches:
        belief = np.stack([beliefs[task.whole] for task in batch], axis=1)
        chances = chances_of(_batch(batch), belief)
        for place, task in enumerate(batch):
            if belief[:, place].any():
                found |= _guesses(task, chances[: len(task.days), place])
    misfits = [chains[whole] for whole, belief in beliefs.items() if not belief.any()]
    loose = [evolve(chain, ordered=(False,) * len(chain.ordered)) for chain in misfits]
    return found | _worked_out(loose, links) if loose else found


def _beliefs(batches: Iterable[Sequence[_Task]]) -> dict[int, Array]:
    """By chain, how far each candidate counts, as all parts of the chain together say."""
    fits: dict[int, Array] = defaultdict(lambda: np.zeros(len(BELIEF)))
    for batch in batches:
        found = fits_of(_batch(batch))
        for place, task in enumerate(batch):
            fits[task.whole] = fits[task.whole] + found[:, place]
    return {whole: belief_of(fit) for whole, fit in fits.items()}


def belief_of(fit: Array) -> Array:
    """How far each candidate counts for a chain; nothing at all when none fits."""
    if not np.isfinite(fit).any():
        return np.zeros_like(fit)
    belief: Array = BELIEF * np.exp(fit - fit.max())
    belief /= belief.sum()
    return belief


def _batches(tasks: Sequence[_Task]) -> Iterator[list[_Task]]:
    """Chains of one kind together, the longest first, as many as memory allows."""
    kinds = defaultdict(list)
    for task in tasks:
        kinds[task.kind].append(task)
    for alike in kinds.values():
        alike.sort(key=lambda task: -len(task.days))
        numbers = len(BELIEF) * len(alike[0].days) * max(len(task.cells.lengths) for task in alike)
        count = max(1, _MOST_NUMBERS // numbers)
        yield from (alike[start : start + count] for start in range(0, len(alike), count))


def _batch(tasks: Sequence[_Task]) -> Batch:
    cells = ceil(max(len(task.cells.lengths) for task in tasks) / BLOCK) * BLOCK
    allowed = np.zeros((len(tasks[0].days), len(tasks), cells))
    for place, task in enumerate(tasks):
        allowed[: len(task.days), place, : len(task.cells.lengths)] = _allowed(task)
    lengths = [len(task.days) for task in tasks]
    ordered = np.array([task.chain.ordered + (False,) * (lengths[0] - len(task.days)) for task in tasks]).T
    return Batch(allowed, lengths, ordered, tasks[0].cells.days)


def _allowed(task: _Task) -> Array:
    """What each link allows by itself; all days of the first are alike beforehand.

    A chain without any link that is dated on both sides has one tail, not one a link: its last link's on the
    earlier side, its first link's on the later.
    """
    shares = allowed_shares(task.days, task.cells)
    shares[0] *= task.cells.lengths / task.cells.days
    if task.tails is not None:
        middles = (task.cells.edges[:-1] + task.cells.edges[1:]) / 2
        shares[-1] *= np.exp(np.minimum(middles - task.tails[0], 0) / _TAIL)
        shares[0] *= np.exp(np.minimum(task.tails[1] - middles, 0) / _TAIL)
    return shares


def _guesses(task: _Task, chances: Array) -> dict[str, Guess]:
    within = chances[:, : len(task.cells.lengths)]
    early, middle, late = (day_at(within, task.days, task.cells, share=share) for share in _SHARES)
    _keep_known_days(early, task, link=0)
    _keep_known_days(late, task, link=-1)
    ends = (_in_order(found, task) for found in (middle, early, late))
    return dict(zip(task.chain.things, map(Guess, *ends), strict=True))


def _keep_known_days(ends: list[int], task: _Task, *, link: int) -> None:
    """Ranges that end in the same cell as a first or last link known to the day end on its day.

    Prints of one occasion lie right there, which a cell of a week or a month does not tell.
    """
    (first, last), *more = task.days[link].stretches
    if more or first != last or not all(task.chain.ordered):
        return
    for place, (days, end) in enumerate(zip(task.days, ends, strict=True)):
        if first in (days.stretches[0][0], days.stretches[-1][1]) and task.cells.share_one(first, end):
            ends[place] = first


def _in_order(found: list[int], task: _Task) -> list[int]:
    """Where stretches with holes turned two days of one cell round, the later link's next allowed day."""
    for place, ordered in enumerate(task.chain.ordered, 1):
        if ordered and found[place] < found[place - 1]:
            found[place] = _next_allowed(task.days[place], found[place - 1])
    return found


def _next_allowed(days: Days, day: int) -> int:
    return next((max(first, day) for first, last in days.stretches if last >= day), days.stretches[-1][1])
