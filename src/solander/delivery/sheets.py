"""The stage sheet as a PDF: drawn to the millimetre, all lines, no pixels.

Convention: places are (x, y) in millimetres from the paper's top left corner, x right, y down; the pattern of
squares comes from whoever reads it back, in its own millimetres. Sizes of paper: ISO 216 (A4) and ANSI/ASME Y14.1
(Letter, 8½ × 11 in).
"""

from __future__ import annotations

import io
from collections.abc import Callable, Mapping, Sequence

from attrs import frozen
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from solander.delivery.pdf_type import BOLD, PLAIN, with_type

__all__ = ["PAPERS_MM", "Pattern", "stage_sheet"]

PAPERS_MM: Mapping[str, tuple[float, float]] = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}

INCH_MM = 25.4

TOP_MM = 15.0
"""From the paper's top edge to the pattern: 6 mm that many printers leave white (common practice, no source), and
9 mm of ruler."""

INSET_MM = 8.0
"""From the field's edge to the corner stop, so that a print is seen against plain grey on all sides."""

FIELD_GREY = 0.62
"""Of the field, 0 black to 1 white: a white border and a dark print both stand out from it."""

INK, PAPER = 0.0, 1.0

CHECK_MM = 100.0
_STEPS = (
    "1   Lay it flat where the prints will lie.",
    "2   Lay a small mirror in the ring. The camera",
    "     must see its own lens in the ring’s middle.",
    "3   Take a picture of the bare sheet.",
)


@frozen
class Pattern:
    """What is read back: black `boxes` (left, top, width, height), the outer `size` and the `field` that stays
    free for prints (left, top, right, bottom), all in millimetres from the pattern's top left corner."""

    boxes: Sequence[tuple[float, float, float, float]]
    size: tuple[float, float]
    field: tuple[float, float, float, float]


def stage_sheet(paper: str, pattern: Pattern) -> bytes:
    """The PDF of the stage sheet for `paper`, a name of `PAPERS_MM`; equal arguments give equal bytes."""
    width, height = PAPERS_MM[paper]
    held = io.BytesIO()
    canvas = Canvas(held, pagesize=(width * mm, height * mm), invariant=True, pageCompression=True, lang="en")
    _describe(canvas, paper)
    pen = _Pen(canvas, height, left=(width - pattern.size[0]) / 2, top=TOP_MM)
    _field(pen, pattern)
    pen.boxes(pattern.boxes)
    _rulers(pen, pattern.size)
    _words(pen, pattern.size)
    canvas.showPage()
    canvas.save()
    return held.getvalue()


class _Pen:
    """Draws in millimetres from the pattern's top left corner, y down."""

    def __init__(self, canvas: Canvas, paper_height: float, *, left: float, top: float) -> None:
        self._canvas, self._left, self._base = canvas, left, paper_height - top
        with_type()

    def boxes(self, boxes: Sequence[tuple[float, float, float, float]], grey: float = INK) -> None:
        """Filled boxes as one path: drawn one by one, hairs of white would show between neighbours."""
        path = self._canvas.beginPath()
        for x, y, width, height in boxes:
            path.rect((self._left + x) * mm, (self._base - y - height) * mm, width * mm, height * mm)
        self._canvas.setFillGray(grey)
        self._canvas.drawPath(path, stroke=0, fill=1)

    def line(
        self, start: tuple[float, float], end: tuple[float, float], wide: float = 0.2, grey: float = INK
    ) -> None:
        """A line `wide` millimetres thick, its middle on the two places, cut off square at them."""
        self._canvas.setStrokeGray(grey)
        self._canvas.setLineWidth(wide * mm)
        (x0, y0), (x1, y1) = ((self._left + x, self._base - y) for x, y in (start, end))
        self._canvas.line(x0 * mm, y0 * mm, x1 * mm, y1 * mm)

    def ring(self, x: float, y: float, radius: float, wide: float, grey: float) -> None:
        """A circle."""
        self._canvas.setStrokeGray(grey)
        self._canvas.setLineWidth(wide * mm)
        self._canvas.circle((self._left + x) * mm, (self._base - y) * mm, radius * mm)

    def text(
        self, at: tuple[float, float], words: str, points: float, font: str = PLAIN, *, anchor: str = "start"
    ) -> None:
        """Words on a base line; `anchor` start, middle or end."""
        self._canvas.setFillGray(INK)
        self._canvas.setFont(font, points)
        draw = {
            "start": self._canvas.drawString,
            "middle": self._canvas.drawCentredString,
            "end": self._canvas.drawRightString,
        }[anchor]
        draw((self._left + at[0]) * mm, (self._base - at[1]) * mm, words)


