"""`solander people`: takes people in, and shows what that changes."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

import click

from solander.cli.paper import say
from solander.core.taking_in import Change, Plan
from solander.look.words import counted
from solander.tasks.collection import Collection
from solander.tasks.people import Difference, difference, take_in_people

__all__ = ["people"]

_LISTED = 20
"""So many lines of one kind are written out; the rest is counted."""


@click.command()
@click.argument("collection", type=click.Path(path_type=Path))
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--look", is_flag=True, help="Only say what would change.")
@click.option(
    "--known-as", default="", metavar="NAME", help="FILE is a newer copy of the one that was taken in as NAME."
)
def people(collection: Path, file: Path, look: bool, known_as: str) -> None:
    """Take in people from FILE: a family tree, an address book, a table or a list.

    Family trees are GEDCOM 5.5.1 or 7.0 or a package of one (GEDZIP), address books
    vCard, tables CSV or XLSX with a column of names, lists are typed with one person
    a line: Nan = Anna Weber, born 12 March 1921.

    Taking a file in again updates what it told, and says what is new, changed and
    gone; who is gone from it stays. Nobody is joined to anybody: who may be one is
    asked. Dates of prints that follow from a life are read again.
    """
    with Collection.open(collection) as opened:
        if look:
            _look(difference(opened, file, known_as=known_as))
            return
        done = take_in_people(opened, file, known_as=known_as)
    say(f"{counted(done.count, 'person', 'people')} taken in.")
    _tell(done.difference)
    if done.questions:
        say(f"{counted(done.questions, 'question', 'questions')} raised: who of them may be one person.")
    _lines(done.set_aside, indent="")
    if done.changed:
        say(f"{counted(len(done.changed), 'date')} read again:")
        _lines(done.changed)
    if done.set_aside:
        sys.exit(1)


def _look(found: Difference) -> None:
    say(f"{counted(len(found.plan.headings), 'person', 'people')} would be taken in; nothing was changed.")
    _tell(found)
    _lines((*found.plan.remarks, *found.plan.set_aside), indent="")


def _tell(found: Difference) -> None:
    """How many are new, changed, as before and gone, and who."""
    plan = found.plan
    counts = [(len(plan.new), "new"), (len(plan.changed), "changed"), (found.as_before, "as before")]
    if plan.headings:
        say(", ".join(f"{count:,} {what}" for count, what in counts if count) + ".")
    _lines([change.heading for change in plan.new])
    _lines([_changed(change) for change in plan.changed])
    for ties, what in ((plan.kin_new, "new"), (plan.kin_gone, "no longer told")):
        if ties:
            say(f"{counted(len(ties), 'tie')} of parents and partners {what}.")
    _gone(plan)


def _changed(change: Change) -> str:
    return f"{change.heading}: {change.words or 'found by another number in the file'}"


def _gone(plan: Plan) -> None:
    if plan.gone:
        say(f"{counted(len(plan.gone), 'person', 'people')} no longer in {plan.source}; they stay as they are:")
        _lines(plan.gone)


def _lines(lines: Sequence[str], indent: str = "  ") -> None:
    for line in lines[:_LISTED]:
        say(f"{indent}{line}")
    if len(lines) > _LISTED:
        say(f"{indent}and {len(lines) - _LISTED:,} more")
