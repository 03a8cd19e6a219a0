"""Decoding against other decoders: Pillow's own transpose, LittleCMS and tifffile are the oracles."""

from __future__ import annotations

import io
import pickle
import struct
import sys
from pathlib import Path

import numpy as np
import pillow_heif
import pyexiv2
import pytest
from PIL import Image, ImageCms, ImageOps

from solander.imaging.decode import MAX_PIXELS, FileFacts, Unreadable, decode, probe, upright

H, W = 24, 36


def scene(height: int = H, width: int = W) -> np.ndarray:
    """A smooth picture without any symmetry."""
    y, x = np.mgrid[0:height, 0:width]
    return np.stack([x * 200 // width + 20, y * 200 // height + 30, (x + 2 * y) * 2 % 200], axis=-1).astype(
        np.uint8
    )


def saved(path: Path, picture: Image.Image | np.ndarray, **how: object) -> Path:
    picture = picture if isinstance(picture, Image.Image) else Image.fromarray(picture)
    picture.save(path, **how)
    return path


def refusal(path: Path) -> Unreadable:
    with pytest.raises(Unreadable) as caught:
        decode(path)
    return caught.value


# --- what it is, by content -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("form", "media_type", "suffix", "how"),
    [
        ("JPEG", "image/jpeg", ".jpg", {"quality": 95}),
        ("PNG", "image/png", ".png", {}),
        ("TIFF", "image/tiff", ".tif", {}),
        ("WEBP", "image/webp", ".webp", {"lossless": True}),
        ("HEIF", "image/heic", ".heic", {"quality": -1, "chroma": 444}),
    ],
)
def test_each_kind_is_told_by_its_content_under_a_wrong_name(
    tmp_path: Path, form: str, media_type: str, suffix: str, how: dict
) -> None:
    if form == "HEIF":
        path = tmp_path / "print.dat"
        pillow_heif.from_pillow(Image.fromarray(scene())).save(path, **how)
    else:
        path = saved(tmp_path / "print.dat", scene(), format=form, **how)
    assert probe(path) == FileFacts(media_type, suffix, W, H, 1, None, None)
    decoded = decode(path)
    assert (decoded.shape, decoded.dtype, decoded.flags.writeable) == ((H, W, 3), np.uint8, True)
    exact = form in ("PNG", "TIFF", "WEBP")
    assert np.abs(decoded.astype(int) - scene()).max() <= (0 if exact else 12)


@pytest.mark.parametrize(
    ("head", "said"),
    [
        (b"%PDF-1.7\n", "PDF document"),
        (b"PK\x03\x04rest of it", "ZIP archive"),
        (b"MZ\x90\0\x03\0", "program"),
        (b"\x7fELF\x02\x01\x01", "program"),
        (b"#!/bin/sh\nrm -rf /\n", "program"),
        (b"Sommer 1958, am See\n", "text"),
        ("ü".encode() * 3000, "text"),
        (b"GIF89a\x01\0\x01\0", "GIF"),
        (b"BM\x9a\0\0\0\0\0\0\0\x36\0\0\0", "BMP"),
        (b"\0\0\0\x18ftypmp42\0\0\0\0", "film"),
        (b"\0\0\0\x18ftypavif\0\0\0\0avifmif1", "AVIF"),
        (b"\0\0\0\x18ftypmif1\0\0\0\0mif1avif", "AVIF"),
        (b"\0\0\0\x18ftypcrx \0\0\0\x01crx ", "raw file"),
        (b"II*\0\x10\0\0\0CR\x02\0", "raw file"),
        (b"ID3\x04\0\0", "sound"),
        (b"\n<!DOCTYPE HTML><title>x", "web page"),
        (b"<svg xmlns='x'/>", "SVG"),
        (bytes(5000), "nothing but zeros"),
        (b"\x80\x81\x82\x83" * 50, "not a picture"),
        (b"", "empty"),
    ],
)
def test_what_is_no_picture_is_named(tmp_path: Path, head: bytes, said: str) -> None:
    path = tmp_path / "print.jpg"
    path.write_bytes(head)
    for reading in (probe, decode):
        with pytest.raises(Unreadable, match=said) as caught:
            reading(path)
        assert caught.value.todo


