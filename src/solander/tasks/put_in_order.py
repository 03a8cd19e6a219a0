"""Puts every print in its place in time, the undated ones too, and asks about what can't be true together."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from attrs import frozen

from solander.catalogue.store import Act
from solander.core.chronology import Contradiction, Network, Placed, Solution, put_in_order
from solander.core.evidence import Evidence, evidence_of, occasion_thing, printing_of
from solander.core.people import Person
from solander.core.prints import Print
from solander.core.questions import Asks
from solander.core.statements import About, Says, Statement
from solander.tasks.ask import ask, settle_others
from solander.tasks.collection import Collection

__all__ = ["Clash", "Timeline", "ask_about_contradictions", "people_by_name", "timeline", "timeline_of"]

NEIGHBOURS = 12
"""So many prints on either side in the same container may draw the guess of an undated print."""


@frozen
class Clash:
    """Evidence that was left out because it can't be true together with what is believed more."""

    left_out: Evidence
    conflict: tuple[Evidence, ...]
    gap_days: int


@frozen
class Timeline:
    """Every print in its place: `placed` in order of time, `evidence` that agrees by its id, the clashes."""

    placed: tuple[Placed, ...]
    solution: Solution
    evidence: Mapping[str, Evidence]
    clashes: tuple[Clash, ...]


def timeline(collection: Collection) -> Timeline:
    """The order of all prints of a collection as its live statements give it."""
    catalogue = collection.catalogue
    return timeline_of(catalogue.prints(), catalogue.statements(), people_by_name(catalogue.people()))


def timeline_of(
    prints: Sequence[Print], statements: Sequence[Statement], people: Mapping[str, Person]
) -> Timeline:
    """The order of `prints`; evidence is believed in its order, what contradicts it is left out and told."""
    network = Network(_things(prints, statements))
    agreed: dict[str, Evidence] = {}
    clashes: list[Clash] = []
    for evidence in evidence_of(prints, statements, people):
        contradiction = network.add(evidence.constraint)
        if contradiction is None:
            agreed[evidence.constraint.id] = evidence
        else:
            clashes.append(_clash(evidence, contradiction, agreed))
    solution = network.solution()
    placed = put_in_order(
        [print_.accession for print_ in prints],
        solution,
        precedes=network.precedes(),
        neighbours=_neighbours(prints),
        leaning={print_.accession: printing_of(print_.accession) for print_ in prints},
    )
    return Timeline(tuple(placed), solution, agreed, tuple(clashes))


def people_by_name(people: Iterable[Person]) -> dict[str, Person]:
    """Each person under the name and everything else they are called; the first of two keeps a shared name."""
    found: dict[str, Person] = {}
    for person in people:
        for name in (person.name, *person.also_called):
            found.setdefault(name, person)
    return found


def ask_about_contradictions(collection: Collection, act: Act) -> None:
    """Asks about each contradiction among what is stated, and no more about those that are gone."""
    with act.work() as work:
        asked = {
            ask(work, Asks.CONTRADICTION, clash.left_out.about, _clash_words(clash))
            for clash in timeline(collection).clashes
        }
        settle_others(collection, work, {Asks.CONTRADICTION}, asked=asked)
        work.commit()


def _things(prints: Sequence[Print], statements: Iterable[Statement]) -> list[str]:
    things = [thing for print_ in prints for thing in (print_.accession, printing_of(print_.accession))]
    of_prints = (said for said in statements if said.about is About.PRINT)
    occasions = [occasion_thing(said.value) for said in of_prints if said.says is Says.OCCASION]
    return [*things, *dict.fromkeys(occasions)]


def _clash(evidence: Evidence, contradiction: Contradiction, agreed: Mapping[str, Evidence]) -> Clash:
    others = tuple(agreed[ident] for ident in contradiction.conflict if ident in agreed)
    return Clash(evidence, others, contradiction.gap_days)


def _clash_words(clash: Clash) -> str:
    subject = clash.left_out.about
    told = dict.fromkeys(_told(evidence, subject) for evidence in (*clash.conflict, clash.left_out))
    apart = _days_words(clash.gap_days)
    return f"{subject}: these can't all be true, they are {apart} apart: {'; '.join(told)}. Which gives way?"


def _told(evidence: Evidence, subject: str) -> str:
    told = evidence.reason.sentence
    return told if evidence.about == subject else f"{evidence.about} is {told}"


def _days_words(days: int) -> str:
    for size, name in ((365, "year"), (30, "month"), (1, "day")):
        if days >= 2 * size or size == 1:
            count = round(days / size)
            return f"{count} {name}{'' if count == 1 else 's'}"
    raise AssertionError(days)


def _neighbours(prints: Sequence[Print]) -> dict[str, list[str]]:
    """For each print the others of its container, nearest first."""
    containers: dict[str | None, list[str]] = defaultdict(list)
    for print_ in prints:
        containers[print_.container].append(print_.accession)
    return {
        accession: [
            row[place]
            for step in range(1, NEIGHBOURS + 1)
            for place in (at - step, at + step)
            if 0 <= place < len(row)
        ]
        for row in containers.values()
        for at, accession in enumerate(row)
    }
