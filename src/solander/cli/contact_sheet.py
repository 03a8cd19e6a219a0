"""`solander contact-sheet`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from solander.cli.paper import say, watched
from solander.core.prints import container_code
from solander.look.words import counted
from solander.tasks.collection import Collection
from solander.tasks.contact_sheet import ContactSheetOf, write_sheet_of_treated

__all__ = ["contact_sheet"]


@click.command("contact-sheet")
@click.argument("collection", type=click.Path(path_type=Path))
@click.argument("file", type=click.Path(path_type=Path), metavar="FILE.pdf")
@click.option("--container", metavar="CODE", help="Prints of this container and of those in it; without it all.")
def contact_sheet(collection: Path, file: Path, container: str | None) -> None:
    """Write a PDF of treated prints: untreated and treated, with what was done.

    Prints without a treatment are left out.
    """
    with Collection.open(collection) as opened:
        sheet = ContactSheetOf(opened, container_code(container) if container else None)
        with watched() as watch:
            write_sheet_of_treated(sheet, file, watch=watch)
    say(f"{counted(len(sheet.treated) - len(sheet.set_aside), 'picture')} before and after: {file}")
    for sentence in sheet.set_aside:
        say(sentence)
    if sheet.set_aside:
        sys.exit(1)
