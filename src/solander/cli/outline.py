"""`solander outline`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from solander.cli.paper import json_line, say
from solander.core.errors import CannotBegin, Trouble
from solander.tasks.outline import Outlined
from solander.tasks.outline import outline as find

__all__ = ["outline"]


@click.command()
@click.argument("images", type=click.Path(path_type=Path), nargs=-1, required=True, metavar="IMAGE...")
@click.option("--stage", type=click.Path(path_type=Path), metavar="EMPTY", help="A picture of the empty stage.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object a line.")
def outline(images: tuple[Path, ...], stage: Path | None, as_json: bool) -> None:
    """Find the prints in pictures; nothing is changed or kept."""
    if stage is not None and not stage.is_file():
        raise CannotBegin(f"The empty stage {stage} could not be read", "there is no such file", "Check the name")
    failed = False
    for image in images:
        try:
            found = find(image, empty_stage=stage)
        except Trouble as trouble:
            failed = True
            _say_failed(image, trouble, as_json)
        else:
            json_line(_record(image, found)) if as_json else _say_found(image, found)
    if failed:
        sys.exit(1)


def _say_failed(image: Path, trouble: Trouble, as_json: bool) -> None:
    if as_json:
        json_line({"image": str(image), "error": trouble.sentence})
    else:
        say(trouble.sentence)


def _record(image: Path, found: Outlined) -> dict[str, object]:
    prints = [
        {
            "corners": [[round(float(v), 2) for v in corner] for corner in one.corners],
            "confidence": round(float(one.confidence), 3),
        }
        for one in found.prints
    ]
    return {
        "image": str(image),
        "width": found.width,
        "height": found.height,
        "prints": prints,
        "ms": round(found.ms, 1),
    }


def _say_found(image: Path, found: Outlined) -> None:
    count = len(found.prints)
    say(f"{image}: {count or 'no'} print{'' if count == 1 else 's'} found")
    for one in found.prints:
        corners = "  ".join(f"{x:.0f},{y:.0f}" for x, y in one.corners)
        say(f"  {one.confidence:4.0%} sure   {corners}")
