"""The room of one print: both its sides, its slip, which opens where it stands, and who said what."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from urllib.parse import urlencode

from attrs import evolve
from fastapi import FastAPI, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from markupsafe import Markup

from solander.core.language import _
from solander.core.prints import Side, View
from solander.core.statements import Sure
from solander.look.ruler import bar_of, ruler_svg, span_of
from solander.station.accounts import accounts_shown
from solander.station.album import page_beside
from solander.station.backs import back_of_print
from solander.station.forms import Fields, Form
from solander.station.laid import laid, laid_one, print_address
from solander.station.print_parts import (
    PARTS,
    clash_values,
    looked_values,
    own_words,
    seen_values,
    span_around,
    voice_values,
)
from solander.station.workbench import Page, Workbench
from solander.tasks.condition_told import capture_told, states_told
from solander.tasks.other_prints import other_prints
from solander.tasks.print_desk import Looked, PrintDesk, PrintTold, beside_among
from solander.tasks.redraw import Done
from solander.tasks.typed import Field, Typed
from solander.tasks.voices import plain_voices

__all__ = ["LAST_PRINT", "add_print_room", "remember_print"]

LAST_PRINT = "print"
"""The cookie that holds the number of the print last looked at in this browser."""

_LONGEST_READ = 4000
"""Letters of what is typed that are looked at while one types: more than fits on the back of any print. All of it
is kept."""


def add_print_room(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the page of each print, and the room's own address, which leads to the one last looked at."""

    @app.get("/print", response_class=HTMLResponse)
    def last_print(request: Request) -> Response:
        last = _last_or_first(bench, request.cookies.get(LAST_PRINT, ""))
        return RedirectResponse(print_address(last), 303) if last else page("no_print.html", **bench.room("Print"))

    @app.get("/print/{accession}", response_class=HTMLResponse)
    def one_print(accession: str, say: str = "", done: int | None = None) -> Response:
        return _answer(bench, page, accession, opened=_field(say), done=done)

    if bench.prints is not None:
        _add_saying(app, bench, bench.prints, page)


def _add_saying(app: FastAPI, bench: Workbench, desk: PrintDesk, page: Page) -> None:
    """Adds what changes a print by words."""

    @app.get("/print/{accession}/understood", response_class=HTMLResponse)
    def understood(request: Request, accession: str) -> Response:
        typed = _typed(accession, dict(request.query_params))
        typed = evolve(typed, words=typed.words[:_LONGEST_READ])
        if not typed.words:
            return HTMLResponse("")
        return page("print_understood.html", **looked_values(desk.look(typed)))

    @app.post("/print/{accession}/say")
    def say(accession: str, form: Fields) -> Response:
        typed = _typed(accession, form)
        looked = desk.look(typed)
        if "look" in form or not looked.meant.claims:
            status = 200 if "look" in form else 400
            return _answer(bench, page, accession, opened=typed.field, looked=looked, status=status)
        done = desk.keep(looked.meant, instead="beside" not in form)
        after = desk.in_box(accession)[1] if "next" in form else ""
        return _back(after, done, say=typed.field) if after else _back(accession, done)

    @app.post("/print/{accession}/not-so")
    def not_so(accession: str, form: Fields) -> Response:
        return _back(accession, desk.take_back(accession, form.get("said", "")))

    @app.get("/print/{accession}/seen", response_class=HTMLResponse)
    def seen(accession: str) -> Response:
        values = seen_values(desk.told(accession), desk.facts(accession))
        return page("print_seen.html", **bench.room("Print"), **values, named=desk.named_before())

    @app.post("/print/{accession}/seen")
    def say_seen(accession: str, form: Fields) -> Response:
        chosen = [name.removeprefix("seen-") for name in form if name.startswith("seen-")]
        return _back(accession, desk.say_facts(_typed(accession, form), chosen))


def _back(accession: str, done: Done | Any, *, say: str = "") -> Response:
    """To the page of a print, which tells what was done."""
    told = {**({"say": say} if say else {}), **({} if done.act is None else {"done": done.act})}
    return RedirectResponse(print_address(accession) + (f"?{urlencode(told)}" if told else ""), 303)


