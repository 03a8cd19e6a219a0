"""What a camera may send: pictures of a few kinds, no larger than a picture of a stage can be."""

from __future__ import annotations

from typing import NoReturn

import simplejpeg

from solander.core.errors import Trouble
from solander.core.sentence import Sentence
from solander.imaging.content import HEIC, JPEG, PNG, WEBP, Unreadable, known_kind

__all__ = ["LARGEST_PREVIEW", "LARGEST_STILL", "refuse_preview", "refuse_still"]

LARGEST_STILL = 80 * 2**20
"""Bytes of a still: a JPEG of 200 megapixels, the most that phones give, has some 60 MB (our choice)."""

LARGEST_PREVIEW = 400_000
"""Bytes of a picture of the stage in passing: 640 pixels have 40 to 120 kB."""

WIDEST_PREVIEW = 1280
"""Pixels of its longer side."""

_KINDS = (JPEG, PNG, HEIC, WEBP)


def refuse_preview(jpeg: bytes) -> None:
    """Does nothing for a picture of the stage in passing; its pixels are not decoded.

    Raises
    ------
    Trouble
        When it is none: larger than one is, or not a JPEG.
    """
    if len(jpeg) > LARGEST_PREVIEW:
        _refuse(Sentence("it is larger than %(size)s kB", size=LARGEST_PREVIEW // 1000))
    try:
        height, width, _space, _sampling = simplejpeg.decode_jpeg_header(jpeg, strict=False)
    except (ValueError, KeyError):  # of a header that names no way of its colours
        _refuse(Sentence("it is no JPEG picture"))
    if max(width, height) > WIDEST_PREVIEW:
        _refuse(Sentence("it has more than %(pixels)s pixels on a side", pixels=WIDEST_PREVIEW))


def _refuse(why: str) -> NoReturn:
    what = Sentence("A picture of the stage was not taken in")
    raise Trouble(what, why, Sentence("Load the camera page again"))


def refuse_still(picture: bytes) -> str:
    """The ending that fits a still; how many pixels it has is looked at when it is taken in (`imaging.decode`).

    Raises
    ------
    Trouble
        When it is none: larger than one can be, or of a kind that no camera of a stand sends.
    """
    what, todo = Sentence("The picture was not taken in"), Sentence("Send it as JPEG, PNG, WebP or HEIC")
    if len(picture) > LARGEST_STILL:
        raise Trouble(what, Sentence("it is larger than %(size)s MB", size=LARGEST_STILL >> 20), todo)
    try:
        kind = known_kind(picture[:4096])
    except Unreadable as reason:
        raise Trouble(what, reason.why, todo) from reason
    if kind not in _KINDS:
        raise Trouble(what, Sentence("it is a %(kind)s file", kind=kind.name), todo)
    return kind.suffix
