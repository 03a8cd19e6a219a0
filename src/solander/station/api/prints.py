"""Prints for programs: found, told, said of."""

from __future__ import annotations

from fastapi import FastAPI, Query

from solander.core.standing import Arrangement
from solander.station.api.answers import FAULTS, done
from solander.station.api.shapes import Count, Done, Found, Name, Number, Print, PrintLine, Saying
from solander.station.workbench import Workbench
from solander.tasks.find import Facet, Finder
from solander.tasks.print_desk import PrintDesk
from solander.tasks.typed import Typed

__all__ = ["add_prints_api"]


def add_prints_api(app: FastAPI, bench: Workbench) -> None:
    """Adds what there are desks for."""
    if bench.finder is not None:
        _add_finding(app, bench, bench.finder)
    if bench.prints is not None:
        _add_one(app, bench, bench.prints)


def _add_finding(app: FastAPI, bench: Workbench, finder: Finder) -> None:
    @app.get("/api/prints", tags=["prints"], responses=FAULTS)
    def prints(
        sought: Name = "",
        lack: list[Facet] = Query(default=[]),  # noqa: B008
        container: Name = "",
        arrangement: Arrangement = Arrangement.TIME,
        after: Name = "",
        limit: Count = 60,
    ) -> Found:
        """The prints that hold every word of `sought`, or are of the time that it says, page by page."""
        bench.collection.settle()
        found = finder.find(sought, lack, arrangement, container=container, after=after, limit=limit)
        return Found(
            prints=[PrintLine.of(one) for one in bench.collection.some(found.prints)],
            total=found.total,
            next=found.prints[-1] if found.more else None,
            lack={str(facet): count for facet, count in found.counts.items()},
            containers=found.containers,
            unheard=[one.word for one in found.unheard],
        )


def _add_one(app: FastAPI, bench: Workbench, desk: PrintDesk) -> None:
    @app.get("/api/prints/{accession}", tags=["prints"], responses=FAULTS)
    def one_print(accession: str) -> Print:
        """A print with all that is known of it, and who says so."""
        told = desk.told(accession)
        return Print.whole(told.described, told.before, told.after)

    @app.post("/api/prints/{accession}/statements", tags=["prints"], responses=FAULTS, status_code=201)
    def say(accession: str, saying: Saying, seen: Number | None = None) -> Done:
        """Says something of a print, beside what others said."""
        typed = Typed(accession, saying.part, saying.words, saying.sure, saying.by, saying.of_paper)
        return done(bench, desk.say(typed, instead=saying.instead).act)

    @app.delete("/api/prints/{accession}/statements/{ident}", tags=["prints"], responses=FAULTS)
    def withdraw(accession: str, ident: str, seen: Number | None = None) -> Done:
        """Says that something is not so any more; it stays in history."""
        return done(bench, desk.take_back(accession, ident).act)
