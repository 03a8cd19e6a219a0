"""Pictures from files: what a file says of itself, and its pixels as sRGB, upright.

Convention: arrays are uint8 of shape (height, width, 3), red first, sRGB-encoded; the first row is the top of
the picture after its EXIF orientation. Sixteen bits are brought to eight; transparency lies on white.
"""

from __future__ import annotations

import datetime
import io
import math
import re
import struct
import warnings
import zlib
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import cv2
import numpy as np
import simplejpeg
from attrs import frozen
from numpy.typing import NDArray
from PIL import Image, TiffImagePlugin, UnidentifiedImageError
from pillow_heif import HeifImageFile

from solander.imaging.content import (
    HEIC,
    JPEG,
    PNG,
    TIFF,
    Kind,
    Unreadable,
    damaged,
    is_full_page,
    png_chunks,
    read_whole,
    tiff_pages,
)
from solander.imaging.profile import speaks, to_srgb
from solander.imaging.raw import develop, raw_exif, raw_frame

__all__ = ["BELIEVED_DPI", "MAX_PIXELS", "FileFacts", "Unreadable", "decode", "probe", "upright"]

Rgb = NDArray[np.uint8]

MAX_PIXELS = 200_000_000
"""The most pixels of one page: a flatbed's A4 at 1200 dpi has 139 million; 200 million take 0.6 GB as RGB."""

BELIEVED_DPI = (75.0, 9600.0)
"""Densities that a scanner may really have had, pixels per inch (common practice, no source).

Below, and at 72 and 96 exactly, the number is a default: EXIF 2.3 asks for 72 where nothing is known, screens
gave 96. Files that tell of a lens (exposure time, aperture, focal length) were not scanned: none is believed.
"""

_ORIENTATION = 0x0112
_X_DENSITY, _Y_DENSITY, _DENSITY_UNIT = 0x011A, 0x011B, 0x0128
_PHOTOMETRIC = 0x0106
_EXIF = 0x8769
_FOCAL_35MM = 0xA405
_FILM_DIAGONAL_MM = 43.27  # of 36 × 24 mm
_BELIEVED_FOCAL = (10, 300)
_LENS = (0x829A, 0x829D, 0x920A)
_TAKEN = ((0x9003, 0x9011), (0x9004, 0x9012))  # original, else digitized; each with its offset

_OTHER_FORM = "Copy it again, or save it anew as TIFF or JPEG, and take that in"

# Pillow's own reader of uncompressed TIFF mixes up the colours of 16 bits in separate planes without a word.
TiffImagePlugin.READ_LIBTIFF = True

# All that Pillow and its plugins were seen to raise on damaged bytes (tests/imaging feeds them such).
_DECODER_ERRORS = (
    OSError, ValueError, SyntaxError, EOFError, RuntimeError, TypeError, KeyError, IndexError, AttributeError,
    OverflowError, MemoryError, struct.error, zlib.error,
)  # fmt: skip


@frozen
class FileFacts:
    """What a picture file says of itself.

    `suffix` fits the content, whatever the file's name. `width`, `height` in pixels of the first page after
    EXIF orientation; `pages` above 1 for TIFF only. `dpi` in pixels per inch, None unless believable
    (`BELIEVED_DPI`, equal in both directions within 1 %). `taken` as RFC 3339, with an offset only where the
    file has one. `focal` is the focal length in long sides of the frame, None where no camera tells it.
    `quarter_turns` is how far the picture was turned clockwise to be upright; None where it was mirrored or the
    turn is not known.
    """

    media_type: str
    suffix: str
    width: int
    height: int
    pages: int
    dpi: float | None
    taken: str | None
    focal: float | None = None
    quarter_turns: int | None = 0


