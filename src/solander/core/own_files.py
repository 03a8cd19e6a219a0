"""Files that belong to this user alone, written whole or not at all, by one program at a time."""

from __future__ import annotations

import errno
import os
import secrets
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from solander.core.errors import Trouble
from solander.core.sentence import Sentence

__all__ = ["locked", "private_file", "takes_lock"]

PATIENCE_S, PAUSE_S = 10.0, 0.02
"""So long another program is waited for, and so often looked again: whoever holds a file writes some kB (our
choice)."""

_HELD = {errno.EAGAIN, errno.EACCES, errno.EDEADLK}


def private_file(path: Path, content: bytes) -> None:
    """Writes a file that only this user reads, whole or not at all; its folder is made when it is not there."""
    _folder_of(path)
    fresh = path.with_name(f".{path.name}.{secrets.token_hex(4)}")
    handle = os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        fresh.replace(path)
    except OSError:
        fresh.unlink(missing_ok=True)
        raise


@contextmanager
def locked(path: Path) -> Iterator[None]:
    """Keeps every other program of this computer that asks for the same out, for as long as this lasts.

    The lock is a file of its own beside `path`, which stays; a program that ends lets go of it, however it ends.

    Raises
    ------
    Trouble
        When another program does not let go of it.
    """
    _folder_of(path)
    handle = os.open(path.with_name(f".{path.name}.lock"), os.O_RDWR | os.O_CREAT, 0o600)
    try:
        ends = time.monotonic() + PATIENCE_S
        while not takes_lock(handle):
            if time.monotonic() > ends:
                what, why = Sentence("Nothing was written"), Sentence("another Solander holds %(file)s", file=path)
                raise Trouble(what, why, Sentence("Close it, and try again"))
            time.sleep(PAUSE_S)
        yield
    finally:
        os.close(handle)  # which lets go of the lock


def _folder_of(path: Path) -> None:
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)


def takes_lock(handle: int) -> bool:
    """Whether the lock of an open file is taken now; on disks that know no locks it always is."""
    try:
        if sys.platform == "win32":
            import msvcrt

            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        return error.errno not in _HELD
    return True
