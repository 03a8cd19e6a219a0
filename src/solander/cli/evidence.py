"""`solander evidence`."""

from __future__ import annotations

import sys
import textwrap
from collections.abc import Iterable, Iterator
from itertools import groupby

import click

from solander.cli.paper import json_line, say
from solander.core.evidence import DatingFact
from solander.tasks.facts import facts_about, facts_near

__all__ = ["evidence"]

_DATES = {
    "printing": "dates the paper: the picture was taken then or before",
    "exposure": "dates the picture",
    "original": "dates picture and paper: it was in the camera",
}


_KINDS = {
    "process": "How the picture was made",
    "material": "Paper under a lamp",
    "format": "Form",
    "tintype": "Tintypes",
    "cdv": "Cartes de visite",
    "stamp": "Revenue stamps",
    "cabinet": "Cabinet cards",
    "postcard": "Postcards",
    "paper": "Paper",
    "back": "On the back",
    "border": "Edge, border, size",
    "film": "Film",
    "instant": "Instant prints",
    "content": "In the picture",
}
"""The groups of the table as headings."""

_WIDTH = 80


@click.command()
@click.argument("words", nargs=-1, metavar="[WORDS]...")
@click.option("--json", "as_json", is_flag=True, help="One JSON object a line.")
def evidence(words: tuple[str, ...], as_json: bool) -> None:
    """Show what paper, form and things in the picture tell about its date.

    WORDS are what you see: deckle edge; without any, a line for each thing that is
    known. The same words, or the number in front, may stand in the column
    “evidence” of a slip file.
    """
    said = " ".join(words)
    facts = facts_about(said)
    if not facts:
        _say_nothing_is_known(said, as_json=as_json)
        sys.exit(1)
    for line in _told(facts, in_full=bool(said.strip())) if not as_json else ():
        say(line)
    for fact in facts if as_json else ():
        json_line(_record(fact))


def _say_nothing_is_known(said: str, *, as_json: bool) -> None:
    """On stderr where JSON is read, so that nothing else stands on stdout."""
    near = facts_near(said)
    hint = "Did you mean:" if near else "Use fewer or other words, or none to see everything."
    for line in (f"Nothing is known of “{said}”. {hint}", *(f"  {_short(fact)}" for fact in near)):
        click.echo(line, err=as_json)


def _told(facts: Iterable[DatingFact], *, in_full: bool) -> Iterator[str]:
    if in_full:
        for fact in facts:
            yield from _lines(fact)
        return
    kinds = list(_KINDS)
    for kind, group in groupby(
        sorted(facts, key=lambda fact: kinds.index(fact.group)), key=lambda fact: fact.group
    ):
        yield _KINDS[kind]
        yield from (f"  {_short(fact)}" for fact in group)


def _short(fact: DatingFact) -> str:
    """A fact on one line: number, words, years."""
    years = _span(fact)
    told = textwrap.shorten(fact.named, _WIDTH - len(f"  {fact.id}  , {years}"), placeholder=" …")
    return f"{fact.id}  {told}, {years}"


def _record(fact: DatingFact) -> dict[str, object]:
    return {
        "id": fact.id,
        "evidence": fact.words,
        "earliest": fact.earliest,
        "latest": fact.latest,
        "mostly": [fact.peak_from, fact.peak_to],
        "bounds": fact.bounds,
        "binds": fact.is_hard,
        "region": fact.region,
        "source": fact.source,
        "note": fact.note,
    }


def _lines(fact: DatingFact) -> Iterator[str]:
    yield from textwrap.wrap(f"{fact.id}  {fact.named} ({fact.region})", _WIDTH, subsequent_indent=" " * 6)
    rule = "" if fact.is_hard else "; a rule of thumb that gives way to better"
    told = [f"{_years(fact)}: {_DATES[fact.bounds]}{rule}", f"Source: {fact.source}"]
    for sentence in [*told, *([f"Note: {fact.note}"] if fact.note else [])]:
        yield from textwrap.wrap(sentence, _WIDTH, initial_indent=" " * 6, subsequent_indent=" " * 6)


def _years(fact: DatingFact) -> str:
    mostly = f", mostly {fact.usual[0]} to {fact.usual[1]}" if fact.usual else ""
    return f"{_span(fact)}{mostly}"


def _span(fact: DatingFact) -> str:
    return f"{fact.earliest or '…'} to {'…' if fact.is_open else fact.latest}"
