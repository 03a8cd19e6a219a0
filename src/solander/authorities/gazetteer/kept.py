"""Where the gazetteer lies on this computer, and how it comes there: made once, from parts that are here."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

from solander.authorities.gazetteer.build import FORM, build, carried_version
from solander.core.own_folder import own_folder

__all__ = ["default_file", "gazetteer_file", "packs", "packs_folder"]

_MAKING = "Making the gazetteer from GeoNames, once (about half a minute)…"


def default_file() -> Path:
    """Where it is kept for this user: `SOLANDER_GAZETTEER`, else the system's usual place for such data.

    The name holds the form of the file and the version of the towns, so that versions of Solander don't take
    each other's.
    """
    if named := os.environ.get("SOLANDER_GAZETTEER"):
        return Path(named)
    return own_folder() / f"gazetteer-{FORM}-{carried_version() or 'none'}.db"


def packs_folder() -> Path:
    """Where regional packs are kept for this user, beside the gazetteer."""
    return default_file().parent / "packs"


def packs() -> tuple[Path, ...]:
    """The regional packs that are here, those of another form passed over."""
    folder = packs_folder()
    return tuple(path for path in sorted(folder.glob("*.db")) if _is_whole(path)) if folder.is_dir() else ()


def gazetteer_file(tell: Callable[[str], None] = lambda _: None) -> Path:
    """The gazetteer's file, made now when it is not there yet; `tell` hears a sentence before it is made.

    Raises
    ------
    CannotBegin
        When it is not there and can't be made, with what to do.
    """
    path = default_file()
    if not _is_whole(path):
        tell(_MAKING)
        build(path)
    return path


def _is_whole(path: Path) -> bool:
    if not path.is_file():
        return False
    try:
        with closing(sqlite3.connect(f"{path.as_uri()}?mode=ro", uri=True)) as file:
            form = file.execute("SELECT value FROM about WHERE key = 'form'").fetchone()
    except sqlite3.Error:
        return False
    return bool(form == (str(FORM),))
