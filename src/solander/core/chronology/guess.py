"""The best guess for every thing within what is possible, and the range that holds it nine times in ten.

What is possible comes from the solver and is never left. Within it, a thing in an album or roll is drawn to its
neighbours: the gaps between prints are alike within a chain, mostly short, now and then long, and which kind of
gap a chain has is read off its own dates; where these tell nothing, a few prints may as well be of several years
as of one occasion. Soft evidence counts as a weight for each day. A chain is worked out by itself: what ties it
to other chains is heard through the solver's ranges and stretches only, so that a new date elsewhere changes
nothing here unless it changes what is possible here.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Hashable, Iterable, Mapping, Sequence
from math import ceil, log

import numpy as np
from attrs import evolve, frozen

from solander.core.chronology.cells import Days, days_at
from solander.core.chronology.kernels import CANDIDATES, Array, belief_before
from solander.core.chronology.known import Known, Link, Weight
from solander.core.chronology.parts import TAIL, Chain, Part, batch_of, batches, parts_of
from solander.core.chronology.passes import Passes
from solander.core.chronology.solution import Solution
from solander.core.errors import InvalidValue

__all__ = ["Chain", "Guess", "Guesser", "Weight", "best_guesses"]

_SHARES = (0.05, 0.5, 0.95)

_NEGLIGIBLE = 1e-4
"""A candidate believed less than this is left out of the pass back: it can move no share of 0.05 by more."""


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
    return Guesser().guesses(solution, chains, weights=weights, things=things)


class Guesser:
    """Makes the guesses of `best_guesses` again and again, and works out only the chains of which something has
    changed since the last time; a chain that is not asked for any more is forgotten."""

    def __init__(self) -> None:
        self._kept: dict[Hashable, Mapping[str, Guess]] = {}

    def __len__(self) -> int:
        """How many chains are kept."""
        return len(self._kept)

    def guesses(
        self,
        solution: Solution,
        chains: Iterable[Chain],
        *,
        weights: Iterable[Weight] = (),
        things: Iterable[str] | None = None,
    ) -> dict[str, Guess]:
        """What `best_guesses` would return; it says the rest."""
        known = Known.of(solution, weights)
        linked = _checked(chains, solution)
        wanted = solution.ranges.keys() if things is None else dict.fromkeys(things)
        alone = [thing for thing in wanted if thing not in linked]
        self._keep([*dict.fromkeys(linked.values()), *(_single(it) for it in alone if it in known.weights)], known)
        found = {thing: guess for kept in self._kept.values() for thing, guess in kept.items()}
        for thing in alone:
            if thing not in known.weights and (guess := _guess_alone(known.link(thing))) is not None:
                found[thing] = guess
        return {thing: found[thing] for thing in wanted if thing in found}

    def _keep(self, chains: Iterable[Chain], known: Known) -> None:
        """Keeps the guesses of these chains, and of no others."""
        # All that decides a chain's guesses is in its key: the chain and what is known of its things.
        keys = {(chain, known.all_of(chain.things)): chain for chain in chains}
        changed = [chain for key, chain in keys.items() if key not in self._kept]
        found = _worked_out(changed, known)
        self._kept = {
            key: kept
            if (kept := self._kept.get(key)) is not None
            else {thing: found[thing] for thing in chain.things if thing in found}
            for key, chain in keys.items()
        }


def _checked(chains: Iterable[Chain], solution: Solution) -> dict[str, Chain]:
    """The chain of each thing that is in one with others."""
    found: dict[str, Chain] = {}
    for chain in chains:
        for thing in chain.things:
            if thing not in solution.ranges:
                raise InvalidValue(f"A chain names “{thing}”", "there is no such thing")
            if thing in found:
                raise InvalidValue(f"“{thing}” is in a chain twice", todo="Put it into one chain only")
            found[thing] = chain
    return {thing: chain for thing, chain in found.items() if len(chain.things) > 1}


def _single(thing: str) -> Chain:
    return Chain((thing,), ())


# -- one thing alone -----------------------------------------------------------------------------------------


def _guess_alone(link: Link) -> Guess | None:
    first, last = link.first, link.last
    if first is not None and last is not None:
        stretches = link.pieces or ((first, last),)
        early, middle, late = (_day_of_share(stretches, share) for share in _SHARES)
        return Guess(middle, early, late)
    near, middle_way, far = (int(-TAIL * log(1 - share)) for share in _SHARES)
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


def _worked_out(chains: Sequence[Chain], known: Known) -> dict[str, Guess]:
    parts = [part for place, chain in enumerate(chains) for part in parts_of(place, chain, known)]
    count = Counter(part.whole for part in parts)
    cut = list(batches([part for part in parts if count[part.whole] > 1]))
    whole = batches([part for part in parts if count[part.whole] == 1])
    beliefs = _beliefs_of_cut(cut, chains)
    found: dict[str, Guess] = {}
    for batch in (*cut, *whole):
        found |= _guesses_of(batch, beliefs, chains)
    misfits = [chains[place] for place, belief in beliefs.items() if not belief.any()]
    loose = [evolve(chain, ordered=(False,) * len(chain.ordered)) for chain in misfits]
    return found | _worked_out(loose, known) if loose else found


def _beliefs_of_cut(cut: Iterable[Sequence[Part]], chains: Sequence[Chain]) -> dict[int, Array]:
    """By chain, how far each candidate counts, as all parts of the chain together say."""
    fits: dict[int, Array] = defaultdict(lambda: np.zeros(CANDIDATES))
    for batch in cut:
        found = Passes(batch_of(batch)).fits
        for place, part in enumerate(batch):
            fits[part.whole] = fits[part.whole] + found[:, place]
    return {whole: _counting(fit, chains[whole]) for whole, fit in fits.items()}


def _guesses_of(batch: Sequence[Part], beliefs: dict[int, Array], chains: Sequence[Chain]) -> dict[str, Guess]:
    """Guesses for the links of all parts; the beliefs of chains that are not cut are added."""
    passes = Passes(batch_of(batch))
    for place, part in enumerate(batch):
        if part.whole not in beliefs:
            beliefs[part.whole] = _counting(passes.fits[:, place], chains[part.whole])
    belief = np.stack([beliefs[part.whole] for part in batch], axis=1)
    chances = passes.chances(belief)
    found: dict[str, Guess] = {}
    for place, part in enumerate(batch):
        if belief[:, place].any():
            found |= _guesses(part, chances[: len(part.days), place])
    return found


def _counting(fit: Array, chain: Chain) -> Array:
    """How far each candidate counts for a chain, without those that next to nothing comes from."""
    belief = belief_of(fit, belief_before(len(chain.things), ordered=all(chain.ordered)))
    kept = np.where(belief < _NEGLIGIBLE, 0.0, belief)
    total = kept.sum()
    return kept / total if total else kept


def belief_of(fit: Array, before: Array) -> Array:
    """How far each candidate counts that was believed so far `before`; nothing at all when none fits."""
    if not np.isfinite(fit).any():
        return np.zeros_like(fit)
    belief: Array = before * np.exp(fit - fit.max())
    belief /= belief.sum()
    return belief


def _guesses(part: Part, chances: Array) -> dict[str, Guess]:
    within = chances[:, : len(part.cells.lengths)]
    early, middle, late = days_at(within, part.days, part.cells, shares=_SHARES)
    _keep_known_days(early, part, link=0)
    _keep_known_days(late, part, link=-1)
    ends = (_in_order(found, part) for found in (middle, early, late))
    return dict(zip(part.chain.things, map(Guess, *ends), strict=True))


def _keep_known_days(ends: list[int], part: Part, *, link: int) -> None:
    """Ranges that end in the same cell as a first or last link known to the day end on its day.

    Prints of one occasion lie right there, which a cell of a week or a month does not tell.
    """
    (first, last), *more = part.days[link].stretches
    if more or first != last or not all(part.chain.ordered):
        return
    for place, (days, end) in enumerate(zip(part.days, ends, strict=True)):
        if first in (days.stretches[0][0], days.stretches[-1][1]) and part.cells.share_one(first, end):
            ends[place] = first


def _in_order(found: list[int], part: Part) -> list[int]:
    """Where stretches with holes turned two days of one cell round, the later link's next allowed day."""
    for place, ordered in enumerate(part.chain.ordered, 1):
        if ordered and found[place] < found[place - 1]:
            found[place] = _next_allowed(part.days[place], found[place - 1])
    return found


def _next_allowed(days: Days, day: int) -> int:
    return next((max(first, day) for first, last in days.stretches if last >= day), days.stretches[-1][1])
