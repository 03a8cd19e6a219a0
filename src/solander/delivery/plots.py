"""The four plots of a stand's report, as shapes that a page and a PDF draw alike.

Convention: a plot is 100 wide and 70 high, x right, y down, from its top left; colours are hexadecimal sRGB.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from html import escape

from attrs import frozen

__all__ = [
    "HEIGHT",
    "INK",
    "WIDTH",
    "Box",
    "Line",
    "Plot",
    "Text",
    "as_svg",
    "colour_plot",
    "curve_plot",
    "light_plot",
    "tone_plot",
]

WIDTH, HEIGHT = 100.0, 70.0
LEFT, TOP, RIGHT, BOTTOM = 12.0, 6.0, 96.0, 60.0
INK, QUIET, ACCENT, WARNING, PAPER = "#23201c", "#6a645b", "#2c4a63", "#8b3a2b", "#fbfaf7"

Point = tuple[float, float]


@frozen
class Line:
    """A line through places; `dashed` tells a second one from the first, or what would be ideal."""

    points: tuple[Point, ...]
    colour: str = INK
    wide: float = 0.5
    dashed: bool = False


@frozen
class Box:
    """A filled rectangle."""

    at: Point
    size: Point
    colour: str


@frozen
class Text:
    """Words at a base line; `anchor` start, middle or end."""

    at: Point
    words: str
    anchor: str = "start"
    size: float = 3.4


@frozen
class Plot:
    """A drawing with its `title`; `told` says in words what it shows, for who can't see it."""

    title: str
    told: str
    shapes: tuple[Line | Box | Text, ...]


def tone_plot(title: str, tone: Sequence[Point]) -> Plot:
    """The lightness that was measured over the published one, six greys."""
    place = _placed((0, 100), (0, 100))
    ideal = Line((place((0, 0)), place((100, 100))), QUIET, 0.3, dashed=True)
    line = Line(tuple(place(one) for one in sorted(tone)), ACCENT, 0.8)
    dots = [_dot(place(one)) for one in tone]
    told = "; ".join(f"L* {a:.0f}: {b:.1f}" for a, b in tone)
    return Plot(title, told, (*_axes((0, 100), (0, 100), 25, "L*"), ideal, line, *dots))


def curve_plot(title: str, curves: Sequence[Sequence[Point]]) -> Plot:
    """Contrast by spatial frequency in cycles a pixel, up to half the sampling frequency."""
    place = _placed((0, 0.5), (0, 1.2))
    drawn = [
        Line(tuple(place((f, min(v, 1.2))) for f, v in curve), (ACCENT, WARNING)[i % 2], 0.8, dashed=i % 2 == 1)
        for i, curve in enumerate(curves)
    ]
    marks = [Line((place((0, level)), place((0.5, level))), QUIET, 0.2, dashed=True) for level in (0.5, 0.1)]
    told = "; ".join(", ".join(f"{f:g}: {v:.2f}" for f, v in curve[::4]) for curve in curves)
    return Plot(title, told, (*_axes((0, 0.5), (0, 1.2), 0.1, "c/px", down=0.2), *marks, *drawn))


def light_plot(title: str, cells: Sequence[Sequence[float | None]]) -> Plot:
    """The light over the frame: the darker a cell, the less."""
    rows, columns = len(cells), len(cells[0])
    side = min((RIGHT - LEFT) / columns, (BOTTOM - TOP) / rows)
    left = (WIDTH - side * columns) / 2
    known = [value for row in cells for value in row if value is not None]
    lowest = min(known)
    boxes = [
        Box((left + c * side, TOP + r * side), (side * 1.03, side * 1.03), _shade(value, lowest))
        for r, row in enumerate(cells)
        for c, value in enumerate(row)
        if value is not None
    ]
    scale = f"100 % – {100 * lowest:.0f} %"
    return Plot(title, scale, (*boxes, Text((WIDTH / 2, BOTTOM + 7), scale, "middle")))


