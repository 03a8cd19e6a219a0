"""`solander accession`."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import cast

import click

from solander.cli.as_they_come import Asides, take_as_they_come
from solander.cli.paper import command, say, watched
from solander.core.prints import container_code
from solander.engine.local import local_executor
from solander.intake.arrivals import Arrival
from solander.intake.sides import SidesRule
from solander.look.words import counted
from solander.tasks.accession import Accessioned
from solander.tasks.accession import accession as take_in
from solander.tasks.collection import Collection
from solander.tasks.tether import tethered as camera_on_cable
from solander.tasks.watch_folder import refuse_own_folder, watched_folder

__all__ = ["accession"]


@click.command()
@click.argument("collection", type=click.Path(path_type=Path))
@click.argument("paths", type=click.Path(path_type=Path), nargs=-1, metavar="[PATH]...")
@click.option("--container", metavar="CODE", help="The box or envelope they come from: B2, or B2/E5.")
@click.option(
    "--sides",
    type=click.Choice(["by-name", "alternate", "recto"]),
    default="by-name",
    show_default=True,
    help="Which files are backs: told by their names (x_r and x_v, x-front and x-back, xa and xb; x_detail1 is a "
    "detail of x), every second one, or none.",
)
@click.option(
    "--pages",
    is_flag=True,
    help="Every file is a page of an album: the prints on it are cut out, the page stays whole beside them. "
    "CODE is the album (B2/A1: pages are counted on) or the first page (B2/A1/P3).",
)
@click.option(
    "--stage",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="A picture of the stage from before the sitting: empty, or with the stage sheet on it.",
)
@click.option("--slips", type=click.Path(path_type=Path), metavar="FILE.csv", help="What is known of them.")
@click.option(
    "--watch",
    type=click.Path(path_type=Path),
    metavar="FOLDER",
    help="Take in what is put into this folder, as it comes, until Ctrl-C.",
)
@click.option(
    "--polling",
    is_flag=True,
    help="Look through the folder again and again: for shares that do not tell what is new. Known ones are looked "
    "through anyway.",
)
@click.option(
    "--tethered",
    is_flag=True,
    help="Take in what the camera on the cable takes, until Ctrl-C (through gphoto2).",
)
def accession(
    collection: Path,
    paths: tuple[Path, ...],
    container: str | None,
    sides: str,
    pages: bool,
    stage: Path | None,
    slips: Path | None,
    watch: Path | None,
    polling: bool,
    tethered: bool,
) -> None:
    """Take files and folders into COLLECTION.

    Every print is found and straightened, backs join their fronts, and what is not
    sure waits as a question. The files themselves are copied and stay as they are.
    """
    code = container_code(container) if container else None
    if watch or tethered:
        if paths or pages or slips or (watch and tethered):
            raise click.UsageError("--watch and --tethered go alone: leave out paths, --pages and --slips.")
        asides = Asides()
        with Collection.open(collection) as opened:
            source = (
                _watching(opened, watch, asides, polling=polling or None) if watch else _on_cable(opened, asides)
            )
            with source as arrivals:
                take_as_they_come(opened, arrivals, container=code, sides=cast(SidesRule, sides), stage=stage)
    elif not paths:
        raise click.UsageError("Name files or folders, or a folder to --watch.")
    else:
        _take_in(collection, paths, code, cast(SidesRule, sides), slips, stage, pages=pages)


@contextmanager
def _watching(
    collection: Collection, folder: Path, asides: Asides, *, polling: bool | None
) -> Iterator[Iterable[Arrival]]:
    refuse_own_folder(collection, folder)
    say(f"Watching {folder}: put pictures into it; Ctrl-C ends it.")
    yield watched_folder(folder, asides, polling=polling)


@contextmanager
def _on_cable(collection: Collection, asides: Asides) -> Iterator[Iterable[Arrival]]:
    with camera_on_cable(collection, asides) as (model, shots):
        say(f"{model} is ready: press its shutter; Ctrl-C ends it.")
        yield shots


def _take_in(
    collection: Path,
    paths: tuple[Path, ...],
    code: str | None,
    sides: SidesRule,
    slips: Path | None,
    stage: Path | None,
    *,
    pages: bool,
) -> None:
    with Collection.open(collection) as opened, watched() as watch:
        try:
            with local_executor() as executor:
                report = take_in(
                    opened,
                    paths,
                    container=code,
                    sides=sides,
                    slips=slips,
                    stage=stage,
                    pages=pages,
                    executor=executor,
                    watch=watch,
                )
        except KeyboardInterrupt:
            click.echo(
                "Stopped. All that was taken in so far is safe; run the same command again to go on.", err=True
            )
            raise
        waiting = len(opened.catalogue.questions())
    _say_report(report)
    if waiting:
        say(f"{counted(waiting, 'question')} {'waits' if waiting == 1 else 'wait'} for you in the browser:")
        say(f"  {command(f'open {collection}')}")
    say("The order of time, with reasons:")
    say(f"  {command(f'chronology {collection}')}")
    if report.set_aside or report.slip_notes:
        sys.exit(1)


def _say_report(report: Accessioned) -> None:
    say(
        f"{counted(report.arrived, 'file')}: {counted(len(report.captures), 'capture')} taken in, "
        f"{counted(len(report.prints), 'new print')}, {counted(len(report.backs), 'side')} joined to a print."
    )
    if report.beside:
        say(f"Kept beside the other file of the same shot (raw and JPEG): {counted(len(report.beside), 'file')}.")
    if report.known:
        say(f"Here already and left alone: {counted(len(report.known), 'file')}.")
    if report.stage_said:
        say(report.stage_said)
    if report.faces_said:
        say(report.faces_said)
    for sentence in (*report.set_aside, *report.slip_notes):
        say(sentence)
