"""No damage ends in anything but a refusal, and nothing cut off is taken for whole."""

from __future__ import annotations

import functools
import io
import tempfile
from pathlib import Path

import numpy as np
import pillow_heif
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from PIL import Image

from solander.imaging.decode import Unreadable, decode, probe

pytestmark = pytest.mark.slow

FORMS = ["JPEG", "JPEG-progressive", "PNG", "TIFF", "TIFF-deflate", "WEBP", "WEBP-lossy", "HEIC"]
_HOW: dict[str, dict] = {
    "JPEG": {"quality": 90},
    "JPEG-progressive": {"quality": 90, "progressive": True},
    "TIFF-deflate": {"compression": "tiff_adobe_deflate"},
    "WEBP": {"lossless": True},
}


@functools.cache
def whole(form: str) -> bytes:
    """A valid file with density and metadata, as files from outside have them."""
    noise = np.random.default_rng(1958).integers(0, 60, (41, 53, 3))
    y, x = np.mgrid[0:41, 0:53]
    picture = Image.fromarray((np.stack([x * 3, y * 4, x + y], axis=-1) + noise).astype(np.uint8))
    exif = Image.Exif()
    exif[0x0112], exif[0x010F] = 6, "a maker"
    file = io.BytesIO()
    if form == "HEIC":
        pillow_heif.from_pillow(picture).save(file, quality=80)
    else:
        picture.save(file, form.partition("-")[0], exif=exif, dpi=(300, 300), **_HOW.get(form, {}))
    return file.getvalue()


def outcome(data: bytes) -> np.ndarray | Unreadable:
    """The pixels or the refusal; any other exception is the test's failure."""
    with tempfile.NamedTemporaryFile() as file:
        Path(file.name).write_bytes(data)
        try:
            probe(Path(file.name))
            return decode(Path(file.name))
        except Unreadable as reason:
            return reason


@pytest.mark.parametrize("form", FORMS)
@given(share=st.floats(0, 1, exclude_max=True))
@settings(max_examples=60, deadline=None)
@example(share=0.999999)
def test_a_cut_off_file_is_refused_or_complete(form: str, share: float) -> None:
    data = whole(form)[: int(share * len(whole(form)))]
    found = outcome(data)
    if not isinstance(found, Unreadable):
        np.testing.assert_array_equal(found, outcome(whole(form)))


@pytest.mark.parametrize("form", FORMS)
def test_every_cut_near_the_end_is_noticed(form: str) -> None:
    for missing in range(1, 60):
        found = outcome(whole(form)[:-missing])
        if not isinstance(found, Unreadable):
            np.testing.assert_array_equal(found, outcome(whole(form)))
            assert not form.startswith(("JPEG", "PNG", "WEBP")), f"{missing} bytes are missing and nobody noticed"


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP", "TIFF-deflate"])
def test_a_cut_file_says_how_much_is_there(form: str) -> None:
    found = outcome(whole(form)[:1234])
    assert isinstance(found, Unreadable)
    assert found.why == "it is cut off after 1,234 bytes"


@pytest.mark.parametrize("form", FORMS)
@given(where=st.lists(st.floats(0, 1, exclude_max=True), min_size=1, max_size=8), byte=st.integers(1, 255))
@settings(max_examples=60, deadline=None)
def test_damage_gives_pixels_or_a_refusal(form: str, where: list[float], byte: int) -> None:
    data = bytearray(whole(form))
    for share in where:
        data[int(share * len(data))] ^= byte
    found = outcome(bytes(data))
    if form.startswith("PNG") and bytes(data) != whole(form):
        assert isinstance(found, Unreadable), "PNG has check sums over all but its first bytes"


@given(st.binary(max_size=300))
@settings(max_examples=200, deadline=None)
def test_random_bytes_are_refused(data: bytes) -> None:
    found = outcome(data)
    assert isinstance(found, Unreadable)
    assert found.why
    assert found.todo


STARTS = [whole(form)[:size] for form in FORMS for size in (12, 40)]


@given(st.sampled_from(STARTS), st.binary(max_size=200))
@settings(max_examples=200, deadline=None)
def test_random_bytes_behind_a_true_beginning_are_refused(start: bytes, rest: bytes) -> None:
    assert isinstance(outcome(start + rest), Unreadable)


def test_a_jpeg_with_a_hole_in_the_middle_is_refused() -> None:
    """A card that lost a block: the end is there, so only the decoder can notice."""
    picture = Image.fromarray(np.random.default_rng(3).integers(0, 255, (400, 400, 3), dtype=np.uint8))
    file = io.BytesIO()
    picture.save(file, "JPEG", quality=90)
    data = bytearray(file.getvalue())
    data[20_000:24_096] = bytes(4096)
    found = outcome(bytes(data))
    assert isinstance(found, Unreadable)
    assert "damaged" in found.why


def test_what_follows_the_end_of_a_jpeg_is_free() -> None:
    """Phones put a second picture or a film behind the first."""
    np.testing.assert_array_equal(outcome(whole("JPEG") + whole("JPEG")[:-9] + bytes(40)), outcome(whole("JPEG")))


def test_the_end_of_the_small_picture_in_exif_is_not_the_end() -> None:
    exif = Image.Exif()
    exif[0x9286] = whole("JPEG")
    file = io.BytesIO()
    Image.open(io.BytesIO(whole("JPEG"))).save(file, "JPEG", exif=exif)
    assert isinstance(outcome(file.getvalue()), np.ndarray)
    assert isinstance(outcome(file.getvalue()[: len(whole("JPEG")) + 200]), Unreadable)
