"""The web workbench: pages over one collection, on this machine only."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, Protocol

from attrs import frozen
from fastapi import FastAPI, Request, Response
from fastapi.exceptions import RequestValidationError
from fastapi.responses import FileResponse, HTMLResponse, JSONResponse, RedirectResponse
from markupsafe import Markup
from starlette.exceptions import HTTPException
from starlette.staticfiles import StaticFiles

from solander.core.descriptions import DescribedPrint
from solander.core.errors import NotFound, Trouble
from solander.core.prints import View
from solander.core.questions import Asks, Question
from solander.look.pages import STATIC, environment
from solander.look.ruler import Span, bar_of, ruler_svg, span_of
from solander.look.ruler_figure import ruler_figure
from solander.look.shown import PrintShown, Stretch, show, stretches
from solander.station.album import add_album_pages, page_beside
from solander.station.faces import add_faces
from solander.station.forms import Fields, own_address
from solander.station.guard import HEADERS, Guard
from solander.station.names import add_names
from solander.station.one_person import add_one_person, pairs_waiting
from solander.station.outlines import add_outlines, edges_waiting
from solander.station.place import KEPT, STATION_STATIC, hex_name
from solander.station.turning import Turning, add_turning
from solander.station.which import add_which, which_waits
from solander.station.who import add_who, who_waits
from solander.tasks.album import Albums
from solander.tasks.face_desk import FaceDesk
from solander.tasks.names import Names
from solander.tasks.outlines import Outlines
from solander.tasks.who_is_it import WhoDesk
from solander.tasks.worth_asking import WorthAsking

__all__ = ["PRINTS_ON_A_PAGE", "Reading", "create_app"]

PRINTS_ON_A_PAGE = 200
"""Prints on one page of the Table; more are a step away, by order number, so that a long collection opens fast."""

LAID_SMALL = 4
"""Prints of an occasion that lie above a question about it: one row over its slip (looked at, not measured)."""

ROOMS = (("Table", "/"), ("Questions", "/questions"))
"""The rooms that there always are, as words and addresses."""

NAMES_ROOM = ("Names & places", "/people")


class Reading(Turning, Protocol):
    """What the workbench reads of a collection; tasks provide it."""

    @property
    def title(self) -> str:
        """The collection's name."""

    @property
    def second_copy(self) -> bool:
        """Whether a second copy exists."""

    @property
    def made_up(self) -> bool:
        """Whether all of it is invented, as the bundled box is."""

    def described(self) -> Sequence[DescribedPrint]:
        """All prints in time order; `order` counts from 1 without gaps."""

    def questions(self) -> Sequence[Question]:
        """What waits, the most useful first."""

    def mends(self) -> Sequence[str]:
        """Which single claims, if they were withdrawn, would settle several contradictions; sentences."""

    def worth_asking(self) -> Sequence[WorthAsking]:
        """What relatives are best asked next, the most useful first; none where nothing is to be asked."""

    def view_path(self, key: str) -> Path | None:
        """The JPEG of a view by its key, None where there is none."""

    def thumb_path(self, key: str) -> Path | None:
        """The same in small."""


class _Addresses:
    """Where the workbench serves things."""

    def page(self, described: DescribedPrint) -> str:
        return f"/print/{described.print.accession}"

    def small(self, described: DescribedPrint, view: View) -> str:
        return f"/thumb/{view.key}.jpg"

    def full(self, described: DescribedPrint, view: View) -> str:
        return f"/view/{view.key}.jpg"


_ADDRESSES = _Addresses()


@frozen
class _Sitting:
    """A page about to be made: what every page shows of the collection, read once for a request."""

    collection: Reading
    described: Sequence[DescribedPrint]
    questions: Sequence[Question]
    rooms: Sequence[tuple[str, str]] = ROOMS

    def values(self, present: str) -> dict[str, Any]:
        return {
            "title": self.collection.title,
            "made_up": self.collection.made_up,
            "second_copy": self.collection.second_copy,
            "waiting": len(self.questions),
            "rooms": self.rooms,
            "present": present,
            "look": "/static",
        }


