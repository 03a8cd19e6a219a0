"""Names that places had for some years, with the years; `former_names.csv` names the source of each.

Most rows and years come from a list of checked place cases; years are common knowledge where the source says so.
Those of which the source is "common knowledge, no source read" are ours.
`still_said` is ours: whether other languages or the people there go on using the name.
"""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files

from solander.core.evidence import FormerName

__all__ = ["former_names"]


@cache
def former_names() -> tuple[FormerName, ...]:
    """All of them."""
    text = files("solander.authorities").joinpath("former_names.csv").read_text(encoding="utf-8")
    return tuple(
        FormerName(
            name=row["name"],
            now=row["now"],
            valid_from=row["valid_from"],
            valid_to=row["valid_to"],
            still_said=row["still_said"] == "yes",
            source=row["source"],
            cited=_cited(row["source"]),
        )
        for row in csv.DictReader(text.splitlines())
    )


def _cited(source: str) -> str:
    """The source as it stands behind a sentence: where the place is from; the years are always from memory."""
    return "GeoNames; years from memory" if source.startswith("GeoNames") else "common knowledge"
