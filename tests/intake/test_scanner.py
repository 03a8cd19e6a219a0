"""Scans through the real `scanimage`, with SANE's own test driver: glass, feeder, jam, cancelling."""

from __future__ import annotations

import os
import shutil
import stat
from pathlib import Path
from threading import Event
from typing import Any

import numpy as np
import pytest
from PIL import Image

from solander.core.errors import CannotBegin, Trouble
from solander.intake.arrivals import Arrival
from solander.intake.scanner import Scanner, ScannerPages, scanners, set_scanner
from solander.intake.scanner_options import Wish

has_scanimage = pytest.mark.skipif(shutil.which("scanimage") is None, reason="scanimage is not installed")
SMALL = ["--mode=Color", "--resolution=75", "-x", "40", "-y", "30"]
FED = ["--source=Automatic Document Feeder", *SMALL]


def unseen(page: int, done: float) -> None:
    pass


def pages_of(folder: Path, options: list[str], **how: Any) -> tuple[list[Arrival], Trouble | None]:
    """What came, and what ended it."""
    arrived: list[Arrival] = []
    try:
        arrived.extend(ScannerPages("test", options, folder, how.pop("watch", unseen), **how))
    except Trouble as trouble:
        return arrived, trouble
    return arrived, None


@has_scanimage
@pytest.mark.slow
def test_a_page_of_the_glass_with_its_resolution(tmp_path: Path) -> None:
    seen: list[tuple[int, float]] = []
    pattern = ["--test-picture=Solid white", *SMALL]
    arrived, trouble = pages_of(tmp_path, pattern, watch=lambda page, done: seen.append((page, done)))
    assert trouble is None
    (page,) = arrived
    assert (page.name, page.path, page.passing) == (f"{tmp_path.name}/0001.tif", tmp_path / "0001.tif", True)
    with Image.open(page.path) as picture:
        assert (picture.size, picture.mode, picture.info["dpi"]) == ((118, 88), "RGB", (75, 75))
        assert (np.asarray(picture) == 255).all()
    assert seen[-1] == (1, 100.0)


@has_scanimage
@pytest.mark.slow
def test_all_sheets_of_the_feeder(tmp_path: Path) -> None:
    """The test driver's feeder holds ten sheets, as its manual (sane-test) says."""
    seen: set[int] = set()
    arrived, trouble = pages_of(tmp_path, FED, sheets=None, first=5, watch=lambda page, _: seen.add(page))
    assert trouble is None
    assert [one.path.name for one in arrived] == [f"{number:04d}.tif" for number in range(5, 15)]
    assert seen == set(range(5, 15))
    assert len(list(tmp_path.iterdir())) == 10


@has_scanimage
@pytest.mark.slow
@pytest.mark.parametrize(
    ("status", "why"),
    [
        ("JAMMED", "a sheet is jammed in the feeder"),
        ("NO_DOCS", "there is no sheet in the feeder"),
        ("COVER_OPEN", "the scanner's cover is open"),
        ("DEVICE_BUSY", "another program is using the scanner"),
        ("IO_ERROR", "the scanner does not answer any more"),
        ("NO_MEM", "there is not enough memory"),
        ("ACCESS_DENIED", "you may not use the scanner"),
        ("CANCELLED", "it was stopped at the scanner"),
        ("INVAL", "the scanner refused .*Invalid argument"),
    ],
)
def test_each_fault_says_what_to_do_and_leaves_no_half_page(tmp_path: Path, status: str, why: str) -> None:
    """The names are those of the SANE standard; the test driver gives whichever one asks for."""
    arrived, trouble = pages_of(tmp_path, [*FED, f"--read-return-value=SANE_STATUS_{status}"], sheets=None)
    assert arrived == []
    assert trouble is not None
    assert trouble.what == "Nothing was scanned"
    assert trouble.todo
    with pytest.raises(Trouble, match=why):
        raise trouble
    assert list(tmp_path.iterdir()) == []


