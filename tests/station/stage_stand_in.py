"""A stand-in for the live stage: it tells pages what a test wants told, and keeps what they send.

It stands before the routes of the workbench, so that the page of the station can be looked at without a camera,
without a stand, and in every state there is.
"""

from __future__ import annotations

import asyncio
import io
import json
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

from attrs import define, field
from named_box import named_collection
from PIL import Image, ImageDraw, ImageFilter
from served import running
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route, WebSocketRoute
from starlette.websockets import WebSocket, WebSocketDisconnect

from solander.station.app import create_app
from solander.station.stage_words import light_words, watched_words
from solander.station.stages import Stages
from solander.station.workbench import Workbench
from solander.tasks.names import Names
from solander.tasks.show import Shown

CORNERS = [[0.28, 0.2], [0.74, 0.24], [0.71, 0.78], [0.25, 0.74]]
"""Where the print lies on the drawn stage, as shares of its width and height."""


def watched(
    state: str, why: str = "", where: str = "", light: str = "", sure: bool | None = None
) -> dict[str, Any]:
    """A message as the live stage sends it; with an outline where `sure` is told."""
    return {
        "state": state,
        "why": why,
        "words": watched_words(state, why, where, waits=False),
        "light": light,
        "light_words": light_words(light),
        "outlines": [] if sure is None else [{"corners": CORNERS, "sure": sure}],
    }


WATCHED = {
    "empty": watched("empty"),
    "unsure": watched("arriving", sure=False),
    "hand": watched("hand", "hand"),
    "still": watched("settled", sure=True),
    "glare": watched("settled", "glare", "top edge", sure=True),
    "taken": watched("taken", sure=True),
    "drift": watched("empty", light="drift"),
    "resting": watched("resting"),
}

SLIP = {
    "words": "Summer 1958, likely · Bergen · Ingrid (31) and Nils (28)",
    "parts": [
        {"part": "date", "words": "Summer 1958", "sure": "likely"},
        {"part": "place", "words": "Bergen", "sure": "certain"},
        {"part": "people", "words": "Ingrid (31) and Nils (28)", "sure": "certain"},
        {"part": "container", "words": "B2/E5", "sure": "certain"},
    ],
    "sounds": [],
}

LAST = [
    {
        "accession": "B2-E5-0014",
        "side": "front",
        "thumb": "/station/1/drawn/14.jpg",
        "words": "Summer 1958, likely · Bergen · Ingrid (31) and Nils (28)",
        "faults": ["Not sharp: take it again"],
    },
    {
        "accession": "B2-E5-0013",
        "side": "back",
        "thumb": "/station/1/drawn/13.jpg",
        "words": "Summer 1958 · Bergen",
        "faults": [],
    },
    {
        "accession": "B2-E5-0012",
        "side": "front",
        "thumb": "/station/1/drawn/12.jpg",
        "words": "between Whitsun 1936 and the war · Wawrzyniec Brzęczyszczykiewicz-Chrząszczyżewoszycki",
        "faults": [],
    },
]


def drawn_stage(*, laid: bool = True, hand: bool = False) -> bytes:
    """A stage in light, with a print on it, as a camera might send it."""
    picture = Image.new("RGB", (640, 480), "#8E8A83")
    draw = ImageDraw.Draw(picture)
    if laid:
        corners = [(x * 640, y * 480) for x, y in CORNERS]
        draw.polygon([(x + 5, y + 6) for x, y in corners], fill="#6B675F")
        draw.polygon(corners, fill="#F1ECDF")
        inner = [(x * 0.93 + 0.07 * 316, y * 0.92 + 0.08 * 235) for x, y in corners]
        draw.polygon(inner, fill="#A59A86")
        draw.polygon([inner[3], inner[2], (430, 230), (300, 250), (220, 220)], fill="#57503F")
        draw.ellipse((300, 170, 340, 230), fill="#E6DFCF")
        draw.polygon([(285, 330), (320, 225), (360, 330)], fill="#EFE9DC")
    if hand:
        draw.ellipse((420, 300, 700, 460), fill="#C79B81")
    return _jpeg(picture.filter(ImageFilter.GaussianBlur(0.8)))


