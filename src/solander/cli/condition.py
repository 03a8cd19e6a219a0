"""`solander condition`."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import click
from attrs import asdict

from solander.cli.paper import json_line, say, watched
from solander.core.condition import Condition
from solander.core.errors import CannotBegin, Trouble
from solander.look.words import counted
from solander.tasks.collection import Collection
from solander.tasks.condition import conditions_in
from solander.tasks.measure_again import MeasuredSide, measure_again, sides_of

__all__ = ["condition"]

_NOT_TOLD = "fingerprint", "measured"


@click.command()
@click.argument("images", type=click.Path(path_type=Path), nargs=-1, required=True, metavar="IMAGE...")
@click.option("--print", "prints", multiple=True, metavar="NUMBER", help="Only this print of a COLLECTION.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object a line.")
def condition(images: tuple[Path, ...], prints: tuple[str, ...], as_json: bool) -> None:
    """Measure how well prints were captured and how they have kept.

    Of pictures nothing is changed or kept. Where a COLLECTION stands in the
    place of an image, its prints are told, and those measured before there
    was more to measure are measured again. What another capture mends and
    what is so with the print itself are kept apart.
    """
    if prints and not all(image.is_dir() for image in images):
        raise CannotBegin(
            "Nothing was measured", "a print has a number in a collection only", "Name a collection with --print"
        )
    went_well = [_one(image, prints, as_json) for image in images]
    if not all(went_well):
        sys.exit(1)


def _one(image: Path, prints: tuple[str, ...], as_json: bool) -> bool:
    """Measures an image or a collection; tells whether it went well."""
    try:
        if image.is_dir():
            _tell_collection(image, prints, as_json)
            return True
        found = conditions_in(image)
    except Trouble as trouble:
        if isinstance(trouble, CannotBegin) and not as_json:
            raise
        json_line({"image": str(image), "error": trouble.sentence}) if as_json else say(trouble.sentence)
        return False
    if as_json:
        told = [
            {"corners": [[round(v, 2) for v in at] for at in one.corners], **_record(one.condition)}
            for one in found
        ]
        json_line({"image": str(image), "prints": told})
        return True
    say(f"{image}: {counted(len(found), 'print')} measured")
    for one in found:
        say(f"  {_words(one.condition)}")
    return True


def _tell_collection(folder: Path, prints: tuple[str, ...], as_json: bool) -> None:
    with Collection.open(folder) as opened, watched() as watch:
        sides = measure_again(opened, sides_of(opened, prints), watch=watch)
    for side in sides:
        if as_json:
            json_line({"print": side.accession, "side": side.view.side.value, **_of_side(side)})
        elif side.view.condition and (side.view.condition.faults or side.view.condition.states):
            say(f"{side.accession} {side.view.side.value}: {_words(side.view.condition)}")
    if not as_json:
        kept = [side.view.condition for side in sides if side.view.condition]
        again, aged = (sum(bool(getattr(one, which)) for one in kept) for which in ("faults", "states"))
        say(f"{counted(len(sides), 'side')}: {again} to be captured better, {aged} that show their age.")


def _of_side(side: MeasuredSide) -> dict[str, Any]:
    ppi = {"ppi": side.view.ppi}
    return {**ppi, **_record(side.view.condition)} if side.view.condition else ppi


def _record(condition: Condition) -> dict[str, Any]:
    return {name: value for name, value in asdict(condition).items() if name not in _NOT_TOLD}


def _words(condition: Condition) -> str:
    faults = ", ".join(condition.faults) or "captured well"
    states = ", ".join(condition.states) or "nothing of its age to be seen"
    return f"{faults}; {states}"
