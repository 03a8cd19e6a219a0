"""The other ways in at a station: a folder that is watched, SANE's own test driver, programs that stand in.

Nothing here waits for a time: each test goes on when the state that it wants is there, or fails after long.
"""

from __future__ import annotations

import os
import shutil
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from queue import Queue

import pytest
from attrs import define, field
from stand_here import still

from solander.core.errors import InvalidValue, Trouble
from solander.core.orders import Order
from solander.imaging.decode import Unreadable
from solander.intake.scanner import Scanner
from solander.tasks.at_stand import AtStand
from solander.tasks.collection import Collection
from solander.tasks.kept_ways import KeptWays
from solander.tasks.stand_ways import SharedWays, StandWays
from solander.tasks.watch_folder import folder_named

LONG_S = 60.0
has_scanimage = pytest.mark.skipif(shutil.which("scanimage") is None, reason="scanimage is not installed")


@define
class At:
    """The ways of a station, what was taken there and what was told."""

    stand: AtStand
    ways: StandWays = field(init=False)
    taken: Queue = field(factory=Queue, init=False)
    told: Queue = field(factory=Queue, init=False)

    def take(self, picture: bytes, name: str) -> object:
        try:
            taken = self.stand.take(picture, name, route="file")
        except Trouble as trouble:
            self.told.put(trouble)
            raise
        self.taken.put(taken)
        return taken

    def next(self) -> object:
        return self.taken.get(timeout=LONG_S)

    def until(self, so: Callable[[], bool]) -> None:
        ends = time.monotonic() + LONG_S
        while not so():
            assert time.monotonic() < ends, f"never so; {self.ways.now}"
            time.sleep(0.02)


@pytest.fixture
def shared(tmp_path: Path) -> SharedWays:
    return SharedWays(KeptWays(tmp_path / "own" / "ways.json"))


@pytest.fixture
def station(people: Collection, shared: SharedWays) -> Iterator[Callable[..., At]]:
    begun: list[At] = []

    def begin(name: str = "1") -> At:
        at = At(AtStand(people, station=name))
        at.ways = StandWays(people, name, at.take, at.stand.order, at.told.put, lambda: None, shared)
        begun.append(at)
        return at

    yield begin
    for at in begun:
        at.ways.close()
        at.stand.finish()


@pytest.fixture
def hot(tmp_path: Path) -> Path:
    (tmp_path / "Camera uploads").mkdir()
    return tmp_path / "Camera uploads"


def save(folder: Path, name: str, content: bytes) -> None:
    made = folder.parent / f"{name}.part"
    made.write_bytes(content)
    made.rename(folder / name)


@pytest.mark.slow
def test_what_is_saved_into_the_folder_is_a_print_with_what_the_slip_says(station, hot: Path) -> None:
    at = station()
    at.stand.say("box two, envelope five")
    save(hot, "1.jpg", still(1))
    at.ways.watch(f' "{hot}" ', only_new=False)
    assert at.ways.now.folder_state == "on"
    assert at.next().accession == "B2-E5-0001"
    at.stand.order(Order.BACK)
    save(hot, "2.jpg", still(2))
    assert (at.next().accession, at.stand.last()[0].side) == ("B2-E5-0001", "back")
    save(hot, "once more.jpg", still(1))  # these bytes are here already: not a word is lost about them
    save(hot, "3.jpg", b"no picture at all")
    save(hot, "4.jpg", still(3))
    assert at.next().accession == "B2-E5-0002"
    at.ways.leave_folder()
    assert at.ways.now.folder_state == "off"
    assert at.taken.empty()
    assert sorted(path.name for path in hot.iterdir()) == ["1.jpg", "2.jpg", "3.jpg", "4.jpg", "once more.jpg"]


@pytest.mark.slow
def test_a_folder_is_watched_by_one_station_and_remembered(station, shared: SharedWays, hot: Path) -> None:
    one, other = station("1"), station("2")
    one.ways.watch(str(hot))
    with pytest.raises(InvalidValue, match="station “1” watches it already"):
        other.ways.watch(str(hot))
    one.ways.leave_folder()
    other.ways.watch(hot.as_uri(), only_new=False)
    again = station("2").ways.now
    assert (again.folder, again.only_new, again.folder_state) == (str(hot), False, "off")


@pytest.mark.slow
def test_a_folder_that_is_refused_leaves_the_one_that_is_watched(station, hot: Path, tmp_path: Path) -> None:
    one, other = station("1"), station("2")
    (tmp_path / "scans").mkdir()
    one.ways.watch(str(hot))
    other.ways.watch(str(tmp_path / "scans"))
    with pytest.raises(InvalidValue, match="station “1” watches it already"):
        other.ways.watch(str(hot))
    assert (other.ways.now.folder, other.ways.now.folder_state) == (str(tmp_path / "scans"), "on")
    other.ways.watch(str(tmp_path / "scans"), only_new=False)  # the same one anew
    save(tmp_path / "scans", "1.jpg", still(1))
    assert other.next().accession == "P-0001"
    with pytest.raises(InvalidValue, match="station “2” watches it already"):
        one.ways.watch(str(tmp_path / "scans"))