def probe(path: Path) -> FileFacts:
    """What the file says of itself; its frame is checked from end to end, its pixels are not decoded.

    Raises
    ------
    Unreadable
        When it is no picture that is read, is cut off, or is too large.
    """
    kind, data = read_whole(path)
    if kind.raw:
        return _facts_of_raw(kind, data)
    with _opened(kind, data, 0) as picture:
        exif = _exif(kind, data, picture)
        width, height = _upright_size(_turn(kind, exif), picture)
        return FileFacts(
            media_type=kind.media_type,
            suffix=kind.suffix,
            width=width,
            height=height,
            pages=len(_frames(kind, data)),
            dpi=_dpi(kind, picture, exif),
            taken=_taken(exif),
            focal=_focal(exif, width, height),
            quarter_turns=_quarter_turns(exif, picture),
        )


def decode(path: Path, page: int = 0) -> Rgb:
    """The pixels of a page: uint8 (height, width, 3), sRGB, upright.

    Raises
    ------
    Unreadable
        As `probe`, and when the pixels are damaged or there is no such page. Damage that the file's own check
        sums and codes do not show (WebP has none) cannot be seen.
    """
    kind, data = read_whole(path)
    if kind.raw:
        return _developed(data, page)
    with _opened(kind, data, page) as picture:
        turn, profile = _turn(kind, _exif(kind, data, picture)), picture.info.get("icc_profile")
        pixels = _jpeg_pixels(data, picture) if kind is JPEG else np.array(to_srgb(_flat(picture), profile))
        return upright(pixels, turn)


def upright(pixels: Rgb, orientation: int) -> Rgb:
    """Pixels turned and mirrored as EXIF orientation 1–8 asks; any other value asks nothing.

    Source: EXIF 2.3, tag 0x0112: where the first row and the first column of the file belong.
    """
    turn = _TURNS.get(orientation)
    return np.ascontiguousarray(turn(pixels) if turn else pixels, dtype=np.uint8)


_TURNS: Mapping[int, Callable[[Rgb], NDArray[Any]]] = {
    2: lambda pixels: cv2.flip(pixels, 1),
    3: lambda pixels: cv2.rotate(pixels, cv2.ROTATE_180),
    4: lambda pixels: cv2.flip(pixels, 0),
    5: lambda pixels: cv2.transpose(pixels),
    6: lambda pixels: cv2.rotate(pixels, cv2.ROTATE_90_CLOCKWISE),
    7: lambda pixels: cv2.rotate(cv2.transpose(pixels), cv2.ROTATE_180),
    8: lambda pixels: cv2.rotate(pixels, cv2.ROTATE_90_COUNTERCLOCKWISE),
}


def _facts_of_raw(kind: Kind, data: bytes) -> FileFacts:
    """What a raw file says of itself; it never has a density, for a camera knows no scale."""
    frame = raw_frame(data)
    _check_size(frame.width, frame.height)
    try:
        exif = raw_exif(kind, data)
    except _DECODER_ERRORS:
        exif = Image.Exif()
    return FileFacts(
        media_type=kind.media_type,
        suffix=kind.suffix,
        width=frame.width,
        height=frame.height,
        pages=1,
        dpi=None,
        taken=_taken(exif) or frame.taken,
        focal=_focal(exif, frame.width, frame.height),
        quarter_turns=frame.quarter_turns,
    )


def _developed(data: bytes, page: int) -> Rgb:
    if page:
        raise Unreadable(f"it has no page {page + 1}", "Take it in again")
    frame = raw_frame(data)
    _check_size(frame.width, frame.height)
    return np.asarray(develop(data), np.uint8)


@contextmanager
def _opened(kind: Kind, data: bytes, page: int) -> Iterator[Image.Image]:
    """The picture at a page, size checked, pixels not yet decoded; whatever a decoder says becomes a reason."""
    with warnings.catch_warnings():
        warnings.simplefilter(
            "ignore"
        )  # Pillow's doubts about metadata are not the user's; sizes are checked below
        try:
            with _picture(kind, data) as picture:
                if kind is TIFF:
                    picture.seek(_frame(kind, data, page))
                elif page:
                    raise Unreadable(f"it has no page {page + 1}", "Take it in again")
                _check_size(*picture.size)
                yield picture
        except Unreadable:
            raise
        except Image.DecompressionBombError as error:
            raise _too_large("far more than 200 million pixels") from error
        except UnidentifiedImageError as error:
            raise Unreadable(f"it is damaged, or a form of {kind.name} that is not read", _OTHER_FORM) from error
        except _DECODER_ERRORS as error:
            raise damaged(_said(error)) from error


