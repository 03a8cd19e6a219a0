"""Reads what stands on the backs of a collection's prints, and in the borders of their fronts, and keeps it.

What was read is nobody's word: a person takes it over or not. Each side is kept as soon as it is read, so that
stopping loses none, and what was read already is not read again.
"""

from __future__ import annotations

import multiprocessing
import os
from collections.abc import Callable, Sequence
from functools import cache, partial
from pathlib import Path

from attrs import frozen

from solander.core.errors import CannotBegin, Trouble
from solander.core.inscriptions.kept import READ, Writing
from solander.core.prints import Side, View
from solander.core.sentence import Sentence
from solander.engine.local import Executor, SerialExecutor
from solander.imaging.decode import Unreadable, decode
from solander.tasks.collection import Collection, Progress, Watch, unwatched
from solander.tasks.inscription import Readers, lookups, read_back, read_front, readers
from solander.tasks.look_for_faces import picture_of_view

__all__ = ["SIDES", "Due", "SidesRead", "by_models", "due_to_be_read", "read_collection"]

SIDES = (Side.VERSO, Side.RECTO)
"""Backs first: they tell more."""

_NICER = 5
"""So much the readers in processes of their own give way to whoever works at the pages."""

WhoReads = Callable[[], Readers]


@frozen
class Due:
    """A side that nobody has read as it is now."""

    accession: str
    view: View


@frozen
class SidesRead:
    """How many sides were read, on how many anything stands, and a sentence for each that could not be read."""

    read: int = 0
    written: int = 0
    set_aside: tuple[str, ...] = ()


@frozen
class _Job:
    root: Path
    side: Due
    who: WhoReads
    name: str

    def __str__(self) -> str:
        return self.side.accession


def by_models(*, languages: str = "", hand: Path | None = None) -> WhoReads:
    """The readers that the user asks for, made once in each process; see `tasks.inscription.readers`."""
    return partial(_readers, languages, hand)


@cache
def _readers(languages: str, hand: Path | None) -> Readers:
    return readers(languages=languages, hand=hand)


def due_to_be_read(collection: Collection, *, sides: Sequence[Side] = SIDES, again: bool = False) -> list[Due]:
    """The sides that this edition of the reading has not read, side by side; with `again` all of them."""
    known = {} if again else collection.catalogue.views_read()
    there = [Due(print_.accession, view) for print_ in collection.catalogue.prints() for view in print_.views]
    wanted = [one for one in there if one.view.side in sides and known.get(one.view.key, 0) < READ]
    return sorted(wanted, key=lambda one: sides.index(one.view.side))


def read_collection(
    collection: Collection,
    *,
    who: WhoReads | None = None,
    reader: str = "",
    sides: Sequence[Side] = SIDES,
    again: bool = False,
    executor: Executor | None = None,
    watch: Watch = unwatched,
    stopped: Callable[[], bool] = lambda: False,
) -> SidesRead:
    """Reads each side that is due and keeps what stands on it; `reader` is put down as what read it.

    Raises
    ------
    CannotBegin
        When what reads isn't installed.
    """
    due = due_to_be_read(collection, sides=sides, again=again)
    jobs = [_Job(collection.root, side, who or by_models(), reader) for side in due]
    written, set_aside = 0, []
    read = 0
    for done, (job, found) in enumerate((executor or SerialExecutor()).map(_read, jobs), start=1):
        if isinstance(found, CannotBegin):
            raise found
        if isinstance(found, Trouble):
            set_aside.append(found.sentence)
        else:
            collection.catalogue.keep_writing(job.side.view.key, found)
            read, written = read + 1, written + found.is_written
        watch(Progress("Reading what is written", job.side.accession, done, len(due)))
        if stopped():
            break
    return SidesRead(read, written, tuple(set_aside))


def _read(job: _Job) -> Writing:
    """What stands on one side, read as it is shown.

    Raises
    ------
    Trouble
        When its picture can't be read.
    """
    if multiprocessing.parent_process() is not None:
        _give_way()
    view = job.side.view
    who = job.who()
    try:
        rgb = decode(picture_of_view(job.root, view))
    except (Unreadable, OSError) as reason:
        raise Trouble(
            Sentence("What is written on %(accession)s was not read", accession=job.side.accession),
            getattr(reason, "why", str(reason)),
            getattr(reason, "todo", ""),
        ) from reason
    read = read_front if view.side is Side.RECTO else read_back
    found = read(rgb, who, lookups())
    size = (found.width, found.height)
    return Writing.of_seen(found.inscription, size, view.turn, facts=found.facts, reader=job.name)


@cache
def _give_way() -> None:
    """Once in each process."""
    if hasattr(os, "nice"):
        os.nice(_NICER)
