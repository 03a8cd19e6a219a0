"""Faces in released files: the same box in both forms, read back by an outside reader."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from delivered import CAPTURE, DESCRIBED, RECTO, exiftool, jpeg, needs_exiftool

from solander.core.faces import Box, NamedFace
from solander.core.prints import Side
from solander.delivery.embed import embed, fields_of

pytestmark = pytest.mark.slow

FORMS = Path(__file__).resolve().parents[3] / "shared" / "standards" / "region-forms.csv"
"""The same face box in pixels, IPTC, MWG, GEDCOM 7 and IIIF, worked out by hand in the project's own standards."""

ROWS = [
    (2000, 1500, 820, 270, 160, 210, (0.41, 0.18, 0.08, 0.14), (0.45, 0.25, 0.08, 0.14)),
    (4000, 3000, 1000, 600, 400, 500, (0.25, 0.2, 0.1, 0.1666667), (0.3, 0.2833333, 0.1, 0.1666667)),
    (1200, 1800, 1080, 1620, 120, 180, (0.9, 0.9, 0.1, 0.1), (0.95, 0.95, 0.1, 0.1)),
]


def _box(width: int, height: int, left: int, top: int, across: int, down: int) -> Box:
    return Box(left / width, top / height, across / width, down / height)


def _written(*faces: NamedFace, pixels: tuple[int, int] = (2102, 3000)) -> bytes:
    return embed(jpeg(), fields_of(DESCRIBED, Side.RECTO, view=RECTO, capture=CAPTURE, pixels=pixels, faces=faces))


def test_the_rows_are_those_of_the_standards_page() -> None:
    if not FORMS.is_file():
        pytest.skip("shared/standards does not lie beside the project")
    with FORMS.open(encoding="utf-8", newline="") as file:
        names = next(csv.reader(file))
        told = [[float(value) for value in row[:14]] for row in csv.reader(file)]
    assert names[6:14] == ["iptc_rbX", "iptc_rbY", "iptc_rbW", "iptc_rbH", "mwg_x", "mwg_y", "mwg_w", "mwg_h"]
    for row in ROWS:
        assert [*row[:6], *row[6], *row[7]] in told


@needs_exiftool
@pytest.mark.parametrize("row", ROWS)
def test_a_box_is_read_back_in_both_forms(row, tmp_path: Path) -> None:
    width, height, *pixels, iptc, mwg = row
    face = NamedFace("Łucja Nowak-Żółkiewska", _box(width, height, *pixels))
    found = exiftool(_written(face, pixels=(width, height)), tmp_path, "-struct")
    (region,) = found["XMP-iptcExt:ImageRegion"]
    boundary = region["RegionBoundary"]
    assert [float(boundary[name]) for name in ("RbX", "RbY", "RbW", "RbH")] == pytest.approx(iptc, abs=5e-8)
    assert (boundary["RbShape"], boundary["RbUnit"]) == ("rectangle", "relative")
    assert region["PersonInImageWDetails"] == [{"PersonName": face.person}]
    assert (region["RId"], region["Name"]) == ("face-1", face.person)
    regions = found["XMP-mwg-rs:RegionInfo"]
    assert regions["AppliedToDimensions"] == {"W": width, "H": height, "Unit": "pixel"}
    (older,) = regions["RegionList"]
    assert (older["Name"], older["Type"], older["Area"]["Unit"]) == (face.person, "Face", "normalized")
    assert [float(older["Area"][name]) for name in "XYWH"] == pytest.approx(mwg, abs=5e-8)


@needs_exiftool
def test_an_outside_reader_has_no_fault_to_find(tmp_path: Path) -> None:
    faces = [NamedFace(f"Person {number}", Box(number / 40, 0.2, 0.02, 0.00001)) for number in range(30)]
    found, plain = (
        exiftool(_written(*shown), tmp_path, "-validate", "-warning", "-error") for shown in (faces, [])
    )
    assert found["ExifTool:Validate"] == plain["ExifTool:Validate"]
    assert len(exiftool(_written(*faces), tmp_path, "-struct")["XMP-iptcExt:ImageRegion"]) == 30


@needs_exiftool
def test_without_named_faces_there_is_no_region(tmp_path: Path) -> None:
    found = exiftool(_written(), tmp_path, "-struct")
    assert not [name for name in found if "Region" in name]
