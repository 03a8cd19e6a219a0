"""A camera's raw file: the numbers of its sensor, developed in one plain way that always gives the same picture.

Convention: as `imaging.conventions`; sixteen bits where asked for, else eight.

The way: the white balance that the camera chose, the maker's colour matrix, demosaicing by AHD, light that is
clipped stays clipped, sRGB. Nothing is brightened: white is where the sensor is full, in every picture. A camera's
own JPEG looks livelier, for cameras bend the tones; a raw file shows the paper as it was.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import numpy as np
import rawpy
from attrs import frozen
from numpy.typing import NDArray
from PIL import Image

from solander.imaging.content import DNG, ORF, OTHER_RAW, RAF, RW2, Kind, Unreadable, damaged

__all__ = ["RawFrame", "develop", "raw_exif", "raw_frame"]

SRGB_CURVE = (2.4, 12.92)
"""Exponent and slope of the sRGB curve (IEC 61966-2-1)."""

_QUARTERS = {0: 0, 3: 2, 5: 3, 6: 1}
"""LibRaw's `flip` as quarter turns clockwise."""

_AGAIN = "Copy it again from the card; if it stays so, take in the JPEG of the same picture"
_CONVERT = "Save it as DNG or TIFF with the program of the camera's maker, and take that in"


@frozen
class RawFrame:
    """Width and height in pixels after the turn that the camera noted, that turn in quarters clockwise (None where
    it is none of four), and when the picture was taken, local time as ISO 8601 (None where it is not told)."""

    width: int
    height: int
    quarter_turns: int | None
    taken: str | None


def raw_frame(data: bytes) -> RawFrame:
    """What the raw file says of its picture; the sensor's numbers are not read.

    Raises
    ------
    Unreadable
        When the camera is not known, or the file is damaged.
    """
    with _opened(data) as raw:
        sizes, taken = raw.sizes, raw.other.timestamp
        # Oblong pixels are made square the larger way, as LibRaw does it.
        width = round(sizes.iwidth * max(1.0, sizes.pixel_aspect))
        height = round(sizes.iheight / min(1.0, sizes.pixel_aspect or 1.0))
        if sizes.flip & 4:
            width, height = height, width
        told = taken.isoformat(timespec="seconds") if taken is not None and taken.year >= 1990 else None
        return RawFrame(width, height, _QUARTERS.get(sizes.flip), told)


def develop(data: bytes, *, bits: int = 8) -> NDArray[Any]:
    """The picture (height, width, 3), sRGB, upright as the camera noted; uint8, or uint16 with 16 `bits`.

    Raises
    ------
    Unreadable
        As `raw_frame`, and when the sensor's numbers are damaged.
    """
    with _opened(data) as raw:
        return np.ascontiguousarray(
            raw.postprocess(
                use_camera_wb=True,
                no_auto_bright=True,
                adjust_maximum_thr=0.0,  # else "full" would be the brightest number of each picture
                highlight_mode=rawpy.HighlightMode.Clip,
                output_color=rawpy.ColorSpace.sRGB,
                gamma=SRGB_CURVE,
                output_bps=bits,
            )
        )


def raw_exif(kind: Kind, data: bytes) -> Image.Exif:
    """The EXIF of a raw file that is built like a TIFF or carries a JPEG with it; empty for others."""
    exif = Image.Exif()
    if kind is RAF:
        # Where the JPEG lies and how long it is: bytes 84 to 91 (from memory; no standard tells it).
        at, length = (int.from_bytes(data[place : place + 4], "big") for place in (84, 88))
        with Image.open(io.BytesIO(data[at : at + length]), formats=["JPEG"]) as shown:
            return shown.getexif()
    if kind in (ORF, RW2):
        exif.load(b"II*\0" + data[4:])  # a TIFF but for its first four bytes
    elif (data[:2] in (b"II", b"MM") and kind is not OTHER_RAW) or kind is DNG:
        exif.load(data)
    return exif


@contextmanager
def _opened(data: bytes) -> Iterator[rawpy.RawPy]:
    """The file opened by LibRaw; what it says when it can't becomes a reason."""
    raw = rawpy.RawPy()
    try:
        raw.open_buffer(io.BytesIO(data))
        yield raw
    except rawpy.LibRawFileUnsupportedError as error:
        raise Unreadable("it is a camera's raw file of a kind that is not known here", _CONVERT) from error
    except rawpy.LibRawIOError as error:
        raise Unreadable("it is a camera's raw file that is cut off or damaged", _AGAIN) from error
    except (rawpy.LibRawError, rawpy.NotSupportedError, ValueError) as error:
        raise damaged("it is a camera's raw file that can't be developed") from error
    finally:
        raw.close()
