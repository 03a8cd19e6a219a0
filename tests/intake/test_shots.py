"""Which files are of one shot: a raw file and the camera's own picture of it."""

from __future__ import annotations

from solander.intake.shots import is_raw_name, raw_beside


def test_a_raw_file_and_a_jpeg_of_one_name_are_one_shot() -> None:
    names = ["DSC_1.NEF", "DSC_1.JPG", "DSC_2.JPG", "DSC_3.NEF", "b/DSC_3.JPG", "img.cr3", "IMG.heic"]
    assert raw_beside(names) == {"DSC_1.JPG": "DSC_1.NEF", "IMG.heic": "img.cr3"}


def test_two_pictures_of_one_name_without_a_raw_file_are_two() -> None:
    assert raw_beside(["a.jpg", "a.tif", "a.png"]) == {}
    assert raw_beside(["a.tif", "a.dng", "a_1.jpg"]) == {}


def test_names_of_raw_files() -> None:
    assert [name for name in ("a.DNG", "a.RAF", "a.tif", "a", "raw", ".nef") if is_raw_name(name)] == [
        "a.DNG",
        "a.RAF",
    ]
