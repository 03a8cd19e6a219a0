"""Looks for prints as one types: the field on the Table, and what was found in the place of what lies there."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any
from urllib.parse import urlencode

from attrs import evolve, field, frozen
from fastapi import FastAPI, Request, Response
from fastapi.responses import HTMLResponse

from solander.core.dates import day_text, words
from solander.core.language import marked
from solander.core.standing import Arrangement
from solander.look.shown import PrintShown
from solander.station.laid import laid_one
from solander.station.workbench import Page, Workbench
from solander.tasks.find import Facet, Finder, Found
from solander.tasks.found_where import Where

__all__ = ["FIELDS", "LookFor", "Sought", "add_find", "look_for", "not_looked_yet"]

PRINTS_AT_ONCE = 12
"""Prints in one answer: more than a screen, and laid out within a keystroke; the next ones come when one asks."""

_FACETS = (
    (Facet.UNDATED, marked("no date yet")),
    (Facet.NOBODY, marked("nobody named")),
    (Facet.UNSURE, marked("not sure")),
    (Facet.AGAIN, marked("to capture again")),
    (Facet.CONTRADICTS, marked("can’t all be true")),
    (Facet.BACK, marked("has a back")),
)

FIELDS = {
    "accession": marked("number"),
    "people": marked("who"),
    "place": marked("where"),
    "occasion": marked("occasion"),
    "caption": marked("caption"),
    "transcription": marked("on the back"),
    "note": marked("note"),
    "machine": marked("read by a machine, looked at by nobody"),
    "container": marked("kept in"),
}
"""The words for what is said of a print, by the fields of the search documents."""

_SOUGHT = "look-for"


@frozen
class Sought:
    """What is looked for, as it stands in the address of a page."""

    words: str = ""
    facets: tuple[Facet, ...] = ()
    container: str = ""
    arrangement: Arrangement = Arrangement.TIME

    @classmethod
    def of(cls, request: Request) -> Sought:
        """What the address says; what it says wrongly is passed over."""
        asked = request.query_params
        facets = {value for value in asked.getlist("only") if value in list(Facet)}
        laid = asked.get("laid", "")
        return cls(
            asked.get(_SOUGHT, "").strip(),
            tuple(facet for facet, _ in _FACETS if facet in facets),
            asked.get("in", "").strip(),
            Arrangement(laid) if laid in list(Arrangement) else Arrangement.TIME,
        )

    def address(self, **more: str) -> str:
        """The page that shows this."""
        laid = "" if self.arrangement is Arrangement.TIME else str(self.arrangement)
        pairs: Iterable[tuple[str, str]] = (
            (_SOUGHT, self.words),
            *(("only", str(facet)) for facet in self.facets),
            ("in", self.container),
            ("laid", laid),
            *more.items(),
        )
        return "/find?" + urlencode([pair for pair in pairs if pair[1]])

    def with_facet(self, facet: Facet) -> Sought:
        """The same with a facet, or without it where it was there."""
        kept = tuple(one for one in self.facets if one is not facet)
        return evolve(self, facets=kept if facet in self.facets else (*self.facets, facet))


@frozen
class _Choice:
    """A facet or container: its words, how many of the found prints have it (None where that was not counted yet),
    whether it is chosen, its address."""

    words: str
    count: int | None
    chosen: bool
    href: str
    value: str = ""


@frozen
class _Laid:
    """A found print as it is laid out."""

    shown: PrintShown
    where: Sequence[Where]


@frozen
class LookFor:
    """What the field on the Table shows; `found` is None where nothing is looked for yet."""

    sought: Sought = field(factory=Sought)
    facets: tuple[_Choice, ...] = ()
    containers: tuple[_Choice, ...] = ()
    found: Found | None = None
    laid: tuple[_Laid, ...] = ()
    time: tuple[str, str] | None = None
    next: str = ""
    nearest: tuple[tuple[str, tuple[tuple[str, str], ...]], ...] = ()

    @property
    def is_sought(self) -> bool:
        """Whether anything is looked for."""
        return bool(self.sought.words or self.sought.facets or self.sought.container)


def look_for(finder: Finder, sought: Sought, *, after: str = "", limit: int = PRINTS_AT_ONCE) -> LookFor:
    """What was found, laid out; with `limit` 0 only how many there are."""
    found = finder.find(
        sought.words,
        sought.facets,
        sought.arrangement,
        container=sought.container,
        after=after,
        limit=limit,
    )
    return LookFor(
        sought,
        _facets(sought, found),
        _containers(sought, found),
        found,
        tuple(_Laid(laid_one(one.described), one.where) for one in finder.told(found)),
        (_day_words(found.time.bounds.earliest), _day_words(found.time.bounds.latest)) if found.time else None,
        sought.address(after=found.prints[-1]) if found.more and found.prints else "",
        tuple(
            (one.word, tuple((near, _instead(sought, one.word, near)) for near in one.nearest))
            for one in found.unheard
        ),
    )


def not_looked_yet() -> LookFor:
    """The field while where prints stand is still being read: what may be chosen stands there, not counted."""
    nothing = Sought()
    return LookFor(
        nothing,
        tuple(_Choice(words, None, False, nothing.with_facet(facet).address(), facet) for facet, words in _FACETS),
    )


def add_find(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the page of what was found; `part` gives what changes on it alone, for the script."""
    finder = bench.finder
    if finder is None:
        return

    @app.get("/find", response_class=HTMLResponse)
    def find(request: Request, after: str = "", part: str = "") -> Response:
        told: dict[str, Any] = {"looked": look_for(finder, Sought.of(request), after=after), "field_words": FIELDS}
        if part in ("found", "further"):
            return page(f"find_{part}.html", **told)
        return page("find.html", **bench.room("Table"), **told)


def _facets(sought: Sought, found: Found) -> tuple[_Choice, ...]:
    return tuple(
        _Choice(words, found.counts[facet], facet in sought.facets, sought.with_facet(facet).address(), facet)
        for facet, words in _FACETS
    )


def _containers(sought: Sought, found: Found) -> tuple[_Choice, ...]:
    """The containers one level below the chosen one, with the way back out of it first."""
    inside = f"{sought.container}/" if sought.container else ""
    below = [
        _Choice(code, count, False, evolve(sought, container=code).address(), code)
        for code, count in found.containers.items()
        if code.startswith(inside) and "/" not in code[len(inside) :]
    ]
    if not sought.container:
        return tuple(below)
    outer = evolve(sought, container=sought.container.rpartition("/")[0])
    return (_Choice(sought.container, found.total, True, outer.address(), sought.container), *below)


def _day_words(day: int | None) -> str:
    return "" if day is None else words(day_text(day) or "")


def _instead(sought: Sought, word: str, near: str) -> str:
    said = " ".join(near if one == word else one for one in sought.words.split())
    return evolve(sought, words=said).address()
