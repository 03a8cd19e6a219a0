"""Arranges prints that were taken up: lays them in order, piles them into an occasion, puts them into an envelope.

* Laying prints says of each that it was taken after the one before it, or on the same day: statements that the
  order of time goes by, and that it refuses with reasons where dates say otherwise.
* A print keeps its accession number and the container in which it was found for good: the number is made from it,
  and what lay beside it there says something of its time. Where its paper lies now is a statement of its own.

Each function is one act that can be taken back whole, however many prints it is about.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from attrs import frozen

from solander.core.errors import InvalidValue, NotFound
from solander.core.evidence.laid import lies_after
from solander.core.language import marked
from solander.core.prints import Container, container_code
from solander.core.sentence import Counted, Sentence
from solander.core.statements import About, Says, Statement, Sure
from solander.tasks.act_in_time import act_in_time
from solander.tasks.collection import Collection
from solander.tasks.occasions import Arranged, make_occasion, move_prints, name_of_occasion
from solander.tasks.said_anew import say_instead

__all__ = ["Moved", "lay", "pile", "put_back", "put_into"]

Pair = tuple[str, str]
"""A print and the one that it was laid after."""


@frozen
class Moved:
    """What was done: the act's number, None where nothing changed, and how many prints were moved."""

    act: int | None
    prints: int


def lay(
    collection: Collection,
    accessions: Iterable[str],
    *,
    after: str = "",
    before: str = "",
    sure: Sure = Sure.CERTAIN,
    source: str = "",
    who: str = "archivist",
) -> Moved:
    """Lays prints, in the order in which they are given, after a print, before one, or between two.

    What the same source said by laying these prints before gives way; those between which they lay keep their
    order. What others said stays, and so does every date.

    Raises
    ------
    InvalidValue
        When it is not said where, when a print would lie after itself, or when the order was laid the other way
        round.
    NotFound
        When one of the prints is not there.
    """
    run = list(dict.fromkeys(accessions))
    _refuse_nowhere(collection, run, after, before)
    catalogue, source = collection.catalogue, source or who
    laid = catalogue.laid()
    old = [one for one in laid if one.source == source and not {one.subject, one.value}.isdisjoint(run)]
    given_up = {one.id for one in old}
    others = [_pair(one) for one in laid if one.id not in given_up]
    new = [
        (later, earlier) for earlier, later in pairwise([*filter(None, [after]), *run, *filter(None, [before])])
    ]
    closed = [pair for pair in _closing([_pair(one) for one in old], set(run)) if pair not in others]
    _refuse_circle([*others, *new], new)
    said = (_after(pair, sure, source) for pair in dict.fromkeys([*new, *closed]))
    what = Sentence(_LAID[bool(after), bool(before)], prints=_named(run), after=after, before=before)
    with act_in_time(collection, who, what) as (act, work):
        say_instead(catalogue, work, old, said)
    return Moved(act.number, len(run))


def pile(
    collection: Collection, accessions: Sequence[str], name: str, *, source: str = "", who: str = "archivist"
) -> Arranged:
    """Puts prints into the occasion of that name, which is made where there is none.

    Raises
    ------
    InvalidValue
        When the name is empty.
    NotFound
        When one of the prints is not there.
    """
    name = collection.catalogue.occasion_now(name_of_occasion(name))
    if collection.catalogue.has_occasion(name):
        return move_prints(collection, accessions, name, source=source, who=who)
    return make_occasion(collection, name, accessions, source=source, who=who)


def put_into(
    collection: Collection, accessions: Iterable[str], code: str, *, source: str = "", who: str = "archivist"
) -> Moved:
    """Says that the paper of these prints lies in that container now, which is made where there is none; their
    accession numbers stay. Those that were found in it are back.

    Raises
    ------
    InvalidValue
        When the container is not written as a code.
    NotFound
        When one of the prints is not there.
    """
    code, catalogue = container_code(code), collection.catalogue
    prints = _listed(collection, accessions)
    at_home = set(catalogue.accessions_in(code)).intersection(prints)
    old = catalogue.said_of_prints(Says.KEPT_IN, prints)
    there = {one.subject for one in old if one.value == code}
    gone = [one for one in old if one.value != code]
    new = (
        Statement("", About.PRINT, one, Says.KEPT_IN, code, code, Sure.CERTAIN, source or who, "")
        for one in prints
        if one not in there and one not in at_home
    )
    with (
        catalogue.act(
            who, Sentence("put %(prints)s into %(container)s", prints=_named(prints), container=code)
        ) as act,
        act.work() as work,
    ):
        if catalogue.container(code) is None:
            work.add_container(Container(code))
        say_instead(catalogue, work, gone, new)
        work.commit()
    return Moved(act.number, len(prints))


