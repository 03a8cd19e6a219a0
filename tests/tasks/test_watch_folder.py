"""A watched folder as decoders see it, and beside a station."""

from __future__ import annotations

import sys
from pathlib import Path
from queue import Queue

import numpy as np
import pytest
from PIL import Image

sys.path.insert(0, str(Path(__file__).parents[1] / "imaging"))
from made_dng import without_mark, write_dng

from solander.core.errors import CannotBegin, Trouble
from solander.tasks.collection import Collection
from solander.tasks.watch_folder import FolderBeside, fault_of, refuse_own_folder

LONG_S = 60.0
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


@pytest.mark.slow
def test_pictures_come_to_a_station_and_its_troubles_are_told(tmp_path: Path) -> None:
    taken: Queue[str] = Queue()
    told: Queue[Trouble] = Queue()

    def take(arrival: object) -> None:
        taken.put(arrival.name)
        if arrival.name == "1.jpg":
            raise Trouble("1.jpg was not taken", "the stand is asleep", "Wake it")

    beside = FolderBeside(tmp_path, take, told.put)
    beside.begin()
    for name in ("1.jpg", "2.jpg"):
        Image.fromarray(PICTURE).save(tmp_path / "begun.tmp", "JPEG")
        (tmp_path / "begun.tmp").rename(tmp_path / name)
        assert taken.get(timeout=LONG_S) == name
    assert told.get(timeout=LONG_S).why == "the stand is asleep"
    beside.end()
    assert not beside.is_watched


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    told: Queue[Trouble] = Queue()
    beside = FolderBeside(tmp_path / "none", print, told.put)
    beside.begin()
    assert "there is no such folder" in told.get(timeout=LONG_S).sentence


def test_the_collection_itself_is_not_watched(collection: Collection) -> None:
    for folder in (collection.root, collection.root / "captures", collection.root.parent):
        with pytest.raises(CannotBegin, match=r"the collection .* lies there"):
            refuse_own_folder(collection, folder)
    refuse_own_folder(collection, collection.root.parent / "elsewhere")
