"""A watched folder as decoders see it."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

sys.path.insert(0, str(Path(__file__).parents[1] / "imaging"))
from made_dng import without_mark, write_dng

from solander.core.errors import CannotBegin
from solander.tasks.collection import Collection
from solander.tasks.watch_folder import fault_of, refuse_own_folder

PICTURE = np.full((40, 60, 3), 128, np.uint8)


def test_a_file_is_whole_when_it_can_be_decoded_to_its_end(tmp_path: Path) -> None:
    whole = tmp_path / "whole.jpg"
    Image.fromarray(PICTURE).save(whole)
    assert fault_of(whole) == ""
    (tmp_path / "cut.jpg").write_bytes(whole.read_bytes()[:-20])
    assert "cut off" in fault_of(tmp_path / "cut.jpg")
    (tmp_path / "empty.jpg").touch()
    assert "empty" in fault_of(tmp_path / "empty.jpg")
    assert "no such file" in fault_of(tmp_path / "gone.jpg")


def test_a_makers_raw_file_is_whole_when_it_can_be_developed(tmp_path: Path) -> None:
    raw = tmp_path / "x.raw"
    whole = without_mark(write_dng(tmp_path / "x.dng", PICTURE).read_bytes())
    raw.write_bytes(whole)
    assert fault_of(raw) == ""
    raw.write_bytes(whole[:-100])
    assert "cut off" in fault_of(raw)


def test_the_collection_itself_is_not_watched(collection: Collection) -> None:
    for folder in (collection.root, collection.root / "captures", collection.root.parent):
        with pytest.raises(CannotBegin, match=r"the collection .* lies there"):
            refuse_own_folder(collection, folder)
    refuse_own_folder(collection, collection.root.parent / "elsewhere")