def test_what_cannot_be_opened_says_so(tmp_path: Path) -> None:
    assert "no such file" in refusal(tmp_path / "gone.jpg").why
    assert refusal(tmp_path).why == "it is not a file"


def test_the_reason_travels_between_processes() -> None:
    reason = pickle.loads(pickle.dumps(Unreadable("it is empty", "Copy it again")))
    assert (reason.why, reason.todo, str(reason)) == (
        "it is empty",
        "Copy it again",
        "it is empty. Copy it again.",
    )


# --- orientation ----------------------------------------------------------------------------------


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP", "TIFF", "TIFF-deflate"])
@pytest.mark.parametrize("orientation", range(1, 9))
def test_every_orientation_comes_out_upright(tmp_path: Path, form: str, orientation: int) -> None:
    """Oracle: Pillow's ImageOps.exif_transpose; meaning of the values: EXIF 2.3, tag 0x0112."""
    exif = Image.Exif()
    exif[0x0112] = orientation
    how = {"WEBP": {"lossless": True}, "TIFF-deflate": {"compression": "tiff_adobe_deflate"}}.get(form, {})
    path = saved(tmp_path / "x", scene(), format=form.partition("-")[0], exif=exif, **how)
    tagged = Image.fromarray(scene())
    tagged.getexif()[0x0112] = orientation
    expected = np.asarray(ImageOps.exif_transpose(tagged))
    decoded = decode(path)
    assert decoded.shape == expected.shape
    assert np.abs(decoded.astype(int) - expected).max() <= (14 if form == "JPEG" else 0)
    assert (probe(path).width, probe(path).height) == (expected.shape[1], expected.shape[0])


@pytest.mark.parametrize("orientation", range(1, 9))
def test_heic_is_turned_once(tmp_path: Path, orientation: int) -> None:
    """pillow-heif writes the orientation as the container's own turn, beside the EXIF value."""
    pillow_heif.register_heif_opener()
    tagged = Image.fromarray(scene())
    tagged.getexif()[0x0112] = orientation
    tagged.save(tmp_path / "x.heic", quality=-1, chroma=444)
    expected = np.asarray(ImageOps.exif_transpose(tagged))
    decoded = decode(tmp_path / "x.heic")
    assert decoded.shape == expected.shape
    assert np.abs(decoded.astype(int) - expected).max() <= 12
    assert (probe(tmp_path / "x.heic").width, probe(tmp_path / "x.heic").height) == expected.shape[1::-1]


@pytest.mark.parametrize("orientation", range(1, 9))
def test_the_file_s_first_row_goes_where_the_standard_says(orientation: int) -> None:
    """EXIF 2.3, tag 0x0112: the visual side at which the 0th row and the 0th column lie."""
    row, column = {
        1: ("top", "left"), 2: ("top", "right"), 3: ("bottom", "right"), 4: ("bottom", "left"),
        5: ("left", "top"), 6: ("right", "top"), 7: ("right", "bottom"), 8: ("left", "bottom"),
    }[orientation]  # fmt: skip
    pixels = np.zeros((4, 6, 3), np.uint8)
    pixels[0, :, 0], pixels[:, 0, 1] = 255, 255
    turned = upright(pixels, orientation)
    sides = {"top": turned[0], "bottom": turned[-1], "left": turned[:, 0], "right": turned[:, -1]}
    assert (sides[row][:, 0] == 255).all()
    assert (sides[column][:, 1] == 255).all()


def test_an_orientation_outside_the_standard_asks_nothing(tmp_path: Path) -> None:
    exif = Image.Exif()
    exif[0x0112] = 9
    path = saved(tmp_path / "x.png", scene(), exif=exif)
    np.testing.assert_array_equal(decode(path), scene())


# --- colour ---------------------------------------------------------------------------------------


def wide_profile() -> bytes:
    """An RGB profile that is not sRGB: the same curves, red and blue columns swapped (made, not bundled)."""
    data = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    count = struct.unpack_from(">I", data, 128)[0]
    entries = {bytes(data[132 + 12 * i : 136 + 12 * i]): 132 + 12 * i for i in range(count)}
    red, blue = entries[b"rXYZ"], entries[b"bXYZ"]
    data[red : red + 4], data[blue : blue + 4] = b"bXYZ", b"rXYZ"
    at, length = struct.unpack_from(">II", data, entries[b"desc"] + 4)
    data[at : at + length] = data[at : at + length].replace("sRGB".encode("utf-16-be"), "xBGR".encode("utf-16-be"))
    return bytes(data)


