"""From the words that were heard to parts as a person would type them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from attrs import define, field, frozen

from solander.core.orders import Order
from solander.reading.speech.dates import in_digits
from solander.reading.speech.grammar import Kind, Word
from solander.reading.speech.table import Table

__all__ = ["Part", "order_of", "parts_of", "sentence_of"]


@frozen
class Part:
    """One thing that was said: its kind, and the words that a person would type for it."""

    kind: Kind
    words: str


def order_of(words: Sequence[Word]) -> Order | None:
    """The order that was given, None where none was."""
    return next((Order(word.written) for word in words if word.kind is Kind.ORDER), None)


def parts_of(words: Sequence[Word], table: Table) -> tuple[Part, ...]:
    """The parts of what was heard, in its order; what was taken back is left out ("Ingrid, no, Astrid")."""
    found: list[Part] = []
    for run in _runs(words):
        new = Part(run.kind, _WRITTEN[run.kind](run, table))
        before = next((place for place in reversed(range(len(found))) if found[place].kind is run.kind), None)
        if run.takes_back and before is not None:
            gone = found.pop(before)
            if run.kind is Kind.DATE:
                # The reader of dates knows what a correction keeps: "3 September 1937, no, the 4th".
                new = Part(run.kind, f"{gone.words}, {table.back.split('|')[0]}, {new.words}")
        found.append(new)
    return tuple(found)


def sentence_of(parts: Sequence[Part]) -> str:
    """The parts in one line: "summer 1958, Bergen, with Ingrid and Nils"."""
    return ", ".join(part.words for part in parts)


@define
class _Run:
    """Words that tell one thing; `lead` is the joint before them, `takes_back` whether "no" was."""

    kind: Kind
    lead: str
    takes_back: bool
    words: list[Word] = field(factory=list)


def _runs(words: Sequence[Word]) -> Iterator[_Run]:
    run: _Run | None = None
    lead, takes_back = "", False
    for word in words:
        kind = Kind.PEOPLE if word.kind is Kind.KIN else word.kind
        if kind is Kind.BACK:
            takes_back = True
        elif kind is Kind.JOINT:
            lead = word.written
        elif kind is not Kind.ORDER:
            goes_on = run is not None and run.kind is kind and not takes_back and kind in _LONG
            if run is None or not goes_on or lead == "without":
                if run is not None:
                    yield run
                run = _Run(kind, lead, takes_back)
            run.words.append(word)
            lead, takes_back = "", False
    if run is not None:
        yield run


_LONG = (Kind.DATE, Kind.PEOPLE, Kind.CONTAINER)
"""What may be told in several words; every place and every occasion is one."""


def _date(run: _Run, table: Table) -> str:
    silent = {*table.of.split("|"), *table.article.split("|")}
    said = [word.written for word in run.words if word.written not in silent]
    return in_digits(" ".join(said).split(), table)


def _people(run: _Run, table: Table) -> str:
    """ "Her brother" and "Nils" behind it are one person."""
    named: list[str] = []
    relative = ""
    for word in run.words:
        if word.kind is Kind.KIN:
            named += [relative] * bool(relative)
            relative = word.written
        else:
            named.append(f"{relative} {word.written}".strip())
            relative = ""
    named += [relative] * bool(relative)
    lead = run.lead if run.lead in table.people_leads.split("|") else table.people_leads.split("|")[0]
    return named[0] if named[0] in table.whole_people.values() else f"{lead} {f' {table.and_} '.join(named)}"


def _container(run: _Run, table: Table) -> str:
    """ "Box two, envelope five" is B2/E5; one alone stays in words, since it may lie in the present box."""
    steps: list[tuple[str, list[str]]] = []
    for word in run.words:
        if word.written in table.kinds_of_container:
            steps.append((word.written, []))
        elif steps:
            steps[-1][1].append(word.written)
        else:
            return word.written
    told = [(kind, in_digits(number, table)) for kind, number in steps]
    if len(told) == 1:
        return " ".join(told[0])
    return "/".join(f"{table.kinds_of_container[kind]}{number}" for kind, number in told)


def _name(run: _Run, table: Table) -> str:
    return run.words[0].written


_WRITTEN = {
    Kind.DATE: _date,
    Kind.PEOPLE: _people,
    Kind.CONTAINER: _container,
    Kind.PLACE: _name,
    Kind.OCCASION: _name,
}
