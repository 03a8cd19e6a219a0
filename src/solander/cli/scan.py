"""`solander scan`."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import cast

import click

from solander.cli.as_they_come import take_as_they_come
from solander.cli.paper import say
from solander.core.prints import container_code
from solander.intake.scanner import scanners
from solander.intake.scanner_options import Wish
from solander.intake.sides import SidesRule
from solander.tasks.collection import Collection
from solander.tasks.scan import only_scanner, scanning, set_scan

__all__ = ["scan"]


@click.command()
@click.argument("collection", type=click.Path(path_type=Path), required=False)
@click.option("--device", metavar="NAME", help="Which scanner, where several answer.")
@click.option("--dpi", type=click.IntRange(75, 9600), default=600, show_default=True, help="Pixels an inch.")
@click.option(
    "--bits", type=click.Choice(["8", "16"]), default="8", show_default=True, help="Bits of each colour."
)
@click.option(
    "--feeder", is_flag=True, help="Take all sheets of the feeder. Not for prints that are dear: see README."
)
@click.option("--both-sides", is_flag=True, help="The feeder sees both sides: every second page is a back.")
@click.option("--container", metavar="CODE", help="The box or envelope they come from: B2, or B2/E5.")
@click.option(
    "--sides",
    type=click.Choice(["recto", "alternate"]),
    default="recto",
    show_default=True,
    help="All pages are fronts, or every second one is a back.",
)
@click.option(
    "--set", "more_options", metavar="NAME=VALUE", multiple=True, help="Any other setting of the scanner."
)
@click.option("--list", "only_list", is_flag=True, help="Only tell which scanners answer.")
def scan(
    collection: Path | None,
    device: str | None,
    dpi: int,
    bits: str,
    feeder: bool,
    both_sides: bool,
    container: str | None,
    sides: str,
    more_options: tuple[str, ...],
    only_list: bool,
) -> None:
    """Scan prints into COLLECTION, through SANE.

    Lay as many prints on the glass as fit, a little apart: each is cut out straight, in its
    true size. After each scan you are asked for the next.
    """
    if only_list:
        _list()
        return
    if collection is None:
        raise click.UsageError("Name the collection to scan into.")
    wish = Wish(dpi, int(bits), feeder or both_sides, both_sides)
    with Collection.open(collection) as opened:
        scan = set_scan(device or only_scanner(), wish, more_options)
        if scan.dpi != dpi:
            say(f"The scanner has {scan.dpi:g} pixels an inch instead of {dpi}.")
        with scanning(opened, scan, watch=_show_progress, more=_wants_more) as pages:
            aside = take_as_they_come(
                opened,
                pages,
                container=container_code(container) if container else None,
                sides=cast(SidesRule, "alternate" if both_sides else sides),
            )
    if aside:
        sys.exit(1)


def _list() -> None:
    there = scanners()
    for one in there:
        say(f"{one.device}  {one.maker} {one.model}")
    if not there:
        only_scanner(there)


def _show_progress(page: int, done: float) -> None:
    """One line that changes, where a person looks on."""
    if sys.stderr.isatty():
        click.echo(f"\rScanning page {page}: {done:3.0f} %", nl=done >= 100, err=True)


def _wants_more() -> bool:
    """Asked where a person sits at the keyboard: Enter goes on."""
    return sys.stdin.isatty() and click.confirm("Lay the next prints on the glass. Scan?", default=True, err=True)