def _picture(kind: Kind, data: bytes) -> Image.Image:
    if kind is HEIC:
        return HeifImageFile(io.BytesIO(data))  # type: ignore[no-untyped-call]
    return Image.open(io.BytesIO(data), formats=[kind.name])


def _check_size(width: int, height: int) -> None:
    if width * height > MAX_PIXELS:
        raise _too_large(f"{width:,} × {height:,} pixels")
    if not width * height:
        raise damaged("it has no pixels")


def _too_large(size: str) -> Unreadable:
    return Unreadable(
        f"it says that it has {size}; up to {MAX_PIXELS // 1_000_000} million are read",
        "Scan it again at a lower resolution, or in parts",
    )


def _frames(kind: Kind, data: bytes) -> list[int]:
    """Which frames of the file are pages: not the small copies that some scanners add."""
    if kind is not TIFF:
        return [0]
    return [number for number, tags in enumerate(tiff_pages(data)) if is_full_page(tags)] or [0]


def _frame(kind: Kind, data: bytes, page: int) -> int:
    frames = _frames(kind, data)
    if not 0 <= page < len(frames):
        raise Unreadable(f"it has no page {page + 1}", "Take it in again")
    return frames[page]


def _exif(kind: Kind, data: bytes, picture: Image.Image) -> Image.Exif:
    try:
        return _png_exif(data) if kind is PNG else picture.getexif()
    except _DECODER_ERRORS:
        return Image.Exif()  # broken metadata say nothing; the picture may be whole


def _png_exif(data: bytes) -> Image.Exif:
    """Read apart, for Pillow decodes all pixels on its way there."""
    exif = Image.Exif()
    exif.load(bytes(next((content for name, content in png_chunks(data) if name == b"eXIf"), b"")))
    return exif


def _turn(kind: Kind, exif: Image.Exif) -> int:
    """The EXIF orientation that is still to be done."""
    if kind in (TIFF, HEIC):
        return 1  # Pillow turns TIFF when it loads; in HEIC the container's own turn counts (ISO/IEC 23008-12)
    found = exif.get(_ORIENTATION, 1)
    return found if found in _TURNS else 1


def _upright_size(turn: int, picture: Image.Image) -> tuple[int, int]:
    width, height = picture.size
    return (height, width) if turn >= 5 else (width, height)


def _jpeg_pixels(data: bytes, picture: Image.Image) -> Rgb:
    """Decoded by a decoder that refuses damaged data, which Pillow would pass over."""
    profile, mode = picture.info.get("icc_profile"), picture.mode
    if mode != "CMYK" and not speaks(profile, mode):
        return np.asarray(simplejpeg.decode_jpeg(data, colorspace="RGB"))
    decoded = simplejpeg.decode_jpeg(data, colorspace="GRAY" if mode == "L" else mode)
    if mode == "CMYK" and "adobe" in picture.info:
        decoded = 255 - decoded  # such files hold the ink that is left out (from memory of many decoders)
    return np.array(to_srgb(Image.fromarray(decoded[..., 0] if mode == "L" else decoded, mode), profile))


def _flat(picture: Image.Image) -> Image.Image:
    """The pixels as RGB, L or CMYK, 8 bits; transparency laid on white."""
    picture.load()
    if picture.mode.startswith("I;16"):
        eight = _eight_bits(np.asarray(picture))
        return Image.fromarray(255 - eight if _is_white_zero(picture) else eight)
    if picture.mode in ("I", "F"):
        raise Unreadable("its pixels are 32-bit numbers", "Save it with 8 or 16 bits, and take that in")
    if picture.mode in ("RGB", "L", "CMYK"):
        return picture if "transparency" not in picture.info else _on_white(picture)
    if picture.mode in ("1", "YCbCr"):
        return picture.convert("RGB")
    return _on_white(picture)


