"""The report of a stand on one page, as HTML that needs nothing beside it, and as a PDF (ISO 216 A4)."""

from __future__ import annotations

import io
from html import escape

from attrs import frozen
from reportlab.lib.colors import HexColor
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from solander.delivery.pdf_type import BOLD, PLAIN, broken, in_type, with_type
from solander.delivery.plots import HEIGHT, INK, WIDTH, Box, Line, Plot, Text, as_svg

__all__ = ["ReportSheet", "report_html", "report_pdf"]

_STYLE = (
    "body{font:16px/1.45 sans-serif;max-width:60rem;margin:2rem auto;padding:0 1rem;"
    "color:#23201c;background:#ece8e1}"
    "main{background:#fbfaf7;padding:1.5rem}table{border-collapse:collapse;width:100%}"
    "td,th{text-align:left;padding:.15rem .5rem;border-bottom:1px solid #d6cfc3}td:nth-child(2){text-align:right}"
    ".plots{display:grid;grid-template-columns:repeat(auto-fit,minmax(16rem,1fr));gap:1rem}figure{margin:0}"
    "svg{width:100%;height:auto}@media print{body{background:none;margin:0}}"
)


@frozen
class ReportSheet:
    """All words and drawings of a report: its `title`, what stands `above` (sentences), the `rows` (name, figure
    with unit, level by the one table, by the other) under `heads`, `advice` in order under `advice_head`, `plots`,
    and what stands `below`."""

    title: str
    above: tuple[str, ...]
    heads: tuple[str, str, str, str]
    rows: tuple[tuple[str, str, str, str], ...]
    advice_head: str
    advice: tuple[str, ...]
    plots: tuple[Plot, ...]
    below: tuple[str, ...]
    language: str = "en"


def report_html(sheet: ReportSheet) -> str:
    """One page of HTML, with nothing from elsewhere in it."""
    above, below = (
        "".join(f"<p>{escape(one)}</p>" for one in sentences) for sentences in (sheet.above, sheet.below)
    )
    heads = "".join(f'<th scope="col">{escape(one)}</th>' for one in sheet.heads)
    rows = "".join("<tr>" + "".join(f"<td>{escape(one)}</td>" for one in row) + "</tr>" for row in sheet.rows)
    advice = "".join(f"<li>{escape(one)}</li>" for one in sheet.advice)
    steps = f"<h2>{escape(sheet.advice_head)}</h2><ol>{advice}</ol>" if advice else ""
    plots = "".join(
        f"<figure>{as_svg(plot)}<figcaption>{escape(plot.title)}</figcaption></figure>" for plot in sheet.plots
    )
    title = escape(sheet.title)
    return (
        f'<!doctype html><html lang="{escape(sheet.language)}"><head><meta charset="utf-8">'
        f'<meta name="viewport" content="width=device-width, initial-scale=1"><title>{title}</title>'
        f"<style>{_STYLE}</style></head><body><main><h1>{title}</h1>{above}{steps}"
        f'<table><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table><div class="plots">{plots}</div>'
        f"{below}</main></body></html>\n"
    )


def report_pdf(sheet: ReportSheet) -> bytes:
    """One page of A4; equal reports give equal bytes."""
    held = io.BytesIO()
    canvas = Canvas(held, pagesize=(210 * mm, 297 * mm), invariant=True, pageCompression=True, lang=sheet.language)
    canvas.setTitle(sheet.title)
    canvas.setAuthor("Solander")
    pen = _Pen(canvas)
    pen.words(sheet.title, 14, BOLD)
    for sentence in sheet.above:
        pen.words(sentence, 8.5)
    if sheet.advice:
        pen.words(sheet.advice_head, 10.5, BOLD)
    for number, step in enumerate(sheet.advice, 1):
        pen.words(f"{number}.  {step}", 8.5)
    pen.rows((sheet.heads, *sheet.rows))
    pen.plots(sheet.plots)
    for sentence in sheet.below:
        pen.words(sentence, 7)
    canvas.showPage()
    canvas.save()
    return held.getvalue()


class _Pen:
    """Writes down a page, in millimetres from its top."""

    def __init__(self, canvas: Canvas) -> None:
        self._canvas, self._down = canvas, 14.0
        with_type()

    def words(self, words: str, points: float, font: str = PLAIN) -> None:
        """A paragraph, broken where the page ends."""
        for line in broken(words, points, font, 178 * mm):
            self._line(line, points, font)
        self._down += 0.8

    def rows(self, rows: tuple[tuple[str, str, str, str], ...]) -> None:
        """The table, its first row bold."""
        self._down += 2
        for number, (name, value, one, other) in enumerate(rows):
            font = PLAIN if number else BOLD
            self._down += 4.2
            for x, words in ((16.0, name), (92.0, value), (138.0, one), (166.0, other)):
                self._text(x, self._down, words, 8, font)
        self._down += 2

    def plots(self, plots: tuple[Plot, ...]) -> None:
        """Two in a row."""
        wide = 74.0
        scale = wide / WIDTH
        for number, plot in enumerate(plots):
            left, top = 16 + (number % 2) * (wide + 18), self._down + (number // 2) * (HEIGHT * scale + 2)
            self._text(left, top + 4, plot.title, 8, BOLD)
            self._draw(plot, left, top + 3, scale)
        self._down += ((len(plots) + 1) // 2) * (HEIGHT * scale + 2) + 4

    def _draw(self, plot: Plot, left: float, top: float, scale: float) -> None:
        canvas = self._canvas

        def at(place: tuple[float, float]) -> tuple[float, float]:
            return (left + place[0] * scale) * mm, (297 - top - place[1] * scale) * mm

        for shape in plot.shapes:
            if isinstance(shape, Box):
                x, y = at((shape.at[0], shape.at[1] + shape.size[1]))
                canvas.setFillColor(HexColor(shape.colour))
                canvas.rect(x, y, shape.size[0] * scale * mm, shape.size[1] * scale * mm, stroke=0, fill=1)
            elif isinstance(shape, Line):
                self._polyline([at(place) for place in shape.points], shape, scale)
            else:
                self._plot_words(at(shape.at), shape, scale)

    def _polyline(self, points: list[tuple[float, float]], line: Line, scale: float) -> None:
        self._canvas.setStrokeColor(HexColor(line.colour))
        self._canvas.setLineWidth(line.wide * scale * mm)
        self._canvas.setDash([1.5 * mm, 1.2 * mm] if line.dashed else [])
        path = self._canvas.beginPath()
        path.moveTo(*points[0])
        for place in points[1:]:
            path.lineTo(*place)
        self._canvas.drawPath(path)

    def _plot_words(self, at: tuple[float, float], text: Text, scale: float) -> None:
        self._canvas.setFillColor(HexColor(INK))
        self._canvas.setFont(PLAIN, text.size * scale * mm)
        draw = {
            "start": self._canvas.drawString,
            "middle": self._canvas.drawCentredString,
            "end": self._canvas.drawRightString,
        }[text.anchor]
        draw(*at, in_type(text.words))

    def _line(self, words: str, points: float, font: str) -> None:
        self._down += points * 0.46
        self._text(16, self._down, words, points, font)

    def _text(self, x: float, down: float, words: str, points: float, font: str) -> None:
        self._canvas.setFillColor(HexColor(INK))
        self._canvas.setFont(font, points)
        self._canvas.drawString(x * mm, (297 - down) * mm, in_type(words))