def _drawn_print(number: int) -> bytes:
    picture = Image.new("RGB", (240, 168), "#F1ECDF")
    draw = ImageDraw.Draw(picture)
    if number % 2:
        draw.line((40, 60, 150, 52), fill="#6A645B", width=2)
        draw.line((40, 84, 120, 78), fill="#6A645B", width=2)
    else:
        draw.rectangle((10, 10, 229, 157), fill="#A59A86")
        draw.polygon([(10, 157), (10, 110), (90, 80), (229, 120), (229, 157)], fill="#57503F")
        draw.ellipse((110, 50, 140, 95), fill="#E6DFCF")
    return _jpeg(picture)


def _jpeg(picture: Image.Image) -> bytes:
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=85)
    return out.getvalue()


@define
class StandIn:
    """What pages of one station are told, and what they sent."""

    refuses: dict[str, str] | None = None
    posted: list[tuple[str, dict[str, Any]]] = field(factory=list, init=False)
    sound: bytearray = field(factory=bytearray, init=False)
    ear: list[dict[str, Any]] = field(factory=list, init=False)
    drawn: int = field(default=0, init=False)
    first: list[dict[str, Any]] = field(factory=list, init=False)
    _pages: list[WebSocket] = field(factory=list, init=False)
    _loop: asyncio.AbstractEventLoop | None = field(default=None, init=False)
    _open: threading.Event = field(factory=threading.Event, init=False)

    @property
    def routes(self) -> list[Any]:
        return [
            WebSocketRoute("/station/{name}/live", self._live),
            WebSocketRoute("/station/{name}/sound", self._hear),
            Route("/station/{name}/drawn/{number:int}.jpg", self._drawn),
            Route("/station/{name}/sounds/{sound}.wav", self._kept),
            Route("/station/{name}/{what}", self._post, methods=["POST"]),
        ]

    def tell(self, **message: Any) -> None:
        """Tells every page that looks."""
        self._on_all(lambda page: page.send_text(json.dumps(message)))

    def show(self, jpeg: bytes) -> None:
        self._on_all(lambda page: page.send_bytes(jpeg))

    def cut(self) -> None:
        """Loses the socket of every page."""
        self._on_all(lambda page: page.close(1001))
        self._open.clear()

    def wait(self) -> None:
        """Until a page looks."""
        assert self._open.wait(20), "no page opened the socket"

    def orders(self) -> list[Any]:
        return [sent["order"] for what, sent in list(self.posted) if what == "order"]

    def _on_all(self, send: Any) -> None:
        self.wait()
        assert self._loop is not None

        async def sending() -> None:
            for page in list(self._pages):
                await send(page)

        asyncio.run_coroutine_threadsafe(sending(), self._loop).result(20)

    async def _live(self, page: WebSocket) -> None:
        await page.accept()
        self._loop = asyncio.get_running_loop()
        for message in self.first:
            await page.send_text(json.dumps(message))
        self._pages.append(page)
        self._open.set()
        with suppress(WebSocketDisconnect, RuntimeError):
            while True:
                self.drawn += bool((await page.receive_json()).get("next"))
        self._pages.remove(page)

    async def _hear(self, page: WebSocket) -> None:
        await page.accept()
        with suppress(WebSocketDisconnect):
            while True:
                got = await page.receive()
                if got["type"] == "websocket.disconnect":
                    return
                if got.get("bytes"):
                    self.sound += got["bytes"]
                elif got.get("text"):
                    self.ear.append({**json.loads(got["text"]), "after": len(self.sound)})

    async def _post(self, request: Request) -> Response:
        self.posted.append((request.path_params["what"], await request.json()))
        return JSONResponse(self.refuses, 400) if self.refuses else JSONResponse({})

    async def _drawn(self, request: Request) -> Response:
        return Response(_drawn_print(request.path_params["number"]), media_type="image/jpeg")

    async def _kept(self, request: Request) -> Response:
        return Response(status_code=404)


def _nothing(*_: str) -> Any:
    raise AssertionError("the stand-in answers for the stage")


@contextmanager
def standing_in(root: Path, stage: StandIn) -> Iterator[str]:
    """The address of a workbench over a new collection, whose stage is the stand-in."""
    with named_collection(root) as collection:
        shown = Shown(collection)
        app = create_app(Workbench(shown, names=Names(shown), stages=Stages(_nothing, _nothing, _nothing)))
        app.router.routes[:0] = stage.routes
        with running(app, ws="websockets-sansio") as address:
            yield address
