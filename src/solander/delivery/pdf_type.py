"""The type that our PDF files are set in, and how a line is broken."""

from __future__ import annotations

import io
from importlib import resources

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

__all__ = ["BOLD", "PLAIN", "broken", "in_type", "with_type"]

PLAIN, BOLD = "AtkinsonHyperlegibleNext-Regular", "AtkinsonHyperlegibleNext-Bold"
_FILES = {
    PLAIN: "atkinson-hyperlegible-next-latin-400-normal.ttf",
    BOLD: "atkinson-hyperlegible-next-latin-700-normal.ttf",
}


def with_type() -> None:
    """Makes both faces known to the library that draws, once a process."""
    for name, file in _FILES.items():
        if name not in pdfmetrics.getRegisteredFontNames():
            font = resources.files("solander.look").joinpath("static", "fonts", file).read_bytes()
            pdfmetrics.registerFont(TTFont(name, io.BytesIO(font)))


def in_type(words: str) -> str:
    """The words in letters that the type has: it holds no Greek, and dE is a usual way to write ΔE."""
    return words.replace("Δ", "d")


def broken(words: str, points: float, font: str, width: float) -> list[str]:
    """The words in lines of at most `width` points; one longer word stays whole."""
    lines = [""]
    for word in words.split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and pdfmetrics.stringWidth(in_type(longer), font, points) > width:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines
