"""Pictures put into a PDF one at a time: what is held in memory is the largest of them, not all.

Convention: the library that draws keeps a whole file in memory until it is saved. So pages are drawn with an empty
form in the place of each picture; then the file is updated as ISO 32000-1, 7.5.6, lets it be: the same object
numbers follow once more behind it, now as images, with a table of their own. JPEG files go in as they are.
"""

from __future__ import annotations

import io
import re
from pathlib import Path
from typing import BinaryIO

from PIL import Image
from reportlab.pdfgen.canvas import Canvas

__all__ = ["PicturePdf"]

_TRAILER = re.compile(rb"trailer\s*<<(?P<entries>.*)>>\s*startxref\s*(?P<table>[0-9]+)\s*%%EOF\s*$", re.DOTALL)
_SPACES = {"RGB": "DeviceRGB", "L": "DeviceGray"}


class PicturePdf:
    """A PDF on its way: `canvas` draws everything but pictures."""

    def __init__(self, size: tuple[float, float], *, language: str) -> None:
        self._held = io.BytesIO()
        self.canvas = Canvas(self._held, pagesize=size, invariant=True, pageCompression=True, lang=language)
        self._pictures: list[Path] = []

    def picture(self, jpeg: Path, left: float, bottom: float, wide: float, high: float) -> None:
        """Draws the picture of a JPEG file in that box, points; the file is read when all is written."""
        name = _name(len(self._pictures))
        self._pictures.append(jpeg)
        self.canvas.beginForm(name, 0, 0, 1, 1)
        self.canvas.endForm()
        self.canvas.saveState()
        self.canvas.translate(left, bottom)
        self.canvas.scale(wide, high)
        self.canvas.doForm(name)
        self.canvas.restoreState()

    def write(self, file: BinaryIO) -> None:
        """Writes all of it; the canvas can't be drawn on any more."""
        self.canvas.save()
        drawn = self._held.getvalue()
        file.write(drawn)
        at, table = len(drawn), []
        for number, jpeg in enumerate(self._pictures):
            object_number, version = self._object(_name(number))
            table.append((object_number, at))
            at += file.write(_image(jpeg, object_number, version))
        file.write(_table(table, at, drawn))

    def _object(self, name: str) -> tuple[int, int]:
        document = self.canvas._doc  # there is no public way to ask for the number that an object got
        number, version = document.idToObjectNumberAndVersion[document.getXObjectName(name)]
        return int(number), int(version)


def _name(number: int) -> str:
    return f"picture{number}"


def _image(jpeg: Path, number: int, version: int) -> bytes:
    content = jpeg.read_bytes()
    with Image.open(io.BytesIO(content)) as picture:
        (wide, high), space = picture.size, _SPACES[picture.mode]
    head = (
        f"{number} {version} obj\n<< /Type /XObject /Subtype /Image /Width {wide} /Height {high} "
        f"/BitsPerComponent 8 /ColorSpace /{space} /Filter /DCTDecode /Length {len(content)} >>\nstream\n"
    )
    return head.encode() + content + b"\nendstream\nendobj\n"


def _table(objects: list[tuple[int, int]], at: int, drawn: bytes) -> bytes:
    """The table of the objects (number, offset) that were written anew, and its trailer."""
    before = _TRAILER.search(drawn)
    assert before is not None, "the library ended its file as none of its editions did"
    sections = "".join(f"{number} 1\n{offset:010d} 00000 n \n" for number, offset in sorted(objects))
    entries, first = before["entries"].decode().strip(), int(before["table"])
    ending = f"trailer\n<<\n{entries}\n/Prev {first}\n>>\nstartxref\n{at}\n%%EOF\n"
    return f"xref\n{sections or '0 0'}\n{ending}".replace("\n\n", "\n").encode()