@pytest.mark.parametrize("form", ["PNG", "TIFF", "JPEG", "WEBP"])
def test_a_profile_is_turned_into_srgb(tmp_path: Path, form: str) -> None:
    """With red and blue primaries swapped the right answer is known without any colour library."""
    how = {"JPEG": {"quality": 100, "subsampling": 0}, "WEBP": {"lossless": True}}.get(form, {})
    path = saved(tmp_path / "x", scene(), format=form, icc_profile=wide_profile(), **how)
    assert np.abs(decode(path).astype(int) - scene()[..., ::-1]).max() <= (4 if form == "JPEG" else 1)


def test_a_grey_profile_gives_what_littlecms_gives(tmp_path: Path) -> None:
    """Grey of gamma 2.2, against LittleCMS called directly."""
    grey_profile = _grey_profile(2.2)
    path = saved(tmp_path / "x.tif", Image.fromarray(scene()[..., 0]), icc_profile=grey_profile)
    transform = ImageCms.buildTransform(
        io.BytesIO(grey_profile), ImageCms.createProfile("sRGB"), "L", "RGB",
        ImageCms.Intent.RELATIVE_COLORIMETRIC, ImageCms.Flags.BLACKPOINTCOMPENSATION,
    )  # fmt: skip
    expected = np.asarray(ImageCms.applyTransform(Image.fromarray(scene()[..., 0]), transform))
    np.testing.assert_array_equal(decode(path), expected)
    assert np.abs(expected.astype(int) - scene()[..., :1]).max() > 1


def _grey_profile(gamma: float) -> bytes:
    """A smallest ICC grey profile, written from ICC.1:2010 (header 7.2, tags 9.2, curveType 10.5)."""
    curve = b"curv" + bytes(4) + struct.pack(">IH", 1, round(gamma * 256)) + bytes(2)
    white = b"XYZ " + bytes(4) + struct.pack(">3i", 63190, 65536, 54061)
    text = b"desc" + bytes(4) + struct.pack(">I", 5) + b"grey\0" + bytes(78 + 1)
    body, table, at = b"", b"", 128 + 4 + 3 * 12
    for name, value in ((b"kTRC", curve), (b"wtpt", white), (b"desc", text)):
        table += name + struct.pack(">II", at + len(body), len(value))
        body += value
    size = at + len(body)
    head = struct.pack(">I4sI4s4s4s", size, b"lcms", 0x02100000, b"mntr", b"GRAY", b"XYZ ")
    head += struct.pack(">6H", 2020, 1, 1, 0, 0, 0) + b"acsp" + bytes(28) + struct.pack(">3i", 63190, 65536, 54061)
    return head.ljust(128, b"\0") + struct.pack(">I", 3) + table + body


@pytest.mark.parametrize("profile", [b"no profile at all", b"\0" * 200, None])
def test_a_profile_that_says_nothing_changes_nothing(tmp_path: Path, profile: bytes | None) -> None:
    path = saved(tmp_path / "x.png", scene(), icc_profile=profile)
    np.testing.assert_array_equal(decode(path), scene())


def test_srgb_s_own_profile_and_a_grey_one_on_colour_change_nothing(tmp_path: Path) -> None:
    own = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    for profile in (own, _grey_profile(1.0)):
        path = saved(tmp_path / "x.png", scene(), icc_profile=profile)
        np.testing.assert_array_equal(decode(path), scene())


@pytest.mark.parametrize("form", ["JPEG", "TIFF"])
def test_cmyk_comes_out_as_the_colours_that_were_meant(tmp_path: Path, form: str) -> None:
    inks = Image.fromarray(scene()).convert("CMYK")
    path = saved(tmp_path / "x", inks, format=form, **({"quality": 98} if form == "JPEG" else {}))
    assert np.abs(decode(path).astype(int) - scene()).max() <= (12 if form == "JPEG" else 0)


# --- depths, palettes, transparency ---------------------------------------------------------------


