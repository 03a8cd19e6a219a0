"""Watches a folder for pictures, whole ones as decoders see it; at the command line, or beside a station."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from threading import Event, Thread

from attrs import define, field

from solander.core.errors import CannotBegin, Trouble
from solander.core.sentence import Sentence
from solander.imaging.decode import Unreadable, decode, probe
from solander.intake.arrivals import Arrival
from solander.intake.hot_folder import HotFolder
from solander.intake.shots import is_raw_name
from solander.tasks.collection import Collection

__all__ = ["FolderBeside", "fault_of", "refuse_own_folder", "watched_folder"]


def fault_of(path: Path) -> str:
    """Why a file is no whole picture; empty where it is one.

    The frame of a file tells where its end is missing; of makers' raw files only developing finds it out.
    """
    try:
        if is_raw_name(probe(path).suffix):
            decode(path)
    except Unreadable as reason:
        return reason.why
    return ""


def watched_folder(
    folder: Path,
    told: Callable[[Trouble], None],
    *,
    stop: Event | None = None,
    polling: bool | None = None,
    pairs: bool = False,
    passing: bool = False,
) -> HotFolder:
    """The pictures that are put into a folder, as they become whole: see `HotFolder`."""
    return HotFolder(folder, fault_of, told, stop or Event(), polling, pairs, passing)


def refuse_own_folder(collection: Collection, folder: Path) -> None:
    """Refuses to watch the collection itself, or a folder around it: it would take in what it keeps.

    Raises
    ------
    CannotBegin
        When one lies in the other.
    """
    one, other = folder.resolve(), collection.root.resolve()
    if one.is_relative_to(other) or other.is_relative_to(one):
        what = Sentence("%(folder)s can't be watched", folder=folder)
        why = Sentence("the collection %(collection)s lies there", collection=collection.root)
        raise CannotBegin(what, why, Sentence("Let pictures come into a folder of their own"))


@define
class FolderBeside:
    """A folder whose pictures come to a station while it runs; watched in a thread of its own.

    `take` is called for each arrival, one after the other, and may raise `Trouble`; `told` hears that, and all
    else that a person must know, in the same thread.
    """

    folder: Path
    take: Callable[[Arrival], object]
    told: Callable[[Trouble], None]
    polling: bool | None = None
    _stop: Event = field(factory=Event, init=False)
    _thread: Thread | None = field(default=None, init=False)

    @property
    def is_watched(self) -> bool:
        """Whether it is being watched now."""
        return self._thread is not None and self._thread.is_alive()

    def begin(self) -> None:
        """Begins to watch; what lies there already comes first."""
        if not self.is_watched:
            self._stop = Event()
            self._thread = Thread(target=self._watch, name=f"watches {self.folder}", daemon=True)
            self._thread.start()

    def end(self) -> None:
        """Ends it, after the picture that is being taken."""
        self._stop.set()
        if self._thread is not None:
            self._thread.join()

    def _watch(self) -> None:
        try:
            for arrival in watched_folder(self.folder, self.told, stop=self._stop, polling=self.polling):
                try:
                    self.take(arrival)
                except CannotBegin:
                    raise
                except Trouble as trouble:
                    self.told(trouble)
        except CannotBegin as trouble:
            self.told(trouble)
