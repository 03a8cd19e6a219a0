"""Raw files against the picture that they were made from; their form is Adobe's DNG specification (made_dng)."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import numpy as np
import pyexiv2
import pytest
from made_dng import MIXING, PLAIN, without_mark, write_dng

from solander.imaging.content import read_whole
from solander.imaging.decode import MAX_PIXELS, Unreadable, decode, probe
from solander.imaging.raw import develop

H, W = 96, 144


def scene() -> np.ndarray:
    """A smooth picture without any symmetry: demosaicing has nothing to guess in it."""
    y, x = np.mgrid[0:H, 0:W]
    return np.stack([x + 40, y * 1.5 + 30, (x + 2 * y) * 0.5 + 20], axis=-1).astype(np.uint8)


def off(found: np.ndarray, wanted: np.ndarray) -> np.ndarray:
    """How far off each value is, without the rim, where filters lack neighbours."""
    return np.abs(found.astype(int) - wanted.astype(int))[4:-4, 4:-4]


@pytest.mark.parametrize("filters", [PLAIN, MIXING], ids=["plain", "mixing"])
@pytest.mark.parametrize("neutral", [(1.0, 1.0, 1.0), (0.5, 1.0, 0.7)], ids=["daylight", "lamp"])
@pytest.mark.parametrize("mosaic", [False, True], ids=["three-a-pixel", "filters"])
def test_the_known_picture_comes_out(tmp_path: Path, *, mosaic: bool, neutral: tuple, filters: np.ndarray) -> None:
    """White balance, matrix, black, white and curve together: one wrong, and no colour fits."""
    path = write_dng(tmp_path / "x.dng", scene(), mosaic=mosaic, neutral=neutral, filters=filters)
    found = decode(path)
    assert (found.shape, found.dtype, found.flags.writeable) == ((H, W, 3), np.uint8, True)
    wrong = off(found, scene())
    assert wrong.mean() < (0.5 if mosaic else 0.1)
    assert np.percentile(wrong, 99.9) <= (3 if mosaic else 1)


def test_nothing_is_brightened(tmp_path: Path) -> None:
    """A picture taken at a quarter of the light stays at a quarter of it (encoded by IEC 61966-2-1)."""
    path = write_dng(tmp_path / "x.dng", np.full((H, W, 3), 200, np.uint8), mosaic=False, exposure=0.25)
    light = ((200 / 255 + 0.055) / 1.055) ** 2.4 * 0.25
    assert off(decode(path), np.full((H, W, 3), 255 * (1.055 * light ** (1 / 2.4) - 0.055))).max() <= 1


def test_sixteen_bits_hold_what_eight_round(tmp_path: Path) -> None:
    data = write_dng(tmp_path / "x.dng", scene(), mosaic=False).read_bytes()
    fine = develop(data, bits=16)
    assert fine.dtype == np.uint16
    assert np.abs(fine / 257.0 - develop(data)).max() < 1.5
    assert len(np.unique(fine)) > 2 * len(np.unique(develop(data)))


@pytest.mark.parametrize(("orientation", "turns"), [(1, 0), (6, 1), (3, 2), (8, 3)])
def test_it_stands_as_the_camera_was_held(tmp_path: Path, orientation: int, turns: int) -> None:
    """EXIF 2.3, tag 0x0112: 6 is to be turned a quarter clockwise, 8 counter-clockwise."""
    path = write_dng(tmp_path / "x.dng", scene(), mosaic=False, orientation=orientation)
    facts, wanted = probe(path), np.rot90(scene(), -turns)
    assert (facts.width, facts.height, facts.quarter_turns) == (wanted.shape[1], wanted.shape[0], turns)
    assert off(decode(path), wanted).max() <= 1


def test_it_says_what_it_is_and_when_it_was_taken(tmp_path: Path) -> None:
    """EXIF written by a library of its own; a density in a raw file means nothing."""
    path = write_dng(tmp_path / "x.jpg", scene())
    with pyexiv2.Image(str(path)) as written:
        written.modify_exif(
            {
                "Exif.Photo.DateTimeOriginal": "2026:11:24 10:20:30",
                "Exif.Photo.OffsetTimeOriginal": "+01:00",
                "Exif.Photo.FocalLengthIn35mmFilm": "50",
            }
        )
    facts = probe(path)
    assert (facts.media_type, facts.suffix, facts.pages, facts.dpi) == ("image/x-adobe-dng", ".dng", 1, None)
    assert facts.taken == "2026-11-24T10:20:30+01:00"
    assert facts.focal == pytest.approx(50 / 36, rel=0.01)  # of a frame of 3 : 2, as film had it


@pytest.mark.parametrize(
    ("maker", "suffix"),
    [("NIKON CORPORATION", ".nef"), ("SONY", ".arw"), ("PENTAX", ".pef"), ("SAMSUNG", ".srw"), ("Own", ".raw")],
)
def test_makers_files_are_told_by_their_maker(tmp_path: Path, maker: str, suffix: str) -> None:
    """Makers' names as their files give them (from memory)."""
    path = tmp_path / "x.tif"
    path.write_bytes(without_mark(write_dng(tmp_path / "x.dng", scene(), maker=maker).read_bytes()))
    kind, _ = read_whole(path)
    assert (kind.raw, kind.suffix) == (True, suffix)


