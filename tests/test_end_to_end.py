"""The whole job on the made-up box, as a new user runs it: `solander demo`."""

import json
import re
import shutil
import subprocess
import sys
from pathlib import Path

import bagit
import pytest

from solander.core.questions import Asks
from solander.demo.box import captures
from solander.imaging.conventions import iou
from solander.tasks.collection import Collection
from solander.tasks.described import described

pytestmark = [pytest.mark.end_to_end, pytest.mark.slow]


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str]:
    root = tmp_path_factory.mktemp("demo") / "box"
    done = subprocess.run(
        [sys.executable, "-m", "solander", "demo", str(root)], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    return root, done.stdout


@pytest.fixture(scope="module")
def collection(demo: tuple[Path, str]):
    with Collection.open(demo[0] / "collection") as opened:
        yield opened


def test_every_print_is_found_to_its_edge(collection: Collection) -> None:
    by_name = {capture.name: capture.sha256 for capture in collection.catalogue.captures()}
    for capture in captures():
        views = [view for _, view in collection.catalogue.views_of_capture(by_name[capture.name])]
        assert len(views) == len(capture.truths)
        for truth in capture.truths:
            assert max(iou(view.outline.corners, truth) for view in views) >= 0.98, capture.name


def test_backs_are_joined_and_all_prints_stand_in_order(collection: Collection) -> None:
    prints = described(collection)
    assert [one.order for one in prints] == list(range(1, 17))
    assert sum(one.print.verso is not None for one in prints) == 5
    guesses = [one.when.guess for one in prints]
    # One print came without a container, and nothing is said of it: it comes last.
    assert (prints[-1].print.accession, guesses[-1], guesses.count(None)) == ("P-0001", None, 1)
    assert guesses[:-1] == sorted(guesses[:-1])
    assert sum(one.when.earliest is None and one.when.latest is None for one in prints) >= 2
    assert all(one.when.reasons for one in prints if one.when.edtf)


def test_what_is_not_sure_waits(collection: Collection) -> None:
    asked = {question.asks for question in collection.catalogue.questions()}
    assert asked >= {
        Asks.OUTLINE,
        Asks.DUPLICATE,
        Asks.CAPTURE_AGAIN,
        Asks.CONTRADICTION,
        Asks.INSCRIPTION,
        Asks.WORDS,
    }


def test_the_archive_is_a_valid_bag_with_the_captures_to_the_bit(demo: tuple[Path, str]) -> None:
    archive = demo[0] / "releases" / "archive"
    assert bagit.Bag(str(archive)).validate()
    kept = {path.name: path.read_bytes() for path in (archive / "data" / "captures").rglob("*") if path.is_file()}
    arrived = [path.read_bytes() for path in (demo[0] / "captures-as-files").iterdir()]
    assert sorted(kept.values()) == sorted(arrived)


def test_the_family_site_has_every_page_and_picture_and_says_that_it_is_made_up(demo: tuple[Path, str]) -> None:
    family = demo[0] / "releases" / "family"
    pages = list(family.rglob("*.html"))
    assert len(pages) == 16 + 4
    for page in pages:
        text = page.read_text("utf-8")
        assert "made up" in text
        for link in re.findall(r'(?:href|src)="([^"#:]+)', text):
            assert (page.parent / link).exists(), (page, link)


def test_the_answer_is_readable(demo: tuple[Path, str]) -> None:
    root, told = demo
    lines = told.replace(str(root), "solander-demo").splitlines()
    assert 12 <= len(lines) <= 24
    assert max(map(len, lines)) <= 80
    assert "no faults" in told


@pytest.mark.parametrize("part", ["collection", "releases/archive", "releases/family"])
def test_each_part_verifies(demo: tuple[Path, str], part: str) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "solander", "verify", str(demo[0] / part)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0
    assert done.stdout.startswith("Whole: ")


def test_an_independent_reader_finds_what_the_files_say(demo: tuple[Path, str]) -> None:
    exiftool = shutil.which("exiftool")
    if exiftool is None:
        pytest.skip("exiftool is not installed")
    picture = next((demo[0] / "releases" / "family" / "pictures").glob("*_B1-E3-0003_front.jpg"))
    read = subprocess.run([exiftool, "-j", "-G1", str(picture)], capture_output=True, text=True, check=True)
    (fields,) = json.loads(read.stdout)
    assert fields["XMP-dcterms:Created"] == "1961-22"
    assert fields["XMP-iptcExt:PersonInImage"] == ["Liv Ternvåg", "Zofia Mewińska"]
    assert fields["XMP-photoshop:DateCreated"] == 1961
    assert fields["ExifIFD:DateTimeOriginal"].startswith("1961:07")
