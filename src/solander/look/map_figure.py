"""Places as the page script lays them on a map, and the years of their prints as a rule to choose from.

The data stands in an attribute, not in a script element, so that the strictest page may carry it. Without script
the page shows its table alone; the map says nothing that the table does not.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable, Sequence
from html import escape

from attrs import frozen
from markupsafe import Markup

from solander.core.dates import parse_edtf
from solander.core.days import from_day
from solander.core.language import _
from solander.look.ruler import Span, counts_svg

__all__ = [
    "PlaceOnMap",
    "Years",
    "YearsRule",
    "counts_of",
    "distance_words",
    "latitude_words",
    "longitude_words",
    "map_data",
    "name_years_words",
    "years_rule",
    "years_words",
]


@frozen
class Years:
    """A range of whole years, both included; None where open."""

    first: int | None = None
    last: int | None = None

    @property
    def is_all(self) -> bool:
        """Whether nothing is left out."""
        return self.first is None and self.last is None

    def holds(self, year: int | None) -> bool:
        """Whether the year lies within; no year lies in all years only."""
        if year is None:
            return self.is_all
        return (self.first is None or year >= self.first) and (self.last is None or year <= self.last)


@frozen
class PlaceOnMap:
    """A place with a position: degrees (WGS 84), radius in metres, how many prints there are of each year of their
    best guess, and how many without one."""

    name: str
    href: str
    latitude: float
    longitude: float
    radius_m: float
    years: tuple[tuple[int, int], ...] = ()
    undated: int = 0

    @property
    def prints(self) -> int:
        """All prints, undated ones too."""
        return sum(count for _, count in self.years) + self.undated


def counts_of(years: Iterable[int | None]) -> tuple[tuple[tuple[int, int], ...], int]:
    """How many prints there are of each year, in order, and how many without any."""
    counts = Counter(years)
    undated = counts.pop(None, 0)
    return tuple(sorted((year, count) for year, count in counts.items() if year is not None)), undated


def years_words(years: Sequence[int]) -> str:
    """From the first to the last of these years: "1931 to 1958", "1931"; empty for none."""
    if not years:
        return ""
    first, last = min(years), max(years)
    return str(first) if first == last else _("%(first)s to %(last)s", first=first, last=last)


def map_data(places: Sequence[PlaceOnMap]) -> Markup:
    """The places for the page script: JSON for an attribute in single quotes, so that its many double ones stay
    one sign long. What a row holds is told in static/map/marks.js."""
    rows = [
        [one.name, one.href, round(one.longitude, 6), round(one.latitude, 6), one.radius_m, one.years, one.undated]
        for one in places
    ]
    text = json.dumps(rows, ensure_ascii=False, separators=(",", ":"))
    return Markup(escape(text, quote=False).replace("'", "&#39;"))


@frozen
class YearsRule:
    """The years of prints on the rule, whole decades from `first` to `last`; `drawn` is the rule, `chosen` what is
    taken of it."""

    first: int
    last: int
    drawn: Markup
    chosen: Years


def years_rule(places: Iterable[PlaceOnMap], chosen: Years) -> YearsRule | None:
    """The years of these places' prints to choose from; None where nothing is dated."""
    counts: Counter[int] = Counter()
    for place in places:
        counts.update(dict(place.years))
    if not counts:
        return None
    span = Span(min(counts) // 10 * 10, max(counts) // 10 * 10 + 10)
    return YearsRule(span.first, span.last - 1, Markup(counts_svg(counts, span)), chosen)


def distance_words(metres: float) -> str:
    """A radius as a person says it: "30 m", "1.5 km", "12 km".

    >>> distance_words(30), distance_words(1500), distance_words(12_000)
    ('30 m', '1.5 km', '12 km')
    """
    if metres < 1000:
        return f"{metres:.0f} m"
    km = metres / 1000
    return f"{km:.1f}".removesuffix(".0") + " km" if km < 10 else f"{km:,.0f} km"


def latitude_words(degrees: float) -> str:
    """Degrees as a person reads them.

    >>> latitude_words(-33.456), longitude_words(5.3221)
    ('33.46° S', '5.32° E')
    """
    side = _("N") if degrees >= 0 else _("S")
    return f"{abs(degrees):.2f}° {side}"


def longitude_words(degrees: float) -> str:
    """The same of a longitude."""
    side = _("E") if degrees >= 0 else _("W")
    return f"{abs(degrees):.2f}° {side}"


def name_years_words(valid_from: str, valid_to: str) -> str:
    """When a name held: "1924 to 1991", "until 1945", "since 1991"; empty where not known."""
    first, last = (_year(edtf) for edtf in (valid_from, valid_to))
    if first and last:
        return _("%(first)s to %(last)s", first=first, last=last)
    if first:
        return _("since %(year)s", year=first)
    return _("until %(year)s", year=last) if last else ""


def _year(edtf: str) -> str:
    if not edtf:
        return ""
    bounds = parse_edtf(edtf).bounds()
    day = bounds.earliest if bounds.earliest is not None else bounds.latest
    return "" if day is None else str(from_day(day)[0])
