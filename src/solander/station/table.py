"""The Table: all prints, in time, by container or by occasion, some at a time; and the way to each year."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby
from typing import Annotated, Any
from urllib.parse import urlencode

from attrs import define, field, frozen
from fastapi import FastAPI, Query, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from markupsafe import Markup

from solander.core.descriptions import When
from solander.core.language import _, language, marked
from solander.core.standing import Arrangement
from solander.look.density import density_svg, span_of_years
from solander.look.ruler import bar_named, span_of
from solander.look.ruler_figure import ruler_figure
from solander.look.shown import PrintShown
from solander.station.find import LookFor, Sought, look_for, not_looked_yet
from solander.station.laid import laid_one, print_address
from solander.station.workbench import Page, Workbench
from solander.tasks.table import Heading, Laid, Table

__all__ = ["PRINTS_AT_ONCE", "add_table"]

PRINTS_AT_ONCE = 20
"""Prints on a page of the Table: some screens, and laid out within 50 ms (benchmarks/table.py)."""

PRINTS_IN_A_PART = 12
"""Prints that the script lays at once: three rows, so that laying them out does not hold up scrolling."""

MOST_IN_A_PART = 100

BARS_ON_THE_RULE = 5000
"""So many prints have a bar each, on a rule that one may come closer to (benchmarks/ruler.py measures so many);
more are counted by year."""

Year = Annotated[int | None, Query(ge=-99_999, le=99_999)]

ARRANGEMENTS = (
    (Arrangement.TIME, marked("in time")),
    (Arrangement.CONTAINER, marked("by container")),
    (Arrangement.OCCASION, marked("by occasion")),
)


@frozen
class _Under:
    """Prints under one heading, or the first of a part, which go on under the heading before them."""

    heading: Heading | None
    prints: Sequence[PrintShown]

    @property
    def words(self) -> str:
        """What stands over them."""
        heading = self.heading
        if heading is None:
            return ""
        if heading.arrangement is Arrangement.TIME:
            if not heading.name:
                return _("No date yet")
            return _("%(year)ss", year=heading.name) if heading.decade else heading.name
        if heading.arrangement is Arrangement.CONTAINER:
            return " · ".join(filter(None, (heading.name or _("In no container"), heading.more)))
        return heading.name or _("Of no occasion yet")

    @property
    def anchor(self) -> str:
        """The heading's name within the page."""
        return f"under-{self.prints[0].described.print.accession}"


@frozen
class _Part:
    """A part of the table as it is laid out."""

    laid: Laid
    arrangement: Arrangement
    under: Sequence[_Under] = field(init=False)

    def __attrs_post_init__(self) -> None:
        pairs = list(zip(self.laid.headings, map(laid_one, self.laid.prints), strict=True))
        groups: list[_Under] = []
        for heading, shown in pairs:
            if heading is not None or not groups:
                groups.append(_Under(heading, [shown]))
            else:
                groups[-1] = _Under(groups[-1].heading, [*groups[-1].prints, shown])
        object.__setattr__(self, "under", groups)

    @property
    def first(self) -> str:
        """The number of its first print, empty where it has none."""
        return self.laid.prints[0].print.accession if self.laid.prints else ""

    @property
    def last(self) -> str:
        """The number of its last print."""
        return self.laid.prints[-1].print.accession if self.laid.prints else ""


