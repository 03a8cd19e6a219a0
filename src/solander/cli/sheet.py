"""`solander sheet`."""

from __future__ import annotations

from pathlib import Path

import click

from solander.cli.paper import say
from solander.tasks.sheet import write_sheet

__all__ = ["sheet"]


@click.command()
@click.argument("file", type=click.Path(path_type=Path), default="stage-sheet.pdf", metavar="[FILE.pdf]")
@click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True, help="The paper.")
def sheet(file: Path, paper: str) -> None:
    """Write the stage sheet: print it, and lay it under the camera.

    A picture of it tells how large, how tilted and how bent all pictures of that
    sitting are. Without a name it is written to stage-sheet.pdf.
    """
    write_sheet(file, paper=paper)
    say(f"Written to {file}. Print it at 100 %: its check line must measure 100 mm.")
    say("Take a picture of it where the prints will lie, before the sitting.")
