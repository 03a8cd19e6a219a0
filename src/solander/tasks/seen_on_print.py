"""What may be seen on a print that dates it, for choosing: where to look, what it tells, whether it can be."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache

from attrs import frozen

from solander.authorities.dating import dating_facts
from solander.authorities.dating_seen import Look, seen_of_facts
from solander.core.chronology import Between
from solander.core.dates import Bounds, Days
from solander.core.evidence import DatingFact, printing_of
from solander.core.evidence.paper import evidence_of_fact
from solander.core.language import marked
from solander.core.sentence import Sentence
from solander.core.statements import About, Says, Statement, Sure
from solander.tasks.put_in_order import Timeline

__all__ = ["FactShown", "Look", "WhereToLook", "days_of_fact", "facts_to_see", "told_by"]


@frozen
class FactShown:
    """A fact for choosing: what one sees, what it tells and who says so, the days that it allows.

    `said` when it is said of this print already; `against` says why it can't be with what is believed of it, empty
    where it can; `gives_way` when it is a rule of thumb, which gives way to that without a question.
    """

    fact: DatingFact
    looks: str
    tells: str
    source: str
    earliest: int | None
    latest: int | None
    said: bool = False
    against: str = ""
    gives_way: bool = False


@frozen
class WhereToLook:
    """A part of the print, and the facts that are seen there."""

    where: Look
    facts: tuple[FactShown, ...]


def told_by(fact: DatingFact) -> str:
    """What a fact tells of a date, shortly: "This paper was made about 1930 to 1969; a rule of thumb"."""
    since, until = fact.earliest[:4], "" if fact.is_open else fact.latest[:4]
    years = Sentence(_YEARS[bool(until), until != since, fact.is_hard], since=since, until=until)
    mostly = (
        Sentence(", mostly %(first)s to %(last)s", first=fact.usual[0][:4], last=fact.usual[1][:4])
        if fact.usual
        else ""
    )
    dated = Sentence(_DATED[fact.bounds], years=years, mostly=mostly)
    return dated if fact.is_hard else Sentence("%(dated)s; a rule of thumb", dated=dated)


_DATED = {
    "printing": marked("This paper was made %(years)s%(mostly)s"),
    "exposure": marked("Taken %(years)s%(mostly)s"),
    "original": marked("Taken, and this very print made, %(years)s%(mostly)s"),
}
_YEARS = {
    (True, True, True): marked("%(since)s to %(until)s"),
    (True, True, False): marked("about %(since)s to %(until)s"),
    (True, False, True): "%(since)s",
    (True, False, False): marked("about %(since)s"),
    (False, True, True): marked("%(since)s or later"),
    (False, True, False): marked("about %(since)s or later"),
}
"""By whether the end is known, is another year than the beginning, and whether a source is sure of it."""


@cache
def days_of_fact(ident: str) -> tuple[int | None, int | None]:
    """The first and last day that a fact allows for what it dates, with old stock used up (see
    `solander.core.evidence.paper`)."""
    said = Statement("seen", About.PRINT, "x", Says.EVIDENCE, ident, "", Sure.CERTAIN, "", "")
    for one in evidence_of_fact(dating_facts()[ident], said):
        if isinstance(one.constraint, Between):
            return one.constraint.earliest, one.constraint.latest
    return None, None


def facts_to_see(line: Timeline, accession: str, at: Bounds, said: Sequence[str]) -> list[WhereToLook]:
    """Every fact by where one looks for it; `said` are the ids of those that are said of the print, `line` tells
    what is believed of it alone, and `at` the days that its neighbours leave it too."""
    by_place: dict[Look, list[FactShown]] = {look: [] for look in Look}
    for ident, fact in dating_facts().items():
        seen = seen_of_facts()[ident]
        earliest, latest = days_of_fact(ident)
        against = "" if ident in said else _against(line, accession, at, fact)
        by_place[seen.where].append(
            FactShown(
                fact, Sentence.whole(seen.looks), told_by(fact), fact.cited or fact.source, earliest, latest,
                said=ident in said, against=against, gives_way=bool(against) and not fact.is_hard,
            )
        )  # fmt: skip
    return [WhereToLook(look, tuple(sorted(found, key=_by_years))) for look, found in by_place.items() if found]


def _by_years(one: FactShown) -> tuple[int, int]:
    return one.earliest or 0, one.latest or 10**7


def _against(line: Timeline, accession: str, at: Bounds, fact: DatingFact) -> str:
    """Why the fact can't be true with what is believed of the print; empty where it can.

    The range of a thing in time holds exactly the days that all else leaves it, so a fact that dates it is
    possible just where the two meet.
    """
    first, last = days_of_fact(fact.id)
    for thing in _things(fact, accession):
        earliest, latest = _believed(line, accession, at, thing)
        if _before(latest, first) or _before(last, earliest):
            message = (
                marked("the print is believed to be from %(days)s")
                if thing == accession
                else marked("this paper is believed to be from %(days)s")
            )
            return Sentence(message, days=Days(earliest, latest))
    return ""


def _things(fact: DatingFact, accession: str) -> Iterator[str]:
    if fact.bounds != "exposure":
        yield printing_of(accession)
    if fact.bounds != "printing":
        yield accession


def _believed(line: Timeline, accession: str, at: Bounds, thing: str) -> tuple[int | None, int | None]:
    """The days left to the picture or to its paper, which was made on the day of the picture or later."""
    earliest, latest = line.solution.ranges[thing]
    starts = [one for one in (earliest, at.earliest) if one is not None]
    ends = [one for one in (latest, at.latest if thing == accession else None) if one is not None]
    return max(starts, default=None), min(ends, default=None)


def _before(one: int | None, other: int | None) -> bool:
    return one is not None and other is not None and one < other
