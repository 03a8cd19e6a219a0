"""What a file is by its bytes, whatever its name says, and whether it is all there.

Decoders forgive too much: a JPEG without its end becomes a picture with a grey foot. So the frame of each file
is walked first: markers of JPEG, chunks of PNG and WebP, directories of TIFF, boxes of HEIC.
"""

from __future__ import annotations

import re
import struct
import zlib
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from stat import S_ISREG

from attrs import frozen

__all__ = ["MAX_BYTES", "MAX_PAGES", "Kind", "Unreadable", "known_kind", "read_whole"]

MAX_BYTES = 1 << 31
"""The largest file that is opened: 2 GiB holds a page of 200 megapixels at 16 bits, uncompressed."""

MAX_PAGES = 1000
"""The most pages of one TIFF: no feeder holds more (common practice, no source)."""


class Unreadable(Exception):
    """A file that gives no picture: `why`, a clause without full stop; `todo`, the next step."""

    def __init__(self, why: str, todo: str) -> None:
        super().__init__(why, todo)
        self.why, self.todo = why, todo

    def __str__(self) -> str:
        return f"{self.why}. {self.todo}."


@frozen
class Kind:
    """A kind of picture that is read: `name` as Pillow calls it, media type, the ending that fits; `raw` where it
    holds a sensor's numbers, which are still to be developed."""

    name: str
    media_type: str
    suffix: str
    raw: bool = False


JPEG = Kind("JPEG", "image/jpeg", ".jpg")
PNG = Kind("PNG", "image/png", ".png")
TIFF = Kind("TIFF", "image/tiff", ".tif")
WEBP = Kind("WEBP", "image/webp", ".webp")
HEIC = Kind("HEIF", "image/heic", ".heic")

# Media types as the shared MIME-info database of freedesktop.org names them.
DNG = Kind("DNG", "image/x-adobe-dng", ".dng", raw=True)
CR2 = Kind("CR2", "image/x-canon-cr2", ".cr2", raw=True)
CR3 = Kind("CR3", "image/x-canon-cr3", ".cr3", raw=True)
RAF = Kind("RAF", "image/x-fuji-raf", ".raf", raw=True)
ORF = Kind("ORF", "image/x-olympus-orf", ".orf", raw=True)
RW2 = Kind("RW2", "image/x-panasonic-rw2", ".rw2", raw=True)
OTHER_RAW = Kind("RAW", "image/x-dcraw", ".raw", raw=True)
_BY_MAKER = {
    b"NIKON": Kind("NEF", "image/x-nikon-nef", ".nef", raw=True),
    b"SONY": Kind("ARW", "image/x-sony-arw", ".arw", raw=True),
    b"PENTAX": Kind("PEF", "image/x-pentax-pef", ".pef", raw=True),
    b"SAMSUNG": Kind("SRW", "image/x-samsung-srw", ".srw", raw=True),
}

_AGAIN = "Copy it again from the card or scan it again"
_SAVE = "Save it as TIFF or JPEG with the program that made it, and take that in"
_LEAVE = "Leave it out"

_HEAD = 4096


def read_whole(path: Path) -> tuple[Kind, bytes]:
    """The kind of a picture file and its bytes, once its frame has been found complete.

    Raises
    ------
    Unreadable
        When it cannot be opened, is empty, is no picture, is one that is not read, or is cut off.
    """
    try:
        status = path.stat()
        if not S_ISREG(status.st_mode):
            raise Unreadable("it is not a file", _LEAVE)
        with path.open("rb") as file:
            head = file.read(_HEAD)
            kind = known_kind(head)
            if status.st_size > MAX_BYTES:
                raise Unreadable(f"it is larger than {MAX_BYTES >> 30} GB", "Save its pages as single pictures")
            data = head + file.read()
    except OSError as error:
        raise Unreadable(
            f"it could not be opened: {(error.strerror or str(error)).lower()}",
            "Check that it is there and may be read",
        ) from error
    if kind is TIFF:
        kind = _tiff_or_raw(data)
    if kind in _CHECKS:
        _CHECKS[kind](data)
    return kind, data


def known_kind(head: bytes) -> Kind:
    """The kind of picture that begins with these bytes (4096, or all there are).

    Raises
    ------
    Unreadable
        With what it is instead, as far as its bytes tell.
    """
    if not head:
        raise Unreadable("it is empty (0 bytes)", "Copy it again from where it came from")
    for start, kind in _PICTURES:
        if start.match(head):
            return kind
    for start, said, todo in _OTHERS:
        if start.match(head):
            raise Unreadable(f"it is {said}", todo)
    if not any(head):
        raise Unreadable("it holds nothing but zeros", _AGAIN)
    if _is_text(head):
        raise Unreadable("it is text, not a picture", _LEAVE)
    raise Unreadable("it is not a picture of a kind that is read", _SAVE)


