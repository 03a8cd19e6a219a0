"""Proves a collection or a release whole: every fault is found and named."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from attrs import frozen

from solander.catalogue.store import FILE_NAME
from solander.core.errors import CannotBegin, NotFound
from solander.delivery.package import outermost, read_manifest
from solander.tasks.collection import Collection, Progress, Watch, unwatched
from solander.vault.fixity import Fault, check_vault, compare

__all__ = ["Verified", "verify"]


@frozen
class Verified:
    """How many files were read, and a sentence for each fault."""

    files: int
    faults: tuple[str, ...]


def verify(path: Path, *, watch: Watch = unwatched) -> Verified:
    """Checks every file of the collection or the release at `path` against what was written down.

    Raises
    ------
    CannotBegin
        When there is nothing at `path`, or nothing that says what belongs in it.
    """
    if not path.is_dir():
        raise CannotBegin(f"{path} could not be verified", "there is no such folder", "Check the name")
    if (path / FILE_NAME).is_file():
        return _verify_collection(path, watch)
    return _verify_release(path, watch)


def _verify_collection(path: Path, watch: Watch) -> Verified:
    with Collection.open(path) as collection:
        expected = [capture.sha256 for capture in collection.catalogue.captures()]
        sounds = [sound.sha256 for sound in collection.catalogue.sounds()]
        damage = collection.catalogue.damage()
        counted = _counted(watch, len(expected) + len(sounds))
        faults = check_vault(collection.vault, expected, on_file=counted)
        faults += check_vault(collection.sounds, sounds, on_file=counted)
    return Verified(len(expected) + len(sounds) + 1, (*damage, *(fault.sentence for fault in faults)))


def _verify_release(path: Path, watch: Watch) -> Verified:
    try:
        expected = read_manifest(path)
    except NotFound as trouble:
        raise CannotBegin(
            f"{path} could not be verified",
            "it is neither a collection nor a release: nothing in it says what belongs there",
            "Name the folder that holds solander.db, bagit.txt or manifest-sha256.txt",
        ) from trouble
    faults: list[Fault] = compare(
        expected, path, ignore=(outermost(path),), on_file=_counted(watch, len(expected))
    )
    return Verified(len(expected), tuple(fault.sentence for fault in faults))


def _counted(watch: Watch, total: int) -> Callable[[str], None]:
    done = 0

    def on_file(name: str) -> None:
        nonlocal done
        done += 1
        watch(Progress("Verifying", name, done, total))

    return on_file
