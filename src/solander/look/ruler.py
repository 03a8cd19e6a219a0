"""Years as a measuring rule, in SVG: a bar for what is possible, a tick for the best guess.

Conventions
-----------
Bars are in days (`solander.core.days`), the rule is in years. Time runs left to right. All x are percentages of
the drawing's width, so that the rule may be as wide as its page while figures and strokes keep their size; all y
are pixels from the top. Colours come from the page's style sheet by class; a drawing that stands alone carries
its own. This drawing needs no script; `ruler_figure` wraps it for pages where one may come closer.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from html import escape
from itertools import count

from attrs import frozen

from solander.core.days import day, day_of_text, from_day, is_leap
from solander.core.descriptions import DescribedPrint, When
from solander.core.language import _
from solander.look.words import prints_in_words, when_words

__all__ = [
    "BARS_AT_MOST",
    "RulerBar",
    "Span",
    "bar_named",
    "bar_of",
    "bars_svg",
    "counts_svg",
    "day_of",
    "rule_svg",
    "ruler_svg",
    "span_of",
    "strip_of_days",
    "strip_svg",
    "year_of",
    "year_words",
]

BARS_AT_MOST = 60
"""More prints than this are counted by year, not drawn one by one: 60 bars stack to about 300 px, what a
1440 × 900 screen can give while prints still show below (looked at, not measured)."""

GUESS_MARGIN = 12
"""Years that the rule goes on beyond the outermost best guess; wider ranges run off its end and fade."""

_LANE, _BAR, _TICK = 9, 5, 11
_RULE_HEIGHT = 44

# Signs that XML 1.0 does not allow at all, escaped or not (source: its production "Char").
_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")

_STANDALONE_STYLE = """
.rule-paper{fill:#FBFAF7}.rule-mark{stroke:#6A645B;stroke-width:1}.rule-edge{stroke:#D6CFC3;stroke-width:1}
.rule-figure{fill:#23201C;font:16px Literata,Georgia,serif}.bar,.count,.likely{fill:#2C4A63;fill-opacity:.38}
.unknown{fill:#2C4A63;fill-opacity:.1}
.fade-on{stop-color:#2C4A63;stop-opacity:.38}.fade-off{stop-color:#2C4A63;stop-opacity:0}
.guess{stroke:#23201C;stroke-width:2}.clash-line{stroke:#8B3A2B;stroke-width:2}.clash-edge{stroke:#8B3A2B;fill:none}
.table{fill:#ECE8E1}.said{fill:#23201C;font:16px sans-serif}
"""


@frozen
class RulerBar:
    """One print on the rule, in days; None where open or unknown.

    `earliest` and `latest` are the first and last day that are possible, `likely_from` and `likely_to` those of
    the range that holds the day nine times in ten; `contradicts` says what was left out, for it can't be true as
    well.
    """

    name: str
    words: str
    earliest: int | None
    latest: int | None
    guess: int | None
    contradicts: str = ""
    likely_from: int | None = None
    likely_to: int | None = None

    @property
    def title(self) -> str:
        """What the bar says when pointed at."""
        said = f"{self.name}: {self.words}"
        if not self.contradicts:
            return said
        return _("%(said)s (cannot be true together with: %(others)s)", said=said, others=self.contradicts)


@frozen
class Span:
    """The years that a rule shows, whole decades; `first` < `last`."""

    first: int
    last: int

    @property
    def days(self) -> tuple[int, int]:
        """The first day shown and the first one after the end."""
        return day(self.first, 1, 1), day(self.last, 1, 1)

    def percent(self, year: float) -> float:
        """Where a year lies, 0 at the left end and 100 at the right, cut off at both."""
        share = (year - self.first) / (self.last - self.first)
        return round(100 * min(1.0, max(0.0, share)), 3)


def day_of(text: str | None) -> int | None:
    """The day `YYYY-MM-DD` as a number; None stays None.

    >>> day_of("0001-01-01")
    1
    """
    return None if text is None else day_of_text(text)


def year_of(number: int) -> float:
    """The beginning of a day as a decimal year.

    >>> year_of(day(1958, 1, 1))
    1958.0
    """
    year, _, _ = from_day(number)
    return round(year + (number - day(year, 1, 1)) / (366 if is_leap(year) else 365), 4)


def year_words(year: int) -> str:
    """The year as a person writes it; years before 1 count back from 1 BC (ISO 8601 has a year 0).

    >>> year_words(1958), year_words(-43)
    ('1958', '44 BC')
    """
    return str(year) if year > 0 else f"{1 - year} BC"


def bar_of(described: DescribedPrint) -> RulerBar:
    """The bar of a print."""
    return bar_named(described.print.accession, described.when)


def bar_named(name: str, when: When) -> RulerBar:
    """The bar of a date under that name."""
    likely_from, likely_to = when.likely or (None, None)
    return RulerBar(
        name,
        when_words(when),
        day_of(when.earliest),
        day_of(when.latest),
        day_of(when.guess),
        "; ".join(when.contradicts),
        day_of(likely_from),
        day_of(likely_to),
    )


def span_of(bars: Iterable[RulerBar]) -> Span | None:
    """Whole decades around all best guesses and near bounds; None when no bar has any."""
    bars = list(bars)
    guesses = [year_of(bar.guess) for bar in bars if bar.guess is not None]
    bounds = [year_of(bound) for bar in bars for bound in (bar.earliest, bar.latest) if bound is not None]
    if not guesses and not bounds:
        return None
    near = guesses or bounds
    low, high = min(near) - GUESS_MARGIN, max(near) + GUESS_MARGIN
    shown = [*near, *(bound for bound in bounds if low <= bound <= high)]
    first = int(min(shown) // 10 * 10)
    return Span(first, int(max(shown) // 10 * 10) + 10)


def ruler_svg(
    bars: Sequence[RulerBar],
    *,
    links: Mapping[int, str] | None = None,
    span: Span | None = None,
    standalone: bool = False,
) -> str:
    """The rule with one bar a print below it, in the order given; an empty text when nothing is dated.

    More than `BARS_AT_MOST` prints are counted by year, one bar for each.
    `links` gives an address for the decades that have one (by first year); `standalone` adds the document's
    head, colours and a fixed width, for a file of its own.
    """
    span = span or span_of(bars)
    if span is None:
        return ""
    body, height = _years(bars, span) if len(bars) > BARS_AT_MOST else _bars(bars, span)
    total = _RULE_HEIGHT + height
    label = _(
        "%(prints)s from %(first)s to %(last)s, each with the years that are possible",
        prints=prints_in_words(len(bars)),
        first=year_words(span.first),
        last=year_words(span.last),
    )
    drawing = [_rule(span, links or {}), body]
    return _framed(drawing, total, label=label, standalone=standalone)


def counts_svg(counts: Mapping[int, int], span: Span) -> str:
    """The rule with the number of prints of each year hanging from it, as a picture that nobody need see: whoever
    uses it says the numbers beside it."""
    body, height = _hanging(counts, span)
    total = _RULE_HEIGHT + height
    drawn = f"{_rule(span, {})}{body}"
    return f'<svg class="ruler" width="100%" height="{total}" aria-hidden="true" focusable="false">{drawn}</svg>'


def bars_svg(bars: Sequence[RulerBar], *, span: Span, label: str, above: str = "") -> str:
    """The rule with `above`, a drawing 20 pixels high, hanging from it, and under that a bar for each print, or
    their number by year where they are many. `label` says what it is; it is escaped already."""
    body, height = _years(bars, span) if len(bars) > BARS_AT_MOST else _bars(bars, span)
    drawn = f'{_rule(span, {})}{above}<svg y="20" width="100%" overflow="visible">{body}</svg>'
    head = f'width="100%" class="ruler" height="{_RULE_HEIGHT + 20 + height}" role="img" aria-label="{label}"'
    return f"<svg {head}>{_DEFINITIONS}{drawn}</svg>"


def strip_svg(when: When, span: Span | None) -> str:
    """A slip's upper edge: the same years as on the rule, without figures, and the print's own bar."""
    if span is None:
        return ""
    return _strip(bar_named("", when), span)


def _strip(bar: RulerBar, span: Span) -> str:
    decades = [_line("rule-mark", span.percent(year), 0, 5) for year in range(span.first, span.last + 1, 10)]
    drawn = "".join([*decades, _bar(bar, span, 4)])
    return f'<svg class="strip" width="100%" height="16" aria-hidden="true" focusable="false">{drawn}</svg>'


def rule_svg(span: Span, *, fades: bool = False) -> str:
    """The rule alone, for rows of strips that hang under it and say themselves what they are; with `fades` it
    brings what open ends are drawn with, for a page that has no other rule."""
    return (
        f'<svg class="ruler" width="100%" height="{_RULE_HEIGHT}" aria-hidden="true" focusable="false">'
        f"{_DEFINITIONS if fades else ''}{_rule(span, {})}</svg>"
    )


def strip_of_days(earliest: int | None, latest: int | None, span: Span, *, guess: int | None = None) -> str:
    """A strip with the bar of these days, and a tick for the guess: for one view of a date, or for a fact."""
    return _strip(RulerBar("", "", earliest, latest, guess), span)


def _framed(drawing: Sequence[str], height: int, *, label: str, standalone: bool) -> str:
    head = 'xmlns="http://www.w3.org/2000/svg" width="1200"' if standalone else 'width="100%"'
    ground = (
        f'<style>{_STANDALONE_STYLE}</style><rect class="table" width="100%" height="100%"/>' if standalone else ""
    )
    return (
        f'<svg {head} class="ruler" height="{height}" role="group" aria-label="{_text(label)}">'
        f"{_DEFINITIONS}{ground}{''.join(drawing)}</svg>"
    )


_DEFINITIONS = (
    '<defs><linearGradient id="fade-left"><stop class="fade-off" offset="0"/><stop class="fade-on" offset="1"/>'
    '</linearGradient><linearGradient id="fade-right"><stop class="fade-on" offset="0"/>'
    '<stop class="fade-off" offset="1"/></linearGradient><linearGradient id="fade-both">'
    '<stop class="fade-off" offset="0"/><stop class="fade-on" offset=".5"/><stop class="fade-off" offset="1"/>'
    '</linearGradient><pattern id="hatch" width="5" height="5" patternUnits="userSpaceOnUse" '
    'patternTransform="rotate(45)"><line class="clash-line" x1="1" y1="0" x2="1" y2="5"/></pattern></defs>'
)


def _rule(span: Span, links: Mapping[int, str]) -> str:
    """The paper strip with a mark a year (or ten, or more) and the decades in figures."""
    step = 1 if span.last - span.first <= 120 else max(10, _figure_step(span) // 10)
    marks = [
        _line("rule-mark", span.percent(year), 0, 14 if year % 10 == 0 else 10 if year % 5 == 0 else 6)
        for year in range(span.first + step, span.last, step)
    ]
    figures = [_figure(year, span, links) for year in range(span.first, span.last, _figure_step(span))]
    paper = f'<rect class="rule-paper" width="100%" height="{_RULE_HEIGHT}"/>'
    return "".join([paper, *marks, *figures])


def _figure_step(span: Span) -> int:
    """Years between two figures: at most 14 fit beside each other on the widest page."""
    steps = (int(f"{digit}{'0' * zeros}") for zeros in count(1) for digit in (1, 2, 5))
    return next(step for step in steps if (span.last - span.first) / step <= 14)


def _figure(year: int, span: Span, links: Mapping[int, str]) -> str:
    """A decade's figure just right of its mark; every second one steps back on a narrow page."""
    often = (year - span.first) // _figure_step(span) % 2 == 0
    css = "" if often else ' class="when-wide"'
    text = f'<text class="rule-figure" x="{span.percent(year)}%" dx="5" y="34">{year_words(year)}</text>'
    href = links.get(year)
    return f'<a{css} href="{_text(href)}">{text}</a>' if href else f"<g{css}>{text}</g>"


def _text(words: str) -> str:
    return escape(_NOT_XML.sub("", words))


def _line(css: str, x: float, top: float, bottom: float) -> str:
    return f'<line class="{css}" x1="{x}%" x2="{x}%" y1="{top}" y2="{bottom}"/>'


def _bars(bars: Sequence[RulerBar], span: Span) -> tuple[str, int]:
    """One lane a bar, packed: a bar goes into the first lane that is free at its place."""
    ends: list[float] = []
    drawn = []
    for bar in bars:
        left, right = _reach(bar, span)
        lane = next((i for i, end in enumerate(ends) if end + 1 < left), len(ends))
        ends[lane : lane + 1] = [right]
        drawn.append(
            f"<g><title>{_text(bar.title)}</title>{_bar(bar, span, _RULE_HEIGHT + 10 + lane * _LANE)}</g>"
        )
    return "".join(drawn), 16 + len(ends) * _LANE


def _reach(bar: RulerBar, span: Span) -> tuple[float, float]:
    """Where a bar begins and ends in per cent; open ends reach the end of the rule."""
    left = 0.0 if bar.earliest is None else span.percent(year_of(bar.earliest))
    right = 100.0 if bar.latest is None else span.percent(year_of(bar.latest + 1))
    return left, right


def _bar(bar: RulerBar, span: Span, top: float) -> str:
    where = _between(*_reach(bar, span), top)
    tick = "" if bar.guess is None else _line("guess", span.percent(year_of(bar.guess)), top - 3, top - 3 + _TICK)
    if bar.contradicts:
        return f'<rect {where} fill="url(#hatch)"/><rect class="clash-edge" {where}/>{tick}'
    return f"<rect {where} {_fill(bar, span)}/>{_likely(bar, span, top)}{tick}"


def _likely(bar: RulerBar, span: Span, top: float) -> str:
    """The darker part; nothing where no likely range is known."""
    if bar.likely_from is None or bar.likely_to is None:
        return ""
    left, right = span.percent(year_of(bar.likely_from)), span.percent(year_of(bar.likely_to + 1))
    return f'<rect class="likely" {_between(left, right, top)}/>'


def _between(left: float, right: float, top: float) -> str:
    return f'x="{left}%" y="{top}" width="{round(max(0.0, right - left), 3)}%" height="{_BAR}"'


def _fill(bar: RulerBar, span: Span) -> str:
    """Ends that are open, or run off the rule, fade; a print of which nothing is known lies faintly over all
    years, for a peak anywhere would be a guess that nobody made."""
    if bar.earliest is bar.latest is bar.guess is None:
        return 'class="unknown"'
    first, after = span.days
    open_left = bar.earliest is None or bar.earliest < first
    open_right = bar.latest is None or bar.latest >= after
    if not open_left and not open_right:
        return 'class="bar"'
    return f'fill="url(#fade-{"both" if open_left and open_right else "left" if open_left else "right"})"'


def _years(bars: Sequence[RulerBar], span: Span) -> tuple[str, int]:
    """One bar a year hanging from the rule, its length the number of prints whose best guess lies in it."""
    return _hanging(Counter(from_day(bar.guess)[0] for bar in bars if bar.guess is not None), span)


def _hanging(counts: Mapping[int, int], span: Span) -> tuple[str, int]:
    tallest = max(counts.values(), default=1)
    wide = round(80 / (span.last - span.first), 3)
    drawn = [
        f'<rect class="count" x="{span.percent(year + 0.1)}%" width="{wide}%" y="{_RULE_HEIGHT + 4}" '
        f'height="{round(4 + 56 * count / tallest, 1)}"><title>{year_words(year)}: {count}</title></rect>'
        for year, count in sorted(counts.items())
    ]
    return "".join(drawn), 72
