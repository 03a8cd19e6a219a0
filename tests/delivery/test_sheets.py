"""The stage sheet, rendered by PDFium and measured: an outside program says where the ink is."""

from __future__ import annotations

import numpy as np
import pytest
from attrs import frozen
from numpy.typing import NDArray

from solander.delivery.sheets import PAPERS_MM, Pattern, stage_sheet
from solander.imaging.sheet import FIELD_MM, PATTERN_MM, pattern, read_sheet

pytestmark = pytest.mark.slow

pdfium = pytest.importorskip("pypdfium2", reason="PDFium is not installed: the sheet is not measured")

DPI = 300
TRUE_MM = {"a4": (210.0, 297.0), "letter": (8.5 * 25.4, 11 * 25.4)}  # ISO 216; ANSI/ASME Y14.1
TOP_MM = 15.0


@frozen(eq=False)
class Rendered:
    """A page's ink (0–1) and colours; `scale` in pixels per millimetre: PDFium fills whole pixels."""

    paper: str
    rgb: NDArray[np.uint8]
    points: tuple[float, float]

    @property
    def ink(self) -> NDArray[np.float64]:
        return 1 - self.rgb[..., 0] / 255.0

    @property
    def scale(self) -> NDArray[np.float64]:
        return np.array(self.rgb.shape[1::-1]) / self.points * 72 / 25.4

    @property
    def left(self) -> float:
        return (TRUE_MM[self.paper][0] - PATTERN_MM[0]) / 2

    def row(self, y_mm: float) -> NDArray[np.float64]:
        """Begin and end (mm) of the stretches of ink at a height."""
        return stretches(self.ink[int(y_mm * self.scale[1])]) / self.scale[0]

    def column(self, x_mm: float) -> NDArray[np.float64]:
        return stretches(self.ink[:, int(x_mm * self.scale[0])]) / self.scale[1]


def stretches(line: NDArray[np.float64]) -> NDArray[np.float64]:
    """Begin and end (px from the outer edge, to sub-pixels) of each stretch of ink, shape (n, 2)."""
    dark = np.concatenate([[0], line > 0.02, [0]]).astype(int)
    bounds = np.flatnonzero(np.diff(dark)).reshape(-1, 2)
    return np.array([[a + 1 - line[a], b - 1 + line[b - 1]] for a, b in bounds])


@pytest.fixture(scope="module", params=sorted(PAPERS_MM))
def sheet(request: pytest.FixtureRequest) -> Rendered:
    document = pdfium.PdfDocument(stage_sheet(request.param, Pattern(pattern(), PATTERN_MM, FIELD_MM)))
    rgb = document[0].render(scale=DPI / 72, rev_byteorder=True).to_numpy()[..., :3].copy()
    return Rendered(request.param, rgb, document[0].get_size())


def test_the_page_has_the_size_of_the_paper(sheet: Rendered) -> None:
    assert np.array(sheet.points) / 72 * 25.4 == pytest.approx(TRUE_MM[sheet.paper], abs=0.005)


def test_the_check_line_measures_100_mm(sheet: Rendered) -> None:
    rows = [sheet.row(TOP_MM + PATTERN_MM[1] + 13 + off) for off in (-0.1, -0.05, 0.0, 0.05, 0.1)]
    first = [row[0] for row in rows]
    begin, end = max(first, key=np.ptp)
    # The end ticks are 0.2 mm wide, their middles on 0 and 100 mm; a pixel has 0.085 mm.
    assert end - begin == pytest.approx(100.2, abs=0.02)
    assert begin == pytest.approx(sheet.left - 0.1, abs=0.05)


def test_millimetres_and_inches_are_true_along_the_whole_rulers(sheet: Rendered) -> None:
    across = sheet.row(TOP_MM - 1.5).mean(axis=1) - sheet.left
    down = sheet.column(sheet.left - 1.5).mean(axis=1) - TOP_MM
    sixteenths = sheet.column(sheet.left + PATTERN_MM[0] + 1.4).mean(axis=1) - TOP_MM
    assert across == pytest.approx(np.arange(181.0), abs=0.05)
    assert down[down < 230.5] == pytest.approx(np.arange(231.0), abs=0.05)
    assert sixteenths[(sixteenths > -0.5) & (sixteenths < 230.5)] == pytest.approx(
        np.arange(145.0) * 25.4 / 16, abs=0.05
    )


def test_the_pattern_lies_where_the_reader_expects_it(sheet: Rendered) -> None:
    seen = read_sheet(sheet.rgb)
    assert seen is not None
    assert len(seen.mm) == 2 * (17 + 22) - 4  # one ring of corners between the two rings of squares
    expected = (seen.mm + np.array([sheet.left, TOP_MM])) * sheet.scale - 0.5
    assert np.abs(seen.px - expected).max() < 0.15


def test_nothing_is_printed_where_printers_do_not_reach(sheet: Rendered) -> None:
    left = int(4.2 * sheet.scale[0])  # most printers leave 3 to 4.2 mm white (common practice, no source)
    held = sheet.ink
    held[left:-left, left:-left] = 0
    assert held.max() == 0


def test_the_same_sheet_has_the_same_bytes() -> None:
    printed = Pattern(pattern(), PATTERN_MM, FIELD_MM)
    assert stage_sheet("a4", printed) == stage_sheet("a4", printed)
