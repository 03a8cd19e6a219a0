"""What a person chose of the other ways in, at each station of each collection: for the next sitting.

It is kept in a small file of this user on this computer, and not in the collection: where folders lie and which
scanner stands here is nobody's business who gets a copy.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from attrs import define, field

from solander.core.own_files import locked, private_file
from solander.core.own_folder import own_folder

__all__ = ["KeptWays"]

MOST_KEPT = 100
"""So many stations are remembered; those that were used longest ago go (our choice)."""


@define(eq=False)
class KeptWays:
    """What was chosen, by collection and station."""

    file: Path = field(factory=lambda: own_folder() / "ways.json")

    def of(self, collection: str, station: str) -> Mapping[str, Any]:
        """What was chosen there last; empty where nothing was."""
        return self._read().get(_key(collection, station), {})

    def keep(self, collection: str, station: str, **chosen: Any) -> None:
        """Keeps what was chosen there, besides what stands.

        Raises
        ------
        Trouble
            When another program holds the file.
        """
        with locked(self.file):
            kept, key = self._read(), _key(collection, station)
            kept[key] = {**kept.pop(key, {}), **chosen}
            last = dict(list(kept.items())[-MOST_KEPT:])
            private_file(self.file, json.dumps(last, ensure_ascii=False, indent=1).encode())

    def _read(self) -> dict[str, dict[str, Any]]:
        try:
            told = json.loads(self.file.read_text("utf-8"))
        except (OSError, ValueError):
            return {}  # not there, or spoilt: the next choice writes a new one
        return {key: one for key, one in told.items() if isinstance(one, dict)} if isinstance(told, dict) else {}


def _key(collection: str, station: str) -> str:
    return f"{collection} {station}"
