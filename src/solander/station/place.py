"""Where the station's own files are, and what it lets into an address."""

from __future__ import annotations

from pathlib import Path

from solander.core.errors import NotFound
from solander.core.sentence import Sentence

__all__ = ["KEPT", "STATION_STATIC", "hex_name"]

STATION_STATIC = Path(__file__).parent / "static"
"""The folder of the scripts and the style sheet that only the station has."""

KEPT = {"Cache-Control": "private, max-age=31536000, immutable"}
"""For pictures whose address is made from all that decides their pixels: they never change."""


def hex_name(text: str, length: int) -> str:
    """The name of a view or capture, refused when it is anything else: it becomes part of a path."""
    if len(text) == length and set(text) <= set("0123456789abcdef"):
        return text
    raise NotFound(Sentence("“%(text)s” is no picture of this collection", text=text))