def _starts(pattern: bytes) -> re.Pattern[bytes]:
    return re.compile(pattern, re.DOTALL)


_FTYP = rb"....ftyp"

_PICTURES: tuple[tuple[re.Pattern[bytes], Kind], ...] = (
    (_starts(rb"\xff\xd8\xff"), JPEG),
    (_starts(rb"\x89PNG\r\n\x1a\n"), PNG),
    (_starts(rb"(II[*+]\0|MM\0[*+])(?!....CR\x02)"), TIFF),
    (_starts(rb"II[*+]\0....CR\x02"), CR2),
    (_starts(rb"FUJIFILMCCD-RAW"), RAF),
    (_starts(rb"IIR[OS]|MMOR"), ORF),
    (_starts(rb"IIU\0"), RW2),
    (_starts(rb"\0MRM|FOVb|II.{4}HEAPCCDR"), OTHER_RAW),
    (_starts(_FTYP + rb"crx "), CR3),
    (_starts(rb"RIFF....WEBP"), WEBP),
    (_starts(_FTYP + rb"(hei[cxms]|hev[cxms])"), HEIC),
    (_starts(_FTYP + rb"m[is]f1(?!.{0,60}avi[fs])"), HEIC),
)

_OTHERS: tuple[tuple[re.Pattern[bytes], str, str], ...] = (
    (_starts(_FTYP + rb"(avi[fs]|m[is]f1)"), "an AVIF picture, which is not read", _SAVE),
    (_starts(_FTYP + rb"(M4A|M4B)"), "a sound recording, not a picture", _LEAVE),
    (_starts(_FTYP), "a film, not a picture", "Save the frame that you want as a picture, and take that in"),
    (_starts(rb"GIF8"), "a GIF picture, which has too few colours for a photograph", _SAVE),
    (_starts(rb"BM.{4}\0\0\0\0"), "a BMP picture, which is not read", _SAVE),
    (_starts(rb"8BPS"), "a layered working file (PSD), which is not read", _SAVE),
    (_starts(rb"\0\0\0\x0cjP  |\xff\x4f\xff\x51"), "a JPEG 2000 picture, which is not read", _SAVE),
    (_starts(rb"\xff\x0a|\0\0\0\x0cJXL "), "a JPEG XL picture, which is not read", _SAVE),
    (_starts(rb"\0\0\x01\0"), "an icon, not a photograph", _LEAVE),
    (_starts(rb"%PDF-"), "a PDF document, not a picture", "Save its pages as TIFF or JPEG, and take those in"),
    (_starts(rb"PK\x03\x04|PK\x05\x06"), "a ZIP archive or office document, not a picture", "Unpack it first"),
    (_starts(rb"\x1f\x8b|7z\xbc\xaf|Rar!|BZh|\xfd7zXZ"), "a packed archive, not a picture", "Unpack it first"),
    (
        _starts(rb"MZ|\x7fELF|\xcf\xfa\xed\xfe|\xca\xfe\xba\xbe|#!"),
        "a program, not a picture",
        "Leave it out; do not open it",
    ),
    (_starts(rb"\xd0\xcf\x11\xe0"), "an office document, not a picture", _LEAVE),
    (_starts(rb"RIFF....AVI |\x1aE\xdf\xa3|\0\0\x01[\xb3\xba]"), "a film, not a picture", _LEAVE),
    (_starts(rb"RIFF....WAVE|ID3|OggS|fLaC|\xff[\xfb\xf3\xf2]"), "a sound recording, not a picture", _LEAVE),
    (_starts(rb"SQLite format 3"), "a database, not a picture", _LEAVE),
    (
        _starts(rb"(?i:\s*<(!doctype )?html)"),
        "a web page, not a picture",
        "Save the picture itself, not the page around it",
    ),
    (_starts(rb"\s*(<\?xml[^>]*>\s*)?(<!--.*?-->\s*)?<svg"), "a drawing (SVG), not a photograph", _LEAVE),
)


def _is_text(head: bytes) -> bool:
    try:
        text = head[: _HEAD - 4].decode("utf-8")
    except UnicodeDecodeError as error:
        if error.start < len(head) - 8:
            return False
        text = head[: error.start].decode("utf-8")
    return bool(text) and all(sign.isprintable() or sign in "\t\r\n\f\ufeff" for sign in text)


def _cut_off(size: int) -> Unreadable:
    return Unreadable(f"it is cut off after {size:,} bytes", _AGAIN)


def damaged(detail: str = "") -> Unreadable:
    """The reason for a file whose bytes contradict themselves."""
    return Unreadable(f"it is damaged{': ' if detail else ''}{detail}", _AGAIN)


