"""Where pictures of scanners and cameras on a cable lie until they are kept: a folder of the collection.

So nothing that they gave is lost when the power goes, or the disk of the captures is full.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import datetime
from itertools import count
from pathlib import Path

from solander.core.errors import CannotBegin
from solander.core.sentence import Sentence
from solander.intake.arrivals import Arrival
from solander.tasks.collection import Collection

__all__ = ["LEFT_OVER", "incoming_folder", "lay_apart", "left_over"]

_INCOMING, _SET_ASIDE = "incoming", "set-aside"

LEFT_OVER = "left over from before"
"""The source of what another run gave."""


@contextmanager
def incoming_folder(collection: Collection, what: str) -> Iterator[Path]:
    """A new folder for one run of a source, named by it and the time; it goes when it is empty in the end.

    Raises
    ------
    CannotBegin
        When the collection's disk can't be written.
    """
    home, now = collection.root / _INCOMING, datetime.now().strftime("%Y-%m-%d %H.%M.%S")
    names = (f"{what} {now}" + (f" ({number})" if number > 1 else "") for number in count(1))
    folder = next(path for path in (home / name for name in names) if not path.exists())
    try:
        folder.mkdir(parents=True)
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        what_happened = Sentence("Nothing can be taken in")
        raise CannotBegin(what_happened, why, Sentence("Check that you may write into the collection")) from error
    try:
        yield folder
    finally:
        for empty in (folder, home):
            with suppress(OSError):
                empty.rmdir()


def left_over(collection: Collection) -> Iterator[Arrival]:
    """What a source gave before and was not kept, because the power went or the disk was full."""
    home = collection.root / _INCOMING
    for path in sorted(home.rglob("*")):
        inside = path.relative_to(home)
        if path.is_file() and inside.parts[0] != _SET_ASIDE and path.suffix != ".part":
            yield Arrival(inside.as_posix(), path, LEFT_OVER, passing=True)


def lay_apart(collection: Collection, path: Path) -> None:
    """Lays a file that can't be read where it is not looked at again; nothing is deleted."""
    apart = collection.root / _INCOMING / _SET_ASIDE
    apart.mkdir(parents=True, exist_ok=True)
    names = (f"{path.stem}{f' ({number})' if number > 1 else ''}{path.suffix}" for number in count(1))
    path.rename(next(free for free in (apart / name for name in names) if not free.exists()))
