"""Takes a regional pack in: landmarks of one country, for all collections of this user."""

from __future__ import annotations

import re
from pathlib import Path

from solander.authorities.gazetteer.kept import packs_folder
from solander.authorities.gazetteer.pack import build_pack

__all__ = ["take_in_pack"]


def take_in_pack(dump: Path) -> int:
    """How many places a country file of GeoNames gave; one of the same name replaces the earlier.

    Raises
    ------
    CannotBegin
        When it is no such file, or the pack can't be written.
    """
    name = re.sub(r"[^\w-]+", "-", dump.stem).strip("-") or "pack"
    return build_pack(dump, packs_folder() / f"{name}.db")
