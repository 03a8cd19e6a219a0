"""A take-in that is taken back, runs out of room, or is interrupted: the collection stays consistent."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest
from small_box import Draw, asked, slip_file

from solander.core.errors import CannotBegin, Trouble
from solander.core.questions import Asks
from solander.tasks import prepare as preparing
from solander.tasks.accession import accession
from solander.tasks.collection import Collection, Progress
from solander.tasks.verify import verify
from solander.vault.store import Vault, sha256_of

pytestmark = pytest.mark.slow


@pytest.fixture
def folder(draw: Draw) -> Path:
    """Four prints; the last shows the same as the first."""
    for number in (1, 2, 3):
        draw(f"p{number}.jpg", number)
    return draw("p4.jpg", 1, angle_deg=-3.0).parent


def kept(collection: Collection) -> list[str]:
    return [capture.name for capture in collection.catalogue.captures()]


def test_undo_takes_a_whole_take_in_back_while_captures_stay(folder: Path, collection: Collection) -> None:
    accession(collection, [folder], container="B1", slips=slip_file(folder.parent, "file,date", "p1.jpg,1958"))
    assert collection.catalogue.undo("archivist") == "took in files"
    catalogue = collection.catalogue
    assert (catalogue.prints(), catalogue.statements(), catalogue.questions()) == ([], [], [])
    assert kept(collection) == ["p1.jpg", "p2.jpg", "p3.jpg", "p4.jpg"]
    assert verify(collection.root).faults == ()


def test_taking_in_again_after_an_undo_makes_the_prints_again(folder: Path, collection: Collection) -> None:
    first = accession(collection, [folder])
    before = collection.catalogue.prints()
    collection.catalogue.undo("archivist")
    again = accession(collection, [folder], slips=slip_file(folder.parent, "file,date", "p1.jpg,1958"))
    assert again.prints == first.prints
    assert collection.catalogue.prints() == before
    assert len(collection.catalogue.captures()) == 4
    assert [one.value for one in collection.catalogue.statements()] == ["1958"]


def test_only_the_last_take_in_is_taken_back(folder: Path, collection: Collection) -> None:
    accession(collection, [folder / "p1.jpg"])
    accession(collection, [folder / "p2.jpg"])
    collection.catalogue.undo("archivist")
    assert [one.accession for one in collection.catalogue.prints()] == ["P-0001"]
    collection.catalogue.undo("archivist")
    with pytest.raises(Trouble):
        collection.catalogue.undo("archivist")


def test_a_full_disk_stops_the_take_in_instead_of_setting_files_aside(
    folder: Path, collection: Collection, monkeypatch: pytest.MonkeyPatch
) -> None:
    put = Vault.put

    def full(vault: Vault, source: Path, **how: object) -> object:
        if source.name == "p3.jpg":
            raise CannotBegin("Nothing more can be kept", "no space left on device", "Make room")
        return put(vault, source, **how)

    with monkeypatch.context() as patched:
        patched.setattr(Vault, "put", full)
        with pytest.raises(CannotBegin, match="no space left"):
            accession(collection, [folder])
    assert kept(collection) == ["p1.jpg", "p2.jpg"]
    assert asked(collection, Asks.SET_ASIDE) == []
    assert_running_again_completes(folder, collection)


def test_no_room_for_views_stops_the_take_in_too(
    folder: Path, collection: Collection, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(path: Path, content: bytes) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), str(path))

    with monkeypatch.context() as patched:
        patched.setattr(preparing, "write_whole", full)
        with pytest.raises(CannotBegin, match="no space left on device"):
            accession(collection, [folder])
    assert asked(collection, Asks.SET_ASIDE) == []
    assert collection.vault.path(sha256_of(folder / "p1.jpg")).is_file(), "a capture is no worse for a full disk"
    assert_running_again_completes(folder, collection)


@pytest.mark.parametrize("stops_after", [1, 2, 3, 4])
def test_ctrl_c_leaves_a_consistent_collection(stops_after: int, folder: Path, collection: Collection) -> None:
    def impatient(progress: Progress) -> None:
        if progress.done == stops_after:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        accession(collection, [folder], watch=impatient)
    assert len(kept(collection)) == stops_after
    assert [fault for fault in verify(collection.root).faults if "take the same files in again" not in fault] == []
    assert_running_again_completes(folder, collection)


def test_ctrl_c_between_keeping_and_straightening_loses_nothing(
    folder: Path, collection: Collection, monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupted(*_: object, **__: object) -> object:
        raise KeyboardInterrupt

    with monkeypatch.context() as patched:
        patched.setattr(preparing, "straighten", interrupted)
        with pytest.raises(KeyboardInterrupt):
            accession(collection, [folder])
    assert kept(collection) == []
    assert_running_again_completes(folder, collection)


def assert_running_again_completes(folder: Path, collection: Collection) -> None:
    """Every capture once, every print once, what was to be asked is asked, all of it proven whole."""
    report = accession(collection, [folder])
    assert sorted([*report.captures, *report.known]) == ["p1.jpg", "p2.jpg", "p3.jpg", "p4.jpg"]
    assert kept(collection) == ["p1.jpg", "p2.jpg", "p3.jpg", "p4.jpg"]
    assert [one.accession for one in collection.catalogue.prints()] == ["P-0001", "P-0002", "P-0003", "P-0004"]
    assert [subject for subject, _ in asked(collection, Asks.DUPLICATE)] == ["P-0004"]
    verified = verify(collection.root)
    assert (verified.files, verified.faults) == (5, ())
