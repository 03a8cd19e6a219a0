"""A folder that a station watches: each picture that is saved into it is taken."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Event, RLock

from attrs import define, field

from solander.core.errors import InvalidValue
from solander.core.sentence import Sentence
from solander.intake.arrivals import Arrival
from solander.tasks.stand_arrivals import SourceBeside
from solander.tasks.stand_ways_now import WaysHere
from solander.tasks.watch_folder import folder_named, refuse_own_folder, watched_folder

__all__ = ["FolderAtStand"]


@define(eq=False)
class FolderAtStand:
    """The folder of one station, one at a time."""

    here: WaysHere
    _source: SourceBeside | None = field(default=None, init=False)
    _watched: Path | None = field(default=None, init=False)
    # One of its own: the end of a folder is waited for while it is held, and that end needs the other.
    _changing: RLock = field(factory=RLock, init=False)

    def watch(self, typed: str, *, only_new: bool) -> None:
        """Begins to watch a folder. See `StandWays.watch`."""
        folder = folder_named(typed)
        refuse_own_folder(self.here.collection, folder)
        with self._changing:
            self._refuse_watched(folder)  # before the one that is watched now is left
            self.leave()
            with self.here.shared.lock:
                self._refuse_watched(folder)
                self.here.shared.folders[folder.resolve()] = self.here.station
            source = SourceBeside(
                f"watches {folder}",
                lambda stop: self._watching(folder, only_new, stop),
                self.here.arrivals,
                self.here.told,
                lambda: self._ended(source, folder),
            )
            self._source, self._watched = source, folder
            self.here.change(folder=str(folder), only_new=only_new, folder_state="on")
            source.begin()
        self.here.keep(folder=str(folder), only_new=only_new)

    def leave(self) -> None:
        """Ends the watching."""
        if self._source is not None:
            self._source.end()

    def _refuse_watched(self, folder: Path) -> None:
        with self.here.shared.lock:
            by = self.here.shared.folders.get(folder.resolve(), self.here.station)
        if by != self.here.station:
            why = Sentence("station “%(name)s” watches it already", name=by)
            raise InvalidValue(Sentence("The folder is not watched"), why, Sentence("Choose another"))

    @contextmanager
    def _watching(self, folder: Path, only_new: bool, stop: Event) -> Iterator[Iterable[Arrival]]:
        def moved() -> None:
            self.here.change(folder_state="on" if folder.is_dir() else "away")

        yield watched_folder(folder, self.here.told, stop=stop, only_new=only_new, moved=moved)

    def _ended(self, source: SourceBeside, folder: Path) -> None:
        """One that ends late, after another was begun, says nothing of that one."""
        is_newest = source is self._source
        if is_newest or folder != self._watched:
            with self.here.shared.lock:
                self.here.shared.folders.pop(folder.resolve(), None)
        if is_newest:
            self.here.change(folder_state="off")