# A marker inside coded data: not a stuffed zero, a restart marker or a fill byte (ITU-T T.81, B.1.1.2, B.1.1.5).
_MARKER = re.compile(rb"\xff[^\x00\xff\xd0-\xd7]")
_STANDALONE = {0x01, *range(0xD0, 0xD8)}
_SOS, _EOI = 0xDA, 0xD9
_BETWEEN_SCANS = {0xC4, 0xCC, 0xDA, 0xDB, 0xDC, 0xDD, *range(0xE0, 0xF0), 0xFE}


def check_jpeg(data: bytes) -> None:
    """Walks the segments up to the end-of-image marker; what follows it (a second picture, a film) is free.

    Source of the structure: ITU-T T.81, annex B.
    """
    at, scanned = 2, False
    while True:
        at, marker = _next_marker(data, at)
        if marker == _EOI and scanned:
            return
        if scanned and marker not in _BETWEEN_SCANS:
            raise damaged(f"no JPEG marker belongs at byte {at - 2:,}")
        if marker in _STANDALONE:
            continue
        if at + 2 > len(data):
            raise _cut_off(len(data))
        at += max(2, int.from_bytes(data[at : at + 2], "big"))
        if marker == _SOS:
            found = _MARKER.search(data, at)
            if found is None:
                raise _cut_off(len(data))
            at, scanned = found.start(), True


def _next_marker(data: bytes, at: int) -> tuple[int, int]:
    if at >= len(data):
        raise _cut_off(len(data))
    if data[at] != 0xFF:
        raise damaged(f"no JPEG marker at byte {at:,}")
    while at < len(data) and data[at] == 0xFF:
        at += 1
    if at >= len(data):
        raise _cut_off(len(data))
    return at + 1, data[at]


def check_png(data: bytes) -> None:
    """Walks the chunks and their check sums up to IEND."""
    for _ in png_chunks(data):
        pass


def png_chunks(data: bytes) -> Iterator[tuple[bytes, memoryview]]:
    """Name and content of each chunk, its check sum compared (PNG specification, section 5)."""
    at, whole = 8, memoryview(data)
    while True:
        if at + 12 > len(data):
            raise _cut_off(len(data))
        length, name = struct.unpack_from(">I4s", data, at)
        end = at + 12 + length
        if end > len(data):
            raise _cut_off(len(data))
        if zlib.crc32(whole[at + 4 : end - 4]) != int.from_bytes(data[end - 4 : end], "big"):
            raise damaged(f"the check sum at byte {at:,} is wrong")
        yield name, whole[at + 8 : end - 4]
        if name == b"IEND":
            return
        at = end


def check_webp(data: bytes) -> None:
    """Compares the length that the container gives with what is there (RIFF, RFC 9649)."""
    if len(data) < 12 or len(data) < 8 + int.from_bytes(data[4:8], "little"):
        raise _cut_off(len(data))


def check_heic(data: bytes) -> None:
    """Walks the outermost boxes (ISO/IEC 14496-12, 4.2); the decoder checks what is inside them."""
    at, seen = 0, set()
    while at < len(data):
        if at + 8 > len(data):
            raise _cut_off(len(data))
        size, name = struct.unpack_from(">I4s", data, at)
        if size == 1:
            size = int.from_bytes(data[at + 8 : at + 16], "big")
        seen.add(name)
        if size == 0:
            break
        if size < 8:
            raise damaged(f"a box of {size} bytes at byte {at:,}")
        at += size
    if at > len(data) or b"meta" not in seen:
        raise _cut_off(len(data))


TiffTags = Mapping[int, tuple[int, ...]]


@frozen
class _TiffForm:
    """How this TIFF writes numbers: byte order, and whether offsets have 4 bytes (classic) or 8 (BigTIFF)."""

    order: str
    big: bool

    def number(self, data: bytes, at: int, code: str) -> int:
        """One whole number; reading beyond the end means that the file is cut off."""
        try:
            value: int = struct.unpack_from(self.order + code, data, at)[0]
        except struct.error:
            raise _cut_off(len(data)) from None
        return value

    def offset(self, data: bytes, at: int) -> int:
        """One offset into the file."""
        return self.number(data, at, "Q" if self.big else "I")


_TIFF_SIZES = {
    1: 1,
    2: 1,
    3: 2,
    4: 4,
    5: 8,
    6: 1,
    7: 1,
    8: 2,
    9: 4,
    10: 8,
    11: 4,
    12: 8,
    13: 4,
    16: 8,
    17: 8,
    18: 8,
}
_STRIP_OFFSETS, _STRIP_COUNTS, _TILE_OFFSETS, _TILE_COUNTS = 273, 279, 324, 325
_PHOTOMETRIC, _MAKE, _DNG_VERSION = 262, 271, 50706
_SUBFILE_TYPE, _BELOW = 254, 330
_SENSOR_DATA = ((32803,), (34892,))  # colour filter array, linear raw (DNG specification)


