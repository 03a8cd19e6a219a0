"""What a phone at the stand is served, over a secure line: pairing, the camera page, its sockets, its stills.

Nothing else of the collection is here. Every request but pairing needs the cookie of a paired phone; the files
of the pages (type, style, scripts) hold nothing of anybody and need none.
"""

from __future__ import annotations

from collections.abc import Sequence
from threading import Lock
from typing import Any
from urllib.parse import parse_qs
from weakref import WeakSet

from attrs import define, field
from fastapi import FastAPI, Request, Response
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse
from starlette.concurrency import run_in_threadpool
from starlette.requests import HTTPConnection
from starlette.staticfiles import StaticFiles

from solander.core.errors import Trouble
from solander.core.sentence import Sentence
from solander.look.pages import STATIC
from solander.station.camera_page import camera_page
from solander.station.guard import Guard
from solander.station.place import STATION_STATIC
from solander.station.speaking import Speaking, add_script_words
from solander.station.spoken import spoken, trouble_message
from solander.station.stage_answers import StillAnswers, bounded_body
from solander.station.stage_sockets import Guest, StageSockets
from solander.station.stages import Stages, station_name
from solander.station.workbench import Page
from solander.tasks.cameras import Cameras, used_up

__all__ = ["COOKIE", "CameraDoor", "create_camera_app"]

COOKIE = "__Host-camera"
"""The prefix makes browsers keep it to this very address and to secure lines (RFC 6265bis, 4.1.3.2)."""

_A_YEAR = 365 * 24 * 3600
_LARGEST_FORM = 4096


@define(eq=False)
class CameraDoor:
    """Lets paired phones in, and sends one out that is revoked: at once, whatever it has open."""

    cameras: Cameras
    _inside: dict[str, WeakSet[Guest]] = field(factory=dict, init=False)
    _lock: Lock = field(factory=Lock, init=False)

    def __attrs_post_init__(self) -> None:
        self.cameras.on_revoked = self.revoked

    def __call__(self, connection: HTTPConnection) -> Guest:
        """The phone of a request or socket.

        Raises
        ------
        Trouble
            When it is not paired (status 403).
        """
        secret = connection.cookies.get(COOKIE, "")
        camera = self.cameras.known(secret)
        if camera is None:
            raise _not_paired()
        guest = Guest(camera.key, camera.name, lambda: self.cameras.known(secret) is not None)
        with self._lock:
            self._inside.setdefault(camera.key, WeakSet()).add(guest)
        return guest

    def revoked(self, key: str) -> None:
        """A phone was sent away."""
        with self._lock:
            for guest in self._inside.pop(key, ()):
                guest.leave()


def _not_paired() -> Trouble:
    trouble = Trouble(
        Sentence("This phone is not paired"),
        Sentence("it never was, or it was sent away at the workbench"),
        Sentence("Open “Phones at the stand” at the workbench, and point the phone at the code there"),
    )
    trouble.status = 403
    return trouble


def create_camera_app(stages: Stages, door: CameraDoor, page: Page, *, hosts: Sequence[str]) -> FastAPI:
    """The pages for phones; it answers under `hosts` alone, and over a secure line alone."""
    app = FastAPI(title="Solander", docs_url=None, redoc_url=None, openapi_url=None)
    app.add_middleware(Guard, hosts=hosts, scheme="https", headers=_HEADERS)
    app.add_middleware(Speaking)
    app.mount("/static", StaticFiles(directory=STATIC), name="static")
    add_script_words(app)
    _add_pairing(app, door.cameras, page)

    @app.get("/", response_class=HTMLResponse)
    def home() -> Response:
        return RedirectResponse("/station/1/camera", 303)

    @app.get("/station/{name}/camera", response_class=HTMLResponse)
    async def camera(request: Request, name: str) -> Response:
        guest = door(request)
        return await run_in_threadpool(
            camera_page, page, station_name(name), guest.name, collection=stages.collection
        )

    for part in (StageSockets(stages, door), StillAnswers(stages, door)):
        app.router.routes.extend(part.routes)
    app.mount("/station", StaticFiles(directory=STATION_STATIC), name="station")

    @app.exception_handler(Trouble)
    def on_trouble(request: Request, trouble: Trouble) -> Response:
        return _told(request, trouble, page)

    return app


_HEADERS = {"Referrer-Policy": "same-origin"}
"""So that a form says where it comes from, also to browsers that do not send Fetch Metadata."""


def _add_pairing(app: FastAPI, cameras: Cameras, page: Page) -> None:
    @app.get("/pair/{code}", response_class=HTMLResponse)
    def ask(code: str, at: str = "1") -> Response:
        # Only asks: phones look at addresses before their owner does, and a code is good for once.
        if not cameras.is_offered(code):
            raise used_up()
        return page("pair.html", **_FRAME, code=code, at=at)

    @app.post("/pair")
    async def pair(request: Request) -> Response:
        said = parse_qs((await bounded_body(request, _LARGEST_FORM)).decode("utf-8", "replace"))
        code, name, at = (said.get(field, [""])[-1] for field in ("code", "name", "at"))
        secret = await run_in_threadpool(cameras.pair, code, name)
        answer = RedirectResponse(f"/station/{at if at.isalnum() and at.isascii() else '1'}/camera", 303)
        answer.set_cookie(COOKIE, secret, max_age=_A_YEAR, path="/", secure=True, httponly=True, samesite="strict")
        return answer


_FRAME: dict[str, Any] = {"title": "Solander", "made_up": False, "look": "/static"}


def _told(request: Request, trouble: Trouble, page: Page) -> Response:
    if "text/html" in request.headers.get("accept", ""):
        return page("camera_trouble.html", status=trouble.status, **_FRAME, trouble=trouble)
    return JSONResponse(spoken(trouble_message(trouble)), trouble.status)
