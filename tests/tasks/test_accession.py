"""What a take-in does with good files, known files, bad files, and the questions that it raises."""

from __future__ import annotations

import shutil
import struct
import zlib
from pathlib import Path

import pytest
from PIL import Image
from small_box import OUT_OF_FOCUS, Draw, asked

from solander.core.errors import CannotBegin
from solander.core.prints import Side
from solander.core.questions import Asks
from solander.tasks.accession import accession
from solander.tasks.collection import Collection, Progress
from solander.tasks.verify import verify
from solander.vault.store import sha256_of

pytestmark = pytest.mark.slow


def sides_of(collection: Collection) -> dict[str, list[Side]]:
    return {print_.accession: [view.side for view in print_.views] for print_ in collection.catalogue.prints()}


def test_every_capture_is_kept_numbered_and_straightened(draw: Draw, collection: Collection) -> None:
    files = [draw(f"p{number}.jpg", number) for number in (1, 2, 10)]
    report = accession(collection, [files[0].parent], container="B1/E2")
    assert report.captures == ["p1.jpg", "p2.jpg", "p10.jpg"]
    assert report.prints == ["B1-E2-0001", "B1-E2-0002", "B1-E2-0003"]
    assert [capture.sha256 for capture in collection.catalogue.captures()] == [sha256_of(file) for file in files]
    for file in files:
        assert collection.vault.path(sha256_of(file)).read_bytes() == file.read_bytes()
    assert [container.code for container in collection.catalogue.containers()] == ["B1", "B1/E2"]
    assert [view.outline.confidence > 0.9 for one in collection.catalogue.prints() for view in one.views] == [
        True
    ] * 3


def test_progress_is_told_for_each_capture_after_it_is_safe(draw: Draw, collection: Collection) -> None:
    folder = draw("p1.jpg", 1).parent
    draw("p2.jpg", 2)
    told: list[Progress] = []

    def watch(progress: Progress) -> None:
        if progress.total is None:
            return  # all captures are safe by then, and the order of all prints is worked out
        kept = {
            name for one in collection.catalogue.captures() for name in collection.catalogue.names_of(one.sha256)
        }
        assert progress.subject in kept
        told.append(progress)

    accession(collection, [folder], watch=watch)
    assert [(one.subject, one.done, one.total) for one in told] == [("p1.jpg", 1, 2), ("p2.jpg", 2, 2)]


@pytest.mark.parametrize("names", [("p_r.jpg", "p_v.jpg"), ("p-front.jpg", "p-back.jpg"), ("14a.jpg", "14b.jpg")])
def test_a_back_joins_its_front_in_one_take_in(names: tuple[str, str], draw: Draw, collection: Collection) -> None:
    folder = draw(names[0], 0).parent
    draw(names[1], 1)
    report = accession(collection, [folder])
    assert (report.prints, report.backs) == (["P-0001"], ["P-0001"])
    assert sides_of(collection) == {"P-0001": [Side.RECTO, Side.VERSO]}
    assert asked(collection, Asks.PAIR) == []


@pytest.mark.parametrize("names", [("p_r.jpg", "p_v.jpg"), ("p_v.jpg", "p_r.jpg"), ("14a.jpg", "14b.jpg")])
def test_a_back_joins_its_front_across_two_take_ins(
    names: tuple[str, str], draw: Draw, collection: Collection
) -> None:
    first, second = (draw(name, number) for number, name in enumerate(names))
    accession(collection, [first])
    report = accession(collection, [second])
    assert (report.prints, report.backs) == ([], ["P-0001"])
    (sides,) = sides_of(collection).values()
    assert set(sides) == {Side.RECTO, Side.VERSO}
    assert asked(collection, Asks.PAIR) == []


def test_a_back_of_the_same_name_from_another_box_stays_alone(draw: Draw, collection: Collection) -> None:
    accession(collection, [draw("001_r.jpg", 1)], container="B1")
    report = accession(collection, [draw("001_v.jpg", 2)], container="B2")
    assert (report.prints, report.backs) == (["B2-0001"], [])
    ((subject, sentence),) = asked(collection, Asks.PAIR)
    assert (subject, sentence) == (
        "B2-0001",
        "B2-0001 is a back without its front: which print does it belong to?",
    )


def test_every_second_file_is_a_back_when_so_told(draw: Draw, collection: Collection) -> None:
    files = [draw(f"{number}.jpg", number) for number in range(1, 5)]
    accession(collection, [files[0].parent], sides="alternate")
    assert sides_of(collection) == {"P-0001": [Side.RECTO, Side.VERSO], "P-0002": [Side.RECTO, Side.VERSO]}


def test_the_same_bytes_are_known_and_not_doubled(draw: Draw, collection: Collection) -> None:
    file = draw("a.jpg", 1)
    shutil.copy(file, file.with_name("b.jpg"))
    report = accession(collection, [file.parent])
    assert (report.captures, report.known) == (["a.jpg"], ["b.jpg"])
    again = accession(collection, [file.parent])
    assert (again.captures, again.known, again.prints) == ([], ["a.jpg", "b.jpg"], [])
    assert list(sides_of(collection)) == ["P-0001"]
    assert collection.catalogue.names_of(sha256_of(file)) == ["a.jpg", "b.jpg"]


def disguised_html(path: Path) -> None:
    path.write_text("<!doctype html><title>Sign in to see the picture</title>", encoding="utf-8")