def check_tiff(data: bytes) -> None:
    """Walks all page directories: each value and each strip or tile must lie inside the file (TIFF 6.0)."""
    for page in tiff_pages(data, below=True):
        for offsets, counts in ((_STRIP_OFFSETS, _STRIP_COUNTS), (_TILE_OFFSETS, _TILE_COUNTS)):
            ends = map(sum, zip(page.get(offsets, ()), page.get(counts, ()), strict=False))
            if max(ends, default=0) > len(data):
                raise _cut_off(len(data))


def _tiff_or_raw(data: bytes) -> Kind:
    """TIFF, or the kind of raw file that is built like one."""
    pages = tiff_pages(data)
    if any(_DNG_VERSION in page for page in pages):
        return DNG
    if not any(map(_is_raw, pages)):
        return TIFF
    maker = bytes(pages[0].get(_MAKE, ())).upper()
    return next((kind for name, kind in _BY_MAKER.items() if maker.startswith(name)), OTHER_RAW)


def _is_raw(page: TiffTags) -> bool:
    """Sensor data by its own mark, or by a page that is only a preview of what hangs below it."""
    return page.get(_PHOTOMETRIC, (0,))[:1] in _SENSOR_DATA or (_BELOW in page and not is_full_page(page))


def is_full_page(page: TiffTags) -> bool:
    """Whether a page is a picture of its own: no small copy and no mask of another (TIFF 6.0, tag 254)."""
    return not page.get(_SUBFILE_TYPE, (0,))[0] & 0b101


def tiff_pages(data: bytes, *, below: bool = False) -> list[TiffTags]:
    """The whole-number tags of each page that hold something of the frame: places of strips, raw marks.

    With `below` also those of the pages that hang below another (TIFF technical note 1, tag 330).
    """
    form = _TiffForm("<" if data[:2] == b"II" else ">", data[2:4] in (b"+\0", b"\0+"))
    at, seen = form.offset(data, 8 if form.big else 4), set()
    pages: list[TiffTags] = []
    while at:
        if at in seen:
            raise damaged("its pages go round in a circle")
        if len(pages) == MAX_PAGES:
            raise Unreadable(f"it has more than {MAX_PAGES} pages", "Save its pages as single pictures")
        seen.add(at)
        tags, at = _tiff_page(form, data, at)
        pages.append(tags)
        if below:
            pages.extend(_tiff_page(form, data, inner)[0] for inner in tags.get(_BELOW, ()) if inner)
    if not pages:
        raise damaged("it has no page")
    return pages


_FRAME_TAGS = {
    _STRIP_OFFSETS,
    _STRIP_COUNTS,
    _TILE_OFFSETS,
    _TILE_COUNTS,
    _PHOTOMETRIC,
    _MAKE,
    _DNG_VERSION,
    _SUBFILE_TYPE,
    _BELOW,
}


def _tiff_page(form: _TiffForm, data: bytes, at: int) -> tuple[TiffTags, int]:
    """The tags of the page at `at`, and where the next page begins (0 for none)."""
    count = form.number(data, at, "Q" if form.big else "H")
    first, entry = (at + 8, 20) if form.big else (at + 2, 12)
    if first + count * entry > len(data):
        raise _cut_off(len(data))
    tags = dict(_tiff_tags(form, data, range(first, first + count * entry, entry)))
    return tags, form.offset(data, first + count * entry)


def _tiff_tags(form: _TiffForm, data: bytes, entries: range) -> Iterator[tuple[int, tuple[int, ...]]]:
    room = 8 if form.big else 4
    for entry in entries:
        tag, kind = form.number(data, entry, "H"), form.number(data, entry + 2, "H")
        count = form.offset(data, entry + 4)
        length = count * _TIFF_SIZES.get(kind, 1)
        at = entry + 4 + room if length <= room else form.offset(data, entry + 4 + room)
        if at + length > len(data):
            raise _cut_off(len(data))
        code = {1: "B", 2: "B", 3: "H", 4: "I", 13: "I", 16: "Q", 18: "Q"}.get(kind)
        if tag in _FRAME_TAGS and code and count:
            yield tag, struct.unpack_from(f"{form.order}{count}{code}", data, at)


_CHECKS: Mapping[Kind, Callable[[bytes], None]] = {
    JPEG: check_jpeg,
    PNG: check_png,
    TIFF: check_tiff,
    DNG: check_tiff,
    WEBP: check_webp,
    HEIC: check_heic,
}
