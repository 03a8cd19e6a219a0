"""Asks about what machines read on prints, each thing once; a yes is said of the print, with the writing as its
source."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from attrs import evolve

from solander.core.errors import NotFound
from solander.core.inscriptions import FactKind, Lookups
from solander.core.inscriptions.kept import Writing
from solander.core.language import _
from solander.core.prints import Print
from solander.core.questions import Asks, Question
from solander.core.sentence import Sentence
from solander.core.statements import Says, Statement, Sure
from solander.tasks.ask import ask
from solander.tasks.claims import AT_THE_DESK, Claim
from solander.tasks.collection import Collection
from solander.tasks.inscription import lookups
from solander.tasks.meant import meant_of
from solander.tasks.print_desk import PrintDesk
from solander.tasks.proposed_inscriptions import Proposal, proposals_of
from solander.tasks.say import say
from solander.tasks.typed import Field, Meant, Typed

__all__ = ["ask_inscriptions", "proposal_asked", "proposals_on", "take_inscription"]

_A_SERIES = 3
"""Prints of one container that must bear a number alone before any of these is taken for a place in a series."""

_AT_ONCE = 500
"""Prints that are looked up at once."""


def ask_inscriptions(collection: Collection, *, who: str = AT_THE_DESK) -> int:
    """Asks about all that was read and may mean something, in one act; gives how many questions are new.

    What was asked before, whatever the answer, is not asked again, nor what is said of the print already.
    """
    catalogue = collection.catalogue
    proposed = [*_all_proposed(collection)]
    asked = catalogue.questions_raised(one.key for one in proposed)
    subjects = _in_parts({one.accession for one in proposed})
    said = _told_of(each for some in subjects for each in catalogue.statements_about(some))
    new = {one.key: one for one in proposed if one.key not in asked and not _is_told(one, said)}
    if not new:
        return 0
    sentence = Sentence("asked what writing means that a machine read: %(number)s questions", number=len(new))
    with catalogue.act(who, sentence) as act, act.work() as work:
        for one in new.values():
            ask(work, Asks.INSCRIPTION, one.accession, one.sentence)
        work.commit()
    return len(new)


def _all_proposed(collection: Collection) -> Iterator[Proposal]:
    catalogue = collection.catalogue
    # Gone through twice, for not all of it has room at once.
    bears: dict[str, bool] = {}
    for accession, _key, writing in catalogue.views_written():
        bears[accession] = bears.get(accession, False) or _has_number(writing)
    prints = {one.accession: one for some in _in_parts(bears) for one in catalogue.prints_of(some)}
    numbered = Counter(prints[each].container for each, number in bears.items() if number and each in prints)
    known = lookups(catalogue)
    for accession, key, writing in catalogue.views_written():
        if accession in prints:
            print_ = prints[accession]
            yield from _of_side(print_, key, writing, known, of_series=numbered[print_.container] >= _A_SERIES)


def _in_parts(accessions: Iterable[str]) -> Iterator[list[str]]:
    """So many at a time as one query takes."""
    those = sorted(accessions)
    return (those[at : at + _AT_ONCE] for at in range(0, len(those), _AT_ONCE))


def _has_number(writing: Writing) -> bool:
    return any(fact.kind is FactKind.NUMBER for fact in writing.facts)


def _of_side(print_: Print, key: str, writing: Writing, known: Lookups, *, of_series: bool) -> list[Proposal]:
    view = next((view for view in print_.views if view.key == key), None)
    return proposals_of(print_.accession, view, writing, known, of_series=of_series) if view else []


def proposals_on(collection: Collection, accession: str) -> list[Proposal]:
    """All that the writing on one print may mean, whatever was answered."""
    prints = collection.catalogue.prints_of([accession])
    writings = collection.catalogue.writings_of(view.key for one in prints for view in one.views)
    known = lookups(collection.catalogue) if writings else None
    return [
        proposal
        for one in prints
        for key, writing in writings.items()
        if known
        for proposal in _of_side(one, key, writing, known, of_series=True)
    ]


def proposal_asked(collection: Collection, question: Question) -> Proposal | None:
    """What a question proposes; None where it is none about writing that a machine read, or nobody reads it so
    any more."""
    if question.asks is not Asks.INSCRIPTION:
        return None
    return next((one for one in proposals_on(collection, question.subject) if one.key == question.key), None)


def take_inscription(desk: PrintDesk, key: str) -> int | None:
    """Says of the print what a question proposes, with the writing as the source, and asks it no more; the act's
    number.

    Raises
    ------
    NotFound
        When the question waits no more, or the writing was read otherwise since.
    """
    collection = desk.shown.collection
    question = collection.catalogue.question(key)
    proposal = proposal_asked(collection, question) if question else None
    if proposal is None:
        raise NotFound(
            Sentence("This question does not wait any more"),
            Sentence("it was answered meanwhile, or the writing was read otherwise"),
            Sentence("Go on to the next"),
        )
    return desk.sitting.kept(say(collection, _meant(desk, proposal), instead=False, answers=[key])).act


def _meant(desk: PrintDesk, proposal: Proposal) -> Meant:
    """What would be kept; likely at most, for who wrote it may have erred."""
    fact = proposal.fact
    typed = Typed(proposal.accession, _FIELDS[fact.kind], fact.value, Sure.LIKELY, proposal.source)
    if fact.kind in (FactKind.PERSON, FactKind.TOGETHER, FactKind.PLACE):
        words = ", ".join(fact.values) if fact.values else fact.value
        return meant_of(desk.understanding, evolve(typed, words=words))
    if fact.kind in (FactKind.STUDIO, FactKind.ADDRESS):
        note = _("Studio: %(name)s", name=fact.value)
        return Meant(evolve(typed, words=note), (Claim(Says.NOTE, note, note, Sure.LIKELY),))
    is_date = typed.field is Field.DATE
    words = fact.used if is_date else fact.words
    claim = Claim(_SAYS[fact.kind], fact.value, words, Sure.LIKELY)
    return Meant(evolve(typed, words=words), (claim,), edtf=fact.value if is_date else "")


_FIELDS = {
    FactKind.DATE: Field.DATE,
    FactKind.PRINTING: Field.DATE,
    FactKind.PERSON: Field.PEOPLE,
    FactKind.TOGETHER: Field.PEOPLE,
    FactKind.PLACE: Field.PLACE,
    FactKind.STUDIO: Field.NOTE,
    FactKind.ADDRESS: Field.NOTE,
    FactKind.PAPER: Field.EVIDENCE,
    FactKind.NUMBER: Field.EVIDENCE,
}
_SAYS = {
    FactKind.DATE: Says.EXPOSURE,
    FactKind.PRINTING: Says.PRINTING,
    FactKind.PERSON: Says.PERSON,
    FactKind.PLACE: Says.PLACE,
    FactKind.PAPER: Says.EVIDENCE,
    FactKind.NUMBER: Says.ORDER,
}

_Told = frozenset[tuple[str, Says, str]]


def _told_of(statements: Iterable[Statement]) -> _Told:
    """What is said of which print, by the value and by the words."""
    return frozenset(
        (one.subject, one.says, each.casefold()) for one in statements for each in (one.value, one.words)
    )


def _is_told(proposal: Proposal, said: _Told) -> bool:
    fact = proposal.fact
    says = Says.PERSON if fact.kind is FactKind.TOGETHER else _SAYS.get(fact.kind, Says.NOTE)
    return all((proposal.accession, says, each.casefold()) in said for each in fact.values or (fact.value,))