def truncated(path: Path) -> None:
    whole = path.with_name("p1.jpg").read_bytes()
    path.write_bytes(whole[: len(whole) // 2])


def empty(path: Path) -> None:
    path.touch()


def bomb(path: Path) -> None:
    """A PNG that says it is 60,000 pixels wide and as high: 3.6 thousand million pixels from 100 bytes."""
    chunks = [
        b"IHDR" + struct.pack(">IIBBBBB", 60_000, 60_000, 8, 2, 0, 0, 0),
        b"IDAT" + zlib.compress(b""),
        b"IEND",
    ]
    framed = (struct.pack(">I", len(chunk) - 4) + chunk + struct.pack(">I", zlib.crc32(chunk)) for chunk in chunks)
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + b"".join(framed))


@pytest.mark.parametrize("spoil", [truncated, empty, disguised_html, bomb])
def test_a_bad_file_gets_one_line_and_the_rest_goes_on(spoil, draw: Draw, collection: Collection) -> None:
    folder = draw("p1.jpg", 1).parent
    draw("p3.jpg", 3)
    spoil(folder / "p2.jpg")
    report = accession(collection, [folder])
    assert report.captures == ["p1.jpg", "p3.jpg"]
    (sentence,) = report.set_aside
    assert sentence.startswith("p2.jpg was set aside: ")
    assert "\n" not in sentence
    assert sentence.count(". ") >= 1, "what to do comes after why"
    assert asked(collection, Asks.SET_ASIDE) == [("p2.jpg", sentence)]
    assert verify(collection.root).faults == ()


def test_damage_that_only_decoding_shows_is_set_aside_too(draw: Draw, collection: Collection) -> None:
    """A TIFF whose strips hold noise instead of compressed pixels passes the look at its frame."""
    folder = draw("p1.jpg", 1).parent
    path = draw("p2.png", 2)
    with Image.open(path) as picture:
        picture.save(folder / "p2.tif", compression="tiff_lzw")
    path.unlink()
    data = bytearray((folder / "p2.tif").read_bytes())
    data[2000:60000] = bytes(58000)
    (folder / "p2.tif").write_bytes(data)
    report = accession(collection, [folder])
    assert report.captures == ["p1.jpg"]
    assert len(report.set_aside) == 1
    assert verify(collection.root).faults == ()


def test_a_png_that_is_named_jpg_is_taken_for_what_it_is(draw: Draw, collection: Collection) -> None:
    path = draw("p1.png", 1)
    path = path.rename(path.with_suffix(".jpg"))
    report = accession(collection, [path])
    assert (report.captures, report.set_aside) == (["p1.jpg"], [])
    (capture,) = collection.catalogue.captures()
    assert (capture.media_type, capture.suffix) == ("image/png", ".png")
    assert collection.vault.path(capture.sha256).suffix == ".png"


def test_a_missing_path_stops_before_anything_is_taken_in(draw: Draw, collection: Collection) -> None:
    with pytest.raises(CannotBegin, match="could not be taken in"):
        accession(collection, [draw("p1.jpg", 1), Path("nowhere.jpg")])
    assert collection.catalogue.captures() == []


def test_two_captures_of_one_print_are_asked_about(draw: Draw, collection: Collection) -> None:
    accession(collection, [draw("first.jpg", 1), draw("other.jpg", 2)])
    accession(collection, [draw("second.jpg", 1, angle_deg=-3.0)])
    assert asked(collection, Asks.DUPLICATE) == [
        ("P-0003", "P-0003 looks like P-0001: is it one print, captured twice?")
    ]


def test_duplicates_are_found_when_the_views_were_deleted(draw: Draw, collection: Collection) -> None:
    accession(collection, [draw("first.jpg", 1)])
    shutil.rmtree(collection.views_root)
    accession(collection, [draw("second.jpg", 1, angle_deg=-3.0)])
    assert [subject for subject, _ in asked(collection, Asks.DUPLICATE)] == ["P-0002"]


def test_a_capture_that_is_lost_with_its_views_leaves_others_their_way_in(
    draw: Draw, collection: Collection
) -> None:
    accession(collection, [draw("first.jpg", 1)])
    shutil.rmtree(collection.views_root)
    (kept,) = collection.catalogue.prints()
    lost = collection.vault.path(kept.views[0].capture)
    lost.parent.chmod(0o755)
    lost.unlink()
    accession(collection, [draw("second.jpg", 1, angle_deg=-3.0)])
    assert [one.accession for one in collection.catalogue.prints()] == ["P-0001", "P-0002"]
    assert asked(collection, Asks.DUPLICATE) == []


def test_a_blurred_capture_is_asked_for_again(draw: Draw, collection: Collection) -> None:
    accession(collection, [draw("p1.jpg", 1, camera=OUT_OF_FOCUS)])
    assert asked(collection, Asks.CAPTURE_AGAIN) == [
        ("P-0001", "The front of P-0001 is not sharp: capture it again?")
    ]
    assert asked(collection, Asks.OUTLINE) == [("P-0001", "Is the front of P-0001 cut out at the paper's edge?")]


def test_a_capture_without_an_edge_is_kept_whole_and_asked_about(tmp_path: Path, collection: Collection) -> None:
    path = tmp_path / "wall.png"
    Image.new("RGB", (400, 300), (128, 128, 128)).save(path)
    accession(collection, [path])
    (print_,) = collection.catalogue.prints()
    assert (print_.views[0].width, print_.views[0].height) == (400, 300)
    assert asked(collection, Asks.OUTLINE) == [
        ("P-0001", "No edge of a print was found for the front of P-0001: where is it?")
    ]
