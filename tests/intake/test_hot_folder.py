"""A folder that is watched: real files on a real disk, written as copying programs, cameras and phones write them.

Nothing here waits for a time: each test goes on when the state that it wants is there, or fails after long.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from queue import Empty, Queue
from threading import Event, Thread

import pytest

from solander.core.errors import CannotBegin, Trouble
from solander.intake import hot_folder
from solander.intake.arrivals import Arrival
from solander.intake.hot_folder import HotFolder, is_remote
from solander.intake.settling import Settling, Stamp

WHOLE, LONG_S = b"whole", 60.0
A, B = Path("a"), Path("b")


def fault(path: Path) -> str:
    """Stands in for the decoder: a file is whole when it ends so."""
    try:
        return "" if path.read_bytes().endswith(WHOLE) else "it is cut off"
    except OSError:
        return "it can't be opened"


class Watched:
    """A hot folder that runs in a thread, what arrived from it and what it told."""

    def __init__(self, folder: Path, **options: object) -> None:
        self.arrived: Queue[Arrival] = Queue()
        self.told: Queue[Trouble] = Queue()
        self.stop = Event()
        how: dict = {"rest_s": 0.2, "patience_s": 0.4, **options}
        hot = HotFolder(folder, fault, self.told.put, self.stop, **how)
        self.thread = Thread(target=lambda: [self.arrived.put(one) for one in hot], daemon=True)
        self.thread.start()

    def next(self) -> str:
        return self.arrived.get(timeout=LONG_S).name

    def told_next(self) -> str:
        return self.told.get(timeout=LONG_S).sentence

    def nothing_more(self) -> bool:
        """Ends the watching; whether nothing had arrived that was not asked for."""
        self.stop.set()
        self.thread.join(LONG_S)
        with pytest.raises(Empty):
            self.arrived.get_nowait()
        return not self.thread.is_alive()


@pytest.fixture
def watching(tmp_path: Path) -> Iterator[Callable[..., Watched]]:
    (tmp_path / "hot").mkdir()
    begun: list[Watched] = []

    def begin(**options: object) -> Watched:
        begun.append(Watched(tmp_path / "hot", **options))
        return begun[-1]

    yield begin
    for one in begun:
        one.stop.set()
        one.thread.join(LONG_S)


# --- what has come to rest: without clock or disk ---------------------------------------------------


def test_a_file_is_tried_once_it_has_rested_and_again_after_each_change() -> None:
    settling = Settling(rest_s=2, patience_s=60)
    settling.see(A, Stamp(10, 1), 0)
    settling.see(A, Stamp(20, 2), 1.5)
    assert settling.due(3) == []
    assert settling.due(3.5) == [A]
    settling.not_whole(A, "it is cut off")
    assert settling.due(9) == []
    settling.see(A, Stamp(30, 3), 10)
    assert settling.due(12) == [A]
    settling.whole(A)
    settling.see(A, Stamp(30, 3), 20)
    assert settling.due(30) == []
    settling.see(A, None, 31)
    settling.see(A, Stamp(30, 3), 32)
    assert settling.due(39) == [], "it came back as it was"
    settling.see(A, Stamp(31, 4), 40)
    assert settling.due(42) == [A]


def test_what_never_becomes_whole_is_told_once_and_what_is_gone_is_forgotten() -> None:
    settling = Settling(rest_s=2, patience_s=60)
    for path in (A, B):
        settling.see(path, Stamp(10, 1), 0)
        settling.not_whole(path, "it is cut off")
    settling.see(B, None, 5)
    assert settling.given_up(59) == {}
    assert settling.given_up(60) == {A: "it is cut off"}
    settling.see(A, Stamp(10, 1), 61)
    assert (settling.given_up(200), dict(settling.waiting)) == ({}, {})
    settling.see(A, Stamp(99, 9), 201)
    assert settling.due(203) == [A]


# --- on a disk ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("polling", [False, True])
@pytest.mark.slow
def test_files_arrive_once_they_are_whole(watching, tmp_path: Path, *, polling: bool) -> None:
    (tmp_path / "hot" / "10.jpg").write_bytes(WHOLE)
    (tmp_path / "hot" / "2.jpg").write_bytes(WHOLE)
    (tmp_path / "hot" / "notes.txt").write_bytes(WHOLE)
    (tmp_path / "hot" / ".part.jpg").write_bytes(WHOLE)
    watched = watching(polling=polling)
    assert [watched.next(), watched.next()] == ["2.jpg", "10.jpg"]
    with (tmp_path / "hot" / "3.jpg").open("wb") as file:
        file.write(b"begun")
        file.flush()
        assert "3.jpg has not been taken in: it is cut off" in watched.told_next()
        file.write(WHOLE)
    assert watched.next() == "3.jpg"
    assert watched.nothing_more()


@pytest.mark.parametrize("polling", [False, True])
@pytest.mark.slow
def test_folders_that_come_are_looked_into(watching, tmp_path: Path, *, polling: bool) -> None:
    watched = watching(polling=polling)
    (tmp_path / "new" / "deep").mkdir(parents=True)
    (tmp_path / "new" / "deep" / "1.jpg").write_bytes(WHOLE)
    (tmp_path / "new").rename(tmp_path / "hot" / "new")
    assert watched.next() == "new/deep/1.jpg"
    (tmp_path / "hot" / "new" / "deep" / "2.jpg").write_bytes(WHOLE)
    assert watched.next() == "new/deep/2.jpg"
    assert watched.nothing_more()


@pytest.mark.slow
def test_what_is_written_over_arrives_again_and_what_is_deleted_does_not(watching, tmp_path: Path) -> None:
    path = tmp_path / "hot" / "capture.jpg"
    path.write_bytes(b"one " + WHOLE)
    watched = watching()
    assert watched.next() == "capture.jpg"
    (tmp_path / "hot" / "gone.jpg").write_bytes(b"begun")
    (tmp_path / "hot" / "gone.jpg").unlink()
    path.write_bytes(b"another " + WHOLE)
    assert watched.next() == "capture.jpg"
    assert watched.nothing_more()
    assert watched.told.empty()


@pytest.mark.slow
def test_a_raw_file_comes_before_its_jpeg(watching, tmp_path: Path) -> None:
    """The JPEG is whole first; the raw file is still on its way."""
    raw = tmp_path / "hot" / "1.nef"
    raw.write_bytes(b"begun")
    (tmp_path / "hot" / "1.jpg").write_bytes(WHOLE)
    (tmp_path / "hot" / "2.jpg").write_bytes(WHOLE)
    watched = watching(patience_s=LONG_S)
    assert watched.next() == "2.jpg"
    raw.write_bytes(WHOLE)
    assert [watched.next(), watched.next()] == ["1.nef", "1.jpg"]
    assert watched.nothing_more()


@pytest.mark.slow
def test_where_both_are_expected_a_jpeg_waits_for_a_raw_file_that_has_not_begun(watching, tmp_path: Path) -> None:
    (tmp_path / "hot" / "1.jpg").write_bytes(WHOLE)
    watched = watching(pairs=True)
    time.sleep(1)  # long enough to take it without the raw file; more only makes the test surer
    (tmp_path / "hot" / "1.nef").write_bytes(WHOLE)
    assert [watched.next(), watched.next()] == ["1.nef", "1.jpg"]
    assert watched.nothing_more()


@pytest.mark.parametrize("polling", [False, True])
@pytest.mark.slow
def test_a_folder_that_is_taken_away_is_waited_for(watching, tmp_path: Path, *, polling: bool) -> None:
    """As when a card or a share goes and comes back: what came with it arrives, what arrived before does not."""
    (tmp_path / "hot" / "1.jpg").write_bytes(WHOLE)
    watched = watching(polling=polling)
    assert watched.next() == "1.jpg"
    (tmp_path / "hot").rename(tmp_path / "away")
    assert "is out of reach: its disk or the way to it was taken away" in watched.told_next()
    (tmp_path / "away" / "2.jpg").write_bytes(WHOLE)
    (tmp_path / "away").rename(tmp_path / "hot")
    assert watched.next() == "2.jpg"
    (tmp_path / "hot" / "3.jpg").write_bytes(WHOLE)
    assert watched.next() == "3.jpg"
    assert watched.nothing_more()


def test_there_must_be_a_folder_to_begin_with(tmp_path: Path) -> None:
    with pytest.raises(CannotBegin, match="there is no such folder"):
        next(iter(HotFolder(tmp_path / "none", fault, print)))


@pytest.mark.parametrize(
    ("kind", "at", "far"),
    [
        ("ext4", "/media/card", False),
        ("nfs4", "/media/card", True),
        ("fuse.sshfs", "/", True),
        ("cifs", "/srv", False),
    ],
)
def test_a_share_is_told_from_a_disk(monkeypatch: pytest.MonkeyPatch, kind: str, at: str, *, far: bool) -> None:
    """Lines as proc(5) shows them."""
    root = kind if at == "/" else "ext4"
    lines = f"24 1 8:1 / / rw shared:1 - {root} /dev/sda1 rw\n99 24 0:45 / {at} rw - {kind} x rw\n"
    real = Path.read_text
    monkeypatch.setattr(
        Path, "read_text", lambda path, **how: lines if str(path).startswith("/proc") else real(path, **how)
    )
    assert is_remote(Path("/media/card/DCIM")) is far
    assert is_remote(Path("\\\\server\\share"))


def test_this_disk_is_no_share(tmp_path: Path) -> None:
    assert not is_remote(tmp_path) or os.environ.get("CI")


def test_what_comes_while_the_system_begins_to_look_arrives_too(tmp_path, monkeypatch):
    def beginning(*args, **options):
        (tmp_path / "between.jpg").write_bytes(WHOLE)
        yield from really(*args, **options)

    really = hot_folder.watch
    monkeypatch.setattr(hot_folder, "watch", beginning)
    monkeypatch.setattr(hot_folder, "LOOK_AGAIN_S", 10 * LONG_S)
    watched = Watched(tmp_path)
    assert watched.next() == "between.jpg"
    assert watched.nothing_more()


def first_to_arrive(seen: Watched, paths: Iterator[Path]) -> str:
    """Writes files until one arrives: those that are written before the watching has begun do not."""
    for path in paths:
        path.write_bytes(WHOLE)
        try:
            return seen.arrived.get(timeout=0.2).name
        except Empty:
            continue
    raise AssertionError("nothing arrived")


def test_what_lies_there_already_is_left_alone_where_only_new_ones_are_wanted(watching, tmp_path: Path) -> None:
    hot, moved = tmp_path / "hot", Queue()
    (hot / "old.jpg").write_bytes(WHOLE)
    (hot / "changes.jpg").write_bytes(WHOLE)
    seen = watching(only_new=True, moved=lambda: moved.put(hot.is_dir()))
    first = first_to_arrive(seen, (hot / f"new-{number}.jpg" for number in range(600)))
    assert first.startswith("new-")
    (hot / "changes.jpg").write_bytes(b"more of the " + WHOLE)
    while (name := seen.next()) != "changes.jpg":
        assert name.startswith("new-")
    hot.rename(tmp_path / "away")
    assert moved.get(timeout=LONG_S) is False
    (tmp_path / "away").rename(hot)
    assert moved.get(timeout=LONG_S) is True
