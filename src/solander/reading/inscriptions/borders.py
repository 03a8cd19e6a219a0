"""Reads what a laboratory printed in the white border of a front: a date ("JUL . 63"), a number.

The four strips along the edges are cut out, each turned so that its edge lies at the foot, enlarged and looked at
together: from the whole picture letters of two millimetres are not found. Each find is read both ways round, for
laboratories printed towards the picture and away from it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import cv2
import numpy as np
from attrs import evolve, frozen
from numpy.typing import NDArray

from solander.core.inscriptions.borders import BorderDate, border_date, print_number
from solander.core.inscriptions.records import Corners, Line
from solander.reading.inscriptions.reader import InscriptionReader, LineRead, Patch, Rgb, cut_out

__all__ = ["BorderRead", "read_border"]

STRIP = 0.085
"""Share of the shorter side that a strip is wide: borders are 3 to 8 mm on prints of 9 cm (common practice)."""

THICK = 96
"""Pixels that strips are brought to: letters of 2 mm on 9 cm are then 25 high, three times as in a quick scan."""

LONGEST = 1088
"""Pixels after which a strip is laid in another row, so that what is looked at stays small."""

LAP = 160
"""Pixels that rows share, so that no date is cut in two."""

READ = 0.55
"""Score below which a line of the border is not believed."""

EXACT = 0.8
"""Score from which a date that needed no correction is likely; below it is a guess."""

CORRECTED = 0.7
"""Score that one which needed a correction must have at least."""


@frozen
class BorderRead:
    """What stands in the border: lines in pixels of the view, the date where there is one, numbers of a series."""

    lines: tuple[Line, ...] = ()
    date: BorderDate | None = None
    sure: float = 0.0
    numbers: tuple[str, ...] = ()


@frozen
class _Row:
    """A piece of a strip: its pixels, its place in the sheet, and the matrix from the sheet to the view."""

    top: int
    height: int
    to_view: NDArray[np.float64]


def read_border(rgb: Rgb, reader: InscriptionReader) -> BorderRead:
    """What a front's border says."""
    sheet, rows = _sheet(rgb)
    lines = _each_once([line for patch in reader.find(sheet) for line in _lines(sheet, rows, patch, reader)])
    dates = [(line.sure, date) for line in lines if (date := _believed(line))]
    sure, date = max(dates, key=lambda each: each[0], default=(0.0, None))
    if len({each.edtf for _, each in dates}) > 1:
        sure, date = 0.0, None
    numbers = dict.fromkeys(number for line in lines if line.sure >= READ and (number := print_number(line.text)))
    return BorderRead(tuple(lines), date, sure, tuple(numbers))


def _each_once(lines: list[Line]) -> list[Line]:
    """Without what was seen in two rows that overlap, or in two strips at a corner; the surer stays."""
    kept: list[Line] = []
    for line in sorted(lines, key=lambda line: -line.sure):
        if all(math.dist(line.centre, other.centre) > line.height for other in kept):
            kept.append(line)
    return kept


def _believed(line: Line) -> BorderDate | None:
    date = border_date(line.text)
    if date is None or line.sure < (READ if date.exact else CORRECTED):
        return None
    return date


def _sheet(rgb: Rgb) -> tuple[Rgb, list[_Row]]:
    """The strips below each other, in pieces, and where each came from."""
    height, width = rgb.shape[:2]
    thick = max(8, round(STRIP * min(height, width)))
    scale = THICK / thick
    rows: list[_Row] = []
    pieces: list[Rgb] = []
    for turn in range(4):
        along = width if turn % 2 == 0 else height
        for begin, end in _stretches(along, scale):
            to_view = _strip_to_view(turn, width, height, thick=thick) @ np.array(
                [[1 / scale, 0, begin], [0, 1 / scale, 0], [0, 0, 1]], np.float64
            )
            size = (round((end - begin) * scale), THICK)
            pieces.append(_taken(rgb, to_view, size))
            rows.append(_Row(len(rows) * (THICK + _BETWEEN), THICK, to_view))
    return _laid(pieces), rows


_BETWEEN = 32
"""Pixels of paper between two rows."""


def _stretches(along: int, scale: float) -> Iterator[tuple[float, float]]:
    """Pieces of a strip, in pixels of the view, that overlap."""
    longest, lap = LONGEST / scale, LAP / scale
    count = max(1, int(np.ceil((along - lap) / (longest - lap))))
    step = (along - longest) / (count - 1) if count > 1 else 0.0
    for number in range(count):
        yield number * step, min(along, number * step + longest)


def _strip_to_view(turn: int, width: int, height: int, *, thick: int) -> NDArray[np.float64]:
    """From a strip, its outer edge at the foot, to the view: bottom, left, top, right."""
    right, low = width - 1.0, height - 1.0
    return np.array(
        (
            [[1, 0, 0], [0, 1, height - thick], [0, 0, 1]],
            [[0, -1, thick - 1.0], [1, 0, 0], [0, 0, 1]],
            [[-1, 0, right], [0, -1, thick - 1.0], [0, 0, 1]],
            [[0, 1, width - thick], [-1, 0, low], [0, 0, 1]],
        )[turn],
        np.float64,
    )


def _taken(rgb: Rgb, to_view: NDArray[np.float64], size: tuple[int, int]) -> Rgb:
    return np.asarray(
        cv2.warpPerspective(
            rgb,
            to_view,
            size,
            flags=cv2.INTER_CUBIC | cv2.WARP_INVERSE_MAP,
            borderMode=cv2.BORDER_REPLICATE,
        ),
        np.uint8,
    )


def _laid(pieces: list[Rgb]) -> Rgb:
    """One below the other on the colour of the lightest paper."""
    wide = max(piece.shape[1] for piece in pieces)
    ground = np.percentile(np.concatenate([piece[-8:].reshape(-1, 3) for piece in pieces]), 75, axis=0)
    sheet = np.empty((len(pieces) * (THICK + _BETWEEN), wide, 3), np.uint8)
    sheet[:] = ground.astype(np.uint8)
    for number, piece in enumerate(pieces):
        top = number * (THICK + _BETWEEN)
        sheet[top : top + THICK, : piece.shape[1]] = piece
    return sheet


def _lines(sheet: Rgb, rows: list[_Row], patch: Patch, reader: InscriptionReader) -> Iterator[Line]:
    """The line of a patch that runs along its strip, read the way round that reads better."""
    quad = np.asarray(patch.corners)
    row = next((row for row in rows if row.top <= quad[:, 1].mean() < row.top + row.height), None)
    if row is None or abs(quad[1, 1] - quad[0, 1]) > abs(quad[1, 0] - quad[0, 0]):
        return
    backwards: Corners = (*patch.corners[2:], *patch.corners[:2])
    one, other = reader.read([cut_out(sheet, patch.corners), cut_out(sheet, backwards)])
    read, corners = (one, patch.corners) if _better(one, other) else (other, backwards)
    if read.text:
        placed = _in_view(corners, row)
        yield evolve(Line(read.words, placed, read.sure), also=other.text if read is one else one.text)


def _better(one: LineRead, other: LineRead) -> bool:
    """A date that needs no correction goes before a better score: upside down much is a word as well."""
    return _standing(one) >= _standing(other)


def _standing(read: LineRead) -> tuple[bool, float]:
    date = border_date(read.text)
    return date is not None and date.exact, read.sure


def _in_view(corners: Corners, row: _Row) -> Corners:
    points = np.array([[x, y - row.top, 1.0] for x, y in corners]) @ row.to_view.T
    first, second, third, fourth = ((float(x), float(y)) for x, y, _ in points)
    return first, second, third, fourth
