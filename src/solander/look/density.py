"""The rule for very many prints: how many there are of each year, and the way to each year.

A bar for each print would be a wall of a hundred thousand lines; what one looks for is where much lies and where
nothing does. The drawing needs no script: each year is a link of its full height, each decade one with its figure.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from solander.core.language import _, _n
from solander.look.ruler import Span

__all__ = ["density_svg", "span_of_years"]

_RULE, _TALLEST, _FOOT = 44, 40, 6


def span_of_years(years: Mapping[int, int]) -> Span | None:
    """Whole decades around all years that have prints; None where none has."""
    if not years:
        return None
    return Span(min(years) // 10 * 10, max(years) // 10 * 10 + 10)


def density_svg(years: Mapping[int, int], span: Span, address: Callable[[int], str]) -> str:
    """The rule with a bar hanging from it for each year, as long as the square root of its prints, so that a year
    of three is seen beside one of three thousand; `address` gives where a year leads to, escaped already."""
    label = _("How many prints there are of each year, and the way to them")
    drawn = "".join((*_decades(years, span, address), *_years(years, span, address)))
    paper = f'<rect class="rule-paper" width="100%" height="{_RULE}"/>'
    height = _RULE + _TALLEST + _FOOT
    return (
        f'<svg class="ruler density" width="100%" height="{height}" role="group" aria-label="{label}" '
        f'data-first="{span.first}" data-last="{span.last}">{paper}{_marks(span)}{drawn}</svg>'
    )


def _marks(span: Span) -> str:
    step = 1 if span.last - span.first <= 120 else 10
    return "".join(
        f'<line class="rule-mark" x1="{span.percent(year)}%" x2="{span.percent(year)}%" y1="0" '
        f'y2="{14 if year % 10 == 0 else 10 if year % 5 == 0 else 6}"/>'
        for year in range(span.first + step, span.last, step)
    )


def _decades(years: Mapping[int, int], span: Span, address: Callable[[int], str]) -> list[str]:
    """The figure of each decade; every second one steps back on a narrow page."""
    step = next(step for step in (10, 20, 50, 100, 500) if (span.last - span.first) / step <= 14)
    found = []
    for place, decade in enumerate(range(span.first, span.last, step)):
        css = ' class="when-wide"' if place % 2 else ""
        text = f'<text class="rule-figure" x="{span.percent(decade)}%" dx="5" y="34">{decade}</text>'
        there = any(years.get(year) for year in range(decade, decade + step))
        found.append(f'<a{css} href="{address(decade)}">{text}</a>' if there else f"<g{css}>{text}</g>")
    return found


def _years(years: Mapping[int, int], span: Span, address: Callable[[int], str]) -> list[str]:
    """Each year's bar, with a place to click as high as all bars; the tab key goes by decades only."""
    tallest = max(years.values(), default=1)
    wide, step = round(100 / (span.last - span.first), 3), 84 / (span.last - span.first)
    found = []
    for year, count in sorted(years.items()):
        left = span.percent(year)
        tall = round(3 + (_TALLEST - 3) * (count / tallest) ** 0.5, 1)
        prints = _n("%(num)s print", "%(num)s prints", count)
        told = f"{year}: {prints}"
        found.append(
            f'<a href="{address(year)}" tabindex="-1" data-year="{year}"><title>{told}</title>'
            f'<rect class="reach" x="{left}%" width="{wide}%" y="0" height="{_RULE + _TALLEST + _FOOT}"/>'
            f'<rect class="count" x="{span.percent(year + 0.08)}%" width="{round(step, 3)}%" y="{_RULE + 4}" '
            f'height="{tall}"/></a>'
        )
    return found
