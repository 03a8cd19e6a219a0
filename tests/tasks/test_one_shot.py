"""A raw file and the camera's JPEG of one shot: one print, both files kept."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from small_box import Draw, slip_file

sys.path.insert(0, str(Path(__file__).parents[1] / "imaging"))
from made_dng import write_dng

from solander.core.prints import Side
from solander.tasks.accession import accession
from solander.tasks.collection import Collection
from solander.vault.store import sha256_of

pytestmark = pytest.mark.slow


def raw_of(jpeg: Path, *, cut: int = 0) -> Path:
    """The raw file of the same shot; with `cut` so many bytes are lost."""
    path = write_dng(jpeg.with_suffix(".dng"), np.asarray(Image.open(jpeg).convert("RGB")))
    path.write_bytes(path.read_bytes()[: -cut or None])
    return path


def cut_from(collection: Collection) -> list[str]:
    return [view.capture for one in collection.catalogue.prints() for view in one.views]


def test_the_print_is_cut_from_the_raw_file_and_both_are_kept(draw: Draw, collection: Collection) -> None:
    jpeg = draw("shot.jpg", 1)
    raw = raw_of(jpeg)
    report = accession(collection, [jpeg.parent])
    assert (report.prints, report.captures, report.beside) == (["P-0001"], ["shot.dng"], ["shot.jpg"])
    assert cut_from(collection) == [sha256_of(raw)]
    for file in (raw, jpeg):
        assert collection.vault.path(sha256_of(file)).read_bytes() == file.read_bytes()
        assert collection.catalogue.capture(sha256_of(file)) is not None
    (view,) = collection.catalogue.prints()[0].views
    assert view.outline.confidence > 0.9


def test_taken_in_again_together_or_the_jpeg_alone_nothing_is_doubled(draw: Draw, collection: Collection) -> None:
    jpeg = draw("shot.jpg", 1)
    raw = raw_of(jpeg)
    accession(collection, [jpeg.parent])
    accession(collection, [jpeg.parent])
    report = accession(collection, [jpeg])
    assert (report.known, report.prints) == (["shot.jpg"], [])
    assert cut_from(collection) == [sha256_of(raw)]


def test_where_the_jpeg_came_first_the_raw_file_is_kept_beside_it(draw: Draw, collection: Collection) -> None:
    jpeg = draw("shot.jpg", 1)
    accession(collection, [jpeg])
    raw = raw_of(jpeg)
    report = accession(collection, [jpeg.parent])
    assert (report.known, report.beside, report.prints) == (["shot.jpg"], ["shot.dng"], [])
    assert cut_from(collection) == [sha256_of(jpeg)]
    assert collection.vault.path(sha256_of(raw)).suffix == ".dng"


@pytest.mark.parametrize("when", ["looked at", "developed"])
def test_where_the_raw_file_cant_be_read_the_jpeg_stands_in(
    draw: Draw, collection: Collection, when: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    jpeg = draw("shot.jpg", 1)
    raw_of(jpeg, cut=5000)
    if when == "developed":  # as with makers' files, of which only developing finds that their end is missing
        monkeypatch.setattr("solander.imaging.content._CHECKS", {})
    report = accession(collection, [jpeg.parent])
    (sentence,) = report.set_aside
    assert sentence.startswith("shot.dng was set aside: ")
    assert "cut off" in sentence
    assert (report.prints, report.beside) == (["P-0001"], [])
    assert cut_from(collection) == [sha256_of(jpeg)]


def test_front_and_back_are_pairs_of_pairs(draw: Draw, collection: Collection, tmp_path: Path) -> None:
    front, back = draw("7_r.jpg", 1), draw("7_v.jpg", 2)
    raws = [raw_of(front), raw_of(back)]
    slips = slip_file(tmp_path, "file;caption", "7_r.jpg;The harbour")
    report = accession(collection, [front.parent], slips=slips)
    assert (report.prints, report.backs) == (["P-0001"], ["P-0001"])
    (one,) = collection.catalogue.prints()
    assert [(view.side, view.capture) for view in one.views] == [
        (Side.RECTO, sha256_of(raws[0])),
        (Side.VERSO, sha256_of(raws[1])),
    ]
    assert [said.value for said in collection.catalogue.statements(subject="P-0001")] == ["The harbour"]
