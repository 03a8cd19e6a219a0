"""`solander demo`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from solander.cli.paper import command, say, watched
from solander.engine.local import local_executor
from solander.tasks.demo import Demonstrated, demonstrate

__all__ = ["demo"]

QUESTIONS_SHOWN = 3
ROOM = 66


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
        "The made-up box, from captures to releases (nothing in it is real):",
        "",
        f"  Taken in    {len(taken.captures)} captures: {len(taken.prints)} prints straightened, "
        f"{len(taken.backs)} backs joined to them",
        f"  In order    {done.first} to {done.last};",
        f"              {done.undated} undated prints are in their places too",
        f"  Released    archive, {archive.files} files; family, {family.files} files",
        f"  Verified    {checked} files read back, {len(faults) or 'no'} faults",
        *(f"              {fault}" for fault in faults),
        *_question_lines(done.questions),
        "",
        f"  Family site {family.root / 'index.html'}",
        f"  Archive     {archive.root / 'data' / 'README.txt'}",
        f"  Workbench   {command('open')} {done.root / 'collection'}",
        "",
        f"  It took {done.seconds:.0f} s, {done.drawing_s:.0f} s of them to draw the captures.",
    ]


def _question_lines(questions: tuple[str, ...]) -> list[str]:
    shown = [f"              {_shortened(sentence)}" for sentence in questions[-QUESTIONS_SHOWN:]]
    return [f"  Waiting     {len(questions)} questions for you, such as:", *shown]


def _shortened(sentence: str) -> str:
    return sentence if len(sentence) <= ROOM else sentence[: ROOM - 1].rstrip() + "…"
