"""Containers: what is in them, where they are, and the order in which their prints are put back."""

from __future__ import annotations

from typing import Any

from fastapi import FastAPI, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from solander.core.prints import container_code
from solander.station.forms import Fields
from solander.station.laid import laid
from solander.station.workbench import NAMES_ROOM, Page, Workbench
from solander.tasks.arrange_desk import PRINTS_ON_A_PAGE, ArrangeDesk, ContainerAlone
from solander.tasks.containers import (
    bring_back,
    entitle,
    mark_done,
    mark_not_done,
    new_container,
    say_where,
)

__all__ = ["add_containers", "container_address"]


def container_address(code: str) -> str:
    """The address of a container's page: levels are joined by hyphens, as in accession numbers."""
    return f"/container/{code.replace('/', '-')}"


def add_containers(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the pages of containers."""
    desk = bench.arranging
    if desk is None:
        return

    def values() -> dict[str, Any]:
        return {**bench.room(NAMES_ROOM), "within": "/containers", "address": container_address}

    @app.get("/containers", response_class=HTMLResponse)
    def containers(done: int | None = None) -> Response:
        told = desk.containers()
        without = desk.collection.catalogue.container_counts().get("", 0)
        shown = {"containers": told, "without": without, "done_count": sum(one.done is not None for one in told)}
        return page("containers.html", **values(), **shown, done=done, words=bench.done(done))

    @app.get("/container/{code}", response_class=HTMLResponse)
    def container(code: str, start: int = 0, done: int | None = None) -> Response:
        alone = desk.container(container_code(code), start=max(0, start))
        told = {"treated": desk.collection.catalogue.has_treated(alone.told.code)}
        return page("container.html", **values(), **_container(alone), **told, done=done, words=bench.done(done))

    _add_answers(app, desk)


def _container(alone: ContainerAlone) -> dict[str, Any]:
    reached = alone.start + len(alone.prints)
    parent = alone.told.container.parent
    return {
        "alone": alone,
        "told": alone.told,
        "href": container_address(alone.told.code),
        "parent": parent,
        "shown": laid(alone.prints),
        "first_guest": alone.total - alone.guests + 1,
        "reached": reached,
        "earlier": max(0, alone.start - PRINTS_ON_A_PAGE) if alone.start else None,
        "later": reached if reached < alone.total else None,
        "here": container_address(alone.told.code) + (f"?start={alone.start}" if alone.start else ""),
    }


def _add_answers(app: FastAPI, desk: ArrangeDesk) -> None:
    collection = desk.collection

    def back(code: str, act: int | None) -> Response:
        done = f"?done={desk.sitting.noted(act)}" if act is not None else ""
        return RedirectResponse(container_address(code) + done, 303)

    @app.post("/containers/new")
    def new(form: Fields) -> Response:
        code = container_code(form.get("code", ""))
        return back(code, new_container(collection, code, form.get("title", "")))

    @app.post("/container/{code}/title")
    def title(code: str, form: Fields) -> Response:
        return back(code, entitle(collection, container_code(code), form.get("title", "")))

    @app.post("/container/{code}/where")
    def where(code: str, form: Fields) -> Response:
        told = form.get("where", ""), " ".join(form.get("source", "").split())
        return back(code, say_where(collection, container_code(code), told[0], source=told[1]))

    @app.post("/container/{code}/back")
    def back_again(code: str) -> Response:
        return back(code, bring_back(collection, container_code(code)))

    @app.post("/container/{code}/done")
    def done(code: str) -> Response:
        return back(code, mark_done(collection, container_code(code)))

    @app.post("/container/{code}/not-done")
    def not_done(code: str) -> Response:
        return back(code, mark_not_done(collection, container_code(code)))
