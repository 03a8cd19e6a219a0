"""Arrivals from files and folders: order, names, what is passed over, what cannot begin."""

from __future__ import annotations

import os
import tracemalloc
import unicodedata
from itertools import islice
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solander.core.errors import CannotBegin
from solander.intake.arrivals import Arrival
from solander.intake.folder import Skipped, arrivals_from, natural_order


def lay(root: Path, *names: str) -> Path:
    for name in names:
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(name.encode("utf-8", "surrogateescape"))
    return root


def names(*paths: Path) -> list[str]:
    return [arrival.name for arrival in arrivals_from(paths)]


def test_files_of_a_folder_first_then_its_folders_in_natural_order(tmp_path: Path) -> None:
    lay(tmp_path, "10.jpg", "2.jpg", "B 3.TIF", "b 12.tif", "sub 10/1.jpg", "sub 9/a/1.jpg", "sub 9/1.jpg")
    assert names(tmp_path) == [
        "2.jpg",
        "10.jpg",
        "B 3.TIF",
        "b 12.tif",
        "sub 9/1.jpg",
        "sub 9/a/1.jpg",
        "sub 10/1.jpg",
    ]


def test_an_arrival_says_where_it_lies_and_what_brought_it(tmp_path: Path) -> None:
    lay(tmp_path, "box/1.jpg")
    assert list(arrivals_from([tmp_path / "box"])) == [
        Arrival("1.jpg", tmp_path / "box/1.jpg", f"folder {tmp_path / 'box'}")
    ]
    assert list(arrivals_from([tmp_path / "box/1.jpg"])) == [
        Arrival("1.jpg", tmp_path / "box/1.jpg", f"file {tmp_path / 'box/1.jpg'}")
    ]


def test_what_lies_beside_pictures_is_passed_over_and_counted(tmp_path: Path) -> None:
    beside = ["slips.CSV", "1.xmp", "notes.txt", "sums.md5"]
    hidden = ["Thumbs.db", ".DS_Store", "._1.jpg", ".thumbs/1.jpg", "desktop.ini"]
    lay(tmp_path, "1.jpg", "letter.pdf", "noending", *beside, *hidden)
    os.mkfifo(tmp_path / "pipe.jpg")
    skipped = Skipped()
    found = [arrival.name for arrival in arrivals_from([tmp_path], skipped=skipped)]
    assert found == ["1.jpg", "letter.pdf", "noending"]
    assert (skipped.beside, skipped.hidden, skipped.count) == (len(beside) + 1, len(hidden), 10)
    assert "slips.CSV" in skipped.names


def test_a_file_that_is_named_arrives_whatever_it_is_called(tmp_path: Path) -> None:
    lay(tmp_path, "notes.txt")
    assert names(tmp_path / "notes.txt") == ["notes.txt"]


def test_links_in_a_circle_end_and_a_file_reached_twice_arrives_once(tmp_path: Path) -> None:
    lay(tmp_path, "a/1.jpg", "b/2.jpg")
    (tmp_path / "a/up").symlink_to(tmp_path, target_is_directory=True)
    (tmp_path / "b/again").symlink_to(tmp_path / "a", target_is_directory=True)
    arrivals = list(arrivals_from([tmp_path, tmp_path / "a", tmp_path / "a/1.jpg"]))
    assert sorted({arrival.path.resolve().name for arrival in arrivals}) == ["1.jpg", "2.jpg"]
    assert len(arrivals) == 2


def test_a_broken_link_arrives_so_that_its_reader_can_say_why(tmp_path: Path) -> None:
    (tmp_path / "1.jpg").symlink_to(tmp_path / "unplugged/1.jpg")
    assert names(tmp_path) == ["1.jpg"]


def test_a_closed_folder_arrives_so_that_its_reader_can_say_why(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    lay(tmp_path, "1.jpg", "closed/2.jpg", "open/3.jpg")
    listing = os.scandir

    def scandir(folder: Path) -> object:
        if folder.name == "closed":
            raise PermissionError(13, "Permission denied")
        return listing(folder)

    monkeypatch.setattr(os, "scandir", scandir)  # the tests may run as root, whom no folder is closed to
    assert names(tmp_path) == ["1.jpg", "closed", "open/3.jpg"]


def test_files_of_one_name_in_two_folders_both_arrive(tmp_path: Path) -> None:
    lay(tmp_path, "summer/1.jpg", "winter/1.jpg", "winter/2.jpg")
    given_folders = tmp_path / "summer", tmp_path / "winter"
    assert names(*given_folders) == ["1.jpg", "winter/1.jpg", "2.jpg"]
    assert names(*given_folders) == names(*given_folders), "the same again when run again"


def test_names_are_composed_and_always_writable(tmp_path: Path) -> None:
    apart = unicodedata.normalize("NFD", "Öse.jpg")
    lay(tmp_path, apart, os.fsdecode(b"caf\xe9.jpg"))
    found = names(tmp_path)
    assert sorted(found) == ["caf\ufffd.jpg", "Öse.jpg"]
    assert "".join(found).encode()


def test_names_that_differ_in_spelling_only_stay_two(tmp_path: Path) -> None:
    lay(tmp_path, *{unicodedata.normalize(form, "Öse.jpg") for form in ("NFC", "NFD")})
    found = names(tmp_path)
    assert len(found) == len(set(found)) == 2


def test_a_missing_path_stops_before_the_first_arrival(tmp_path: Path) -> None:
    lay(tmp_path, "1.jpg")
    with pytest.raises(CannotBegin, match="there is no such file or folder"):
        next(arrivals_from([tmp_path, tmp_path / "gone"]))


def test_an_empty_folder_brings_nothing(tmp_path: Path) -> None:
    assert names(tmp_path) == []


@pytest.mark.slow
def test_many_files_stream_in_bounded_memory(tmp_path: Path) -> None:
    """Names are held, contents never: less than 1.5 kB a file (0.6 kB measured), whatever the files' size."""
    for number in range(20_000):
        (tmp_path / f"IMG_{number}.jpg").touch()
    tracemalloc.start()
    arriving = arrivals_from([tmp_path])
    assert [arrival.name for arrival in islice(arriving, 3)] == ["IMG_0.jpg", "IMG_1.jpg", "IMG_2.jpg"]
    count = 3 + sum(1 for _ in arriving)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert count == 20_000
    assert peak < 20_000 * 1_500, f"{peak / 20_000:.0f} bytes a file"


@given(st.lists(st.integers(0, 10**12)), st.text(max_size=5).filter(lambda text: not any(map(str.isdigit, text))))
def test_numbers_count_as_numbers(numbers: list[int], prefix: str) -> None:
    told = sorted((f"{prefix}{number}.jpg" for number in numbers), key=natural_order)
    assert told == [f"{prefix}{number}.jpg" for number in sorted(numbers)]


@given(st.text(max_size=20), st.text(max_size=20))
def test_any_two_names_can_be_ordered(one: str, other: str) -> None:
    assert (natural_order(one) <= natural_order(other)) or (natural_order(other) <= natural_order(one))
