"""What is no plain print: prints too large for one capture, and pages of an album."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from small_box import SHARP, SIZE, Draw, asked, capture_of, slip_file

from solander.core.errors import CannotBegin
from solander.core.prints import Side
from solander.core.questions import Asks
from solander.imaging.album import locate_on_page
from solander.imaging.conventions import iou
from solander.tasks.accession import accession
from solander.tasks.album import Albums
from solander.tasks.collection import Collection
from solander.tasks.release import release

pytestmark = pytest.mark.slow

D = Side.DETAIL


def sides_of(collection: Collection) -> dict[str, list[Side]]:
    return {print_.accession: [view.side for view in print_.views] for print_ in collection.catalogue.prints()}


def test_parts_are_taken_whole_and_lie_with_their_print(draw: Draw, collection: Collection) -> None:
    for number, name in enumerate(["big_detail1.jpg", "big_detail2.jpg", "big_r.jpg", "big_v.jpg", "small.jpg"]):
        draw(name, number)
    report = accession(collection, [draw("big_r.jpg", 2).parent], container="B1")
    assert sorted(sides_of(collection)["B1-0001"]) == [D, D, Side.RECTO, Side.VERSO]
    assert report.prints == ["B1-0001", "B1-0002"]
    parts = [view for view in collection.catalogue.print("B1-0001").views if view.side is D]
    assert [(view.width, view.height) for view in parts] == [SIZE] * 2
    assert asked(collection, Asks.OUTLINE) == []


def test_parts_alone_are_one_print(draw: Draw, collection: Collection) -> None:
    accession(collection, [draw("map_detail2.jpg", 1), draw("map_detail1.jpg", 2)])
    assert sides_of(collection) == {"P-0001": [D, D]}
    assert asked(collection, Asks.PAIR) == []


def test_slip_file_tells_parts(draw: Draw, collection: Collection, tmp_path: Path) -> None:
    slips = slip_file(tmp_path, "file,side,caption", "s1.jpg,,The regiment", "s2.jpg,detail,", "s3.jpg,back,")
    accession(collection, [draw(f"s{number}.jpg", number) for number in (1, 2, 3)], slips=slips)
    assert sides_of(collection) == {"P-0001": [Side.RECTO, D, Side.VERSO]}


def test_every_part_is_handed_over(draw: Draw, collection: Collection, tmp_path: Path) -> None:
    accession(collection, [draw(name, 1) for name in ("b_r.jpg",)] + [draw("b_detail1.jpg", 2)])
    accession(collection, [draw("b_detail2.jpg", 3)])
    assert sides_of(collection) == {"P-0001": [Side.RECTO, D, D]}
    release(collection, tmp_path / "bag", audience="archive")
    views = tmp_path / "bag/data/views"
    assert sorted(path.name for path in views.iterdir()) == [
        "P-0001_detail-1.jpg",
        "P-0001_detail-2.jpg",
        "P-0001_front.jpg",
    ]
    release(collection, tmp_path / "family", audience="family")
    assert len(list((tmp_path / "family/pictures").glob("*_detail-*.jpg"))) == 2


def album_page(name: str, folder: Path, *, numbers: tuple[int, ...] = (0, 1, 3), table: bool = True) -> Path:
    """Prints of the simulator's drawings, two in a row, on a black page on a table or filling the frame."""
    noise = np.random.default_rng(len(name)).normal(0, 2.0, (1100, 1600, 3))
    page = np.full((1100, 1600, 3), 150 if table else 42, float)
    page[60:-60, 60:-60] = 42
    for place, number in enumerate(numbers):
        print_ = np.asarray(capture_of(number, SHARP, 0.0).crop(crop_of(number)))
        height, width = print_.shape[:2]
        top, left = 130 + 460 * (place // 2), 180 + 700 * (place % 2)
        page[top : top + height, left : left + width] = print_
    folder.mkdir(exist_ok=True)
    Image.fromarray((page + noise).clip(0, 255).astype(np.uint8)).save(folder / name, quality=92)
    return folder / name


def crop_of(number: int) -> tuple[int, int, int, int]:
    """Where the print lies in its own capture: sizes and scale of `small_box`, no turn."""
    width, height = ((96, 68), (70, 70), (66, 92))[number % 3]
    across, down = width * 4.6 / 2, height * 4.6 / 2
    return round(360 - across) + 2, round(270 - down) + 2, round(360 + across) - 2, round(270 + down) - 2


@pytest.mark.slow
@pytest.mark.parametrize("table", [True, False])
def test_prints_are_found_on_a_page_wherever_it_lies(table: bool, tmp_path: Path) -> None:
    page = np.asarray(Image.open(album_page("p.jpg", tmp_path / "album", table=table)))
    found = locate_on_page(page)
    assert [one.confidence > 0.9 for one in found] == [True] * 3
    corners = [one.corners[0].tolist() for one in found]
    assert np.abs(np.array(corners) - [[180, 130], [880, 130], [180, 590]]).max() < 3


@pytest.mark.slow
def test_one_large_print_may_be_the_page_and_is_asked_about(tmp_path: Path) -> None:
    print_ = capture_of(0, SHARP, 0.0).crop(crop_of(0)).resize((1300, 920), Image.Resampling.LANCZOS)
    page = Image.new("RGB", (1600, 1100), (42, 42, 42))
    page.paste(print_, (150, 90))
    noise = np.random.default_rng(1).normal(0, 2.0, (1100, 1600, 3))
    found = locate_on_page((np.asarray(page) + noise).clip(0, 255).astype(np.uint8))
    assert len(found) == 1
    assert found[0].confidence <= 0.5
    outlines = [found[0].corners] + ([found[0].second] if found[0].second is not None else [])
    truth = np.array([[150, 90], [1450, 90], [1450, 1010], [150, 1010]], float)
    assert max(iou(outline, truth) for outline in outlines) > 0.97


@pytest.fixture
def album(tmp_path: Path, collection: Collection) -> Collection:
    """Two pages taken in, of three prints and of two."""
    folder = album_page("page1.jpg", tmp_path / "album").parent
    album_page("page2.jpg", folder, numbers=(4, 7), table=False)
    accession(collection, [folder], container="B2/A1", pages=True)
    return collection


@pytest.mark.slow
def test_pages_are_containers_and_stay_whole(album: Collection, tmp_path: Path) -> None:
    prints = album.catalogue.prints()
    assert [one.accession for one in prints] == [
        *(f"B2-A1-P1-{number:04d}" for number in (1, 2, 3)),
        *(f"B2-A1-P2-{number:04d}" for number in (1, 2)),
    ]
    page = Albums(album).page("B2-A1-P1-0002")
    assert page is not None
    assert (page.container, page.name, page.width, page.height) == ("B2/A1/P1", "page1.jpg", 1600, 1100)
    assert [one.number for one in page.prints] == [1, 2, 3]
    with Image.open(Albums(album).picture(page.capture, 1)) as turned:
        assert turned.size == (1100, 1600)


@pytest.mark.slow
def test_pages_are_counted_on_and_keep_their_numbers(album: Collection, tmp_path: Path) -> None:
    folder = tmp_path / "album"
    third = album_page("page3.jpg", folder, numbers=(6, 7))
    accession(album, [folder], container="B2/A1", pages=True)
    fourth = album_page("scan1.jpg", tmp_path / "more", numbers=(9, 10))
    accession(album, [fourth], container="B2/A1", pages=True)
    accession(album, [album_page("scan2.jpg", tmp_path / "more", numbers=(8,))], container="B2/A1/P9", pages=True)
    pages = {one.code: one.captures for one in album.catalogue.containers() if one.captures}
    assert list(pages) == [f"B2/A1/P{number}" for number in (1, 2, 3, 4, 9)]
    assert album.catalogue.arrived_as(third.name) == list(pages["B2/A1/P3"])


@pytest.mark.slow
def test_undo_takes_the_page_back_and_its_take_in_makes_it_again(album: Collection, tmp_path: Path) -> None:
    album.catalogue.undo("archivist")
    assert album.catalogue.prints() == []
    assert all(not one.captures for one in album.catalogue.containers())
    accession(album, [tmp_path / "album"], container="B2/A1", pages=True)
    assert Albums(album).page("B2-A1-P2-0001") is not None


@pytest.mark.slow
def test_pages_are_handed_over_as_found(album: Collection, tmp_path: Path) -> None:
    release(album, tmp_path / "bag", audience="archive")
    with (tmp_path / "bag/data/prints.csv").open(encoding="utf-8-sig", newline="") as table:
        told = {row["title"]: row for row in csv.DictReader(table)}
    assert "whole page B2/A1/P1" in told["page1.jpg"]["description"]
    release(album, tmp_path / "family", audience="family")
    pages = sorted(path.name for path in (tmp_path / "family/pictures/pages").iterdir())
    assert [name[:8] for name in pages] == ["B2-A1-P1", "B2-A1-P2"]
    leaf = next((tmp_path / "family/prints").glob("*B2-A1-P1-0002.html")).read_text(encoding="utf-8")
    assert f"../pictures/pages/{pages[0]}" in leaf
    assert leaf.count("print 1 of this page") == 1


@pytest.mark.slow
def test_page_without_a_print_is_asked_about(collection: Collection, tmp_path: Path) -> None:
    accession(collection, [album_page("title.jpg", tmp_path / "a", numbers=())], container="A1/P1", pages=True)
    assert [subject for subject, _ in asked(collection, Asks.OUTLINE)] == ["A1-P1-0001"]


def test_file_of_several_pictures_is_no_page(collection: Collection, tmp_path: Path) -> None:
    path = tmp_path / "album.tif"
    capture_of(1, SHARP, 0).save(path, save_all=True, append_images=[capture_of(2, SHARP, 0)])
    report = accession(collection, [path], container="A1", pages=True)
    assert report.set_aside == [
        "album.tif was set aside: it holds 2 pictures, and one is a page of the album. Save each as a file."
    ]


def test_pages_need_an_album_and_have_no_backs(draw: Draw, collection: Collection) -> None:
    page = draw("1.jpg", 1)
    with pytest.raises(CannotBegin, match="which album"):
        accession(collection, [page], pages=True)
    with pytest.raises(CannotBegin, match="no backs"):
        accession(collection, [page], container="A1", pages=True, sides="alternate")
