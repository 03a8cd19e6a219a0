"""Everything from outside comes as an Arrival: a name, where its bytes are, and what brought it."""

from __future__ import annotations

from pathlib import Path

from attrs import frozen

__all__ = ["Arrival"]


@frozen
class Arrival:
    """One picture file that has arrived and is not yet kept.

    `name` is its path within the folder that was given, with `/` between the parts, in Unicode NFC; it is
    unique among the arrivals of one take-in. `source` says what brought it ("folder /media/card/DCIM").
    `passing` tells that the file was made for this arrival alone, by a scanner or a camera on a cable: it goes
    once its bytes are kept.
    """

    name: str
    path: Path
    source: str
    passing: bool = False