def add_table(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the Table, which is also the first page; a collection that nothing is known of asks its first words."""
    table, rule = bench.collection.table, _Rule()

    @app.get("/", response_class=HTMLResponse)
    def lies(
        laid: str = "", start: str = "", after: str = "", before: str = "", year: Year = None,
        done: int | None = None,
    ) -> Response:  # fmt: skip
        if bench.names and bench.names.knows_nothing:
            return RedirectResponse("/first-words", 303)
        arrangement = _arrangement(laid)
        start = table.first_of_year(year) if year is not None else start
        part = _part(table, arrangement, start=start, after=after, before=before)
        if before and part.laid.is_first:
            # Prints moved since the page after it was made: the first page is shown whole, never a part of it.
            part = _part(table, arrangement, start="", after="", before="")
        return page("table.html", **bench.room("Table"), **_shown(bench, table, part, rule), **_done(bench, done))

    @app.get("/table/part", response_class=HTMLResponse)
    def part(
        laid: str = "", start: str = "", after: str = "", before: str = "", year: Year = None,
        count: Annotated[int, Query(ge=1, le=MOST_IN_A_PART)] = PRINTS_IN_A_PART,
    ) -> Response:  # fmt: skip
        start = table.first_of_year(year) if year is not None else start
        found = _part(table, _arrangement(laid), start=start, after=after, before=before, limit=count)
        return page("table_part.html", part=found, span=span_of_years(table.years))

    @app.get("/table/run")
    def run(first: str, last: str, laid: str = "") -> list[str]:
        return table.run(_arrangement(laid), first, last)

    @app.get("/table/settled")
    def settled() -> bool:
        return bench.collection.is_settled


def _arrangement(said: str) -> Arrangement:
    return Arrangement(said) if said in list(Arrangement) else Arrangement.TIME


def _part(
    table: Table,
    arrangement: Arrangement,
    *,
    start: str,
    after: str,
    before: str,
    limit: int = PRINTS_AT_ONCE,
) -> _Part:
    laid = table.lay(arrangement, start=start, after=after, before=before, limit=limit)
    return _Part(laid, arrangement)


def _done(bench: Workbench, done: int | None) -> dict[str, Any]:
    return {"done": done, "words": bench.done(done)}


def _shown(bench: Workbench, table: Table, part: _Part, rule: _Rule) -> dict[str, Any]:
    total, years = table.total, table.years
    span = span_of_years(years)
    return {
        "part": part,
        "total": total,
        "span": span,
        "arrangements": [(each, _(words), address(each)) for each, words in ARRANGEMENTS],
        "here": address(part.arrangement),
        "settled": bench.collection.is_settled,
        "looked": _looked(bench),
        "ruler": Markup(rule.over(table) if part.arrangement is Arrangement.TIME else ""),
    }


def address(arrangement: Arrangement, **more: str | int) -> str:
    """The Table in that arrangement."""
    laid = {} if arrangement is Arrangement.TIME else {"laid": str(arrangement)}
    query = urlencode({**laid, **more})
    return f"/?{query}" if query else "/"


def _looked(bench: Workbench) -> LookFor | None:
    """What may be looked for; the first page does not wait until it is counted."""
    if bench.finder is None:
        return None
    return look_for(bench.finder, Sought(), limit=0) if bench.finder.is_ready else not_looked_yet()


@define
class _Rule:
    """The rule over the prints, drawn anew only when a date or the reader's language changes."""

    _drawn_of: tuple[Sequence[tuple[str, When]], str] = field(default=((), ""), init=False)
    _drawn: str = field(default="", init=False)

    def over(self, table: Table) -> str:
        """A bar for each print, or, where they are very many, how many there are of each year."""
        if table.total > BARS_ON_THE_RULE:
            span = span_of_years(table.years)
            return (
                density_svg(table.years, span, lambda year: address(Arrangement.TIME, year=year)) if span else ""
            )
        whens, spoken = table.whens, language().code
        if self._drawn_of[0] is not whens or self._drawn_of[1] != spoken:
            self._drawn_of, self._drawn = (whens, spoken), _rule_of(whens, table.years)
        return self._drawn


def _rule_of(whens: Sequence[tuple[str, When]], years: Mapping[int, int]) -> str:
    bars = [bar_named(number, when) for number, when in whens]
    hrefs = [print_address(number) for number, _when in whens]
    span = span_of(bars)
    return ruler_figure(bars, hrefs, span=span, links=_decades(years)) if span else ""


def _decades(years: Mapping[int, int]) -> dict[int, str]:
    decades = (decade for decade, _years in groupby(sorted(years), lambda year: year // 10 * 10))
    return {decade: address(Arrangement.TIME, year=decade) for decade in decades}
