"""Which one statement, taken back, lets most of those agree that had to be left out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence

from attrs import frozen

from solander.core.chronology.constraints import Statement
from solander.core.chronology.network import Network

__all__ = ["Mend", "mends", "mends_most"]

_MOST_TRIED = 300
"""So many withdrawals are tried at most, those first that could mend most; with five wanted and 38 contradictions
in 20,000 prints all of it takes 0.1 s (`benchmarks/time_order.py`)."""


@frozen
class Mend:
    """What taking back the statement `id` does: the left-out statements `mended` then agree, those in `still`
    do not; ids in order of entry."""

    id: str
    mended: tuple[str, ...]
    still: tuple[str, ...]


def mends_most(
    things: Iterable[str], statements: Iterable[Statement], *, firm: Collection[str] = (), most: int = 5
) -> list[Mend]:
    """The single withdrawals that mend most, best first, among statements in order of belief.

    Each statement is added that agrees with those before it; the others are left out. See `mends`.
    """
    network = Network(things)
    left_out = [said for said in statements if network.add(said) is not None]
    return mends(network, left_out, firm=firm, most=most)


def mends(
    network: Network, left_out: Sequence[Statement], *, firm: Collection[str] = (), most: int = 5
) -> list[Mend]:
    """The `most` single withdrawals from a network that mend most of what was left out of it, best first.

    A withdrawal mends the left-out statements that agree when they are then added in the order of `left_out`;
    all other statements of the network stay. Of withdrawals that mend as many the one entered last, hence
    believed least, comes first. Withdrawals that mend nothing are not told, nor those of statements in `firm`
    (ids: what is always true, as that a picture is taken before it is printed). Statements of `left_out` that
    agree with the network as it stands are no matter here. The network is not changed.

    Exact, unless more than 300 statements could each be among the best: only a statement in the irreducible
    conflict of a left-out one can mend it, and none can mend more than the conflicts that it is in.
    """
    conflicts = _conflicts(network, left_out)
    chances = Counter(ident for conflict in conflicts.values() for ident in conflict)
    entered = {said.id: place for place, said in enumerate(network.statements) if said.id in chances}
    candidates = sorted(
        (ident for ident in entered if ident not in firm), key=lambda ident: (-chances[ident], -entered[ident])
    )
    found: list[tuple[int, int, Mend]] = []
    for ident in candidates[:_MOST_TRIED]:
        if len(found) >= most and found[most - 1] < (-chances[ident], -entered[ident]):
            break
        mend = _mend(network, ident, left_out=left_out, conflicts=conflicts)
        if mend.mended:
            found.append((-len(mend.mended), -entered[ident], mend))
            found.sort(key=lambda each: each[:2])
    return [mend for *_, mend in found[:most]]


def _conflicts(network: Network, left_out: Iterable[Statement]) -> dict[str, frozenset[str]]:
    found = {said.id: network.contradiction_of(said) for said in left_out}
    return {ident: frozenset(told.conflict) for ident, told in found.items() if told is not None}


def _mend(
    network: Network, ident: str, *, left_out: Sequence[Statement], conflicts: Mapping[str, frozenset[str]]
) -> Mend:
    could = [said for said in left_out if ident in conflicts.get(said.id, ())]
    agree = {said.id for said in network.without(ident, could)}
    told = [said.id for said in left_out if said.id in conflicts]
    return Mend(
        ident,
        tuple(each for each in told if each in agree),
        tuple(each for each in told if each not in agree),
    )
