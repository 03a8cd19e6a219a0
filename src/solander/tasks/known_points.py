"""The points of all fronts of a collection, kept beside their views, and the tables in which they are looked up.

A view's points lie in a file beside its picture, written with it and made again from it where the file is gone.
The tables of many lie in `views/alike` and are read from the disk only where something is looked up, so that a
collection of any size takes no memory; what came since they were written is kept in tables of its own. All of it
may be deleted and is made again.
"""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import suppress
from pathlib import Path

import numpy as np
from attrs import define, field, frozen
from numpy.typing import NDArray

from solander.core.errors import Trouble
from solander.core.prints import Print, View
from solander.imaging.decode import Unreadable, decode
from solander.imaging.point_tables import Candidates, PointTables
from solander.imaging.points import Points, points_of
from solander.tasks.collection import Collection
from solander.tasks.prepare import points_path, remake_view, view_paths, write_whole
from solander.vault.store import Vault

__all__ = ["Alike", "KnownPoints", "picture_of", "points_kept", "small_picture"]

REWRITE = 500
"""So many fronts beyond those in the tables on the disk, and a tenth of these, until they are written anew."""

_ARRAYS = ("points", "owner", "mirrored", "rows")


@frozen
class Alike:
    """Two fronts, by the keys of their views, that have points in common; `votes` say how many agree."""

    one: str
    other: str
    votes: int
    mirrored: bool


@define(eq=False)
class KnownPoints:
    """The fronts that are looked among: those of these prints."""

    collection: Collection
    fronts: Sequence[View]
    _written: PointTables | None = field(default=None, init=False)
    _names: list[str] = field(factory=list, init=False)

    def __attrs_post_init__(self) -> None:
        self._written, self._names = _read(self._folder)

    @classmethod
    def of(cls, collection: Collection, prints: Sequence[Print]) -> KnownPoints:
        """Those of these prints."""
        return cls(collection, [one.recto for one in prints if one.recto is not None])

    def near(self, keys: Sequence[str]) -> list[Alike]:
        """What has points in common with each of these fronts, among all."""
        loose = self._loose()
        if len(loose) > max(REWRITE, len(self._names) // 10):
            self.write()
            loose = self._loose()
        points_of_loose = self._points(loose)
        tables = PointTables.of(list(points_of_loose.values()))
        wanted = set(keys)
        found: list[Alike] = []
        for key, points in self._points([view for view in self.fronts if view.key in wanted]).items():
            found += self._of(key, points, tables, list(points_of_loose))
            if self._written is not None:
                found += self._of(key, points, self._written, self._names)
        return found

    def all_near(self) -> list[Alike]:
        """All pairs that have points in common."""
        self.write()
        assert self._written is not None
        found = self._written.candidates()
        return [
            Alike(self._names[one], self._names[two], votes, mirrored)
            for (one, two), votes, mirrored in _rows(found)
        ]

    def write(self) -> None:
        """Writes the tables of all fronts anew, where one is not in them."""
        if self._written is not None and set(self._names) == {view.key for view in self.fronts}:
            return
        points = self._points(self.fronts)
        self._names, self._written = list(points), PointTables.of(list(points.values()))
        _write(self._folder, self._written, self._names)

    def _of(self, key: str, points: Points, tables: PointTables, names: Sequence[str]) -> Iterator[Alike]:
        there = {view.key for view in self.fronts}
        for (one, _), votes, mirrored in _rows(tables.candidates_of(points)):
            if names[one] != key and names[one] in there:
                yield Alike(key, names[one], votes, mirrored)

    def _points(self, views: Sequence[View]) -> dict[str, Points]:
        """The points of these by their keys; a front whose capture can't be read just now is left out."""
        found: dict[str, Points] = {}
        for view in views:
            with suppress(Trouble, Unreadable, OSError):
                found[view.key] = points_kept(self.collection, view)
        return found

    def _loose(self) -> list[View]:
        written = set(self._names)
        return [view for view in self.fronts if view.key not in written]

    @property
    def _folder(self) -> Path:
        return self.collection.views_root / "alike"


def points_kept(collection: Collection, view: View) -> Points:
    """The points of a view: from their file, else found in its small picture and kept."""
    path = points_path(collection.views_root, view.key)
    with suppress(OSError, ValueError):
        return Points.from_bytes(path.read_bytes())
    points = points_of(small_picture(collection.views_root, collection.vault, view))
    with suppress(OSError):  # of a collection that can only be read they are found anew each time
        write_whole(path, points.to_bytes())
    return points


def picture_of(collection: Collection, view: View) -> NDArray[np.uint8]:
    """The pixels of a view, made again where its file is gone."""
    path = view_paths(collection.views_root, view.key)[0]
    if not path.is_file():
        remake_view(collection.vault.path(view.capture), view, collection.views_root)
    return decode(path)


def small_picture(views_root: Path, vault: Vault, view: View) -> NDArray[np.uint8]:
    """The small picture of a view, made again where its file is gone."""
    path = view_paths(views_root, view.key)[1]
    if not path.is_file():
        remake_view(vault.path(view.capture), view, views_root)
    return decode(path)


def _rows(found: Candidates) -> Iterator[tuple[tuple[int, int], int, bool]]:
    yield from zip(map(tuple, found.pairs.tolist()), found.votes.tolist(), found.mirrored.tolist(), strict=True)


def _write(folder: Path, tables: PointTables, names: Sequence[str]) -> None:
    """All files or none: those before stay until the new ones are whole."""
    with suppress(OSError):
        folder.parent.mkdir(parents=True, exist_ok=True)
        fresh = Path(tempfile.mkdtemp(dir=folder.parent, prefix=".alike"))
        try:
            np.save(fresh / "names.npy", np.array(names, "S32"))
            for name in _ARRAYS:
                np.save(fresh / f"{name}.npy", getattr(tables, name))
            shutil.rmtree(folder, ignore_errors=True)
            fresh.rename(folder)
        finally:
            shutil.rmtree(fresh, ignore_errors=True)


def _read(folder: Path) -> tuple[PointTables | None, list[str]]:
    """The tables on the disk, of which only what is looked up is read; none where they are not whole."""
    try:
        arrays = [np.load(folder / f"{name}.npy", mmap_mode="r") for name in _ARRAYS]
        names = np.load(folder / "names.npy")
    except (OSError, ValueError, EOFError):
        return None, []
    return PointTables(*arrays), [str(name, "ascii") for name in names.tolist()]
