"""How each fact that dates photographs shows to the eye, and where on a print one looks for it.

`dating_seen.csv` is ours, written from the words of the table of facts: plain language for somebody who holds the
print. It adds no year: those stay with `solander.authorities.dating` and its sources. What a process looks like is
from memory where the words of the table do not say it.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from enum import StrEnum
from functools import cache
from importlib.resources import files

from attrs import frozen

__all__ = ["Look", "Seen", "seen_of_facts"]


class Look(StrEnum):
    """Where one looks, in the order in which a hand goes over a print."""

    EDGES = "edges"
    BORDER = "border"
    SIZE = "size"
    SURFACE = "surface"
    BACK = "back"
    POSTCARD = "postcard"
    STAMP_BOX = "stamp-box"
    MOUNT = "mount"
    PLATE = "plate"
    INSTANT = "instant"
    FILM = "film"
    LAMP = "lamp"
    PICTURE = "picture"


@frozen
class Seen:
    """Where to look for a fact, and what one sees there."""

    where: Look
    looks: str


@cache
def seen_of_facts() -> Mapping[str, Seen]:
    """What is seen of each fact, by the id of the fact."""
    text = files("solander.authorities").joinpath("dating_seen.csv").read_text(encoding="utf-8")
    return {row["id"]: Seen(Look(row["where"]), row["looks"]) for row in csv.DictReader(text.splitlines())}
