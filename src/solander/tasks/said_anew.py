"""New statements for the catalogue: with ids of their own, and in the place of others whose words they keep."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from attrs import evolve

from solander.catalogue.history import utc_now
from solander.catalogue.queries import Reading
from solander.catalogue.work import Work
from solander.core.statements import Statement
from solander.tasks.identity import statement_identity

__all__ = ["say_all", "say_instead", "with_ids"]


def with_ids(catalogue: Reading, said: Iterable[Statement]) -> list[Statement]:
    """The statements as entered now, each under an id that no other has or had: what was withdrawn stays so."""
    fresh = [evolve(one, id="", entered=utc_now(), withdrawn=None) for one in said]
    taken: set[str] = set()
    while True:
        named = list(_named(fresh, set(taken)))
        in_use = catalogue.taken_ids(one.id for one in named) - taken
        if not in_use:
            return named
        taken |= in_use


def _named(said: Iterable[Statement], taken: set[str]) -> Iterator[Statement]:
    for one in said:
        named = evolve(one, id=statement_identity(one, taken=taken))
        taken.add(named.id)
        yield named


def say_all(catalogue: Reading, work: Work, said: Iterable[Statement]) -> list[Statement]:
    """Enters statements; gives them with their ids."""
    named = with_ids(catalogue, said)
    work.state_all(named)
    return named


def say_instead(catalogue: Reading, work: Work, old: Sequence[Statement], new: Iterable[Statement]) -> None:
    """Withdraws the old and enters the new: they keep words and source of what they stand for."""
    work.withdraw_all(one.id for one in old)
    say_all(catalogue, work, new)
