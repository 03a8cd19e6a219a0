"""Occasions and containers for programs."""

from __future__ import annotations

from fastapi import FastAPI

from solander.station.api.answers import FAULTS, done
from solander.station.api.shapes import (
    Container,
    Done,
    Name,
    NewOccasion,
    Number,
    Occasion,
    SayingOfOccasion,
    Statement,
)
from solander.station.workbench import Workbench
from solander.tasks.arrange_desk import ArrangeDesk, OccasionLine
from solander.tasks.containers import ContainerTold
from solander.tasks.occasions import make_occasion, move_prints, say_of_occasion, take_back_of_occasion

__all__ = ["add_arranging_api"]


def add_arranging_api(app: FastAPI, bench: Workbench) -> None:
    """Adds it where there is a desk for it."""
    if bench.arranging is None:
        return
    _add_occasions(app, bench, bench.arranging)
    _add_containers(app, bench.arranging)


def _add_occasions(app: FastAPI, bench: Workbench, desk: ArrangeDesk) -> None:
    def kept(act: int | None) -> Done:
        return done(bench, desk.sitting.noted(act))

    @app.get("/api/occasions", tags=["occasions"], responses=FAULTS)
    def occasions(said: Name = "", after: Name = "") -> list[Occasion]:
        """Occasions by name, a hundred at a time; `after` is the last name of the page before."""
        return [_occasion(line) for line in desk.occasions(said=said, after=after).lines]

    @app.post("/api/occasions", tags=["occasions"], responses=FAULTS, status_code=201)
    def make(new: NewOccasion) -> Done:
        """Makes an occasion of prints; those that belonged to another leave it."""
        told = {"date": new.date, "place": new.place, "source": new.by}
        return kept(make_occasion(desk.collection, new.name, new.accessions, sure=new.sure, **told).act)

    @app.get("/api/occasions/{name:path}/statements", include_in_schema=False)
    @app.get("/api/occasions/{name:path}", tags=["occasions"], responses=FAULTS)
    def occasion(name: str) -> Occasion:
        """One occasion with its prints in order of time."""
        alone = desk.occasion(name)
        return _occasion(alone.line, list(alone.all_prints))

    @app.post("/api/occasions/{name:path}/statements", tags=["occasions"], responses=FAULTS, status_code=201)
    def say(name: str, saying: SayingOfOccasion, seen: Number | None = None) -> Done:
        """Says when and where an occasion was; its prints follow."""
        told = {"date": saying.date, "place": saying.place, "source": saying.by}
        return kept(say_of_occasion(desk.collection, name, sure=saying.sure, **told).act)

    @app.delete("/api/occasions/{name:path}/statements/{ident}", tags=["occasions"], responses=FAULTS)
    def withdraw(name: str, ident: str, seen: Number | None = None) -> Done:
        """Says that something is not so any more."""
        return kept(take_back_of_occasion(desk.collection, name, ident).act)

    @app.put("/api/occasions/{name:path}/prints", tags=["occasions"], responses=FAULTS)
    def put(name: str, accessions: list[Name], seen: Number | None = None) -> Done:
        """Moves these prints to the occasion; people stay with their prints."""
        return kept(move_prints(desk.collection, accessions, name).act)


def _occasion(line: OccasionLine, accessions: list[str] | None = None) -> Occasion:
    return Occasion(
        name=line.name,
        date=line.date,
        place=line.place,
        prints=line.prints,
        accessions=accessions,
        statements=[Statement.of(said) for said in line.said],
    )


def _add_containers(app: FastAPI, desk: ArrangeDesk) -> None:
    @app.get("/api/containers", tags=["containers"])
    def containers() -> list[Container]:
        """All containers, each before those within it."""
        return [_container(one) for one in desk.containers()]


def _container(one: ContainerTold) -> Container:
    return Container(
        code=one.code,
        title=one.container.title,
        prints=one.prints,
        all_prints=one.all_prints,
        waits=one.waits,
        kept_at=one.kept_at.value if one.kept_at else "",
        put_back=one.done.value if one.done else "",
    )
