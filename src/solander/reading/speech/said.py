"""From the words that were heard to parts as a person would type them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from attrs import frozen

from solander.core.orders import Order
from solander.reading.speech.dates import in_digits
from solander.reading.speech.grammar import Kind, Word
from solander.reading.speech.table import Table

__all__ = ["Part", "order_of", "parts_of", "sentence_of"]

_NAMES = (Kind.PEOPLE, Kind.KIN)


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
    takes_back = False
    for kind, run in groupby(words, key=lambda word: Kind.PEOPLE if word.kind in _NAMES else word.kind):
        said = list(run)
        if kind is Kind.BACK:
            takes_back = True
        elif kind not in (Kind.JOINT, Kind.ORDER):
            _add(found, kind, said, table, takes_back=takes_back)
            takes_back = False
    return tuple(found)


def sentence_of(parts: Sequence[Part]) -> str:
    """The parts in one line, each kind once: "summer 1958, Bergen, Ingrid + Nils"."""
    lines: dict[Kind, list[str]] = {}
    for part in parts:
        lines.setdefault(part.kind, []).append(part.words)
    return ", ".join((" + " if kind is Kind.PEOPLE else ", ").join(each) for kind, each in lines.items())


def _add(found: list[Part], kind: Kind, said: Sequence[Word], table: Table, *, takes_back: bool) -> None:
    new = [Part(kind, each) for each in _written(kind, said, table)]
    before = next((place for place in reversed(range(len(found))) if found[place].kind is kind), None)
    if takes_back and before is not None:
        if kind is Kind.DATE:
            # The reader of dates knows what a correction keeps: "3 September 1937, no, the 4th".
            new[0] = Part(kind, f"{found[before].words}, {table.back.split('|')[0]}, {new[0].words}")
        found.pop(before)
    found.extend(new)


def _written(kind: Kind, said: Sequence[Word], table: Table) -> Iterator[str]:
    if kind is Kind.DATE:
        yield in_digits([each for word in said for each in word.written.split()], table.dates)
    elif kind is Kind.CONTAINER:
        yield _code([word.written for word in said], table)
    elif kind is Kind.PEOPLE:
        yield from _people(said)
    else:
        yield from (word.written for word in said)


def _people(said: Sequence[Word]) -> Iterator[str]:
    """ "Her brother" and "Nils" without a word between are one person."""
    relative = ""
    for word in said:
        if word.kind is Kind.KIN:
            if relative:
                yield relative
            relative = word.written
        else:
            yield f"{relative} {word.written}".strip()
            relative = ""
    if relative:
        yield relative


def _code(said: Sequence[str], table: Table) -> str:
    """ "Box two, envelope five" is B2/E5; one alone stays in words, since it may lie in the present box."""
    steps: list[tuple[str, list[str]]] = []
    for word in said:
        if word in table.kinds_of_container:
            steps.append((word, []))
        elif steps:
            steps[-1][1].append(word)
    told = [(kind, in_digits(number, table.dates)) for kind, number in steps]
    if len(told) == 1:
        return " ".join(told[0])
    return "/".join(f"{table.kinds_of_container[kind]}{number}" for kind, number in told)
