"""A station of a collection is one program's: two that write one slip would undo each other's words."""

from __future__ import annotations

import os
from pathlib import Path
from threading import Lock

from solander.core.errors import Trouble
from solander.core.own_files import takes_lock
from solander.core.sentence import Sentence
from solander.tasks.collection import Collection

__all__ = ["claim_station"]

_ours: dict[Path, int] = {}
"""The locks that this program holds, each until it ends; a second workbench in it is the same person's."""

_claiming = Lock()


def claim_station(collection: Collection, name: str) -> None:
    """Makes the station this program's until it ends; nothing where the disk knows no locks or can't be written.

    Raises
    ------
    Trouble
        When another program has it (status 409).
    """
    path = collection.root / f".station-{name}.lock"
    with _claiming:
        if path in _ours:
            return
        try:
            handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
        except OSError:
            return
        if not takes_lock(handle):
            os.close(handle)
            raise _taken(name)
        _ours[path] = handle


def _taken(name: str) -> Trouble:
    trouble = Trouble(
        Sentence("Station “%(name)s” is not opened here", name=name),
        Sentence("another Solander, maybe on another computer, has it open on this collection"),
        Sentence("Go on there, close it there, or use another station here: /station?at=2"),
    )
    trouble.status = 409
    return trouble