def create_app(
    collection: Reading,
    outlines: Outlines | None = None,
    albums: Albums | None = None,
    names: Names | None = None,
    faces: FaceDesk | None = None,
    who: WhoDesk | None = None,
) -> FastAPI:
    """The workbench over `collection`; with `outlines` they can be checked and drawn, with `albums` a page is
    shown beside the prints on it, with `names` there is the room of names and places, with `faces` people
    are named on their prints, with `who` questions about names on slips are answered.

    Every answer carries the headers of `guard`; requests that name another host than this machine are refused.
    """
    app = FastAPI(title="Solander", docs_url=None, redoc_url=None, openapi_url=None)
    app.add_middleware(Guard)
    app.mount("/static", StaticFiles(directory=STATIC), name="static")
    app.mount("/station", StaticFiles(directory=STATION_STATIC), name="station")
    rooms = (*ROOMS, NAMES_ROOM) if names else ROOMS
    pages = environment("solander.station")

    def page(template: str, **values: Any) -> HTMLResponse:
        status = values.pop("status", 200)
        return HTMLResponse(pages.get_template(template).render(**values), status)

    def sit() -> _Sitting:
        return _Sitting(collection, collection.described(), collection.questions(), rooms)

    def room(present: str) -> dict[str, Any]:
        return _Sitting(collection, (), collection.questions(), rooms).values(present)

    _add_rooms(app, sit, page, outlines, albums, names, faces, who)
    _add_pictures(app, collection)
    if albums:
        add_album_pages(app, albums)
    add_turning(app, collection, key_in=_key)
    if outlines:
        add_outlines(app, outlines, page, room)
    if names:
        add_names(app, names, page, room, lambda prints: [show(one, _ADDRESSES) for one in prints])
        add_which(app, names)
        add_one_person(app, names)
    if faces:
        add_faces(app, faces, page, room)
    if who:
        add_who(app, who)
    _add_undo(app, outlines, names, faces, who)
    _add_troubles(app, page, room)
    return app


_Page = Callable[..., HTMLResponse]


def _add_rooms(
    app: FastAPI,
    sit: Callable[[], _Sitting],
    page: _Page,
    outlines: Outlines | None,
    albums: Albums | None,
    names: Names | None,
    faces: FaceDesk | None,
    who: WhoDesk | None,
) -> None:
    @app.get("/", response_class=HTMLResponse)
    def table(after: int = 0) -> Response:
        if names and names.knows_nothing:
            return RedirectResponse("/first-words", 303)
        return page("table.html", **_table(sit(), after))

    @app.get("/print/{accession}", response_class=HTMLResponse)
    def one_print(accession: str, done: int | None = None) -> Response:
        redraw, words = ("/outline/", outlines.sitting.done(done)) if outlines else ("", "")
        told = _print(sit(), accession)
        album = page_beside(albums, accession) if albums else None
        beside = {"album_page": album, "faces_on": faces is not None and faces.is_on}
        return page("print.html", **told, redraw=redraw, done=done, words=words, **beside)

    @app.get("/questions", response_class=HTMLResponse)
    def questions(done: int | None = None) -> Response:
        edges, numbers = edges_waiting(outlines)
        words = (outlines.sitting.done(done) if outlines else "") or (who.sitting.done(done) if who else "")
        words = words or (names.sitting.done(done) if names else "")
        sitting = sit()
        told: dict[str, Any] = {"done": done, "words": words, "who": who_waits(who, sitting.described)}
        told |= {"which": which_waits(names), "pairs": pairs_waiting(names)}
        told |= {"faces": faces, "unnamed": len(faces.waiting()) if faces else 0}
        return page("questions.html", **_questions(sitting, numbers), **told, edges=edges, all_edges=len(numbers))


def _add_pictures(app: FastAPI, collection: Reading) -> None:
    def picture(path: Path | None, key: str) -> FileResponse:
        if path is None or not path.is_file():
            raise NotFound(f"the picture {key} is not there", "its view was not made yet or was deleted")
        return FileResponse(path, media_type="image/jpeg", headers=KEPT)

    @app.get("/view/{key}.jpg")
    def view(key: str) -> FileResponse:
        return picture(collection.view_path(_key(key)), key)

    @app.get("/thumb/{key}.jpg")
    def thumb(key: str) -> FileResponse:
        return picture(collection.thumb_path(_key(key)), key)


def _key(text: str) -> str:
    """A view's key."""
    return hex_name(text, 32)


def _add_undo(app: FastAPI, *desks: Outlines | Names | FaceDesk | WhoDesk | None) -> None:
    """Takes an act of this sitting back, whichever part of the workbench did it."""
    sittings = [desk.sitting for desk in desks if desk is not None]
    if not sittings:
        return

    @app.post("/undo")
    def undo(form: Fields) -> Response:
        act = form.get("act", "")
        if not act.isdecimal():
            raise Trouble("Nothing was taken back", "it was not said what", "Load the page again")
        next((one for one in sittings if one.done(int(act))), sittings[0]).undo(int(act))
        return RedirectResponse(own_address(form.get("then", "")), 303)


