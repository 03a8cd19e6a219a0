"""A contact sheet: each print untreated and treated, side by side, with what was done, as a PDF (ISO 216 A4).

Pictures go in as the JPEG files that they are, one at a time: nothing is decoded, and a thousand prints take
hardly more memory than ten.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import BinaryIO

from attrs import frozen
from PIL import Image
from reportlab.lib.colors import HexColor
from reportlab.lib.units import mm

from solander.delivery.pdf_pictures import PicturePdf
from solander.delivery.pdf_type import BOLD, PLAIN, broken, in_type, with_type
from solander.delivery.plots import INK

__all__ = ["ContactSheet", "Pair", "write_contact_sheet"]

WIDTH_MM, HEIGHT_MM = 210.0, 297.0

MARGIN_MM = 14.0

GAP_MM = 6.0
"""Between the two pictures of a pair."""

NEXT_MM = 8.0
"""From the foot of a pair to the next."""

PICTURE_MM = (WIDTH_MM - 2 * MARGIN_MM - GAP_MM) / 2, 47.0
"""Width and height that a picture has room in: four pairs a page, 480 pixels at 140 to 170 an inch."""

TEXT_MM = WIDTH_MM - 2 * MARGIN_MM

COLUMNS_MM = MARGIN_MM, MARGIN_MM + PICTURE_MM[0] + GAP_MM
"""Left edges of the untreated and of the treated pictures."""

NAME_MM, LINE_MM = 2.0, 4.0
"""From the foot of a print's name to its pictures; from one line to the next."""

QUIET, HAIR = "#5c554b", "#b8b0a4"


@frozen
class Pair:
    """One print: its `name`, the JPEG files of its picture `before` and `after`, and what was `done`, sentences'
    parts."""

    name: str
    before: Path
    after: Path
    done: tuple[str, ...]


@frozen
class ContactSheet:
    """All words of a sheet: its `title`, the sentence `above`, the heads of both columns, and its `pairs`, which
    are taken one at a time."""

    title: str
    above: str
    heads: tuple[str, str]
    pairs: Iterable[Pair]
    language: str = "en"


def write_contact_sheet(file: BinaryIO, sheet: ContactSheet) -> None:
    """Writes the sheet as a PDF."""
    pages = _Pages(sheet)
    for pair in sheet.pairs:
        pages.pair(pair)
    pages.write(file)


class _Pages:
    """Fills pages from their top down, in millimetres."""

    def __init__(self, sheet: ContactSheet) -> None:
        with_type()
        self._pdf = PicturePdf((WIDTH_MM * mm, HEIGHT_MM * mm), language=sheet.language)
        self._canvas = self._pdf.canvas
        self._canvas.setTitle(sheet.title)
        self._canvas.setAuthor("Solander")
        self._sheet, self._page, self._down, self._first = sheet, 0, 0.0, 0.0
        self._begin()

    def pair(self, pair: Pair) -> None:
        """The next pair, on a new page where this one has no room for it."""
        sizes = [_fitted(path) for path in (pair.before, pair.after)]
        lines = broken(_sentence(pair.done), 8.5, PLAIN, TEXT_MM * mm)
        tall = max(high for _, high in sizes)
        high = NAME_MM + tall + LINE_MM * len(lines) + NEXT_MM
        if self._down + high > HEIGHT_MM - MARGIN_MM and self._down > self._first:
            self._canvas.showPage()
            self._begin()
        self._words(COLUMNS_MM[0], self._down, pair.name, 10, BOLD)
        for x, path, size in zip(COLUMNS_MM, (pair.before, pair.after), sizes, strict=True):
            bottom = HEIGHT_MM - self._down - NAME_MM - size[1]
            box = x * mm, bottom * mm, size[0] * mm, size[1] * mm
            self._pdf.picture(path, *box)
            self._canvas.rect(*box)  # a white border would end nowhere on white paper
        for number, line in enumerate(lines, start=1):
            self._words(COLUMNS_MM[0], self._down + NAME_MM + tall + number * LINE_MM, line, 8.5)
        self._down += high

    def write(self, file: BinaryIO) -> None:
        """Ends the last page and writes the file."""
        self._canvas.showPage()
        self._pdf.write(file)

    def _begin(self) -> None:
        """The head of a page: the first has the title large, and what it is."""
        self._page += 1
        self._down = MARGIN_MM
        self._canvas.setStrokeColor(HexColor(HAIR))
        self._canvas.setLineWidth(0.1 * mm)
        if self._page == 1:
            self._words(COLUMNS_MM[0], self._down + 3, self._sheet.title, 14, BOLD)
            for line in broken(self._sheet.above, 9, PLAIN, TEXT_MM * mm):
                self._down += 5
                self._words(COLUMNS_MM[0], self._down + 4, line, 9)
            self._down += 12
        else:
            self._words(COLUMNS_MM[0], self._down, self._sheet.title, 9, colour=QUIET)
            self._down += 6
        for x, head in zip(COLUMNS_MM, self._sheet.heads, strict=True):
            self._words(x, self._down, head, 9, colour=QUIET)
        self._words(COLUMNS_MM[0], HEIGHT_MM - MARGIN_MM + 5, str(self._page), 9, colour=QUIET)
        self._down = self._first = self._down + 8

    def _words(
        self, x: float, down: float, words: str, points: float, font: str = PLAIN, colour: str = INK
    ) -> None:
        self._canvas.setFillColor(HexColor(colour))
        self._canvas.setFont(font, points)
        self._canvas.drawString(x * mm, (HEIGHT_MM - down) * mm, in_type(words))


def _sentence(done: tuple[str, ...]) -> str:
    said = "; ".join(done)
    return f"{said[:1].upper()}{said[1:]}." if said else ""


def _fitted(picture: Path) -> tuple[float, float]:
    """Width and height, in millimetres, of a picture in its room."""
    with Image.open(picture) as opened:  # its head alone is read
        wide, high = opened.size
    scale = min(PICTURE_MM[0] / wide, PICTURE_MM[1] / high)
    return wide * scale, high * scale