def colour_plot(title: str, colours: Sequence[tuple[str, float]]) -> Plot:
    """Each patch in its measured colour with its ΔE2000, six in a row as on the chart."""
    wide, high = (RIGHT - 6) / 6, (BOTTOM - TOP + 6) / 4
    shapes: list[Box | Text] = []
    for number, (colour, error) in enumerate(colours):
        row, column = divmod(number, 6)
        x, y = 6 + column * wide, TOP + row * high
        shapes += [Box((x, y), (wide - 1, high - 6), colour)]
        shapes += [Text((x + (wide - 1) / 2, y + high - 2), f"{error:.1f}", "middle")]
    return Plot(title, ", ".join(f"{error:.1f}" for _colour, error in colours), tuple(shapes))


def as_svg(plot: Plot) -> str:
    """The plot as an SVG element, sized by whoever shows it; no style in it, so that strict pages take it."""
    shapes = "".join(_svg_shape(shape) for shape in plot.shapes)
    label = f"{plot.title}. {plot.told}"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH:g} {HEIGHT:g}" role="img" '
        f'aria-label="{escape(label)}"><rect width="{WIDTH:g}" height="{HEIGHT:g}" fill="{PAPER}"/>{shapes}</svg>'
    )


def _svg_shape(shape: Line | Box | Text) -> str:
    if isinstance(shape, Box):
        (x, y), (w, h) = shape.at, shape.size
        return f'<rect x="{x:.2f}" y="{y:.2f}" width="{w:.2f}" height="{h:.2f}" fill="{shape.colour}"/>'
    if isinstance(shape, Line):
        points = " ".join(f"{x:.2f},{y:.2f}" for x, y in shape.points)
        drawn = f'stroke="{shape.colour}" stroke-width="{shape.wide}"'
        dashes = ' stroke-dasharray="1.5 1.2"' if shape.dashed else ""
        return f'<polyline points="{points}" fill="none" {drawn}{dashes}/>'
    x, y = shape.at
    return (
        f'<text x="{x:.2f}" y="{y:.2f}" font-size="{shape.size}" fill="{INK}" text-anchor="{shape.anchor}">'
        f"{escape(shape.words)}</text>"
    )


def _placed(across: Point, up: Point) -> Callable[[Point], Point]:
    def place(value: Point) -> Point:
        x = LEFT + (value[0] - across[0]) / (across[1] - across[0]) * (RIGHT - LEFT)
        y = BOTTOM - (value[1] - up[0]) / (up[1] - up[0]) * (BOTTOM - TOP)
        return x, y

    return place


def _axes(across: Point, up: Point, step: float, unit: str, *, down: float | None = None) -> list[Line | Text]:
    place = _placed(across, up)
    shapes: list[Line | Text] = [
        Line((place((across[0], up[1])), place((across[0], up[0])), place((across[1], up[0]))), INK, 0.3)
    ]
    for number in range(round((across[1] - across[0]) / step) + 1):
        value = across[0] + number * step
        x, y = place((value, up[0]))
        shapes.append(Text((x, y + 4.5), f"{value:g}", "middle"))
    for number in range(round((up[1] - up[0]) / (down or step)) + 1):
        value = up[0] + number * (down or step)
        x, y = place((across[0], value))
        shapes.append(Text((x - 1.5, y + 1.2), f"{value:.2g}" if value < 10 else f"{value:g}", "end"))
    shapes.append(Text((RIGHT, BOTTOM + 9), unit, "end"))
    return shapes


def _dot(at: Point) -> Box:
    return Box((at[0] - 0.8, at[1] - 0.8), (1.6, 1.6), ACCENT)


def _shade(value: float, lowest: float) -> str:
    """White for all the light, dark for the least; less than 5 % is not spread out, so that even looks even."""
    range_ = max(1 - lowest, 0.05)
    level = round(245 - 190 * (1 - value) / range_)
    return f"#{level:02x}{level:02x}{max(0, level - 6):02x}"
