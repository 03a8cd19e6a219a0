"""The made-up box: complete, deterministic, its slips and its captures about the same prints."""

from __future__ import annotations

import csv
import io
from datetime import date
from itertools import islice
from pathlib import Path

import cv2
import numpy as np
import pytest
from PIL import Image, ImageOps

from solander.authorities.people_lists import read_people_list
from solander.authorities.place_files.reading import read_place_file
from solander.core.phrases import read_date
from solander.core.statements import Says
from solander.demo.box import DemoCapture, box_files, captures, write_capture
from solander.demo.prints import SHEETS, sheet
from solander.demo.scenes import SCENES
from solander.intake.sides import assign_sides
from solander.intake.slips import read_slips

BOX = Path(str(box_files()))
TODAY = date(2024, 11, 10)
MEGABYTE = 1_000_000


@pytest.fixture(scope="module")
def made() -> dict[str, DemoCapture]:
    return {capture.name: capture for capture in captures()}


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory, made: dict[str, DemoCapture]) -> Path:
    folder = tmp_path_factory.mktemp("box")
    for capture in made.values():
        write_capture(capture, folder)
    return folder


def test_every_sheet_is_used_and_every_name_is_there() -> None:
    assert {name for scene in SCENES for name in scene.sheets} == set(SHEETS)


def test_the_box_holds_what_the_whole_job_needs() -> None:
    names = [scene.name for scene in SCENES]
    placed = assign_sides(names, "by-name")
    assert 14 <= len(names) <= 18
    assert sum(side.partner is not None for side in placed.values()) == 2 * 5
    assert {scene.stage.kind for scene in SCENES} == {"grey", "blue", "black felt", "flatbed lid"}
    assert [len(scene.sheets) for scene in SCENES].count(4) == 1
    fronts = [scene.sheets for scene in SCENES]
    assert sum(fronts.count(sheets) == 2 for sheets in set(fronts)) == 1
    assert [scene.name for scene in SCENES if scene.camera.defocus_px] == ["e3-02_r.jpg"]
    assert any(scene.orientation != 1 for scene in SCENES)


@pytest.mark.slow
def test_the_truths_lie_inside_and_the_prints_there(made: dict[str, DemoCapture]) -> None:
    for capture in made.values():
        height, width = capture.rgb.shape[:2]
        assert len(capture.truths) == len(capture.scene.sheets)
        for corners in capture.truths:
            assert (corners > 0).all()
            assert (corners < [width - 1, height - 1]).all()
            assert contrast_across_corners(capture.rgb, corners) > 20 or capture.scene.camera.defocus_px


def contrast_across_corners(rgb: np.ndarray, corners: np.ndarray) -> float:
    """Least difference, in the channel that differs most, of 25 px inside and outside the middle of each side."""
    soft, centre = cv2.blur(rgb, (9, 9)).astype(float), corners.mean(axis=0)
    differences = []
    for middle in (corners + np.roll(corners, -1, axis=0)) / 2:
        step = (middle - centre) / np.hypot(*(middle - centre)) * 25
        inside, outside = (
            soft[tuple(np.rint(point[::-1]).astype(int))] for point in (middle - step, middle + step)
        )
        differences.append(np.abs(inside - outside).max())
    return float(min(differences))


@pytest.mark.slow
def test_the_files_show_the_captures_upright(written: Path, made: dict[str, DemoCapture]) -> None:
    for name in ("e3-01_r.jpg", "e4-03_r.png", "scan-01.tif"):
        with Image.open(written / name) as file:
            upright = np.asarray(ImageOps.exif_transpose(file).convert("RGB"), np.int16)
        assert upright.shape == made[name].rgb.shape
        allowed = 4.0 if name.endswith(".jpg") else 0.0
        assert np.abs(upright - made[name].rgb).mean() <= allowed


@pytest.mark.slow
def test_the_files_bear_what_cameras_and_scanners_write(written: Path) -> None:
    with Image.open(written / "scan-01.tif") as scan:
        assert scan.info["dpi"] == (300, 300)
    with Image.open(written / "e3-01_r.jpg") as capture:
        exif = capture.getexif()
        assert (exif[0x0112], exif[0x010F]) == (6, "Made up")
        assert exif.get_ifd(0x8769)[0x9003] == "2024:11:09 14:02:10"


@pytest.mark.slow
def test_the_same_bytes_come_again(made: dict[str, DemoCapture]) -> None:
    for capture in islice(captures(), 3):
        assert capture.rgb.tobytes() == made[capture.name].rgb.tobytes()


@pytest.mark.slow
def test_a_back_has_the_shape_of_its_front() -> None:
    for name in SHEETS:
        if name.endswith(" back"):
            assert sheet(name).size_mm == sheet(name.removesuffix(" back")).size_mm


def test_every_slip_speaks_of_a_print_in_the_box() -> None:
    slips = read_slips(BOX / "slips.csv")
    assert slips.warnings == ()
    numbered = {f"{scene.name}#{n + 1}" for scene in SCENES for n in range(len(scene.sheets))}
    names = {scene.name for scene in SCENES} | numbered
    assert {row.file for row in slips.rows if row.file} <= names
    # The second capture of one print has no row of its own; everything else has.
    spoken_of = {row.file.partition("#")[0] for row in slips.rows}
    assert {scene.name for scene in SCENES} - spoken_of == {"e3-04_r.jpg"}


def test_the_slips_name_people_and_places_of_the_lists() -> None:
    slips, people, places = (
        read_slips(BOX / "slips.csv"),
        read_people_list(BOX / "people.csv"),
        read_place_file(BOX / "places.csv"),
    )
    assert people.set_aside == places.set_aside == ()
    known = {person.name for person in people.people}
    assert {name.rstrip("?") for row in slips.rows for name in row.people} <= known
    assert {row.place for row in slips.rows if row.place} <= {one.place.name for one in places.told}


def test_all_dates_but_one_are_understood_and_one_contradicts_a_birth() -> None:
    slips, people = read_slips(BOX / "slips.csv"), read_people_list(BOX / "people.csv")
    unread = [row.date for row in slips.rows if row.date and not read_date(row.date, today=TODAY).readings]
    assert unread == ["the year the ferry sank"]
    born = {one.name: claim.value[:4] for one in people.people for claim in one.told if claim.says is Says.BORN}
    too_early = [
        (row.date, name)
        for row in slips.rows
        for name in row.people
        if row.date.startswith("summer") and row.date[-4:] < born[name]
    ]
    assert too_early == [("summer 1955", "Jørn Hartwhistle")]


def test_the_writing_on_the_backs_is_what_the_slips_transcribe() -> None:
    rows = list(csv.DictReader(io.StringIO((BOX / "slips.csv").read_text(encoding="utf-8"))))
    backs = {row["file"]: row["transcription"] for row in rows if row["side"] == "back"}
    assert len(backs) == 5
    assert all(backs.values())


def test_the_box_is_small_and_says_that_it_is_made_up() -> None:
    sizes = [file.stat().st_size for file in BOX.rglob("*") if file.is_file()]
    assert max(sizes) <= MEGABYTE
    assert sum(sizes) <= 3 * MEGABYTE
    assert "made up" in (BOX / "README.txt").read_text(encoding="utf-8")


def test_every_picture_and_font_has_its_licence() -> None:
    licences = (BOX / "LICENCES.txt").read_text(encoding="utf-8")
    for kind in ("pictures", "fonts"):
        for file in (BOX / kind).iterdir():
            if file.suffix != ".txt":
                assert f"{kind}/{file.name}" in licences, file.name
    assert "http" not in licences
