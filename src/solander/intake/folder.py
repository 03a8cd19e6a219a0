"""Arrivals from files and folders, in the order in which a person would number them."""

from __future__ import annotations

import os
import re
import stat
import unicodedata
from collections.abc import Iterator, Sequence
from pathlib import Path

from attrs import define, field

from solander.core.errors import CannotBegin
from solander.intake.arrivals import Arrival

__all__ = ["Skipped", "arrivals_from", "natural_order"]

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

    def add(self, path: Path) -> None:
        """Counts one."""
        if _is_hidden(path.name):
            self.hidden += 1
        else:
            self.beside += 1
        if len(self.names) < 100:
            self.names.append(path.name)


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
    skipped: Skipped
    _names: dict[str, Path] = field(factory=dict)

    def all(self, paths: Sequence[Path]) -> Iterator[Arrival]:
        for given in paths:
            source = f"folder {given}" if given.is_dir() else f"file {given}"
            for path in self._files(given) if given.is_dir() else iter([given]):
                if (name := self._free_name(path, given)) is not None:
                    yield Arrival(name, path, source)

    def _files(self, top: Path) -> Iterator[Path]:
        """The files below `top`: those of a folder first, then its folders; each real folder once."""
        entered, waiting = set(), [top]
        while waiting:
            folder = waiting.pop()
            if (real := os.path.realpath(folder)) in entered:
                continue
            entered.add(real)
            try:
                listed = sorted(folder.iterdir(), key=_in_order)
            except OSError:
                yield folder
                continue
            folders = []
            for path in listed:
                if self._passes_over(path):
                    self.skipped.add(path)
                elif path.is_dir():
                    folders.append(path)
                else:
                    yield path
            waiting.extend(reversed(folders))

    def _passes_over(self, path: Path) -> bool:
        if _is_hidden(path.name):
            return True
        return not path.is_dir() and (_BESIDE.fullmatch(path.suffix) is not None or _is_no_file(path))

    def _free_name(self, path: Path, given: Path) -> str | None:
        """A name that no other arrival has; None when this very file has arrived already."""
        for name in _ever_longer_names(path, given):
            other = self._names.setdefault(name, path)
            if other is path:
                return name
            if _same_file(other, path):
                return None
        return None


def _check_there(path: Path) -> None:
    try:
        if path.is_dir():
            next(path.iterdir(), None)
        else:
            path.lstat()
    except OSError as error:
        raise CannotBegin(
            f"{path} could not be taken in",
            "there is no such file or folder"
            if isinstance(error, FileNotFoundError)
            else (error.strerror or str(error)),
            "Check the path",
        ) from error


def _in_order(path: Path) -> tuple[tuple[tuple[int, int, str], ...], str]:
    return natural_order(path.name), path.name


def _is_hidden(name: str) -> bool:
    return name.startswith(".") or name.casefold() in _SYSTEM


def _is_no_file(path: Path) -> bool:
    """Whether the name is that of a device, a pipe or a socket; a broken link is not passed over."""
    try:
        return not stat.S_ISREG(path.stat().st_mode)
    except OSError:
        return False


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


def _same_file(one: Path, other: Path) -> bool:
    try:
        return one.samefile(other)
    except OSError:
        return False
