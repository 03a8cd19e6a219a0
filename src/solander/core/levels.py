"""What a stand's figures are worth by the published levels, and which one decides.

Sources: FADGI, Technical Guidelines for Digitizing Cultural Heritage Materials, 2016, the table of "Prints and
Photographs" (1 to 4 stars); ISO 19264-1:2021 (levels C, B, A), whose numbers are taken from a published table of
comparison, not from the standard itself. Each figure is judged by itself, the worst decides, and nothing is
averaged; what was not measured is named and stands outside any level.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from math import isfinite

from attrs import field, frozen

from solander.core.language import marked

__all__ = ["FADGI", "FIGURE_NAMES", "ISO", "Figure", "Judged", "Scheme", "judged"]


class Figure(StrEnum):
    """What is measured of a stand; the names are those of `--json`."""

    SAMPLING = "sampling_ppi"
    TONE = "tone_error"
    WHITE_BALANCE = "white_balance"
    HIGHLIGHTS = "gain_highlights"
    GAIN = "gain_lowest"
    GAIN_HIGH = "gain_highest"
    COLOUR_MEAN = "colour_mean"
    COLOUR_MAX = "colour_max"
    UNEVENNESS = "unevenness"
    NOISE = "noise"
    MTF50 = "mtf50_share"
    MTF10 = "mtf10_efficiency"
    AT_HALF = "response_at_half"
    SHARPENING = "sharpening"
    MISREGISTRATION = "misregistration"
    TILT = "tilt_deg"
    LENS = "lens_shift"


FIGURE_NAMES: Mapping[Figure, tuple[str, str]] = {
    Figure.SAMPLING: (marked("Sampling"), marked("pixels an inch")),
    Figure.TONE: (marked("Tone error, greys"), "L*"),
    Figure.WHITE_BALANCE: (marked("White balance, greys"), "ΔE (a*b*)"),
    Figure.HIGHLIGHTS: (marked("Contrast between the lightest greys"), "×"),
    Figure.GAIN: (marked("Contrast between other greys, lowest"), "×"),
    Figure.GAIN_HIGH: (marked("Contrast between other greys, highest"), "×"),
    Figure.COLOUR_MEAN: (marked("Colour error, mean"), "ΔE2000"),
    Figure.COLOUR_MAX: (marked("Colour error, largest"), "ΔE2000"),
    Figure.UNEVENNESS: (marked("Uneven light, of the brightest place"), "%"),
    Figure.NOISE: (marked("Noise, greys"), "L*"),
    Figure.MTF50: (marked("Contrast falls to half, of half the sampling frequency"), "%"),
    Figure.MTF10: (marked("Sampling efficiency (contrast a tenth)"), "%"),
    Figure.AT_HALF: (marked("Contrast at half the sampling frequency"), "×"),
    Figure.SHARPENING: (marked("Sharpening, highest contrast"), "×"),
    Figure.MISREGISTRATION: (marked("Red or blue beside green"), "px"),
    Figure.TILT: (marked("Tilt of the camera"), "°"),
    Figure.LENS: (marked("Lens moves the corners, of the diagonal"), "%"),
}
"""What each is called on paper and screens, and its unit."""


@frozen
class Bounds:
    """What one figure must keep: at least `low`, at most `high`; under `strict` the bound itself fails."""

    low: float | None = None
    high: float | None = None
    strict: bool = False

    def holds(self, value: float) -> bool:
        """Whether a figure is within."""
        if self.low is not None and (value <= self.low if self.strict else value < self.low):
            return False
        return self.high is None or (value < self.high if self.strict else value <= self.high)


@frozen
class Scheme:
    """A published table: its `source`, and its `levels` from the lowest to the highest with their `names`."""

    name: str
    source: str
    names: tuple[str, ...]
    levels: tuple[Mapping[Figure, Bounds], ...]

    def level_of(self, figure: Figure, value: float) -> int | None:
        """The highest level that a figure keeps, 0 where it keeps none; None where the table does not judge it."""
        asked = [level[figure] for level in self.levels if figure in level]
        if not asked:
            return None
        kept = 0
        for number, bounds in enumerate(asked, len(self.levels) - len(asked) + 1):
            if not bounds.holds(value):
                break
            kept = number
        return kept

    def name_of(self, level: int) -> str:
        """The name of a level, counted from 1; of 0, that it is below all."""
        return self.names[level - 1] if level else marked("below all levels")

    @property
    def figures(self) -> tuple[Figure, ...]:
        """Everything that the table judges."""
        return tuple(figure for figure in Figure if any(figure in level for level in self.levels))


@frozen
class Judged:
    """A stand by one scheme: the `level` that the worst figure allows (None where nothing was measured), `each`
    figure's own, what `decides` (those at the lowest level), and what was `unmeasured`."""

    scheme: Scheme
    level: int | None
    each: Mapping[Figure, int] = field(factory=dict)
    decides: tuple[Figure, ...] = ()
    unmeasured: tuple[Figure, ...] = ()

    @property
    def name(self) -> str:
        """The level's name, empty where nothing was measured."""
        return "" if self.level is None else self.scheme.name_of(self.level)

    @property
    def is_whole(self) -> bool:
        """Whether all that the table judges was measured, so that the level may be claimed."""
        return not self.unmeasured