@pytest.mark.slow
def test_a_damaged_second_file_of_a_shot_is_told_and_what_follows_is_taken(
    station, hot: Path, monkeypatch
) -> None:
    def damaged(*_: object) -> str:
        raise Unreadable("it is cut off", "Copy it again")

    monkeypatch.setattr("solander.tasks.stand_arrivals.keep_beside", damaged)
    at = station()
    save(hot, "1.jpg", still(1))
    at.ways.watch(str(hot), only_new=False)
    assert at.next().accession == "P-0001"
    save(hot, "1.dng", still(2))
    assert "1.dng was set aside: it is cut off" in at.told.get(timeout=LONG_S).sentence
    save(hot, "2.jpg", still(3))
    assert at.next().accession == "P-0002"


def test_a_fault_in_looking_for_scanners_is_told_and_one_may_look_again(station, monkeypatch) -> None:
    def broken() -> list[Scanner]:
        raise RuntimeError("what nobody foresaw")

    monkeypatch.setattr("solander.tasks.stand_scanner.scanners", broken)
    at = station()
    at.ways.look_for_scanners()
    assert "what nobody foresaw" in at.told.get(timeout=LONG_S).sentence
    at.until(lambda: at.ways.now.scanner_state == "off")


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("  ", "no folder was named"),
        ("uploads", "“uploads” is not the whole path"),
        ("{tmp}/none", "there is no folder {tmp}/none"),
        ("{tmp}/file", "{tmp}/file is a file"),
        ('"{tmp}/locked"', "you may not look into {tmp}/locked"),
    ],
)
def test_what_is_no_folder_is_told(tmp_path: Path, monkeypatch, typed: str, why: str) -> None:
    (tmp_path / "file").touch()
    (tmp_path / "locked").mkdir()
    # Root may read everything, so the system's answer is stood in for.
    monkeypatch.setattr(os, "access", lambda path, how: Path(path).name != "locked")
    with pytest.raises(InvalidValue) as refused:
        folder_named(typed.format(tmp=tmp_path))
    assert refused.value.why == why.format(tmp=tmp_path)
    assert refused.value.todo


def test_a_folder_is_named_as_programs_show_it(tmp_path: Path) -> None:
    """RFC 8089: the file URI scheme."""
    (tmp_path / "Kamera Ü").mkdir()
    for typed in (f"{tmp_path}/Kamera Ü", f'"{tmp_path}/Kamera Ü"', (tmp_path / "Kamera Ü").as_uri()):
        assert folder_named(typed) == tmp_path / "Kamera Ü"


@pytest.mark.parametrize("spoilt", ["", "[]", "{", '{"a 1": 3}'])
def test_what_was_chosen_is_kept_for_each_station_and_a_spoilt_file_is_made_anew(tmp_path, spoilt: str) -> None:
    kept = KeptWays(tmp_path / "ways.json")
    kept.file.write_text(spoilt)
    assert kept.of("a", "1") == {}
    kept.keep("a", "1", folder="/one")
    kept.keep("a", "1", dpi=300)
    kept.keep("a", "2", folder="/two")
    assert (kept.of("a", "1"), kept.of("a", "2")) == ({"folder": "/one", "dpi": 300}, {"folder": "/two"})


@pytest.fixture
def test_driver(tmp_path: Path, monkeypatch) -> None:
    """SANE with its own test driver alone (sane-test, sane-dll)."""
    (tmp_path / "sane").mkdir()
    (tmp_path / "sane" / "dll.conf").write_text("test\n")
    (tmp_path / "sane" / "test.conf").touch()
    monkeypatch.setenv("SANE_CONFIG_DIR", str(tmp_path / "sane"))


@has_scanimage
@pytest.mark.slow
def test_scanners_are_looked_for_and_a_whole_feeder_is_taken(station, test_driver, people: Collection) -> None:
    at = station()
    at.ways.look_for_scanners()
    at.until(lambda: at.ways.now.scanner_state == "ready")
    assert [one.device for one in at.ways.now.scanners] == ["test:0", "test:1"]
    assert at.ways.now.has_scanner
    at.ways.scan("test:0", 75, "feeder")
    with pytest.raises(InvalidValue, match="the scanner is at work"):
        at.ways.scan()
    first = at.next()
    assert first.accession == "P-0001"
    # The driver's ten sheets are all the same picture, which is taken once.
    assert [at.next().known for _ in range(9)] == [True] * 9
    at.until(lambda: at.ways.now.scanner_state == "ready")
    assert at.ways.now.page == 10
    assert not (people.root / "incoming").exists()
    again = station().ways.now
    assert (again.device, again.dpi, again.place) == ("test:0", 75, "feeder")


@has_scanimage
@pytest.mark.slow
def test_a_scanner_that_is_gone_and_a_wish_that_cannot_be_are_told(station, test_driver) -> None:
    at = station()
    for device, dpi, place in [
        ("", 300, "glass"),
        ("--help", 300, "glass"),
        ("x", 3, "glass"),
        ("x", 300, "roof"),
    ]:
        with pytest.raises(InvalidValue, match="Nothing was scanned"):
            at.ways.scan(device, dpi, place)
    at.ways.scan("none:0", 75, "glass")
    assert "no scanner none:0 answers" in at.told.get(timeout=LONG_S).sentence
    at.until(lambda: at.ways.now.scanner_state == "ready")