def _is_white_zero(picture: Image.Image) -> bool:
    """Whether a TIFF of 16 bits counts down from white, which Pillow leaves to us."""
    return isinstance(picture, TiffImagePlugin.TiffImageFile) and picture.tag_v2.get(_PHOTOMETRIC) == 0


def _eight_bits(grey: NDArray[np.uint16]) -> NDArray[np.uint8]:
    """Sixteen bits rounded to eight: 65535 is 255, 257 is 1."""
    return ((grey.astype(np.uint32) * 255 + 32767) // 65535).astype(np.uint8)


def _on_white(picture: Image.Image) -> Image.Image:
    clear = picture.convert("RGBA")
    return Image.alpha_composite(Image.new("RGBA", clear.size, "white"), clear).convert("RGB")


def _dpi(kind: Kind, picture: Image.Image, exif: Image.Exif) -> float | None:
    tells_of_lens = any(tag in exif.get_ifd(_EXIF) for tag in _LENS)
    if tells_of_lens or (kind is JPEG and not _has_density(picture, exif)):
        return None
    across, down = _density(picture, exif)
    believed = BELIEVED_DPI[0] <= across <= BELIEVED_DPI[1] and abs(across - 96) > 0.5
    return round(across, 2) if believed and abs(across - down) <= 0.01 * across else None


def _has_density(picture: Image.Image, exif: Image.Exif) -> bool:
    return picture.info.get("jfif_unit") in (1, 2) or _X_DENSITY in exif


def _density(picture: Image.Image, exif: Image.Exif) -> tuple[float, float]:
    """Pixels per inch across and down: EXIF where it is there, else what the file's own header says."""
    try:
        per_inch = {2: 1.0, 3: 2.54}[int(exif.get(_DENSITY_UNIT, 2))]
        return float(exif[_X_DENSITY]) * per_inch, float(exif[_Y_DENSITY]) * per_inch
    except (KeyError, ValueError, TypeError, ZeroDivisionError):
        across, down = picture.info.get("dpi", (0, 0))
        return float(across), float(down)


def _focal(exif: Image.Exif, width: int, height: int) -> float | None:
    """From the equivalent in 35 mm film (EXIF 2.3, tag 0xA405; CIPA DCG-001: by the diagonals of the frames)."""
    told = exif.get_ifd(_EXIF).get(_FOCAL_35MM)
    if not isinstance(told, int) or not _BELIEVED_FOCAL[0] <= told <= _BELIEVED_FOCAL[1]:
        return None
    return told / _FILM_DIAGONAL_MM * math.hypot(width, height) / max(width, height)


def _quarter_turns(exif: Image.Exif, picture: Image.Image) -> int | None:
    """HEIC's reader keeps what EXIF said apart, since the container has turned the picture already."""
    told = picture.info.get("original_orientation") or exif.get(_ORIENTATION, 1)
    return {1: 0, 6: 1, 3: 2, 8: 3}.get(told)


def _taken(exif: Image.Exif) -> str | None:
    inner = exif.get_ifd(_EXIF)
    times = (_rfc3339(inner.get(time), inner.get(offset)) for time, offset in _TAKEN)
    return next(filter(None, times), None)


_OFFSET = re.compile(r"[+-](0\d|1[0-4]):[0-5]\d")


def _rfc3339(time: object, offset: object) -> str | None:
    try:
        read = datetime.datetime.strptime(str(time).strip(" \0"), "%Y:%m:%d %H:%M:%S")
    except ValueError:
        return None  # EXIF writes blanks or zeros where the time is not known
    zone = str(offset).strip(" \0")
    return read.isoformat() + (zone if _OFFSET.fullmatch(zone) else "")


def _said(error: BaseException) -> str:
    return " ".join(str(error).split()).rstrip(".") or type(error).__name__
