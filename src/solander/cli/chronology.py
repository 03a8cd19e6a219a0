"""`solander chronology`."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

import click

from solander.cli.order_told import order_lines
from solander.cli.paper import json_line, say
from solander.core.descriptions import DescribedPrint
from solander.core.errors import CannotBegin
from solander.look.ruler import bar_of, ruler_svg
from solander.tasks.chronology import OrderTold, answers, order_told
from solander.tasks.collection import Collection

__all__ = ["chronology"]


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
    if ruler is not None:
        raise click.UsageError("A ruler is drawn of a collection; a problem has none.")
    found = list(answers(path))
    for record in found:
        json_line(record)
    if any("error" in record for record in found):
        sys.exit(1)


def _say_collection(path: Path, ruler: Path | None, as_json: bool) -> None:
    with Collection.open(path) as collection:
        told = order_told(collection)
    if as_json:
        for record in _records(told):
            json_line(record)
    else:
        for line in order_lines(told):
            say(line)
    if ruler is not None:
        _draw(told.prints, ruler)


def _draw(prints: Sequence[DescribedPrint], ruler: Path) -> None:
    drawing = ruler_svg([bar_of(one) for one in prints], standalone=True)
    if not drawing:
        click.echo("No ruler was drawn, for nothing is dated yet.", err=True)
        return
    try:
        ruler.write_text(drawing, encoding="utf-8")
    except OSError as error:
        why = error.strerror or str(error)
        raise CannotBegin(f"{ruler} could not be written", why, "Check the folder and its permissions") from error


def _records(told: OrderTold) -> Iterator[dict[str, object]]:
    for one in told.prints:
        yield _record(one)
    for clash in told.contradictions:
        yield {"contradiction": clash.sentence, "print": clash.subject}
    for mend in told.mends:
        yield {"mend": mend}
    for asked in told.questions:
        yield {"question": asked.sentence, "about": asked.subject, "gain_years": asked.gain_years}


def _record(one: DescribedPrint) -> dict[str, object]:
    return {
        "print": one.print.accession,
        "order": one.order,
        "edtf": one.when.edtf,
        "earliest": one.when.earliest,
        "latest": one.when.latest,
        "guess": one.when.guess,
        "likely": one.when.likely,
        "sure": one.when.sure,
        "reasons": [reason.sentence for reason in one.when.reasons],
        "sources": [reason.source for reason in one.when.reasons],
        "contradicts": list(one.when.contradicts),
        "overruled": list(one.when.overruled),
    }
