"""`solander evidence`."""

from __future__ import annotations

import sys
import textwrap
from collections.abc import Iterator

import click

from solander.cli.paper import json_line, say
from solander.core.evidence import DatingFact
from solander.tasks.facts import facts_about

__all__ = ["evidence"]

_DATES = {
    "printing": "dates the paper: the picture was taken then or before",
    "exposure": "dates the picture",
    "original": "dates picture and paper: it was in the camera",
}


@click.command()
@click.argument("words", nargs=-1, metavar="[WORDS]...")
@click.option("--json", "as_json", is_flag=True, help="One JSON object a line.")
def evidence(words: tuple[str, ...], as_json: bool) -> None:
    """Show what paper, form and things in the picture tell about its date.

    WORDS are what you see: deckle edge; without any, everything that is known. The
    same words, or the number in front, may stand in the column “evidence” of a slip
    file.
    """
    said = " ".join(words)
    facts = facts_about(said)
    for fact in facts:
        json_line(_record(fact)) if as_json else _say(fact)
    if not facts:
        say(f"Nothing is known of “{said}”. Use fewer or other words, or none to see everything.")
        sys.exit(1)


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


def _say(fact: DatingFact) -> None:
    for line in _lines(fact):
        say(line)


def _lines(fact: DatingFact) -> Iterator[str]:
    yield from textwrap.wrap(f"{fact.id}  {fact.words} ({fact.region})", 80, subsequent_indent=" " * 6)
    rule = "" if fact.is_hard else "; a rule of thumb that gives way to better"
    told = [f"{_years(fact)}: {_DATES[fact.bounds]}{rule}", f"Source: {fact.source}"]
    for sentence in [*told, *([f"Note: {fact.note}"] if fact.note else [])]:
        yield from textwrap.wrap(sentence, 80, initial_indent=" " * 6, subsequent_indent=" " * 6)


def _years(fact: DatingFact) -> str:
    mostly = f", mostly {fact.peak_from} to {fact.peak_to}" if fact.peak_from and fact.peak_to else ""
    return f"{fact.earliest or '…'} to {fact.latest or '…'}{mostly}"