def _describe(canvas: Canvas, paper: str) -> None:
    canvas.setTitle(f"Stage sheet ({paper.upper() if paper == 'a4' else paper.capitalize()})")
    canvas.setAuthor("Solander")
    canvas.setSubject("Print at 100 %: the line must measure 100 mm")
    canvas.setViewerPreference("PrintScaling", "None")  # ISO 32000-1, 12.2: the dialogue then begins at 100 %


def _field(pen: _Pen, pattern: Pattern) -> None:
    """The grey field with its corner stop, and the ring for the level check."""
    left, top, right, bottom = pattern.field
    pen.boxes([(left, top, right - left, bottom - top)], FIELD_GREY)
    _corner_stop(pen, left + INSET_MM, top + INSET_MM, right - left - 2 * INSET_MM, bottom - top - 2 * INSET_MM)
    x, y = (left + right) / 2, (top + bottom) / 2
    for radius in (6.0, 14.0, 22.0):
        pen.ring(x, y, radius, 0.35, PAPER)
    for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1)):
        pen.line((x + 18 * dx, y + 18 * dy), (x + 26 * dx, y + 26 * dy), 0.35, PAPER)
    pen.text((x, y + 33), "Level: mirror here", 12, anchor="middle")


def _corner_stop(pen: _Pen, x: float, y: float, across: float, down: float) -> None:
    """An L to lay a corner of the print against; ticks along it tell the print's size at a glance."""
    wide = 0.8
    pen.boxes([(x - wide, y - wide, across + wide, wide), (x - wide, y, wide, down)])
    _ticks(across, 10.0, lambda at, _: pen.line((x + at, y - 2.6), (x + at, y), 0.25))
    _ticks(down, 10.0, lambda at, _: pen.line((x - 2.6, y + at), (x, y + at), 0.25))
    for at in range(20, int(across) + 1, 20):
        pen.text((x + at, y - 3.4), str(at), 7, anchor="middle")
    for at in range(20, int(down) + 1, 20):
        pen.text((x - 3.0, y + at + 0.9), str(at), 7, anchor="end")
    pen.text((x + 6, y + 11), "Lay each print into this corner.", 15, BOLD)


def _ticks(length: float, step: float, draw: Callable[[float, int], None]) -> None:
    for number in range(int(length / step + 1e-6) + 1):
        draw(number * step, number)


def _rulers(pen: _Pen, size: tuple[float, float]) -> None:
    """Millimetres along the top and the left of the pattern, inches along its right."""
    width, height = size
    _ticks(width, 1.0, lambda at, n: pen.line((at, -0.8 - _long(n)), (at, -0.8), 0.18))
    _ticks(height, 1.0, lambda at, n: pen.line((-0.8 - _long(n), at), (-0.8, at), 0.18))
    for at in range(0, int(width) + 1, 10):
        pen.text((at, -5.4), str(at) if at else "0 mm", 7, anchor="middle")
    for at in range(10, int(height) + 1, 10):
        pen.text((-5.2, at + 0.9), str(at), 7, anchor="end")
    sixteenth = INCH_MM / 16
    _ticks(height, sixteenth, lambda at, n: pen.line((width + 0.8, at), (width + 0.8 + _inch_long(n), at), 0.18))
    for inch in range(1, int(height / INCH_MM) + 1):
        pen.text((width + 5.6, inch * INCH_MM + 0.9), f"{inch} in", 7)


def _long(number: int) -> float:
    return 3.8 if number % 10 == 0 else 2.8 if number % 5 == 0 else 1.8


def _inch_long(number: int) -> float:
    return next(long for each, long in ((16, 4.2), (8, 3.2), (4, 2.4), (1, 1.5)) if number % each == 0)


def _words(pen: _Pen, size: tuple[float, float]) -> None:
    """Below the pattern: the length to check at the left, what to do at the right."""
    top = size[1]
    pen.text((0, top + 7.5), "Print at 100 %. This line must measure 100 mm.", 12.5, BOLD)
    line = top + 13.0
    pen.line((0, line), (CHECK_MM, line), 0.4)
    for at in (0.0, CHECK_MM):
        pen.line((at, line - 2.2), (at, line + 2.2), 0.2)
    pen.text((0, line + 6.5), "If it does not: switch off “fit to page” and print again.", 10.5)
    pen.text((108, top + 7.5), "Stage sheet", 12.5, BOLD)
    for number, step in enumerate(_STEPS):
        pen.text((108, top + 12.3 + 4.5 * number), step, 10)
