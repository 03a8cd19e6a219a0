"""Chains cut into parts that can be worked out apart, each over its own cells of time, and put into batches."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import ceil, log2

import numpy as np
from attrs import field, frozen, validators

from solander.core.chronology.cells import Cells, Days, allowed_shares, cells_between
from solander.core.chronology.kernels import BLOCK, CANDIDATES, Array
from solander.core.chronology.known import YEAR, Known, Link
from solander.core.chronology.passes import Batch
from solander.core.errors import InvalidValue

__all__ = ["TAIL", "Chain", "Part", "batch_of", "batches", "parts_of"]

TAIL = 10 * YEAR
"""Mean days by which a thing lies beyond the one bound that is known (our choice, no source)."""

_LOOSE_REACH, _LONGEST_REACH = round(60 * YEAR), round(40 * YEAR)
"""How far an open side is followed: beyond one bound alone, and at most beyond the dated links of a chain."""

_SHORTEST_REACH = {True: round(5 * YEAR), False: round(10 * YEAR)}
"""At least so far, in a known order and in none: boxes reach farther beyond their dated prints than albums
(benchmarks/best_guess.py, seeds 1000–1013: 5 years hold 88 % of the truths of boxes, 10 years 89.5 %)."""

_MOST_NUMBERS = 8_000_000
"""Chances that a batch holds at once: 64 MB."""


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


@frozen(eq=False)
class Part:
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


def parts_of(whole: int, chain: Chain, known: Known) -> list[Part]:
    """The parts of a chain; none when nothing is known of any link."""
    links = [known.link(thing) for thing in chain.things]
    if not any(link.bounds for link in links):
        return []
    beyond = _open_reaches(links, all(chain.ordered))
    return [
        _part(
            Chain(chain.things[start : end + 1], chain.ordered[start:end]),
            links[start : end + 1],
            beyond=beyond,
            whole=whole,
        )
        for start, end in _cuts(chain, links)
    ]


def _cuts(chain: Chain, links: Sequence[Link]) -> Iterable[tuple[int, int]]:
    """The first and last places of the parts that a chain falls into, neighbouring parts sharing a link.

    A link known to the day tells those before it all that those after it know. It ends a part that is in known
    order up to the next such link, or to the end, for that part is worked out more finely for being shorter.
    """
    last = len(links) - 1
    known = [0, *(place for place in range(1, last) if links[place].is_one_day), last]
    cuts = {at for part in pairwise(known) if all(chain.ordered[slice(*part)]) for at in part}
    return pairwise(sorted({0, *cuts, last})) if last else [(0, 0)]


def _part(chain: Chain, links: Sequence[Link], *, beyond: tuple[int, int], whole: int) -> Part:
    bounds = [day for link in links for day in link.bounds]
    firsts = [min(bounds) - beyond[0] if link.first is None else link.first for link in links]
    lasts = [max(bounds) + beyond[1] if link.last is None else link.last for link in links]
    cells = cells_between(min(firsts), max(lasts))
    tails = None if any(link.is_dated for link in links) else (min(bounds), max(bounds))
    return Part(whole, chain, [_days(link, cells) for link in links], cells, tails)


def _open_reaches(links: Sequence[Link], ordered: bool) -> tuple[int, int]:
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


def _days(link: Link, cells: Cells) -> Days:
    begin, end = int(cells.edges[0]), int(cells.edges[-1]) - 1
    whole = ((begin if link.first is None else link.first, end if link.last is None else link.last),)
    return Days(link.pieces or whole, tuple(weight.weighing() for weight in link.weights))


def batches(parts: Sequence[Part]) -> Iterator[list[Part]]:
    """Chains of one kind together, the longest first, as many as memory allows."""
    kinds = defaultdict(list)
    for part in parts:
        kinds[part.kind].append(part)
    for alike in kinds.values():
        alike.sort(key=lambda part: -len(part.days))
        numbers = CANDIDATES * len(alike[0].days) * max(len(part.cells.lengths) for part in alike)
        count = max(1, _MOST_NUMBERS // numbers)
        yield from (alike[start : start + count] for start in range(0, len(alike), count))


def batch_of(parts: Sequence[Part]) -> Batch:
    """What the links of all these parts allow, side by side."""
    cells = ceil(max(len(part.cells.lengths) for part in parts) / BLOCK) * BLOCK
    allowed = np.zeros((len(parts[0].days), len(parts), cells))
    for place, part in enumerate(parts):
        allowed[: len(part.days), place, : len(part.cells.lengths)] = _allowed(part)
    lengths = [len(part.days) for part in parts]
    ordered = np.array([part.chain.ordered + (False,) * (lengths[0] - len(part.days)) for part in parts]).T
    return Batch(allowed, lengths, ordered, parts[0].cells.days)


def _allowed(part: Part) -> Array:
    """What each link allows by itself; all days of the first are alike beforehand.

    A chain without any link that is dated on both sides has one tail, not one a link: its last link's on the
    earlier side, its first link's on the later.
    """
    shares = allowed_shares(part.days, part.cells)
    shares[0] *= part.cells.lengths / part.cells.days
    if part.tails is not None:
        middles = (part.cells.edges[:-1] + part.cells.edges[1:]) / 2
        shares[-1] *= np.exp(np.minimum(middles - part.tails[0], 0) / TAIL)
        shares[0] *= np.exp(np.minimum(part.tails[1] - middles, 0) / TAIL)
    return shares
