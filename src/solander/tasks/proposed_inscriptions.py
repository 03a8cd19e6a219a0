"""What writing on a print may mean, as proposals that a person says yes or no to; nothing binds before.

What was read is kept with its view (`core.inscriptions.kept`); what it may mean is worked out anew each time, by
the people and places that the collection knows then.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from attrs import evolve, frozen

from solander.authorities.dating import dating_facts
from solander.core.dates import Dated
from solander.core.inscriptions import Fact, FactKind, Line, Lookups, facts_of
from solander.core.inscriptions.kept import Writing
from solander.core.language import marked
from solander.core.prints import Side, View
from solander.core.questions import Asks, Question
from solander.core.sentence import Listed, Sentence
from solander.core.statements import Says
from solander.tasks.ask import question_key

__all__ = ["BACK", "BORDER", "Proposal", "is_about", "is_read_by_machine", "proposals_of"]

BACK, BORDER = marked("back inscription"), marked("border inscription")
"""The sources of statements that were taken over from writing."""


@frozen
class Proposal:
    """Something that a line of writing may mean.

    `fact` holds what, how sure, and which words had no part; `line` is the line as it lies in the view as shown,
    `number` its place among the lines that were read, then those that repeat. `sentence` asks.
    """

    accession: str
    view: View
    fact: Fact
    line: Line
    number: int
    sentence: Sentence

    @property
    def key(self) -> str:
        """The key of its question, the same however often it is asked."""
        return question_key(Asks.INSCRIPTION, self.accession, self.sentence)

    @property
    def source(self) -> str:
        """Who says so, once a person said yes."""
        return BACK if self.view.side is Side.VERSO else BORDER


def proposals_of(
    accession: str, view: View, writing: Writing, known: Lookups, *, of_series: bool = False
) -> list[Proposal]:
    """What the writing on one side of a print may mean; a number only where prints beside it bear some, too."""
    seen = writing.seen(view.turn)
    lines = (*seen.lines, *seen.repeated)
    is_back = view.side is Side.VERSO
    facts: Sequence[Fact] = (
        facts_of(seen.lines, known, repeated=seen.repeated) if is_back else writing.facts  # a border's are its own
    )
    asked = _ASKED_OF_BACK if is_back else _ASKED_OF_BORDER
    return [
        Proposal(accession, view, fact, lines[fact.line], fact.line, asked[fact.kind](fact, accession))
        for fact in _joined(facts)
        if fact.kind in asked and fact.line < len(lines) and (of_series or fact.kind is not FactKind.NUMBER)
    ]


def _joined(facts: Sequence[Fact]) -> Iterator[Fact]:
    """Each once: people who are named in one breath together, a studio with its one address; of numbers whole
    ones."""
    together = {name for fact in facts if fact.kind is FactKind.TOGETHER for name in fact.values}
    studios = [fact for fact in facts if fact.kind is FactKind.STUDIO]
    addresses = [fact for fact in facts if fact.kind is FactKind.ADDRESS]
    are_one = len(studios) == len(addresses) == 1
    told: set[tuple[FactKind, str]] = set()
    for fact in facts:
        spoken_of = (fact.kind is FactKind.PERSON and fact.value in together) or (
            fact.kind is FactKind.ADDRESS and are_one
        )
        no_place = fact.kind is FactKind.NUMBER and not fact.value.isdecimal()
        if spoken_of or no_place or (fact.kind, fact.value) in told:
            continue
        told.add((fact.kind, fact.value))
        if fact.kind is FactKind.STUDIO and are_one:
            fact = evolve(fact, value=f"{fact.value}, {addresses[0].value}")
        yield fact


_MACHINE = " a machine read “"


def is_read_by_machine(question: Question) -> bool:
    """Whether a question is about what a machine read, and not about words that a person took down."""
    return question.asks is Asks.INSCRIPTION and _MACHINE in question.sentence


def is_about(question: Question, says: Says) -> bool:
    """Whether a question about what a machine read asks for a date of that kind."""
    asked = {Says.EXPOSURE: "”: was it taken then (", Says.PRINTING: "”: was the paper made then ("}
    return is_read_by_machine(question) and says in asked and asked[says] in question.sentence


Asking = Callable[[Fact, str], Sentence]


def _asking(message: str, told: Callable[[Fact], str]) -> Asking:
    return lambda fact, accession: Sentence(message, print=accession, words=fact.words, told=told(fact))


def _value(fact: Fact) -> str:
    return fact.value


def _date(fact: Fact) -> str:
    return Dated(fact.value)


def _names(fact: Fact) -> str:
    return Listed(fact.values)


def _paper(fact: Fact) -> str:
    known = dating_facts().get(fact.value)
    return known.named if known else fact.value


_ASKED_OF_BACK = {
    FactKind.DATE: _asking(
        marked("On the back of %(print)s a machine read “%(words)s”: was it taken then (%(told)s)?"), _date
    ),
    FactKind.PRINTING: _asking(
        marked("On the back of %(print)s a machine read “%(words)s”: was the paper made then (%(told)s)?"), _date
    ),
    FactKind.PERSON: _asking(
        marked("On the back of %(print)s a machine read “%(words)s”: is %(told)s shown in it?"), _value
    ),
    FactKind.TOGETHER: _asking(
        marked("On the back of %(print)s a machine read “%(words)s”: are %(told)s shown in it together?"), _names
    ),
    FactKind.PLACE: _asking(
        marked("On the back of %(print)s a machine read “%(words)s”: was it taken there (%(told)s)?"), _value
    ),
    FactKind.STUDIO: _asking(
        marked("On the back of %(print)s a machine read “%(words)s”: did this studio make it (%(told)s)?"), _value
    ),
    FactKind.ADDRESS: _asking(
        marked("On the back of %(print)s a machine read “%(words)s”: is this where its studio was (%(told)s)?"),
        _value,
    ),
    FactKind.PAPER: _asking(
        marked("On the back of %(print)s a machine read “%(words)s”: is it this paper (%(told)s)?"), _paper
    ),
    FactKind.NUMBER: _asking(
        marked("On the back of %(print)s a machine read “%(words)s”: is %(told)s its number in the series?"),
        _value,
    ),
}
_ASKED_OF_BORDER = {
    FactKind.PRINTING: _asking(
        marked("In the border of %(print)s a machine read “%(words)s”: was the paper made then (%(told)s)?"), _date
    ),
    FactKind.NUMBER: _asking(
        marked("In the border of %(print)s a machine read “%(words)s”: is %(told)s its number in the series?"),
        _value,
    ),
}