@has_scanimage
@pytest.mark.slow
def test_ended_in_the_middle_the_scanner_stops(tmp_path: Path) -> None:
    second = Event()

    def watch(page: int, _: float) -> None:
        if page == 2:
            second.set()

    slow = ["--read-delay=yes", "--read-delay-duration=200000", *FED]
    pages = iter(ScannerPages("test", slow, tmp_path, watch, sheets=None))
    next(pages)
    assert second.wait(60)
    pages.close()
    left = list(tmp_path.iterdir())
    assert len(left) < 10
    for page in left:  # none of them half a page
        with Image.open(page) as picture:
            picture.load()


@has_scanimage
@pytest.mark.slow
def test_scanners_are_listed_and_set(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "dll.conf").write_text("test\n")
    (tmp_path / "test.conf").touch()
    monkeypatch.setenv("SANE_CONFIG_DIR", str(tmp_path))
    assert scanners() == [Scanner(f"test:{number}", "Noname", "frontend-tester") for number in (0, 1)]
    options, dpi = set_scanner("test:1", Wish(300, 16, feeder=True))
    assert dpi == 300
    assert {"--source=Automatic Document Feeder", "--depth=16", "--resolution=300"} < set(options)


@has_scanimage
@pytest.mark.slow
def test_a_scanner_that_is_not_there(tmp_path: Path) -> None:
    for asked in (
        lambda: set_scanner("none:0", Wish()),
        lambda: list(ScannerPages("none:0", [], tmp_path, unseen)),
    ):
        with pytest.raises(CannotBegin, match="no scanner none:0 answers"):
            asked()


def test_without_scanimage_it_says_how_to_get_it(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    with pytest.raises(CannotBegin, match="scanimage is not installed") as caught:
        scanners()
    assert "sane-utils" in caught.value.todo


@pytest.mark.slow
def test_after_a_jam_the_sheets_before_it_are_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A stand-in that jams at the third sheet, which the test driver can't; its words are those of the real
    one."""
    program = tmp_path / "bin" / "scanimage"
    program.parent.mkdir()
    program.write_text(
        "#!/bin/sh\nfor page in 1 2; do echo 'Scanning page' $page >&2; echo page > 000$page.tif;"
        ' echo 000$page.tif; echo "Scanned page $page. (scanner status = 5)" >&2; done\n'
        "echo 'scanimage: sane_start: Document feeder jammed' >&2; exit 6\n"
    )
    program.chmod(program.stat().st_mode | stat.S_IXUSR)
    monkeypatch.setenv("PATH", str(program.parent), prepend=os.pathsep)
    (tmp_path / "pages").mkdir()
    arrived, trouble = pages_of(tmp_path / "pages", [], sheets=None)
    assert [one.path.name for one in arrived] == ["0001.tif", "0002.tif"]
    assert trouble is not None
    assert trouble.sentence.startswith("Page 3 was not scanned: a sheet is jammed in the feeder. Open the cover, ")


@pytest.mark.slow
def test_a_driver_that_hangs_after_its_last_words_is_ended(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A stand-in with the words of the real one, whose test driver hangs like this once in twelve runs under load:
    a program that it started holds its pipes open for ever."""
    monkeypatch.setattr("solander.intake.outside_program._END_S", 0.2)
    scripts = {
        "Scanner cover is open": "the scanner's cover is open",
        "Document feeder out of documents": "there is no sheet in the feeder",
        "Something new": r"the scanner refused \(sane_read: Something new\)",
    }
    program = tmp_path / "bin" / "scanimage"
    program.parent.mkdir()
    monkeypatch.setenv("PATH", str(program.parent), prepend=os.pathsep)
    for words, why in scripts.items():
        program.write_text(
            f"#!/bin/sh\necho 'Scanning page 1' >&2; echo 'scanimage: sane_read: {words}' >&2\n"
            "echo 'Batch terminated, 0 pages scanned' >&2; sleep 600 & wait\n"
        )
        program.chmod(program.stat().st_mode | stat.S_IXUSR)
        arrived, trouble = pages_of(tmp_path, [], sheets=None)
        assert not arrived
        assert trouble is not None
        with pytest.raises(Trouble, match=why):
            raise trouble