@pytest.mark.parametrize(
    "mode",
    ["1", "L", "P", "RGB", "RGBA", "LA"],
)
@pytest.mark.parametrize("form", ["PNG", "TIFF"])
def test_every_mode_comes_out_as_pillow_shows_it(tmp_path: Path, form: str, mode: str) -> None:
    picture = Image.fromarray(scene()).convert(mode)
    path = saved(tmp_path / "x", picture, format=form)
    np.testing.assert_array_equal(decode(path), np.asarray(picture.convert("RGB")))


@pytest.mark.parametrize("form", ["PNG", "TIFF", "WEBP"])
def test_transparency_lies_on_white(tmp_path: Path, form: str) -> None:
    clear = np.dstack([scene(), np.full((H, W), 255, np.uint8)])
    clear[:8, :, 3], clear[8:16, :, 3] = 0, 128
    path = saved(
        tmp_path / "x", clear, format=form, **({"lossless": True, "exact": True} if form == "WEBP" else {})
    )
    decoded = decode(path)
    assert (decoded[:8] == 255).all()
    half = scene()[8:16].astype(float) * 128 / 255 + 255 * 127 / 255
    assert np.abs(decoded[8:16] - half).max() <= 1
    np.testing.assert_array_equal(decoded[16:], scene()[16:])


def test_a_transparent_palette_colour_lies_on_white(tmp_path: Path) -> None:
    picture = Image.new("P", (4, 3), 1)
    picture.putpalette([10, 20, 30, 200, 100, 50])
    picture.putpixel((0, 0), 0)
    decoded = decode(saved(tmp_path / "x.png", picture, transparency=0))
    assert decoded[0, 0].tolist() == [255, 255, 255]
    assert decoded[1, 1].tolist() == [200, 100, 50]


@pytest.mark.parametrize("order", ["<", ">"])
@pytest.mark.parametrize("compression", [None, "deflate"])
@pytest.mark.parametrize("layout", ["grey", "white-is-zero", "rgb", "rgb-planes", "rgb-tiles", "big"])
def test_sixteen_bits_are_brought_to_eight(
    tmp_path: Path, order: str, compression: str | None, layout: str
) -> None:
    """Files written by tifffile; the truth is the exact rounding of what it was given."""
    tifffile = pytest.importorskip("tifffile")
    y, x = np.mgrid[0:H, 0:W]
    deep = np.stack([x * 1800, y * 2700, x * 700 + y * 900], axis=-1).astype(np.uint16)
    how: dict = {"photometric": "rgb"}
    pixels, expected = deep, deep
    if layout in ("grey", "white-is-zero"):
        pixels, how = deep[..., 2], {"photometric": "minisblack" if layout == "grey" else "miniswhite"}
        expected = np.repeat(deep[..., 2:] if layout == "grey" else 65535 - deep[..., 2:], 3, axis=-1)
    elif layout == "rgb-planes":
        pixels, how = np.moveaxis(deep, -1, 0), {"photometric": "rgb", "planarconfig": "separate"}
    elif layout == "rgb-tiles":
        how["tile"] = (16, 16)
    path = tmp_path / "x.tif"
    tifffile.imwrite(path, pixels, byteorder=order, compression=compression, bigtiff=layout == "big", **how)
    if order == ">" and layout in ("white-is-zero", "big"):  # Pillow knows neither; refused, never guessed
        assert "form of TIFF that is not read" in refusal(path).why
        return
    assert np.abs(decode(path) - expected.astype(float) * 255 / 65535).max() <= 1.0
    assert (probe(path).width, probe(path).height) == (W, H)


