"""Pictures taken in one by one: numbered, paired, told of, safe; and looked over as a whole at the end."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from small_box import OUT_OF_FOCUS, Draw, asked, prepared_once

sys.path.insert(0, str(Path(__file__).parents[1] / "imaging"))
from made_dng import write_dng

from solander.core.prints import Side
from solander.core.questions import Asks
from solander.intake.arrivals import Arrival
from solander.tasks import take_arrivals
from solander.tasks.collection import Collection
from solander.tasks.incoming import incoming_folder, left_over
from solander.tasks.take_arrivals import TakenIn, TakingArrivals
from solander.vault.store import sha256_of

pytestmark = pytest.mark.slow


@pytest.fixture(autouse=True)
def prepared_before(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(take_arrivals, "prepare", prepared_once)


def arrived(path: Path, *, passing: bool = False) -> Arrival:
    return Arrival(path.name, path, "folder", passing)


def took(collection: Collection, *paths: Path, **how: object) -> list[TakenIn]:
    with TakingArrivals(collection, **how) as taking:
        return [taking.take(arrived(path)) for path in paths]


def sides(collection: Collection) -> dict[str, list[Side]]:
    return {print_.accession: [view.side for view in print_.views] for print_ in collection.catalogue.prints()}


def test_each_is_an_act_of_its_own_and_safe_before_the_next(draw: Draw, collection: Collection) -> None:
    files = [draw(f"{number}.jpg", number) for number in (1, 2)]
    with TakingArrivals(collection, "B1/E2") as taking:
        for number, file in enumerate(files, start=1):
            taken = taking.take(arrived(file))
            assert taken == TakenIn(file.name, (f"B1-E2-000{number}",))
            assert len(collection.catalogue.prints()) == number
            assert collection.vault.path(sha256_of(file)).read_bytes() == file.read_bytes()
            assert collection.catalogue.last_act()[1] == f"took in {file.name}"
    collection.catalogue.undo("archivist")
    assert list(sides(collection)) == ["B1-E2-0001", "B1-E2-0002"], "what was done at the end goes first"
    collection.catalogue.undo("archivist")
    assert list(sides(collection)) == ["B1-E2-0001"]


def test_the_same_again_is_known(draw: Draw, collection: Collection) -> None:
    file = draw("1.jpg", 1)
    took(collection, file)
    with TakingArrivals(collection) as taking:
        assert taking.take(arrived(file)) == TakenIn("1.jpg", ("P-0001",), known=True)
        assert (taking.known, taking.prints) == (1, [])


@pytest.mark.parametrize("names", [("7_r.jpg", "7_v.jpg"), ("7_v.jpg", "7_r.jpg"), ("14a.jpg", "14b.jpg")])
def test_a_back_joins_its_front_by_name_however_far_apart(
    names: tuple[str, str], draw: Draw, collection: Collection
) -> None:
    first, other, second = draw(names[0], 1), draw("20.jpg", 2), draw(names[1], 4)
    took(collection, first)
    told = took(collection, other, second)
    assert [one.accessions for one in told] == [("P-0002",), ("P-0001",)]
    assert set(sides(collection)["P-0001"]) == {Side.RECTO, Side.VERSO}


def test_every_second_picture_is_a_back_where_they_alternate(draw: Draw, collection: Collection) -> None:
    files = [draw(f"scan{number}.jpg", number) for number in (1, 2, 4, 5)]
    told = took(collection, *files, sides="alternate")
    assert [one.accessions for one in told] == [("P-0001",), ("P-0001",), ("P-0002",), ("P-0002",)]
    assert [one.side for one in told] == [Side.RECTO, Side.VERSO] * 2


def test_a_spoilt_back_is_not_counted_so_that_the_next_try_is_the_back(draw: Draw, collection: Collection) -> None:
    front, back, spoilt = draw("1.jpg", 1), draw("3.jpg", 2), draw("2.jpg", 4)
    spoilt.write_bytes(spoilt.read_bytes()[:900])
    told = took(collection, front, spoilt, back, sides="alternate")
    assert "2.jpg was set aside: it is cut off after 900 bytes" in told[1].set_aside
    assert sides(collection) == {"P-0001": [Side.RECTO, Side.VERSO]}
    ((subject, _),) = asked(collection, Asks.SET_ASIDE)
    assert subject == "2.jpg"


@pytest.mark.parametrize("raw_first", [True, False])
def test_the_other_file_of_a_shot_lies_beside_it(draw: Draw, collection: Collection, *, raw_first: bool) -> None:
    jpeg = draw("1.jpg", 1)
    raw = write_dng(jpeg.with_suffix(".dng"), np.asarray(Image.open(jpeg)))
    first, second = (raw, jpeg) if raw_first else (jpeg, raw)
    told = took(collection, first, second)
    assert told[1] == TakenIn(second.name, beside=first.name)
    assert [view.capture for view in collection.catalogue.print("P-0001").views] == [sha256_of(first)]
    assert collection.catalogue.capture(sha256_of(second)) is not None


def test_a_jpeg_stands_in_for_a_raw_file_that_cant_be_read(draw: Draw, collection: Collection) -> None:
    jpeg = draw("1.jpg", 1)
    raw = write_dng(jpeg.with_suffix(".dng"), np.asarray(Image.open(jpeg)))
    raw.write_bytes(raw.read_bytes()[:-900])
    told = took(collection, raw, jpeg)
    assert "cut off" in told[0].set_aside
    assert told[1].accessions == ("P-0001",)


def test_faults_are_told_at_once(draw: Draw, collection: Collection) -> None:
    (told,) = took(collection, draw("1.jpg", 1, camera=OUT_OF_FOCUS))
    assert "It is not sharp: focus anew, and keep the camera still." in told.faults


def test_what_came_is_compared_at_the_end(draw: Draw, collection: Collection) -> None:
    took(collection, draw("1.jpg", 1))
    again = draw("again.png", 1)
    took(collection, again)
    assert [subject for subject, _ in asked(collection, Asks.DUPLICATE)] == ["P-0002"]


@pytest.fixture
def incoming(collection: Collection) -> Path:
    folder = collection.root / "incoming" / "scans"
    folder.mkdir(parents=True)
    return folder


def test_what_a_scanner_gave_goes_once_it_is_kept_and_is_found_again_when_not(
    draw: Draw, collection: Collection, incoming: Path
) -> None:
    good, bad = draw("1.jpg", 1).replace(incoming / "1.jpg"), incoming / "2.tif"
    bad.write_bytes(b"II*\0 and no more")
    (incoming / "3.tif.part").write_bytes(b"begun")
    waiting = list(left_over(collection))
    assert [(one.name, one.passing) for one in waiting] == [("scans/1.jpg", True), ("scans/2.tif", True)]
    kept = sha256_of(good)
    with TakingArrivals(collection) as taking:
        told = [taking.take(arrival) for arrival in waiting]
    assert told[0].accessions == ("P-0001",)
    assert told[1].set_aside
    assert (good.exists(), bad.exists()) == (False, False)
    assert collection.vault.path(kept).is_file()
    assert (collection.root / "incoming" / "set-aside" / "2.tif").read_bytes() == b"II*\0 and no more"
    assert list(left_over(collection)) == []


def test_each_run_of_a_source_has_a_folder_that_goes_when_it_is_empty(collection: Collection) -> None:
    with incoming_folder(collection, "scan") as one, incoming_folder(collection, "scan") as other:
        assert one != other
        (other / "1.tif").write_bytes(b"II*\0")
    assert not one.exists()
    assert [arrival.path for arrival in left_over(collection)] == [other / "1.tif"]
