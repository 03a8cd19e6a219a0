"""`solander customs`."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click
from attrs import evolve

from solander.cli.paper import say
from solander.core.customs import Customs
from solander.look.words import counted
from solander.tasks.collection import Collection
from solander.tasks.customs import change_customs
from solander.tasks.date import customs_of

__all__ = ["customs"]

_DAY_FIRST = {"day": True, "month": False, "either": None}


@click.command()
@click.argument("collection", type=click.Path(path_type=Path))
@click.option("--language", metavar="L", help="The language that dates are written in: en, de, fr…, or any.")
@click.option("--first-year", type=int, metavar="YEAR", help="Years told by two digits lie in the 100 from it.")
@click.option(
    "--first", type=click.Choice(list(_DAY_FIRST)), help="What stands first in 3/7/48; either keeps both days."
)
@click.option("--southern/--northern", default=None, help="South of the equator summer is December to February.")
def customs(
    collection: Path, language: str | None, first_year: int | None, first: str | None, southern: bool | None
) -> None:
    """Show or change how the people of COLLECTION write dates.

    Dates that were read otherwise before are read again; undo takes it back.
    """
    told: dict[str, Any] = {"first_year": first_year, "southern": southern}
    changes = {name: value for name, value in told.items() if value is not None}
    if language is not None:
        changes["language"] = None if language == "any" else language
    if first is not None:
        changes["day_first"] = _DAY_FIRST[first]
    with Collection.open(collection) as opened:
        before = customs_of(opened.catalogue)
        now = evolve(before, **changes)
        if now != before:
            reread = change_customs(opened, now)
            say(f"{counted(len(reread), 'date')} read again and changed{':' if reread else '.'}")
            for sentence in reread:
                say(f"  {sentence}")
        _say(now)


def _say(now: Customs) -> None:
    order = {True: "3 July", False: "7 March", None: "both days, where the language does not tell"}
    say(f"Language of dates: {now.language or 'told by the words'}")
    say(f"A year like 58: in {now.first_year} to {now.first_year + 99}, never after today")
    say(f"A date like 3/7/48: {order[now.day_first]}")
    say(f"Summer: {'December to February' if now.southern else 'June to August'}")