def put_back(collection: Collection, accessions: Iterable[str], *, who: str = "archivist") -> Moved:
    """Says that the paper of these prints lies again where it was found."""
    said = collection.catalogue.said_of_prints(Says.KEPT_IN, accessions)
    prints = list(dict.fromkeys(one.subject for one in said))
    message = (
        marked("put %(prints)s back where they were found")
        if len(prints) > 1
        else marked("put %(prints)s back where it was found")
    )
    with (
        collection.catalogue.act(who, Sentence(message, prints=_named(prints))) as act,
        act.work() as work,
    ):
        work.withdraw_all(one.id for one in said)
        work.commit()
    return Moved(act.number, len(prints))


def _named(accessions: Sequence[str]) -> str:
    """One print by its number, several by how many they are."""
    return accessions[0] if len(accessions) == 1 else Counted("%(num)s print", "%(num)s prints", len(accessions))


def _listed(collection: Collection, accessions: Iterable[str]) -> list[str]:
    wanted = list(dict.fromkeys(accessions))
    if not wanted:
        raise InvalidValue(
            Sentence("Nothing was moved"), Sentence("no print was taken up"), Sentence("Take prints up first")
        )
    if missing := set(wanted) - collection.catalogue.listed_of(wanted):
        raise NotFound(
            Sentence("There is no print %(print)s", print=min(missing)), "", Sentence("Look at the table again")
        )
    return wanted


def _refuse_nowhere(collection: Collection, run: Sequence[str], after: str, before: str) -> None:
    ends = [one for one in (after, before) if one]
    _listed(collection, [*run, *ends] if run else run)
    if not ends:
        raise InvalidValue(
            Sentence("Nothing was laid"),
            Sentence("it was not said after or before which print"),
            Sentence("Choose one"),
        )
    if len(set(ends)) < len(ends) or not set(ends).isdisjoint(run):
        raise InvalidValue(
            Sentence("Nothing was laid"),
            Sentence("a print can't lie after itself"),
            Sentence("Choose another print"),
        )


def _pair(said: Statement) -> Pair:
    return said.subject, said.value


def _after(pair: Pair, sure: Sure, source: str) -> Statement:
    later, earlier = pair
    return Statement("", About.PRINT, later, Says.AFTER, earlier, f"after {earlier}", sure, source, "")


def _closing(old: Sequence[Pair], taken: set[str]) -> list[Pair]:
    """Who lies after whom where prints were taken out from between them: what these said of others still holds."""
    closed = []
    for earlier in dict.fromkeys(earlier for _, earlier in old if earlier not in taken):
        beyond = [later for later, before in old if before == earlier]
        seen = set(beyond)
        while beyond:
            one = beyond.pop()
            if one not in taken:
                closed.append((one, earlier))
                continue
            further = [later for later, before in old if before == one and later not in seen]
            seen.update(further)
            beyond += further
    return closed


def _refuse_circle(pairs: Sequence[Pair], new: Sequence[Pair]) -> None:
    """Refuses an order in which a print would lie after one that lies after it."""
    run = [new[0][1], *(later for later, _ in new)]
    later = lies_after(pairs, run[-1])
    if round_about := next((one for one in run if one in later), None):
        why = Sentence(
            "%(print)s was laid after %(other)s before, the other way round", print=round_about, other=run[-1]
        )
        raise InvalidValue(
            Sentence("Nothing was laid"), why, Sentence("Take that back first, in what was done or at the print")
        )


_LAID = {
    (True, False): marked("laid %(prints)s after %(after)s"),
    (False, True): marked("laid %(prints)s before %(before)s"),
    (True, True): marked("laid %(prints)s after %(after)s and before %(before)s"),
}
"""By what they were laid after and before."""
