"""A second copy, compared byte by byte; heals either side."""

from __future__ import annotations

import shutil
from pathlib import Path

from attrs import frozen

from solander.catalogue.store import FILE_NAME, utc_now
from solander.core.sentence import Sentence
from solander.tasks.collection import Collection, Progress, Watch, refuse_inside, unwatched
from solander.vault.fixity import second_copy as copy_captures
from solander.vault.store import Vault

__all__ = ["Copied", "second_copy"]


@frozen
class Copied:
    """How many files were new in the copy and how many were there and the same; sentences for what was healed
    and for what could not be."""

    new: int
    same: int
    notes: tuple[str, ...]
    faults: tuple[str, ...]


def second_copy(collection: Collection, target: Path, *, watch: Watch = unwatched) -> Copied:
    """Makes `target` a second copy of the collection, or brings it up to date.

    Views are left out: they are made again when they are needed.

    Raises
    ------
    CannotBegin
        When `target` is the collection or lies in it, or can't be written.
    """
    refuse_inside(collection.root, target, Sentence("No second copy was made"))
    expected = [capture.sha256 for capture in collection.catalogue.captures()]
    expected += [sound.sha256 for sound in collection.catalogue.sounds()]
    done = 0

    def on_file(name: str) -> None:
        nonlocal done
        done += 1
        watch(Progress("Copying", name, done, len(expected)))

    report = copy_captures(collection.root, target, expected=set(expected), on_file=on_file)
    for erased in collection.catalogue.erased_sounds():
        Vault(target, folder=collection.sounds.folder).erase(erased)
    collection.catalogue.backup(target / FILE_NAME)
    shutil.copyfile(collection.root / "README.txt", target / "README.txt")
    if not report.faults:
        # Only now is there one; the copy itself learns of it too.
        _remember(collection, target)
        collection.catalogue.backup(target / FILE_NAME)
    notes = [
        *(
            Sentence("%(path)s was damaged or missing here and was healed from the copy.", path=path)
            for path in report.healed_source
        ),
        *(
            Sentence("%(path)s was damaged in the copy and was healed from here.", path=path)
            for path in report.healed_target
        ),
    ]
    return Copied(len(report.copied), report.same, tuple(notes), tuple(f.sentence for f in report.faults))


def _remember(collection: Collection, target: Path) -> None:
    with (
        collection.catalogue.act("archivist", Sentence("made a second copy in %(target)s", target=target)) as act,
        act.work() as work,
    ):
        # The number of captures tells later whether all of them are in the copy; undo does not unmake a copy.
        copied = len(collection.catalogue.captures())
        work.set("second_copy", f"{copied} captures {utc_now()} {target}", lasting=True)
        work.commit()
