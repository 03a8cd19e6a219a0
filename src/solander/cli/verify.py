"""`solander verify`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from solander.cli.paper import say, watched
from solander.tasks.verify import verify as check

__all__ = ["verify"]


@click.command()
@click.argument("path", type=click.Path(path_type=Path))
def verify(path: Path) -> None:
    """Prove a collection or a release whole: every fault is named."""
    with watched() as watch:
        verified = check(path, watch=watch)
    for fault in verified.faults:
        say(fault)
    if verified.faults:
        say(f"{len(verified.faults)} fault{'s' if len(verified.faults) > 1 else ''} in {path}.")
        sys.exit(1)
    say(f"Whole: all {verified.files} files of {path} are as they were written.")
