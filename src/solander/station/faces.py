"""Where faces are named: on the print, one at a time, by one key or a typed name; and where a frame is drawn."""

from __future__ import annotations

import math
from typing import Any
from urllib.parse import quote, urlencode

from attrs import evolve, frozen
from fastapi import FastAPI, Request, Response
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse

from solander.core.errors import InvalidValue
from solander.core.faces import Aside, Box
from solander.core.language import _, _n
from solander.core.sentence import Capital, Sentence
from solander.look.words import side_of
from solander.station.forms import Fields, Form, own_address
from solander.station.place import hex_name
from solander.station.workbench import Page, Workbench
from solander.tasks.face_desk import FaceAsked, FaceDesk, FacePlace, PrintFaces, called
from solander.tasks.face_switch import CONSENT
from solander.tasks.name_faces import FaceDone

__all__ = ["FrameShown", "add_faces"]

_SEE_OTHER = 303
_ASIDE = {"no-person": Aside.NO_PERSON, "stranger": Aside.STRANGER, "later": Aside.LATER}

_LONGEST = 200
"""Letters of a name that are looked at."""

LABEL_ROOM = 0.12
"""Share of the picture's height that a label line under a frame needs; nearer to its end it stands above."""


@frozen
class FrameShown:
    """A frame as it is drawn over a picture, in percent of its width and height, with its label."""

    place: FacePlace

    @property
    def key(self) -> str:
        """By which the face is called."""
        return self.place.face.key

    @property
    def name(self) -> str:
        """Who it is, or the stand-in."""
        return called(self.place.face)

    @property
    def is_named(self) -> bool:
        """Whether a person said who it is."""
        return bool(self.place.face.person)

    @property
    def where(self) -> str:
        """ "the second face from the left"."""
        at, of = self.place.place
        if of == 1:
            return _("the only face")
        return _("face %(number)s of %(total)s, from the left", number=at, total=of)

    @property
    def rectangle(self) -> dict[str, str]:
        """The attributes of the frame."""
        box = self.place.box
        sides = {"x": box.left, "y": box.top, "width": box.width, "height": box.height}
        return {name: _percent(value) for name, value in sides.items()}

    @property
    def is_low(self) -> bool:
        """Whether the label stands above the frame, because there is no room under it."""
        return self.place.box.top + self.place.box.height > 1 - LABEL_ROOM

    @property
    def across(self) -> str:
        """Where the label line leaves the frame."""
        return _percent(self.place.box.left + self.place.box.width / 2)

    @property
    def side(self) -> str:
        """Which way the label runs, so that it stays on the picture."""
        middle = self.place.box.left + self.place.box.width / 2
        return "start" if middle < 0.25 else "end" if middle > 0.75 else "middle"

    @property
    def edge(self) -> str:
        """The edge of the frame at which the label line begins."""
        box = self.place.box
        return _percent(box.top if self.is_low else box.top + box.height)


