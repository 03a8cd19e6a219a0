"""Arrivals from files and folders, in the order in which a person would number them."""

from __future__ import annotations

import os
import re
import unicodedata
from collections.abc import Iterator, Sequence
from pathlib import Path

from attrs import define, field

from solander.core.errors import CannotBegin
from solander.core.sentence import Sentence
from solander.intake.arrivals import Arrival

__all__ = ["Skipped", "arrivals_from", "is_passed_over", "natural_order"]

_BESIDE = re.compile(r"\.(aae|csv|db|html?|ini|json|log|md|md5|sha256|tsv|txt|url|xml|xmp|ya?ml)", re.IGNORECASE)
"""Endings of files that lie beside pictures and are none (common practice, no source)."""

_SYSTEM = frozenset(["thumbs.db", "desktop.ini", "ehthumbs.db", "$recycle.bin", "system volume information"])
_DIGITS = re.compile(r"(\d+)")


@define
class Skipped:
    """What was passed over without a word: how many hidden files and folders, and how many beside pictures."""

    hidden: int = 0
    beside: int = 0
    names: list[str] = field(factory=list)
    """The first hundred names, for whoever asks."""

    @property
    def count(self) -> int:
        """All of them."""
        return self.hidden + self.beside

    def add(self, name: str) -> None:
        """Counts one."""
        if _is_hidden(name):
            self.hidden += 1
        else:
            self.beside += 1
        if len(self.names) < 100:
            self.names.append(name)


def arrivals_from(paths: Sequence[Path], *, skipped: Skipped | None = None) -> Iterator[Arrival]:
    """The picture files among `paths`, folders with all that is in them, one after another.

    Files that are named arrive whatever they are called; in folders, hidden files and those that only lie
    beside pictures are passed over and counted in `skipped`. What cannot be read, such as a broken link or a
    closed folder, arrives too, so that its reader can say why. A file reached twice arrives once. Memory holds
    the names seen and one folder's listing, never contents.

    Raises
    ------
    CannotBegin
        Before the first arrival, when one of `paths` is not there or cannot be opened.
    """
    for path in paths:
        _check_there(path)
    yield from _Walk(skipped or Skipped()).all(paths)


def natural_order(name: str) -> tuple[tuple[int, int, str], ...]:
    """A sort key by which `IMG 2` comes before `img 10`; capitals and accents' spelling make no difference."""
    parts = _DIGITS.split(unicodedata.normalize("NFC", name).casefold())
    return tuple((0, int(part), part) if part.isdecimal() else (1, 0, part) for part in parts)


@define
class _Walk:
    """One walk over all that was given; it remembers names, real places and folders entered."""

    skipped: Skipped
    _names: set[str] = field(factory=set)
    _places: set[str] = field(factory=set)
    _entered: set[str] = field(factory=set)

    def all(self, paths: Sequence[Path]) -> Iterator[Arrival]:
        for given in paths:
            is_folder = given.is_dir()
            for path, place in self._below(given) if is_folder else [(given, os.path.realpath(given))]:
                if place not in self._places:
                    self._places.add(place)
                    yield Arrival(
                        self._free_name(path, given), path, f"{'folder' if is_folder else 'file'} {given}"
                    )

    def _below(self, top: Path) -> Iterator[tuple[Path, str]]:
        """Path and real place of the files below `top`: those of a folder first, then its folders."""
        waiting = [top]
        while waiting:
            folder = waiting.pop()
            real = os.path.realpath(folder)
            if real in self._entered:
                continue
            self._entered.add(real)
            try:
                files, folders = self._listed(folder)
            except OSError:
                yield folder, real
                continue
            yield from ((folder / name, os.path.join(real, name)) for name in files)  # noqa: PTH118
            waiting.extend(folder / name for name in reversed(folders))

    def _listed(self, folder: Path) -> tuple[list[str], list[str]]:
        """Names of the files and of the folders in one folder, in natural order, without what is passed over."""
        files: list[str] = []
        folders: list[str] = []
        with os.scandir(folder) as entries:
            for entry in entries:
                if _is_passed_over(entry):
                    self.skipped.add(entry.name)
                else:
                    (folders if entry.is_dir() else files).append(entry.name)
        return sorted(files, key=_in_order), sorted(folders, key=_in_order)

    def _free_name(self, path: Path, given: Path) -> str:
        name = next(name for name in _ever_longer_names(path, given) if name not in self._names)
        self._names.add(name)
        return name


def _check_there(path: Path) -> None:
    try:
        if path.is_dir():
            next(path.iterdir(), None)
        else:
            path.lstat()
    except OSError as error:
        raise CannotBegin(
            Sentence("%(path)s could not be taken in", path=path),
            Sentence("there is no such file or folder")
            if isinstance(error, FileNotFoundError)
            else (error.strerror or str(error)),
            Sentence("Check the path"),
        ) from error


def _in_order(name: str) -> tuple[tuple[tuple[int, int, str], ...], str]:
    return natural_order(name), name


def _is_hidden(name: str) -> bool:
    return name.startswith(".") or name.casefold() in _SYSTEM


def is_passed_over(name: str) -> bool:
    """Whether a file or folder in a folder is passed over by its name: hidden, or what lies beside pictures."""
    return _is_hidden(name) or _BESIDE.fullmatch(os.path.splitext(name)[1]) is not None  # noqa: PTH122


def _is_passed_over(entry: os.DirEntry[str]) -> bool:
    """Hidden things, what lies beside pictures, devices and pipes; a broken link is not passed over."""
    if _is_hidden(entry.name):
        return True
    if entry.is_dir():
        return False
    is_device = not entry.is_file() and not entry.is_symlink()
    return is_device or _BESIDE.fullmatch(os.path.splitext(entry.name)[1]) is not None  # noqa: PTH122


def _ever_longer_names(path: Path, given: Path) -> Iterator[str]:
    """The name within the given folder, then with ever more of the folders above it.

    Two folders may hold a file of the same name; names that differ only in how an accent is spelt become one.
    """
    inside = path.relative_to(given).parts if path != given else (path.name,)
    above = path.resolve().parts
    yield _name(inside or (path.name,))
    for length in range(len(inside) + 1, len(above) + 1):
        yield _name(above[-length:])
    number = 1
    while True:
        number += 1
        yield f"{_name(inside or (path.name,))} ({number})"


def _name(parts: Sequence[str]) -> str:
    # Names that are not UTF-8 on the disk could be neither shown nor written to a list.
    readable = "/".join(parts).encode("utf-8", "surrogateescape").decode("utf-8", "replace")
    return unicodedata.normalize("NFC", readable)