SCANIMAGE = """
import shutil, sys, time
if "--all-options" in sys.argv:
    print("    --resolution 75..600dpi [75]\\n    --source Feeder|Feeder Duplex|Flatbed [Flatbed]")
    sys.exit()
for page in {pages}:
    name = f"{{page:04d}}.tif"
    shutil.copy(f"{folder}/{{page}}.jpg", name)
    print(f"Progress: 50.0%\\rScanned page {{page}}.", file=sys.stderr, flush=True)
    print(name, flush=True)
{ends}
"""
"""A program that speaks like scanimage, where the test driver can't do what is wanted."""


def stand_in_scanner(tmp_path: Path, monkeypatch, pages: int, ends: str) -> None:
    program = tmp_path / "bin" / "scanimage"
    program.parent.mkdir()
    for page in range(1, pages + 1):
        (program.parent / f"{page}.jpg").write_bytes(still(page))
    script = SCANIMAGE.format(pages=range(1, pages + 1), folder=program.parent, ends=ends)
    program.write_text(f"#!{sys.executable}\n{script}", "utf-8")
    program.chmod(0o755)
    monkeypatch.setenv("PATH", str(program.parent), prepend=os.pathsep)


@pytest.mark.slow
def test_a_jam_is_told_and_the_sheets_before_it_are_taken(station, tmp_path: Path, monkeypatch) -> None:
    jam = "print('scanimage: sane_start: Document feeder jammed', file=sys.stderr); sys.exit(6)"
    stand_in_scanner(tmp_path, monkeypatch, 2, jam)
    at = station()
    at.ways.scan("x", 75, "both")
    assert (at.next().accession, at.next().side) == ("P-0001", "back")
    assert "a sheet is jammed in the feeder" in at.told.get(timeout=LONG_S).sentence
    at.until(lambda: at.ways.now.scanner_state == "ready")


@pytest.mark.slow
def test_a_page_left_over_from_before_is_no_front_of_the_first_sheet(
    station, tmp_path: Path, monkeypatch, people: Collection
) -> None:
    left = people.root / "incoming" / "scanner before" / "0001.tif"
    left.parent.mkdir(parents=True)
    left.write_bytes(still(3))
    stand_in_scanner(tmp_path, monkeypatch, 2, "")
    at = station()
    at.ways.scan("x", 75, "both")
    sheets = [at.next() for _ in range(3)]
    assert [(one.accession, one.side) for one in sheets] == [
        ("P-0001", "front"), ("P-0002", "front"), ("P-0002", "back")
    ]  # fmt: skip
    at.until(lambda: at.ways.now.scanner_state == "ready")


@pytest.mark.slow
def test_a_scan_is_stopped_from_the_page(station, tmp_path: Path, monkeypatch, people: Collection) -> None:
    stand_in_scanner(tmp_path, monkeypatch, 1, "time.sleep(600)")
    at = station()
    at.ways.scan("x", 75, "feeder")
    assert at.next().accession == "P-0001"
    at.ways.stop_scan()
    assert at.ways.now.scanner_state == "ready"
    assert at.told.empty()
    assert not (people.root / "incoming").exists()


@pytest.mark.slow
def test_a_camera_on_a_cable_is_told_when_there_is_none_and_let_go_in_the_end(
    station, tmp_path: Path, monkeypatch
) -> None:
    program, camera = tmp_path / "bin" / "gphoto2", tmp_path / "camera"
    program.parent.mkdir()
    script = (Path(__file__).parents[1] / "intake" / "stand_in_gphoto2.py").read_text("utf-8")
    program.write_text(f"#!{sys.executable}\n{script}", "utf-8")
    program.chmod(0o755)
    monkeypatch.setenv("PATH", str(program.parent))
    monkeypatch.setenv("CAMERA", str(camera))
    at = station()
    at.ways.begin_cable()
    assert "no camera answers on the cable" in at.told.get(timeout=LONG_S).sentence
    at.until(lambda: at.ways.now.cable_state == "off")
    camera.mkdir()
    at.ways.begin_cable()
    at.until(lambda: at.ways.now.cable_state == "on")
    assert at.ways.now.camera == "Nikon DSC D750"
    (tmp_path / "made").write_bytes(still(1))
    (tmp_path / "made").rename(camera / "DSC_0001.JPG")
    assert at.next().accession == "P-0001"
    at.ways.end_cable()
    assert at.ways.now.cable_state == "off"


def test_a_folder_that_ends_late_says_nothing_of_the_one_that_is_watched_since(station, tmp_path: Path) -> None:
    at, first, second = station(), tmp_path / "first", tmp_path / "second"
    first.mkdir()
    second.mkdir()
    at.ways.watch(str(first))
    late = at.ways._folder._source
    at.ways.watch(str(second))
    late.ended()
    assert (at.ways.now.folder, at.ways.now.folder_state) == (str(second), "on")