def add_faces(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the pages and answers to `app`."""
    if bench.faces is None:
        return
    _add_pages(app, bench, bench.faces, page)
    _add_answers(app, bench.faces)
    _add_switch(app, bench.faces)


def _add_pages(app: FastAPI, bench: Workbench, desk: FaceDesk, page: Page) -> None:
    @app.get("/faces", response_class=HTMLResponse)
    def faces(start: str = "", within: str = "", was: str = "", done: int | None = None) -> Response:
        values = {
            **bench.room("Questions"),
            "desk": desk,
            "within": within,
            "done": done,
            "words": desk.sitting.done(done),
        }
        if not desk.is_on:
            return page("faces_off.html", **values, consent=CONSENT, undone="/faces")
        asked = desk.asked(start, within)
        shown = _asked(asked) if asked else {}
        addresses = _addresses(asked, within, was)
        return page("faces.html", **values, **shown, **addresses, containers=desk.containers(), asked=asked)

    @app.get("/faces/in/{view}", response_class=HTMLResponse)
    def in_view(view: str, done: int | None = None) -> Response:
        shown = desk.in_view(hex_name(view, 32))
        values = {**bench.room(""), "done": done, "words": desk.sitting.done(done), "is_on": desk.is_on}
        seen = shown if desk.is_on else evolve(shown, faces=())
        return page("faces_of_print.html", **values, **_of_print(seen), here=f"/faces/in/{view}")

    @app.get("/faces/called")
    def called(begun: str = "") -> JSONResponse:
        return JSONResponse(desk.called(begun[:_LONGEST]))

    @app.get("/faces/erase", response_class=HTMLResponse)
    def erase() -> Response:
        return page("faces_erase.html", **bench.room("Questions"))


def _asked(asked: FaceAsked) -> dict[str, Any]:
    frames = [FrameShown(one) for one in asked.shown.faces]
    marked = next(one for one in frames if one.key == asked.asked.face.key)
    return {
        "view": asked.shown.view,
        "described": asked.shown.described,
        "marked": marked,
        "beside": [one for one in frames if one.is_named],
        "picture": _("%(picture)s; marked is %(which)s", picture=_picture_words(asked.shown), which=marked.where),
    }


def _addresses(asked: FaceAsked | None, within: str, was: str) -> dict[str, str]:
    """Where one goes from a face: to the others, to the one asked about after it, and back to the one before."""
    key, following = (asked.asked.face.key, asked.following) if asked else ("", "")
    return {
        "here": _address("/faces", within=within),
        "stay": _address("/faces", within=within, start=key, was=key),
        "onward": _address("/faces", within=within, start=following, was=key),
        "undone": _address("/faces", within=within, start=was),
    }


def _of_print(shown: PrintFaces) -> dict[str, Any]:
    return {
        "view": shown.view,
        "described": shown.described,
        "frames": [FrameShown(one) for one in shown.faces],
        "picture": _picture_words(shown),
    }


def _picture_words(shown: PrintFaces) -> str:
    side = Capital(side_of(shown.view.side, shown.described.print.accession))
    if not shown.faces:
        return _("%(side)s with no face", side=side)
    return _n("%(side)s with %(num)s face", "%(side)s with %(num)s faces", len(shown.faces), side=side)


def _add_answers(app: FastAPI, desk: FaceDesk) -> None:
    def answer(request: Request, done: FaceDone, form: Form) -> Response:
        then = own_address(form.get("then", "/faces"))
        address = _address(then, done=done.act)
        if "text/html" in request.headers.get("accept", ""):
            return RedirectResponse(address, _SEE_OTHER)
        return JSONResponse({"go": address})

    @app.post("/faces/{key}/name")
    def name(request: Request, key: str, form: Fields) -> Response:
        return answer(request, desk.name([hex_name(key, 16)], form.get("name", "")), form)

    @app.post("/faces/{key}/name-all")
    def name_all(request: Request, key: str, form: Fields) -> Response:
        asked = desk.asked(hex_name(key, 16))
        keys = asked.unnamed if asked and asked.asked.face.key == key else [key]
        return answer(request, desk.name(keys, form.get("name", "")), form)

    @app.post("/faces/{key}/unname")
    def unname(request: Request, key: str, form: Fields) -> Response:
        return answer(request, desk.unname(hex_name(key, 16)), form)

    @app.post("/faces/{key}/aside/{word}")
    def aside(request: Request, key: str, word: str, form: Fields) -> Response:
        if word not in _ASIDE:
            raise InvalidValue(
                Sentence("Nothing was changed"),
                Sentence("“%(word)s” is nothing that can be said of a face", word=word),
            )
        return answer(request, desk.put_aside(hex_name(key, 16), _ASIDE[word]), form)

    @app.post("/faces/{key}/part")
    def part(request: Request, key: str, form: Fields) -> Response:
        return answer(request, desk.part(hex_name(key, 16)), form)

    @app.post("/faces/{key}/remove")
    def remove(request: Request, key: str, form: Fields) -> Response:
        return answer(request, desk.remove(hex_name(key, 16)), form)

    @app.post("/faces/in/{view}/draw")
    def draw(request: Request, view: str, form: Fields) -> Response:
        return answer(request, desk.draw(hex_name(view, 32), _box(form)), form)


def _add_switch(app: FastAPI, desk: FaceDesk) -> None:
    @app.post("/faces/on")
    def on() -> Response:
        act = desk.switch(on=True)
        if desk.is_set_up:
            desk.look()
        return RedirectResponse(_address("/faces", done=act), _SEE_OTHER)

    @app.post("/faces/off")
    def off() -> Response:
        return RedirectResponse(_address("/faces", done=desk.switch(on=False)), _SEE_OTHER)

    @app.post("/faces/look")
    def look() -> Response:
        desk.look()
        return RedirectResponse("/faces", _SEE_OTHER)

    @app.post("/faces/erase")
    def erase(form: Fields) -> Response:
        desk.erase(names_too=form.get("names") == "too")
        return RedirectResponse("/faces", _SEE_OTHER)


def _box(form: Form) -> Box:
    """The box of a form, given in percent of the picture; what is no number lies nowhere and is refused."""
    left, top, width, height = (_share(form.get(name, "")) for name in ("left", "top", "width", "height"))
    return Box(left, top, width, height)


def _share(text: str) -> float:
    try:
        value = float(text.strip().rstrip("%").replace(",", ".")) / 100
    except ValueError:
        return -1.0
    return value if math.isfinite(value) else -1.0


def _percent(share: float) -> str:
    return f"{100 * share:.3f}%"


def _address(path: str, **query: Any) -> str:
    told = urlencode({name: value for name, value in query.items() if value not in (None, "")}, quote_via=quote)
    return f"{path}{'&' if '?' in path else '?'}{told}" if told else path
