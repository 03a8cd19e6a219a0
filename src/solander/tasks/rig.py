"""How good a stand is: what pictures of a chart, an edge, a blank sheet or the stage sheet tell of it."""

from __future__ import annotations

import hashlib
import math
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

from solander.core.errors import NotFound
from solander.core.language import marked
from solander.core.levels import Figure
from solander.core.sentence import Sentence
from solander.imaging.chart import GREYS, ChartSeen, noise_of, read_chart
from solander.imaging.colour import difference
from solander.imaging.decode import FileFacts, Unreadable, decode, probe
from solander.imaging.evenness import Blank, read_blank
from solander.imaging.in_view import USUAL_FOCAL
from solander.imaging.lens import lens_from_sheets
from solander.imaging.linear_light import linear
from solander.imaging.locate import locate_prints
from solander.imaging.rectify import straight_size
from solander.imaging.scale import plane_of_sheet
from solander.imaging.sheet import read_sheet
from solander.imaging.slanted_edge import Response, sharpest
from solander.tasks.prepare import set_aside

__all__ = ["BLANK", "CHART", "EDGE", "SHEET", "Looked", "all_figures", "look_at"]

Rgb = NDArray[np.uint8]

CHART, EDGE, BLANK, SHEET = (
    marked("a chart of 24 patches"),
    marked("a slanted edge"),
    marked("a blank sheet"),
    marked("the stage sheet"),
)

LEAST_IS_WORST = {Figure.SAMPLING, Figure.MTF10, Figure.GAIN}
"""Figures of which, of several pictures, the lowest counts; of all others the highest."""

PAPERS_IN = {math.sqrt(2): 297 / 25.4, 11 / 8.5: 11.0}
"""Long side of A4 (ISO 216) and Letter in inches, by their aspect."""

SAME_ASPECT = 0.012

BARE = 0.9
"""Share of the frame that is blank from which no chart is looked for: it would not fit."""


@frozen(eq=False)
class Looked:
    """One picture: what it `shows`, the `figures` it tells, and what plots and profile are made from.

    `curves` are responses by frequency in cycles a pixel, across and down.
    """

    name: str
    sha256: str
    facts: FileFacts
    shows: tuple[str, ...]
    figures: Mapping[Figure, float]
    chart: ChartSeen | None = None
    blank: Blank | None = None
    curves: Sequence[Response] = field(factory=tuple)


def look_at(image: Path) -> Looked:
    """What a picture tells of the stand that it was taken at.

    Raises
    ------
    Trouble
        When it is missing, can't be read, or shows nothing that tells of a stand.
    """
    facts, rgb, sha256 = _read(image)
    figures: dict[Figure, float] = {Figure.SAMPLING: facts.dpi} if facts.dpi else {}
    shows: list[str] = []
    if of_sheet := _sheet_figures(rgb, facts):
        shows.append(SHEET)
        figures |= of_sheet
    blank = None if of_sheet else read_blank(rgb)
    bare = blank is not None and blank.share > BARE
    chart = None if of_sheet or bare else read_chart(rgb)
    if chart is not None:
        shows.append(CHART)
        figures |= chart_figures(chart)
    blank = None if shows else blank
    if blank is not None:
        shows.append(BLANK)
        figures |= {Figure.UNEVENNESS: blank.unevenness, Figure.NOISE: _paper_noise(rgb, blank)}
        figures |= {} if facts.dpi else _paper_sampling(rgb)
    curves = sharpest(linear(rgb))
    if curves:
        shows.append(EDGE)
        figures |= edge_figures(curves)
    if not shows:
        raise NotFound(
            Sentence("%(name)s tells nothing of the stand", name=image.name),
            Sentence("no chart, slanted edge, blank sheet or stage sheet was seen in it"),
            Sentence(
                "Lay one of them flat, turned by about five degrees, so that it fills most of the picture, sharp "
                "and not too bright"
            ),
        )
    return Looked(image.name, sha256, facts, tuple(shows), figures, chart, blank, curves)


