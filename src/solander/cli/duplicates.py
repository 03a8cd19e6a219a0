"""`solander duplicates`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

import click

from solander.cli.paper import command, json_line, say, watched
from solander.core.language import told
from solander.engine.local import local_executor
from solander.look.words import counted
from solander.tasks.collection import Collection
from solander.tasks.duplicate_groups import Group, groups_of
from solander.tasks.duplicates import duplicates

__all__ = ["duplicates_command"]


@click.command("duplicates")
@click.argument("collection", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="One JSON object a line: a group of prints, with why.")
def duplicates_command(collection: Path, as_json: bool) -> None:
    """Find prints that show one photograph: nothing is joined or deleted.

    One print captured twice, two prints of one negative, a part of another.
    Which they are, you say in the workbench, where each pair waits as a
    question. What was compared once is not compared again.
    """
    with Collection.open(collection) as opened, watched() as watch, local_executor() as executor:
        groups = groups_of(opened, duplicates(opened, executor=executor, watch=watch))
    for group in groups:
        json_line(_record(group)) if as_json else _say(group)
    if as_json:
        return
    if not groups:
        say("No two prints show one photograph, as far as can be seen.")
        return
    say(f"{counted(len(groups), 'group')}. Say what they are, or that they are not, in the workbench:")
    say(f"  {command(f'open {collection}')}")


def _record(group: Group) -> dict[str, object]:
    return {
        "prints": list(group.prints),
        "pairs": [
            {
                "prints": [one.pair.earlier, one.pair.later],
                "kind": one.pair.kind,
                "why": str(one.sentence),
                "certainty": round(one.pair.likeness.certainty, 3),
                "agrees": round(one.pair.likeness.agrees, 3),
                "points": one.pair.likeness.inliers,
                "said": one.said,
                "better": one.best,
                "better_why": {print_: list(why) for print_, why in one.better.items()},
            }
            for one in group.pairs
        ],
    }


def _say(group: Group) -> None:
    say(", ".join(group.prints))
    for line in _lines(group):
        say(f"  {line}")


def _lines(group: Group) -> Iterator[str]:
    for one in group.pairs:
        yield f"{told(one.sentence)} ({one.pair.likeness.certainty:.0%} sure)"
        yield from _better(one.better)


def _better(better: Mapping[str, Sequence[str]]) -> Iterator[str]:
    for print_, why in better.items():
        if why:
            yield f"  {print_} {', '.join(why)}"
