"""Access pictures that carry their own description: EXIF, IPTC IIM and XMP inside a JPEG file.

XMP is the master copy; EXIF and IIM hold shortened copies for programs that read no XMP. The pixels are not
touched: only the segments before the picture are written.
"""

from __future__ import annotations

import os
import secrets
import threading
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path

import pyexiv2
from attrs import frozen

from solander.core.descriptions import DescribedPrint
from solander.core.errors import NotFound, Trouble
from solander.core.faces import NamedFace
from solander.core.prints import Capture, Side, View
from solander.core.treatment_size import done_to, treated_size
from solander.core.treatments import UNTREATED, Treatment
from solander.delivery.embed_blocks import exif_of, iptc_of
from solander.delivery.embed_facts import AccessCopy, certain_date, stand_in
from solander.delivery.embed_packet import SOLANDER, packet
from solander.delivery.embed_words import NAME_OF_SIDE, file_identifier, title_of
from solander.delivery.embed_xmp import properties_of

__all__ = [
    "NAME_OF_SIDE",
    "SOLANDER",
    "Fields",
    "certain_date",
    "embed",
    "embed_file",
    "fields_of",
    "file_identifier",
    "stand_in",
    "title_of",
]

_LARGEST_PACKET = 60_000
"""Bytes of XMP up to which statements go along. A JPEG segment holds 65,502 bytes of it, and the library pads
the packet by some 2,000 (measured)."""

# libexiv2 and its XMP toolkit keep their errors and namespaces in one place for the whole process.
_LIBRARY = threading.Lock()
_ERRORS_ONLY = 3

pyexiv2.set_log_level(_ERRORS_ONLY)  # its warnings would go to stderr, among the messages for people


@frozen
class Fields:
    """What is written into a file: EXIF and IIM values by the library's names, and one whole XMP packet."""

    exif: Mapping[str, str]
    iptc: Mapping[str, str | list[str]]
    xmp_packet: str


def fields_of(
    described: DescribedPrint,
    side: Side,
    *,
    view: View | None = None,
    pixels: tuple[int, int] | None = None,
    capture: Capture | None = None,
    capture_path: str = "",
    sortable: str | None = None,
    treatment: Treatment = UNTREATED,
    rights: str = "",
    collection: str = "",
    changed: str = "",
    faces: Sequence[NamedFace] = (),
) -> Fields:
    """Everything that the picture of that side of a print carries; the same facts always give the same fields.

    Parameters
    ----------
    view
        Which view, where a side has several; its first otherwise.
    pixels
        Width and height of the access picture where they differ from those of the view with its treatment.
    capture, capture_path
        The capture that the view was made from, and its path inside the release.
    sortable
        A stand-in date for ordinary viewers, from `stand_in`; for family releases only. It is written as EXIF
        DateTimeOriginal and its XMP twin, and marked in the file; all other date fields keep to what is known.
    treatment
        What was done to the picture. A picture of the untreated view has none, whatever is done to its view.
    changed
        When the description was last changed, RFC 3339; left out when empty.
    faces
        The named faces of this view that may be told to this audience.

    Raises
    ------
    NotFound
        When the print has no picture of that side.
    InvalidValue
        When `sortable` is not a whole date and time.
    """
    view = view or described.print.view(side)
    if view is None:
        raise NotFound(f"{described.print.accession} has no picture of its {NAME_OF_SIDE[side]}")
    copy = AccessCopy(
        described=described,
        side=side,
        view=view,
        pixels=pixels or treated_size(treatment, (view.width, view.height)),
        capture=capture,
        capture_path=capture_path,
        sortable=sortable,
        treatment=done_to(treatment, (view.width, view.height)),
        rights=rights,
        collection=collection,
        changed=changed,
        faces=tuple(faces),
    )
    return Fields(exif_of(copy), iptc_of(copy), _fitting_packet(copy))


def embed(jpeg: bytes, fields: Fields) -> bytes:
    """The JPEG file with the fields in it; its pixels are the same to the bit.

    Fields that were in it are dropped first, so embedding twice gives what embedding once gives. Access pictures
    are made by us and carry nothing of others; never use it on a capture. Threads take turns.

    Raises
    ------
    Trouble
        When the bytes are no JPEG file, or the description does not fit into one.
    """
    if not jpeg.startswith(b"\xff\xd8"):
        raise Trouble("A picture could not be given its description", "it is no JPEG file")
    with _LIBRARY, _plainly(), pyexiv2.ImageData(jpeg) as image:
        for present, clear in (
            (image.read_exif, image.clear_exif),
            (image.read_iptc, image.clear_iptc),
            (image.read_raw_xmp, image.clear_xmp),
        ):
            if present():
                clear()
        image.modify_exif(dict(fields.exif))
        image.modify_iptc(dict(fields.iptc))
        image.modify_raw_xmp(fields.xmp_packet)
        return bytes(image.get_bytes())


def embed_file(path: Path, fields: Fields) -> None:
    """The file at `path` has the fields in it afterwards, or is as it was: its new form replaces it whole."""
    described = embed(path.read_bytes(), fields)
    unfinished = path.with_name(f"{path.name}.{secrets.token_hex(4)}.part")
    try:
        with unfinished.open("xb") as file:
            file.write(described)
            file.flush()
            os.fsync(file.fileno())
        unfinished.replace(path)
    finally:
        unfinished.unlink(missing_ok=True)


def _fitting_packet(copy: AccessCopy) -> str:
    """The packet, without its statements where they would not fit; the release has them beside the files."""
    whole = packet(properties_of(copy))
    if len(whole.encode()) <= _LARGEST_PACKET:
        return whole
    return packet(properties_of(copy, with_statements=False))


@contextmanager
def _plainly() -> Iterator[None]:
    """What the library says, in words; and nothing of it left behind to fall on the next picture."""
    try:
        yield
    except RuntimeError as error:
        _forget_errors()
        why = str(error).strip()
        if "larger than 65535" in why:
            why = "it is longer than a JPEG file can hold (65 kB)"
        raise Trouble("A picture could not be given its description", why, "Shorten its longest text") from error


def _forget_errors() -> None:
    """Draws what the library still holds: it raises the errors of one call again at the next."""
    for _ in range(8):
        try:
            pyexiv2.convert_iptc_to_xmp({})  # does nothing but look for errors
        except RuntimeError:
            continue
        return