def all_figures(looked: Iterable[Looked]) -> dict[Figure, float]:
    """Each figure over several pictures: the worst of them."""
    worst: dict[Figure, float] = {}
    for one in looked:
        for figure, value in one.figures.items():
            pick = min if figure in LEAST_IS_WORST else max
            worst[figure] = pick(worst.get(figure, value), value)
    softest = [one.figures[Figure.MTF50] for one in looked if Figure.MTF50 in one.figures]
    return worst | ({Figure.MTF50: min(softest)} if softest else {})


def chart_figures(chart: ChartSeen) -> dict[Figure, float]:
    """Tone, white balance, contrast, colour and noise of a chart; ISO 19264-1's and FADGI's definitions."""
    lab, reference = chart.lab, chart.reference
    away = lab - reference
    gains = np.diff(lab[GREYS, 0]) / np.diff(reference[GREYS, 0])
    errors = difference(lab, reference)
    return {
        Figure.TONE: float(np.abs(away[GREYS, 0]).max()),
        Figure.WHITE_BALANCE: float(np.hypot(away[GREYS, 1], away[GREYS, 2]).max()),
        Figure.HIGHLIGHTS: float(gains[0]),
        Figure.GAIN: float(gains[1:].min()),
        Figure.GAIN_HIGH: float(gains[1:].max()),
        Figure.COLOUR_MEAN: float(errors.mean()),
        Figure.COLOUR_MAX: float(errors.max()),
        Figure.NOISE: float(chart.noise[GREYS].max()),
    }


def edge_figures(curves: Sequence[Response]) -> dict[Figure, float]:
    """Sharpness of the softer direction, sharpening and channels of the worse one."""
    half = 0.5
    tenth = [min(1.0, f / half) if math.isfinite(f := one.falls_to(0.1)) else 1.0 for one in curves]
    return {
        Figure.MTF50: 100 * min(one.falls_to(0.5) for one in curves) / half,
        Figure.MTF10: 100 * min(tenth),
        Figure.AT_HALF: max(one.at_frequency(half) for one in curves),
        Figure.SHARPENING: round(max(one.highest for one in curves), 3),
        Figure.MISREGISTRATION: max(one.misregistration for one in curves),
    }


def _read(image: Path) -> tuple[FileFacts, Rgb, str]:
    if not image.is_file():
        raise NotFound(
            Sentence("%(path)s could not be read", path=image),
            Sentence("there is no such file"),
            Sentence("Check the name"),
        )
    try:
        return probe(image), decode(image), hashlib.sha256(image.read_bytes()).hexdigest()
    except Unreadable as reason:
        raise set_aside(str(image), reason) from reason


def _sheet_figures(rgb: Rgb, facts: FileFacts) -> dict[Figure, float]:
    seen = read_sheet(rgb)
    fit = lens_from_sheets([seen]) if seen else None
    plane = plane_of_sheet(seen, fit.lens) if seen and fit else None
    if fit is None or plane is None:
        return {}
    return {
        Figure.SAMPLING: plane.px_per_mm() * 25.4,
        Figure.TILT: plane.tilt_deg(facts.focal or USUAL_FOCAL),
        Figure.LENS: abs(fit.lens.shift_at_corner()),
    }


def _paper_sampling(rgb: Rgb) -> dict[Figure, float]:
    """From an ordinary sheet of A4 or Letter that lies whole within the frame."""
    found = locate_prints(rgb)
    if len(found) != 1 or found[0].confidence < 0.5:
        return {}
    width, height = straight_size(found[0].corners, frame=(rgb.shape[1], rgb.shape[0]))
    aspect = max(width, height) / min(width, height)
    for known, inches in PAPERS_IN.items():
        if abs(aspect / known - 1) < SAME_ASPECT:
            return {Figure.SAMPLING: max(width, height) / inches}
    return {}


def _paper_noise(rgb: Rgb, blank: Blank) -> float:
    """The median over pieces of 48 pixels in the blank cells; the paper's own grain counts as noise."""
    rows, columns = blank.luminance.shape
    told = []
    for row, column in np.argwhere(np.isfinite(blank.luminance))[:: max(1, rows * columns // 60)]:
        y, x = (row + 0.5) * rgb.shape[0] / rows, (column + 0.5) * rgb.shape[1] / columns
        top, left = max(0, int(y) - 24), max(0, int(x) - 24)
        told.append(noise_of(linear(np.ascontiguousarray(rgb[top : top + 48, left : left + 48])).astype(float)))
    return float(np.median(told))
