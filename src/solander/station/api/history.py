"""What was done, for programs, and taking it back."""

from __future__ import annotations

from fastapi import FastAPI

from solander.catalogue.history_queries import ActKept
from solander.core.errors import Trouble
from solander.core.sentence import Sentence
from solander.station.api.answers import FAULTS
from solander.station.api.shapes import Act, Done, History, Name, Number
from solander.station.workbench import Workbench
from solander.tasks.arrange_desk import ArrangeDesk

__all__ = ["add_history_api"]


def add_history_api(app: FastAPI, bench: Workbench) -> None:
    """Adds it where there is a desk for it."""
    if bench.arranging is not None:
        _add_acts(app, bench, bench.arranging)


def _add_acts(app: FastAPI, bench: Workbench, desk: ArrangeDesk) -> None:
    @app.get("/api/history", tags=["history"], responses=FAULTS)
    def history(before: Number | None = None, who: Name = "", about: Name = "") -> History:
        """What was done, the newest first: by somebody, or about a print by its number."""
        found = desk.history.page(before=before, who=who, about=about)
        return History(acts=[_act(one) for one in found.acts], next=found.earlier)

    @app.get("/api/history/{number}", tags=["history"], responses=FAULTS)
    def act(number: Number) -> Act:
        """One thing that was done."""
        return _act(desk.history.act(number).act)

    @app.delete("/api/history/{number}", tags=["history"], responses=FAULTS)
    def take_back(number: Number) -> Done:
        """Takes back what was done, while nothing later stands upon it; that it was is kept as well."""
        sentence = desk.history.take_back(number)
        return Done(act=None, sentence=sentence, last_change=bench.collection.last_change)

    @app.post("/api/undo", tags=["history"], responses=FAULTS)
    def undo() -> Done:
        """Takes back the last thing that was done in this sitting."""
        last = desk.collection.catalogue.last_act()
        if last is None:
            raise Trouble(Sentence("Nothing was taken back"), Sentence("no change is left that could be"))
        sentence = desk.sitting.undo(last[0])
        return Done(act=None, sentence=sentence, last_change=bench.collection.last_change)


def _act(kept: ActKept) -> Act:
    return Act(
        number=kept.number,
        at=kept.at,
        who=kept.who,
        sentence=kept.what,
        changes=kept.changes,
        undoes=kept.undoes,
        undone_by=kept.undone_by,
    )
