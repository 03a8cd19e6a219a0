"""What the answers of the interface have in common."""

from __future__ import annotations

from typing import Any

from solander.station.api.shapes import Done, Fault
from solander.station.workbench import Workbench

__all__ = ["FAULTS", "done"]

FAULTS: dict[int | str, dict[str, Any]] = {
    403: {"description": "Another page or program may not do this here"},
    404: {"description": "There is no such thing", "model": Fault},
    409: {
        "description": "Somebody else changed the same since, or the word is an old one",
        "model": Fault,
    },
    422: {"description": "What was sent can't be true, or was not understood", "model": Fault},
}
"""What may go wrong, for the description of each address."""


def done(bench: Workbench, act: int | None) -> Done:
    """What was done, with its sentence."""
    return Done(
        act=act, sentence=bench.done(act) if act is not None else "", last_change=bench.collection.last_change
    )
