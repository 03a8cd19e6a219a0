"""A picture of the stage before the sitting: what it tells goes into every view, and comes out again the same."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from small_stage import FOCAL, FRAME, PRINT_MM, stage_seen

from solander.core.errors import CannotBegin
from solander.core.prints import View
from solander.imaging.decode import decode, probe
from solander.tasks.accession import accession
from solander.tasks.collection import Collection
from solander.tasks.prepare import remake_view, view_paths
from solander.tasks.redraw import redraw
from solander.tasks.stand import empty_stage, stage_of

pytestmark = pytest.mark.slow

FOCAL_35MM = round(FOCAL * 43.27 / np.hypot(*FRAME) * FRAME[0])


def saved(folder: Path, name: str, *, sheet: bool, print_: bool, orientation: int = 1) -> Path:
    """A picture of the stage; the sensor lies as it lay, whatever the camera makes of being held over a table."""
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    exif = Image.Exif()
    exif[0x0112] = orientation
    exif.get_ifd(0x8769)[0xA405] = FOCAL_35MM
    Image.fromarray(stage_seen(sheet=sheet, print_=print_)).save(path, quality=95, exif=exif)
    return path


def one_view(collection: Collection) -> View:
    (print_,) = collection.catalogue.prints()
    assert print_.recto is not None
    return print_.recto


@pytest.fixture
def taken(tmp_path: Path, collection: Collection) -> Collection:
    stage = saved(tmp_path / "files", "stage.jpg", sheet=True, print_=False)
    saved(tmp_path / "files", "print.jpg", sheet=False, print_=True)
    report = accession(collection, [tmp_path / "files"], stage=stage)
    assert report.stage_said.startswith("The stage sheet was seen in stage.jpg (7")
    assert report.known == ["stage.jpg"]
    return collection


def test_the_print_has_its_true_size_and_shape(taken: Collection) -> None:
    view = one_view(taken)
    assert view.size_mm == pytest.approx(PRINT_MM, rel=0.004)
    assert view.width / view.height == pytest.approx(PRINT_MM[0] / PRINT_MM[1], rel=0.004)
    large, _ = view_paths(taken.views_root, view.key)
    assert probe(large).dpi == pytest.approx(view.ppi, abs=0.5)


@pytest.mark.parametrize(("orientation", "turned"), [(3, False), (6, True), (8, True)])
def test_a_camera_that_takes_the_table_for_a_wall_changes_nothing(
    tmp_path: Path, collection: Collection, orientation: int, turned: bool
) -> None:
    stage = saved(tmp_path, "stage.jpg", sheet=True, print_=False)
    capture = saved(tmp_path, "print.jpg", sheet=False, print_=True, orientation=orientation)
    accession(collection, [capture], stage=stage)
    view = one_view(collection)
    size = (view.width, view.height) if not turned else (view.height, view.width)
    assert np.array(size) / (view.ppi or 0) * 25.4 == pytest.approx(PRINT_MM, rel=0.004)


def test_without_the_sheet_the_shape_is_right_by_the_focal_length_and_the_size_unknown(
    tmp_path: Path, collection: Collection
) -> None:
    accession(collection, [saved(tmp_path / "files", "print.jpg", sheet=False, print_=True)])
    view = one_view(collection)
    assert view.ppi is None
    assert view.stand is not None
    assert view.stand.focal == pytest.approx(FOCAL, rel=0.02)
    assert view.width / view.height == pytest.approx(1.5, rel=0.015)  # the lens is not known here


def test_a_view_is_made_again_to_the_byte(taken: Collection) -> None:
    view = one_view(taken)
    assert view.stand is not None
    assert any(view.stand.lens)
    before = [path.read_bytes() for path in view_paths(taken.views_root, view.key)]
    for path in view_paths(taken.views_root, view.key):
        path.unlink()
    remake_view(taken.vault.path(view.capture), view, taken.views_root)
    assert [path.read_bytes() for path in view_paths(taken.views_root, view.key)] == before


def test_an_outline_drawn_anew_is_cut_out_with_the_same_camera(taken: Collection) -> None:
    view = one_view(taken)
    corners = np.array(view.outline.corners) + 2.0
    done = redraw(taken, view.key, corners.tolist())
    _, redrawn = taken.catalogue.view(done.key)
    assert redrawn.stand == view.stand
    assert redrawn.ppi == pytest.approx(view.ppi, rel=0.01)


def test_the_stage_is_kept_and_is_no_print(taken: Collection) -> None:
    view = one_view(taken)
    assert view.stand is not None
    assert view.stand.picture is not None
    capture = taken.catalogue.capture(view.stand.picture)
    assert capture is not None
    assert capture.name == "stage.jpg"
    assert taken.vault.path(capture.sha256).is_file()
    assert taken.catalogue.prints_of_capture(capture.sha256) == []


def test_a_sheet_that_was_taken_away_leaves_another_stage(tmp_path: Path) -> None:
    under, bare = (saved(tmp_path, f"{sheet}.jpg", sheet=sheet, print_=False) for sheet in (True, False))
    of_sheet, of_bare = (stage_of(path, "a" * 64, path.name) for path in (under, bare))
    assert of_bare.stand.plane is None
    assert of_bare.said.startswith("No stage sheet was seen in False.jpg")
    for sheet in (True, False):
        capture = saved(tmp_path, f"print-{sheet}.jpg", sheet=sheet, print_=True)
        facts, rgb = probe(capture), decode(capture)
        assert (empty_stage(of_sheet, facts, rgb) is not None) is sheet
        assert empty_stage(of_bare, facts, rgb) is not None


@pytest.mark.parametrize("name", ["missing.jpg", "words.jpg"])
def test_a_stage_that_cannot_be_read_stops_before_anything_is_taken_in(
    tmp_path: Path, collection: Collection, name: str
) -> None:
    (tmp_path / "words.jpg").write_text("no picture")
    capture = saved(tmp_path / "files", "print.jpg", sheet=False, print_=True)
    with pytest.raises(CannotBegin, match=f"The picture of the stage, {name}, could not be read"):
        accession(collection, [capture], stage=tmp_path / name)
    assert collection.catalogue.prints() == []
