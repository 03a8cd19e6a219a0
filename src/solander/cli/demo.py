"""`solander demo`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from solander.cli.paper import say, watched
from solander.engine.local import local_executor
from solander.tasks.demo import Demonstrated, demonstrate

__all__ = ["demo"]

QUESTIONS_SHOWN = 4


@click.command()
@click.argument("folder", type=click.Path(path_type=Path), default="solander-demo", metavar="[DIR]")
def demo(folder: Path) -> None:
    """Run the whole job on the bundled made-up box, into DIR (solander-demo)."""
    with watched() as watch, local_executor() as executor:
        done = demonstrate(folder, executor=executor, watch=watch)
    for line in _lines(done):
        say(line)
    if any(verified.faults for verified in done.verified) or done.taken_in.set_aside:
        sys.exit(1)


def _lines(done: Demonstrated) -> list[str]:
    taken, (archive, family) = done.taken_in, done.releases
    faults = [fault for verified in done.verified for fault in verified.faults]
    checked = sum(verified.files for verified in done.verified)
    return [
        "The made-up box, from captures to releases (place, families and dates are invented):",
        "",
        f"  Taken in     {len(taken.captures)} captures: {len(taken.prints)} prints found and straightened, "
        f"{len(taken.backs)} backs joined",
        f"  In order     from {done.first} to {done.last}; {done.undated} undated prints in their places too",
        f"  Released     archive: {archive.files} files; family: {family.files} files",
        f"  Verified     {checked} files read back, {len(faults) or 'no'} faults",
        *(f"               {fault}" for fault in faults),
        *_question_lines(done.questions),
        "",
        f"  Family site  {family.root / 'index.html'} (opens by double click)",
        f"  Archive      {archive.root / 'data' / 'README.txt'}",
        f"  Workbench    ./run open {done.root / 'collection'}",
        "",
        f"  It took {done.seconds:.0f} s, {done.drawing_s:.0f} s of them to draw the captures.",
    ]


def _question_lines(questions: tuple[str, ...]) -> list[str]:
    shown = [f"    {sentence}" for sentence in questions[:QUESTIONS_SHOWN]]
    more = len(questions) - len(shown)
    return [f"  Waiting      {len(questions)} questions for you, for instance:", *shown] + (
        [f"    … and {more} more"] if more > 0 else []
    )