def _add_troubles(app: FastAPI, page: _Page, room: Callable[[str], dict[str, Any]]) -> None:
    def answer(request: Request, trouble: Trouble) -> Response:
        if "text/html" not in request.headers.get("accept", ""):
            said = {"error": trouble.sentence, "what": trouble.what, "why": trouble.why, "todo": trouble.todo}
            return JSONResponse(said, trouble.status)
        values = {**room(""), "waiting": 0}
        return page("trouble.html", status=trouble.status, trouble=trouble, **values)

    @app.exception_handler(Trouble)
    def on_trouble(request: Request, trouble: Trouble) -> Response:
        return answer(request, trouble)

    @app.exception_handler(RequestValidationError)
    def on_bad_address(request: Request, error: RequestValidationError) -> Response:
        return answer(request, Trouble("This address could not be understood", todo="Go back to the table"))

    @app.exception_handler(HTTPException)
    def on_unknown_address(request: Request, error: HTTPException) -> Response:
        trouble = NotFound("There is nothing at this address", todo="Go back to the table")
        trouble.status = error.status_code
        return answer(request, trouble)

    @app.exception_handler(Exception)
    def on_fault_of_ours(request: Request, error: Exception) -> Response:
        # The server logs the error itself; it stands outside the guard, so its headers are put on here.
        trouble = Trouble(
            "Something went wrong in Solander", f"{type(error).__name__}: {error}", "Load the page again"
        )
        trouble.status = 500
        response = answer(request, trouble)
        response.headers.update(HEADERS)
        return response


def _table(sitting: _Sitting, after: int) -> dict[str, Any]:
    described = sitting.described
    bars, hrefs = [bar_of(one) for one in described], [_ADDRESSES.page(one) for one in described]
    here = [show(one, _ADDRESSES) for one in described if after < one.order <= after + PRINTS_ON_A_PAGE]
    span = span_of(bars)
    parts = stretches(here)
    return {
        **sitting.values("Table"),
        "stretches": parts,
        "span": span,
        "ruler": Markup(ruler_figure(bars, hrefs, span=span, links=_decades(parts))),
        "total": len(described),
        "earlier": max(0, after - PRINTS_ON_A_PAGE) if after > 0 else None,
        "later": after + PRINTS_ON_A_PAGE if after + PRINTS_ON_A_PAGE < len(described) else None,
    }


def _decades(parts: Sequence[Stretch]) -> dict[int, str]:
    return {part.decade: f"#{part.anchor}" for part in parts if part.decade is not None}


def _print(sitting: _Sitting, accession: str) -> dict[str, Any]:
    described = sitting.described
    place = next((i for i, one in enumerate(described) if one.print.accession == accession), None)
    if place is None:
        raise NotFound(f"No print has the number “{accession}”", todo="Look for it on the table")
    span = span_of([bar_of(one) for one in described])
    return {
        **sitting.values("Table"),
        "shown": show(described[place], _ADDRESSES),
        "total": len(described),
        "span": span,
        "ruler": _own_rule(described[place], span),
        "before": _neighbour(described, place - 1),
        "after": _neighbour(described, place + 1),
    }


def _own_rule(described: DescribedPrint, span: Span | None) -> Markup:
    return Markup(ruler_svg([bar_of(described)], span=span))


def _neighbour(described: Sequence[DescribedPrint], place: int) -> PrintShown | None:
    return show(described[place], _ADDRESSES) if 0 <= place < len(described) else None


def _questions(sitting: _Sitting, on_the_desk: Sequence[str]) -> dict[str, Any]:
    """What waits, gathered by what it is about, in the order of the first question of each; the edges of prints
    that lie `on_the_desk` are asked about there."""
    by_number = {one.print.accession: one for one in sitting.described}
    about: dict[str, list[Question]] = {}
    for question in sitting.questions:
        if question.asks is Asks.OUTLINE and question.subject in on_the_desk:
            continue
        about.setdefault(question.subject, []).append(question)
    subjects = [
        (subject, show(by_number[subject], _ADDRESSES) if subject in by_number else None, questions)
        for subject, questions in about.items()
    ]
    return {
        **sitting.values("Questions"),
        "subjects": subjects,
        "mends": sitting.collection.mends(),
        "asked": [_asked(question, sitting.described) for question in sitting.collection.worth_asking()],
    }


@frozen
class _Asked:
    """A question for relatives with what it is about: one print, or the first of an occasion and how many more."""

    question: WorthAsking
    shown: PrintShown | None
    pile: tuple[PrintShown, ...]
    more: int


def _asked(question: WorthAsking, described: Sequence[DescribedPrint]) -> _Asked:
    found = next((one for one in described if one.print.accession == question.subject), None)
    if found is not None:
        return _Asked(question, show(found, _ADDRESSES), (), 0)
    members = [one for one in described if one.occasion == question.subject]
    pile = tuple(show(one, _ADDRESSES) for one in members[:LAID_SMALL])
    return _Asked(question, None, pile, len(members) - len(pile))
