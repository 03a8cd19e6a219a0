"""Two files of one shot: many cameras write a raw file and a JPEG of the same name beside each other."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import PurePosixPath

__all__ = ["is_raw_name", "raw_beside", "shot_of"]

_RAW = frozenset(
    [
        *("3fr", "arw", "cr2", "cr3", "crw", "dng", "erf", "fff", "iiq", "k25", "kdc", "mef", "mos", "mrw", "nef"),
        *("nrw", "orf", "pef", "raf", "raw", "rw2", "rwl", "sr2", "srf", "srw", "x3f"),
    ]
)
"""Endings of raw files (common practice, no source)."""

_DEVELOPED = frozenset(["jpg", "jpeg", "jpe", "heic", "heif", "hif"])


def shot_of(name: str) -> str:
    """What the names of all files of one shot have in common: folder and name, without the ending."""
    return str(PurePosixPath(name).with_suffix("")).casefold()


def is_raw_name(name: str) -> bool:
    """Whether a file is called as cameras call their raw files."""
    return _ending(name) in _RAW


def raw_beside(names: Iterable[str]) -> dict[str, str]:
    """The name of the raw file of the same shot, for each JPEG or HEIC among `names` that has one there.

    Names are those of arrivals: only files of one folder are of one shot.
    """
    among = list(names)
    raws = {shot_of(name): name for name in among if is_raw_name(name)}
    return {name: raws[shot_of(name)] for name in among if _ending(name) in _DEVELOPED and shot_of(name) in raws}


def _ending(name: str) -> str:
    return PurePosixPath(name).suffix[1:].casefold()