def _field(name: str) -> Field | None:
    return Field(name) if name in {one.value for one in Field} else None


def _typed(accession: str, form: Form | Mapping[str, str]) -> Typed:
    """What a form says; who says so may be chosen or typed."""
    sure = form.get("sure", "")
    return Typed(
        accession,
        _field(form.get("field", "")) or Field.EVIDENCE,
        form.get("said", ""),
        Sure(sure) if sure in {one.value for one in Sure} else None,
        " ".join((form.get("by-typed", "") or form.get("by", "")).split()),
        of_paper="of-paper" in form,
        chosen={name: value for name, value in form.items() if name.startswith("means-") and value},
    )


def _answer(
    bench: Workbench,
    page: Page,
    accession: str,
    *,
    opened: Field | None = None,
    done: int | None = None,
    looked: Looked | None = None,
    status: int = 200,
) -> HTMLResponse:
    """The page of a print, a field of its slip opened."""
    told = bench.prints.told(accession) if bench.prints else _only_read(bench, accession)
    values = {
        **bench.room("Print"),
        **_shown(told),
        "opened": opened,
        "looked": looked_values(looked) if looked else None,
        "typed": looked.meant.typed if looked else None,
        "can_say": bench.prints is not None,
        "named": bench.prints.named_before() if bench.prints else (),
        "redraw": "/outline/" if bench.outlines else "",
        "treat": "/treatment/" if bench.treatments else "",
        "done": done,
        "words": bench.done(done),
        "album_page": page_beside(bench.albums, accession) if bench.albums else None,
        "stories": accounts_shown(bench, accession),
        "others": laid(other_prints(bench.prints.shown.collection, accession)) if bench.prints else (),
        "condition": _condition(told),
        "back": back_of_print(bench, told.described),
        "faces_on": bench.faces is not None and bench.faces.is_on,
    }
    return remember_print(page("print.html", status=status, **values), accession)


def _shown(told: PrintTold) -> dict[str, Any]:
    span = span_around(told) or span_of([bar_of(told.described)])
    return {
        "shown": laid_one(told.described),
        "parts": PARTS,
        "total": told.total,
        "span": span,
        "ruler": Markup(ruler_svg([bar_of(told.described)], span=span)),
        "views": voice_values(told, span),
        "mine": own_words(told),
        "clashes": clash_values(told),
        "in_box": [print_address(one) if one else "" for one in told.in_box],
        "before": laid_one(told.before) if told.before else None,
        "after": laid_one(told.after) if told.after else None,
    }


def _condition(told: PrintTold) -> list[tuple[Side, list[str], list[str]]]:
    """Of each side what another capture would mend, and how the print has kept; sides with neither left out."""
    views = (view for view in (told.described.print.recto, told.described.print.verso) if view)
    sides = [
        (v.side, [*(f.words for f in capture_told(v)), *_profile_words(v)], [s.words for s in states_told(v)])
        for v in views
    ]
    return [one for one in sides if one[1] or one[2]]


def _profile_words(view: View) -> list[str]:
    """By which profile of the stand a view was put right."""
    light = view.stand.light if view.stand else None
    if light is None:
        return []
    return [
        _(
            "Light and colour are put right by the stand's profile of %(day)s (%(name)s).",
            day=light.made,
            name=light.profile,
        )
    ]


def _last_or_first(bench: Workbench, last: str) -> str:
    """The number of the print last looked at, of the first one where that is gone; empty where there is none."""
    if bench.prints:
        return bench.prints.last_or_first(last)
    known = [one.print.accession for one in bench.collection.described()]
    return last if last in known else next(iter(known), "")


def _only_read(bench: Workbench, accession: str) -> PrintTold:
    """The same where nothing can be said here."""
    here = beside_among(bench.collection.described(), accession)
    voices = plain_voices(here.described.statements)
    return PrintTold(here.described, voices, (), here.before, here.after, here.total, here.years)


def remember_print(answer: HTMLResponse, accession: str) -> HTMLResponse:
    """The page of a print, by which the browser remembers it as the one last looked at."""
    answer.set_cookie(LAST_PRINT, accession, httponly=True, samesite="strict")
    return answer
