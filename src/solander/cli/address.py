"""`solander address`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from solander.cli.paper import say
from solander.core.errors import CannotBegin
from solander.tasks.address_service import ask_service, keep_address, name_service
from solander.tasks.collection import Collection

__all__ = ["address"]


@click.command()
@click.argument("collection", type=click.Path(path_type=Path))
@click.argument("name", required=False)
@click.option("--service", metavar="URL", help="Name an address service (as Nominatim speaks), or “off”.")
@click.option("--credit", default="", metavar="TEXT", help="What the service asks to be named by.")
def address(collection: Path, name: str | None, service: str | None, credit: str) -> None:
    """Ask an address service where the place NAME is, and take its first answer.

    None is asked until you name one with --service, and then only for the NAME that
    you give: no other word leaves this computer. Answers are kept, so that nothing
    is asked twice.
    """
    if not (name or service):
        raise CannotBegin("Nothing was done", "", "Give the name of a place, or see solander address --help")
    with Collection.open(collection) as opened:
        if service:
            name_service(opened, "" if service == "off" else service, credit=credit)
            say(
                "The address service is off." if service == "off" else f"{service} is asked when you name a place."
            )
        if name:
            _ask(opened, name)


def _ask(collection: Collection, name: str) -> None:
    found = ask_service(collection, name)
    if not found:
        say(f"The address service knows no place like “{name}”.")
        sys.exit(1)
    keep_address(collection, name, found[0])
    told = found[0].reasons[0] if found[0].reasons else found[0].name
    say(f"{name} is {told}, within {found[0].radius_m:.0f} m. solander undo takes that back.")
