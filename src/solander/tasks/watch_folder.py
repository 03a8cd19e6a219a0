"""Watches a folder for pictures, whole ones as decoders see it."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from threading import Event
from urllib.parse import urlsplit
from urllib.request import url2pathname

from solander.core.errors import CannotBegin, InvalidValue, Trouble
from solander.core.sentence import Sentence
from solander.imaging.decode import Unreadable, decode, probe
from solander.intake.hot_folder import HotFolder
from solander.intake.shots import is_raw_name
from solander.tasks.collection import Collection

__all__ = ["fault_of", "folder_named", "refuse_own_folder", "watched_folder"]


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
    only_new: bool = False,
    moved: Callable[[], None] = lambda: None,
) -> HotFolder:
    """The pictures that are put into a folder, as they become whole: see `HotFolder`."""
    return HotFolder(folder, fault_of, told, stop or Event(), polling, pairs, passing, only_new, moved)


def folder_named(typed: str) -> Path:
    """The folder of this computer that a person typed, or pasted as programs show it.

    Raises
    ------
    InvalidValue
        When it is none that can be looked into.
    """
    name = typed.strip().strip("\"'“”„‘’")
    if name.startswith("file://"):
        name = url2pathname(urlsplit(name).path)
    if not name:
        why = Sentence("no folder was named")
        raise InvalidValue(_NOT_WATCHED, why, Sentence("Type where it is, or paste its path"))
    folder = Path(name).expanduser()
    if fault := _fault_of_folder(folder, name):
        raise InvalidValue(_NOT_WATCHED, *fault)
    return folder


def _fault_of_folder(folder: Path, name: str) -> tuple[str, str] | None:
    """Why a folder can't be watched and what to do; None where it can."""
    if not folder.is_absolute():
        todo = Sentence("Write it from its beginning, as in %(like)s", like=Path.home())
        return Sentence("“%(name)s” is not the whole path", name=name), todo
    if folder.is_file():
        return Sentence("%(name)s is a file", name=name), Sentence("Name the folder that it lies in")
    if not folder.is_dir():
        return Sentence("there is no folder %(name)s", name=name), Sentence("Check the path")
    if not os.access(folder, os.R_OK | os.X_OK):
        todo = Sentence("Choose another, or see to it that you may read it")
        return Sentence("you may not look into %(name)s", name=name), todo
    return None


_NOT_WATCHED = Sentence("The folder is not watched")


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