def test_a_raw_file_without_its_end_is_refused(tmp_path: Path) -> None:
    data = write_dng(tmp_path / "x.dng", scene()).read_bytes()
    for size in (len(data) - 1, len(data) // 2, 600, 100):
        (tmp_path / "cut.dng").write_bytes(data[:size])
        for reading in (probe, decode):
            with pytest.raises(Unreadable, match="cut off") as caught:
                reading(tmp_path / "cut.dng")
            assert caught.value.todo


@pytest.mark.parametrize(
    "head",
    [
        b"II*\0\x10\0\0\0CR\x02\0",
        b"\0\0\0\x18ftypcrx \0\0\0\x01crx ",
        b"FUJIFILMCCD-RAW 0201",
        b"IIRO\x08\0\0\0",
        b"IIU\0\x18\0\0\0",
        b"FOVb\0\0\2\0",
    ],
)
def test_a_beginning_alone_is_named_as_a_raw_file(tmp_path: Path, head: bytes) -> None:
    """The beginnings are those of the makers' forms (from memory; freedesktop.org's MIME list has the same)."""
    (tmp_path / "x.jpg").write_bytes(head + bytes(400))
    with pytest.raises(Unreadable, match="raw file") as caught:
        decode(tmp_path / "x.jpg")
    assert caught.value.todo


def test_one_that_is_too_large_is_refused_before_it_is_developed(tmp_path: Path, monkeypatch) -> None:
    path = write_dng(tmp_path / "x.dng", scene())
    monkeypatch.setattr("solander.imaging.decode.MAX_PIXELS", H * W - 1)
    monkeypatch.setattr("solander.imaging.decode.develop", lambda _: pytest.fail("was developed"))
    assert MAX_PIXELS > H * W
    with pytest.raises(Unreadable, match="144 × 96 pixels"):
        decode(path)


@pytest.mark.slow
def test_damage_gives_pixels_or_a_refusal(tmp_path: Path) -> None:
    data, path = write_dng(tmp_path / "x.dng", scene()).read_bytes(), tmp_path / "damaged.dng"
    random = np.random.default_rng(1958)
    refused: list[str] = []
    for _ in range(150):
        damaged = bytearray(data)
        for at in random.integers(0, 900, 4):
            damaged[at] = random.integers(256)
        path.write_bytes(damaged)
        try:
            assert decode(path).shape[2] == 3
        except Unreadable as reason:
            refused.append(reason.todo)
    assert len(refused) > 20
    assert all(refused)


@pytest.mark.skipif(shutil.which("exiftool") is None, reason="exiftool is not installed")
@pytest.mark.slow
def test_the_made_file_is_a_valid_dng(tmp_path: Path) -> None:
    """Judged by exiftool, so that ours isn't only read because both are wrong alike."""
    path = write_dng(tmp_path / "x.dng", scene())
    said = subprocess.run(["exiftool", "-s3", "-FileType", str(path)], capture_output=True, text=True, check=True)
    assert said.stdout.strip() == "DNG"