def judged(figures: Mapping[Figure, float], scheme: Scheme) -> Judged:
    """The figures by one table; the worst decides. One that is no finite number was not measured."""
    each = {
        figure: level
        for figure, value in figures.items()
        if isfinite(value) and (level := scheme.level_of(figure, value)) is not None
    }
    unmeasured = tuple(figure for figure in scheme.figures if figure not in each)
    if not each:
        return Judged(scheme, None, unmeasured=unmeasured)
    worst = min(each.values())
    return Judged(scheme, worst, each, tuple(f for f in Figure if each.get(f) == worst), unmeasured)


def _most(*values: float, strict: bool = False) -> list[Bounds]:
    return [Bounds(high=value, strict=strict) for value in values]


def _least(*values: float, strict: bool = False) -> list[Bounds]:
    return [Bounds(low=value, strict=strict) for value in values]


def _between(*pairs: tuple[float, float]) -> list[Bounds]:
    return [Bounds(low, high) for low, high in pairs]


def _levels(table: Mapping[Figure, list[Bounds]]) -> tuple[Mapping[Figure, Bounds], ...]:
    number = len(next(iter(table.values())))
    return tuple({figure: bounds[level] for figure, bounds in table.items()} for level in range(number))


FADGI = Scheme(
    "FADGI 2016",
    marked("FADGI, Technical Guidelines, 2016, Prints and Photographs"),
    (marked("1 star"), marked("2 stars"), marked("3 stars"), marked("4 stars")),
    _levels(
        {
            Figure.SAMPLING: _least(100, 200, 400, 600),
            Figure.TONE: _most(8, 6, 4, 2),
            Figure.WHITE_BALANCE: _most(8, 6, 4, 2),
            Figure.UNEVENNESS: _most(8, 5, 3, 1, strict=True),
            Figure.COLOUR_MEAN: _most(10, 6, 4, 2, strict=True),
            Figure.MISREGISTRATION: _most(1.2, 0.8, 0.5, 0.33, strict=True),
            Figure.MTF10: _least(60, 70, 80, 90, strict=True),
            Figure.AT_HALF: _most(0.4, 0.4, 0.3, 0.2, strict=True),
            Figure.MTF50: _between((25, 95), (30, 85), (35, 75), (40, 65)),
            Figure.SHARPENING: [*_most(1.3, 1.2, 1.1, strict=True), Bounds(high=1.0)],
            Figure.NOISE: _most(4, 3, 2, 1),
        }
    ),
)
"""Not judged of that table: bit depth and colour mode (a file's own), reproduction scale (needs a ruler)."""

ISO = Scheme(
    "ISO 19264-1",
    marked("ISO 19264-1:2021, by a published table of comparison"),
    (marked("level C"), marked("level B"), marked("level A")),
    _levels(
        {
            Figure.TONE: _most(4, 3, 2),
            Figure.HIGHLIGHTS: _between((0.6, 1.3), (0.7, 1.2), (0.8, 1.1)),
            Figure.GAIN: _least(0.3, 0.6, 0.7),
            Figure.GAIN_HIGH: _most(1.6, 1.4, 1.3),
            Figure.WHITE_BALANCE: _most(5, 4, 3),
            Figure.COLOUR_MEAN: _most(5, 5, 4),
            Figure.COLOUR_MAX: _most(15, 15, 10),
            Figure.NOISE: _most(2.2, 2, 1.6),
            Figure.MTF10: _least(70, 80, 85),
        }
    ),
)
"""The rows that the table of comparison gives; evenness, sampling and others are in the standard, not in it."""
