"""Puts every print in its place in time, the undated ones too, and asks about what can't be true together."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import UTC, datetime

from attrs import frozen

from solander.authorities.dating import dating_facts
from solander.authorities.former_names import former_names
from solander.catalogue.people_queries import ReadingPeople
from solander.catalogue.store import Act
from solander.core.chronology import Contradiction, Guesser, Network, Placed, Solution, mends, put_in_order
from solander.core.evidence import Evidence, chains_of, evidence_of, things_of
from solander.core.people import Person
from solander.core.prints import Print
from solander.core.questions import Asks
from solander.core.sentence import Capital, Counted, Joined, Sentence
from solander.core.statements import About, Says, Statement
from solander.tasks.around import MOST_AROUND, around, said_of, touched_prints
from solander.tasks.ask import ask, settle_others
from solander.tasks.collection import Collection
from solander.tasks.first_words_kept import first_words_of

__all__ = [
    "Clash",
    "Timeline",
    "ask_about_contradictions",
    "clash_words",
    "days_words",
    "line_of",
    "mend_words",
    "people_by_name",
    "people_shown",
    "timeline",
    "timeline_of",
]


@frozen
class Clash:
    """Evidence that was left out because it can't be true together with what is believed more."""

    left_out: Evidence
    conflict: tuple[Evidence, ...]
    gap_days: int


@frozen
class Timeline:
    """Every print in its place: `placed` in order of time, `evidence` that agrees by its id, the clashes.

    `overruled` holds the rules of thumb that gave way to better evidence, which asks nobody. `prints`,
    `statements` and `people` are what it was worked out of.
    """

    prints: Sequence[Print]
    statements: Sequence[Statement]
    people: Mapping[str, Person]

    placed: tuple[Placed, ...]
    solution: Solution
    evidence: Mapping[str, Evidence]
    clashes: tuple[Clash, ...]
    overruled: tuple[Clash, ...]
    network: Network


def timeline(collection: Collection, guesser: Guesser | None = None) -> Timeline:
    """The order of all prints of a collection as its live statements give it.

    A `guesser` that is kept guesses again only where something has changed since.
    """
    catalogue = collection.catalogue
    statements = catalogue.statements()
    people = people_shown(catalogue, statements)
    years = first_words_of(catalogue).years
    return timeline_of(catalogue.prints(), statements, people, guesser=guesser, years=years)


def line_of(collection: Collection, accessions: Iterable[str]) -> Timeline:
    """The order of these prints by themselves, as if there were no others."""
    catalogue = collection.catalogue
    prints = catalogue.prints_of(accessions)
    said = said_of(catalogue, (one.accession for one in prints))
    occasions = {one.value for one in said if one.says is Says.OCCASION}
    said += [one for one in said_of(catalogue, occasions) if one.about is About.OCCASION]
    years = first_words_of(catalogue).years
    return timeline_of(prints, said, people_shown(catalogue, said), years=years)


def timeline_of(
    prints: Sequence[Print],
    statements: Sequence[Statement],
    people: Mapping[str, Person],
    *,
    guesser: Guesser | None = None,
    years: str = "",
) -> Timeline:
    """The order of `prints`; evidence is believed in its order, what contradicts it is left out and told."""
    evidence = evidence_of(
        prints,
        statements,
        people,
        facts=dating_facts(),
        former_names=former_names(),
        years=years,
        today=datetime.now(UTC).date().toordinal(),
    )
    network = Network(things_of(prints, evidence))
    agreed, clashes = _agreeing(network, evidence)
    solution, precedes = network.solution(), network.precedes()
    accessions = [print_.accession for print_ in prints]
    guesses = (guesser or Guesser()).guesses(
        solution,
        chains_of(prints, statements, precedes=precedes),
        weights=[one.weight for one in agreed.values() if one.weight],
        things=accessions,
    )
    return Timeline(
        prints,
        statements,
        people,
        tuple(put_in_order(accessions, solution, precedes=precedes, guesses=guesses)),
        solution,
        agreed,
        tuple(clash for clash in clashes if not clash.left_out.soft),
        tuple(clash for clash in clashes if clash.left_out.soft),
        network,
    )


def _agreeing(network: Network, evidence: Iterable[Evidence]) -> tuple[dict[str, Evidence], list[Clash]]:
    """Enters evidence in the order of belief; what agrees, by its id, and what had to be left out."""
    agreed: dict[str, Evidence] = {}
    clashes: list[Clash] = []
    left_out: set[str] = set()
    for one in evidence:
        contradiction = network.add(one.constraint)
        claim = one.constraint.id.split()[0]
        if contradiction is None:
            agreed[one.constraint.id] = one
        elif claim not in left_out:
            # Who does not belong to an occasion by its date need not be told to lie too far from its other prints.
            left_out.add(claim)
            clashes.append(_clash(one, contradiction, agreed))
    return agreed, clashes