def test_sixteen_bit_png(tmp_path: Path) -> None:
    import cv2

    deep = (np.mgrid[0:H, 0:W][1] * 1800).astype(np.uint16)
    for pixels in (deep, np.dstack([deep, deep // 2, deep // 3])):
        cv2.imwrite(str(tmp_path / "x.png"), pixels)
        expected = pixels[..., ::-1] if pixels.ndim == 3 else np.dstack([pixels] * 3)
        assert np.abs(decode(tmp_path / "x.png") - expected * (255 / 65535)).max() <= 1.0


@pytest.mark.parametrize("compression", ["raw", "tiff_lzw", "tiff_adobe_deflate", "packbits", "jpeg"])
def test_pages_of_a_tiff(tmp_path: Path, compression: str) -> None:
    pages = [Image.fromarray(np.roll(scene(), 5 * turn, axis=1)) for turn in range(3)]
    path = saved(tmp_path / "x.tif", pages[0], save_all=True, append_images=pages[1:], compression=compression)
    assert probe(path).pages == 3
    for number, page in enumerate(pages):
        error = np.abs(decode(path, number).astype(int) - np.asarray(page)).max()
        assert error <= (60 if compression == "jpeg" else 0)
    for absent in (3, -1):
        with pytest.raises(Unreadable, match="no page"):
            decode(path, absent)


def test_a_scanner_s_small_copy_is_no_page(tmp_path: Path) -> None:
    tifffile = pytest.importorskip("tifffile")
    path = tmp_path / "x.tif"
    with tifffile.TiffWriter(path) as tiff:
        tiff.write(scene()[::4, ::4], photometric="rgb", subfiletype=1)
        tiff.write(scene(), photometric="rgb")
    assert (probe(path).pages, probe(path).width) == (1, W)
    np.testing.assert_array_equal(decode(path), scene())


def test_of_a_moving_picture_the_first_frame_counts(tmp_path: Path) -> None:
    frames = [Image.fromarray(scene()), Image.fromarray(scene()[::-1].copy())]
    path = saved(tmp_path / "x.webp", frames[0], save_all=True, append_images=frames[1:], lossless=True)
    assert probe(path).pages == 1
    np.testing.assert_array_equal(decode(path), scene())
    with pytest.raises(Unreadable, match="no page 2"):
        decode(path, 1)


def test_pixels_that_are_no_colours_are_refused(tmp_path: Path) -> None:
    for dtype in (np.float32, np.int32):
        path = saved(tmp_path / "x.tif", scene()[..., 0].astype(dtype))
        assert "32-bit" in refusal(path).why


# --- density and time -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("dpi", "believed"),
    [
        ((300, 300), 300.0),
        ((72, 72), None),
        ((96, 96), None),
        ((600, 600), 600.0),
        ((300, 600), None),
        ((1, 1), None),
    ],
)
@pytest.mark.parametrize("form", ["JPEG", "PNG", "TIFF"])
def test_density_is_believed_where_it_can_be(
    tmp_path: Path, form: str, dpi: tuple, believed: float | None
) -> None:
    path = saved(tmp_path / "x", scene(), format=form, dpi=dpi)
    assert probe(path).dpi == (pytest.approx(believed, abs=0.02) if believed else None)


def exif_of(*, inner: dict | None = None, **outer: object) -> Image.Exif:
    exif = Image.Exif()
    for tag, value in outer.items():
        exif[int(tag.removeprefix("tag_"), 16)] = value
    exif.get_ifd(0x8769).update(inner or {})
    return exif


def test_density_in_exif_goes_before_the_header_and_may_be_per_centimetre(tmp_path: Path) -> None:
    exif = exif_of(tag_011A=118.11, tag_011B=118.11, tag_0128=3)
    assert probe(saved(tmp_path / "x.jpg", scene(), dpi=(72, 72), exif=exif)).dpi == pytest.approx(300, abs=0.01)


def test_a_camera_s_density_says_nothing(tmp_path: Path) -> None:
    exif = exif_of(tag_011A=300.0, tag_011B=300.0, tag_0128=2, inner={0x829A: 0.01})
    assert probe(saved(tmp_path / "x.jpg", scene(), dpi=(300, 300), exif=exif)).dpi is None


@pytest.mark.parametrize(
    ("inner", "taken"),
    [
        ({0x9003: "2021:05:03 14:05:06"}, "2021-05-03T14:05:06"),
        ({0x9003: "2021:05:03 14:05:06", 0x9011: "+02:00"}, "2021-05-03T14:05:06+02:00"),
        ({0x9003: "2021:05:03 14:05:06", 0x9011: "   :  "}, "2021-05-03T14:05:06"),
        ({0x9003: "    :  :     :  :  ", 0x9004: "2021:05:04 00:00:00"}, "2021-05-04T00:00:00"),
        ({0x9003: "0000:00:00 00:00:00"}, None),
        ({}, None),
    ],
)
@pytest.mark.parametrize("form", ["JPEG", "PNG", "TIFF", "WEBP"])
def test_the_time_is_given_as_the_file_has_it(tmp_path: Path, form: str, inner: dict, taken: str | None) -> None:
    """Written by Exiv2, read by Pillow."""
    path = saved(tmp_path / "x", scene(), format=form)
    with pyexiv2.Image(str(path)) as file:
        file.modify_exif({_EXIV2_NAMES[tag]: value for tag, value in inner.items()})
    assert probe(path).taken == taken


_EXIV2_NAMES = {
    0x9003: "Exif.Photo.DateTimeOriginal",
    0x9004: "Exif.Photo.DateTimeDigitized",
    0x9011: "Exif.Photo.OffsetTimeOriginal",
}


def test_broken_metadata_do_not_spoil_a_whole_picture(tmp_path: Path) -> None:
    path = saved(tmp_path / "x.jpg", scene(), exif=b"Exif\0\0II*\0\xff\xff\xff\x7fbroken", quality=95)
    assert probe(path).taken is None
    assert decode(path).shape == (H, W, 3)


# --- bombs ----------------------------------------------------------------------------------------


def png_that_says(width: int, height: int) -> bytes:
    import zlib

    def chunk(name: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")


@pytest.mark.parametrize(("width", "height"), [(20_000, 10_001), (40_000, 40_000), (1 << 30, 1 << 30)])
def test_a_small_file_that_says_it_is_huge_is_refused_before_decoding(
    tmp_path: Path, width: int, height: int
) -> None:
    path = tmp_path / "x.png"
    path.write_bytes(png_that_says(width, height))
    for reading in (probe, decode):
        with pytest.raises(Unreadable, match="million"):
            reading(path)
    assert MAX_PIXELS == 20_000 * 10_000


def test_a_large_scan_below_the_limit_is_no_bomb(tmp_path: Path) -> None:
    """Pillow's own warning comes at 89 million pixels; an A4 at 1200 dpi has 139 million."""
    path = tmp_path / "x.png"
    path.write_bytes(png_that_says(9921, 14031))
    assert (probe(path).width, probe(path).height) == (9921, 14031)


def test_pages_without_end_are_refused(tmp_path: Path) -> None:
    path = saved(tmp_path / "x.tif", scene())
    data = bytearray(path.read_bytes())
    first = struct.unpack_from("<I", data, 4)[0]
    count = struct.unpack_from("<H", data, first)[0]
    struct.pack_into("<I", data, first + 2 + 12 * count, first)
    path.write_bytes(data)
    assert "circle" in refusal(path).why

    page = struct.pack("<H", 0)
    chain = b"".join(page + struct.pack("<I", 8 + 6 * (number + 1)) for number in range(1001))
    path.write_bytes(b"II*\0\x08\0\0\0" + chain + page + bytes(4))
    assert "1000 pages" in refusal(path).why


def test_a_large_box_of_bytes_is_not_read_into_memory(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys.modules["solander.imaging.content"], "MAX_BYTES", 100)
    assert "larger than" in refusal(saved(tmp_path / "x.png", scene())).why


@pytest.mark.parametrize(("orientation", "turns"), [(1, 0), (6, 1), (3, 2), (8, 3), (2, None)])
def test_a_camera_tells_its_focal_length_and_how_the_picture_was_turned(
    tmp_path: Path, orientation: int, turns: int | None
) -> None:
    exif = Image.Exif()
    exif[0x0112] = orientation
    exif.get_ifd(0x8769)[0xA405] = 26  # FocalLengthIn35mmFilm
    Image.fromarray(np.full((48, 64, 3), 90, np.uint8)).save(tmp_path / "phone.jpg", exif=exif)
    facts = probe(tmp_path / "phone.jpg")
    # A frame of 4 : 3 whose diagonal stands for the 43.27 mm of 36 × 24 mm film has a long side of 34.6 mm.
    assert facts.focal == pytest.approx(26 / 34.6, rel=0.001)
    assert facts.quarter_turns == turns


def test_a_focal_length_that_no_camera_has_is_not_believed(tmp_path: Path) -> None:
    for told in (0, 5000):
        exif = Image.Exif()
        exif.get_ifd(0x8769)[0xA405] = told
        Image.fromarray(np.full((48, 64, 3), 90, np.uint8)).save(tmp_path / "phone.jpg", exif=exif)
        assert probe(tmp_path / "phone.jpg").focal is None
