"""`solander chronology`."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

import click

from solander.cli.paper import json_line, say
from solander.core.descriptions import DescribedPrint
from solander.core.errors import CannotBegin
from solander.core.questions import Asks
from solander.look.ruler import bar_of, ruler_svg
from solander.look.words import slip_words
from solander.tasks.chronology import answers
from solander.tasks.collection import Collection
from solander.tasks.show import Shown

__all__ = ["chronology"]

WIDTH = 80


@click.command()
@click.argument("path", type=click.Path(path_type=Path), metavar="COLLECTION|PROBLEM.json")
@click.option(
    "--ruler", type=click.Path(path_type=Path), metavar="FILE.svg", help="Draw the order as a time ruler."
)
@click.option("--json", "as_json", is_flag=True, help="One JSON object a line.")
def chronology(path: Path, ruler: Path | None, as_json: bool) -> None:
    """Show the prints of a collection in time order, with the reason for each.

    Given a problem in JSON instead: the tightest ranges, or what contradicts.
    """
    if path.is_dir():
        _say_collection(path, ruler, as_json)
        return
    found = list(answers(path))
    for record in found:
        json_line(record)
    if any("error" in record for record in found):
        sys.exit(1)


def _say_collection(path: Path, ruler: Path | None, as_json: bool) -> None:
    with Collection.open(path) as collection:
        shown = Shown(collection)
        prints, questions = shown.described(), shown.questions()
    for one in prints:
        json_line(_record(one)) if as_json else _say_print(one)
    if ruler is not None:
        _draw(prints, ruler)
    contradictions = [question for question in questions if question.asks is Asks.CONTRADICTION]
    if contradictions and not as_json:
        say()
        say("These can't all be true:")
        for question in contradictions:
            say(f"  {question.sentence}")


def _draw(prints: Sequence[DescribedPrint], ruler: Path) -> None:
    try:
        ruler.write_text(ruler_svg([bar_of(one) for one in prints], standalone=True), encoding="utf-8")
    except OSError as error:
        why = error.strerror or str(error)
        raise CannotBegin(f"{ruler} could not be written", why, "Check the folder and its permissions") from error


def _record(one: DescribedPrint) -> dict[str, object]:
    return {
        "print": one.print.accession,
        "order": one.order,
        "edtf": one.when.edtf,
        "earliest": one.when.earliest,
        "latest": one.when.latest,
        "guess": one.when.guess,
        "reasons": [reason.sentence for reason in one.when.reasons],
    }


def _say_print(one: DescribedPrint) -> None:
    say(f"{one.order:4d}  {one.print.accession:<12}  {slip_words(one)}"[:WIDTH])
    if one.when.reasons:
        say(f"      {one.when.reasons[0].sentence}"[:WIDTH])