def people_by_name(people: Iterable[Person]) -> dict[str, Person]:
    """Each person under the name and everything else that nobody else is called.

    A name goes before what others are called. Somebody of whom only the name is known, as a slip brings them in,
    gives way to the one person who is called so; what several are called leads to nobody, for nobody is merged
    by a machine.
    """
    everybody = list(people)
    called = Counter(name for person in everybody for name in set(person.also_called))
    known = [person for person in everybody if person.born or person.died or person.also_called]
    found = {person.name: person for person in known}
    for person in known:
        for name in person.also_called:
            if called[name] == 1:
                found.setdefault(name, person)
    for person in everybody:
        found.setdefault(person.name, person)
    return found


def people_shown(catalogue: ReadingPeople, statements: Iterable[Statement]) -> Mapping[str, Person]:
    """The people of whom statements about prints speak, by every name that leads to one of them alone."""
    named = {
        said.value if said.says is Says.PERSON else said.value.rpartition("|")[0]
        for said in statements
        if said.says in (Says.PERSON, Says.AGE)
    }
    return people_by_name(catalogue.people_called(named))


def ask_about_contradictions(collection: Collection, act: Act, *, only_near: bool = False) -> None:
    """Asks about each contradiction among what is stated, and no more about those that are gone.

    Only the prints that it touched are looked at, with all that they are tied to, for the ties are what makes a
    contradiction; where these are very many, all prints are, or none with `only_near`, where a page waits.
    """
    near = _near(collection, act)
    if near is None and only_near:
        return
    line = timeline(collection) if near is None else line_of(collection, near)
    with act.work() as work:
        asked = {ask(work, Asks.CONTRADICTION, clash.left_out.about, clash_words(clash)) for clash in line.clashes}
        about = {one.accession for one in line.prints}
        settle_others(collection, work, {Asks.CONTRADICTION}, asked=asked, about=about.__contains__)
        work.commit()


def _near(collection: Collection, act: Act) -> frozenset[str] | None:
    """The prints that an act touched with all that they are tied to; None where they are too many."""
    touched = collection.catalogue.touched_by_act(act.number or 0)
    those = touched_prints(collection, touched)
    if touched.all or len(those) > MOST_AROUND:
        return None
    near = around(collection, those)
    return near.tied if near.complete else None


def _clash(evidence: Evidence, contradiction: Contradiction, agreed: Mapping[str, Evidence]) -> Clash:
    others = tuple(agreed[ident] for ident in contradiction.conflict if ident in agreed)
    return Clash(evidence, others, contradiction.gap_days)


def clash_words(clash: Clash) -> str:
    """What can't be true together, and how far it is apart, as one sentence that asks what gives way."""
    subject = clash.left_out.about
    told = dict.fromkeys(_told(evidence, subject) for evidence in (*clash.conflict, clash.left_out))
    return Sentence(
        "%(print)s: these can't all be true, they are %(apart)s apart: %(claims)s. Which gives way?",
        print=subject,
        apart=days_words(clash.gap_days),
        claims=Joined(told),
    )


def mend_words(line: Timeline) -> Iterator[str]:
    """The claims that stand against most others, each as a sentence; what is always so is never among them."""
    left_out = {clash.left_out.constraint.id: clash.left_out for clash in line.clashes}
    for shared, times in Counter(one.shared for one in left_out.values() if one.shared).items():
        if times > 1:
            told = next(one.reason.sentence for one in left_out.values() if one.shared == shared)
            yield Sentence(
                "%(claim)s: said of %(times)s prints. Without this, %(times)s of the %(all)s would be settled.",
                claim=Capital(told),
                times=times,
                all=len(left_out),
            )
    firm = {ident for ident, evidence in line.evidence.items() if evidence.rank < 0}
    constraints = [one.constraint for one in left_out.values()]
    for mend in mends(line.network, constraints, firm=firm) if len(left_out) > 1 else ():
        if len(mend.mended) > 1:
            evidence = line.evidence[mend.id]
            yield Sentence(
                "%(print)s: %(claim)s. Without this, %(times)s of the %(all)s would be settled.",
                print=evidence.about,
                claim=evidence.reason.sentence,
                times=len(mend.mended),
                all=len(left_out),
            )


def _told(evidence: Evidence, subject: str) -> str:
    told = evidence.reason.sentence
    if evidence.about == subject or evidence.about in told:
        return told
    return Sentence("%(print)s: %(sentence)s", print=evidence.about, sentence=told)


def days_words(days: int) -> str:
    """How far days are apart, in whole years, months or days."""
    if days >= 2 * 365:
        return Counted("%(num)s year", "%(num)s years", round(days / 365))
    if days >= 2 * 30:
        return Counted("%(num)s month", "%(num)s months", round(days / 30))
    return Counted("%(num)s day", "%(num)s days", days)
