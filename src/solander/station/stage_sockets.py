"""The sockets of a station: the camera's, those of the pages that look, the microphone's.

The same serve the workbench and phones; who may come in is said by a door. A page's messages are read and what
waits for it is sent at the same time, so that neither waits for the other.
"""

from __future__ import annotations

import asyncio
import json
from collections.abc import Awaitable, Callable, Mapping
from contextlib import suppress
from typing import Any, Protocol

from attrs import define, field
from starlette.requests import HTTPConnection
from starlette.responses import JSONResponse
from starlette.routing import BaseRoute, WebSocketRoute
from starlette.websockets import WebSocket, WebSocketDisconnect, WebSocketState

from solander.core.errors import Trouble
from solander.core.language import language, told
from solander.core.sentence import Sentence
from solander.station.allowance import Allowance
from solander.station.guard import short
from solander.station.spoken import spoken, trouble_message
from solander.station.stage_parts import HELD, PACES, ROUTES, CameraSays
from solander.station.stages import Stages, Station
from solander.station.viewer import Notice, Viewer
from solander.tasks.sent_pictures import refuse_preview

__all__ = ["Door", "Guest", "StageSockets"]

PICTURES_A_SECOND, SOUND_A_SECOND = 30, 2 * 16_000 * 1.5
"""What is above is passed over: a camera sends 10 to 15 pictures a second, a microphone 32 kB of sound."""

TEXTS_A_SECOND, TEXTS_AT_ONCE = 60, 300
"""A page says that it drew a picture as often as pictures come; what says more than that is no page of ours."""

LARGEST_SOUND = 64 * 1024
"""Bytes of sound in one message: two seconds."""

KNOWN_FOR_S = 5.0
"""Seconds after which it is looked at again whether somebody with an open socket may still be here."""

_WRONG_KIND, _NOT_ALLOWED, _SENT_AWAY = 1003, 1008, 4403


@define(eq=False)
class Guest:
    """Who came in: `key` and `name` of a phone, empty on this machine; `leave` sends them away at once.

    `is_known` tells whether they may still be here: another program may have sent them away.
    """

    key: str = ""
    name: str = ""
    is_known: Callable[[], bool] = lambda: True
    _gone: asyncio.Event = field(factory=asyncio.Event, init=False)
    _loop: asyncio.AbstractEventLoop = field(factory=asyncio.get_running_loop, init=False)

    def leave(self) -> None:
        """Ends all that they have open; called from any thread."""
        if not self._loop.is_closed():
            self._loop.call_soon_threadsafe(self._gone.set)

    async def gone(self) -> None:
        """Comes back when they were sent away."""
        while not self._gone.is_set() and await asyncio.to_thread(self.is_known):
            with suppress(TimeoutError):
                await asyncio.wait_for(self._gone.wait(), KNOWN_FOR_S)


class Door(Protocol):
    """Lets in, or raises `Trouble` with its status."""

    def __call__(self, connection: HTTPConnection) -> Guest: ...


Texts = Callable[[Mapping[str, Any]], Awaitable[None]]
Pieces = Callable[[bytes], Awaitable[None]]


@define(eq=False)
class StageSockets:
    """The sockets of all stations behind one door."""

    stages: Stages
    door: Door

    @property
    def routes(self) -> list[BaseRoute]:
        """Their addresses."""
        ends = {"camera": self.camera, "live": self.live, "sound": self.sound}
        return [WebSocketRoute(f"/station/{{name}}/{end}", serve) for end, serve in ends.items()]

    async def camera(self, socket: WebSocket) -> None:
        """Pictures of the stage in; out what the camera is to do and how things stand."""
        guest, station = await self._admitted(socket)
        if station is None:
            return
        allowance = Allowance(PICTURES_A_SECOND, PICTURES_A_SECOND)

        async def picture(jpeg: bytes) -> None:
            if allowance.allows():
                refuse_preview(jpeg)
                station.stage.frame(jpeg)

        async def says(message: Mapping[str, Any]) -> None:
            if message.get("pace") in PACES:
                await asyncio.to_thread(station.stage.camera_goes, message["pace"])
            if isinstance(message.get("camera"), dict):
                station.stage.camera_says(_camera_says(message["camera"]))

        with station.stage.camera() as viewer:
            await _converse(socket, guest, viewer, texts=says, pieces=picture)

    async def live(self, socket: WebSocket) -> None:
        """The live picture and how things stand, out."""
        guest, station = await self._admitted(socket)
        if station is None:
            return
        station.stage.language = language()
        with station.stage.viewer() as viewer:

            async def says(message: Mapping[str, Any]) -> None:
                if message.get("next"):
                    viewer.drew()

            await _converse(socket, guest, viewer, texts=says, pieces=_nothing)

    async def sound(self, socket: WebSocket) -> None:
        """Sound in; nothing goes out but what all pages are told."""
        guest, station = await self._admitted(socket)
        if station is None:
            return
        ear, allowance = station.ear, Allowance(SOUND_A_SECOND, 10 * SOUND_A_SECOND)

        async def piece(pcm: bytes) -> None:
            if len(pcm) <= LARGEST_SOUND and allowance.allows(len(pcm)):
                await asyncio.to_thread(ear.hear, pcm[: len(pcm) // 2 * 2], microphone)

        async def says(message: Mapping[str, Any]) -> None:
            if isinstance(message.get("mute"), bool):
                ear.mute(message["mute"])
            if isinstance(message.get("own_sound"), int):
                ear.own_sound(min(max(message["own_sound"], 0), 10_000))

        microphone = ear.begin()
        try:
            await _converse(socket, guest, None, texts=says, pieces=piece)
        finally:
            ear.end(microphone)

    async def _admitted(self, socket: WebSocket) -> tuple[Guest, Station | None]:
        """Who came in and to which station; no station when they were refused, which they have been told then."""
        try:
            guest = self.door(socket)
            station = await asyncio.to_thread(self.stages.at, socket.path_params["name"])
        except Trouble as trouble:
            await _refuse(socket, trouble)
            return Guest(), None
        await socket.accept()
        return guest, station


def _camera_says(said: Mapping[str, Any]) -> CameraSays:
    """What a camera tells of itself; what can't be is left out."""
    told = said.get("routes")
    sizes = {route: told.get(route) for route in ROUTES} if isinstance(told, dict) else {}
    routes = {route: (size[0], size[1]) for route, size in sizes.items() if size is not None and _is_size(size)}
    return CameraSays(routes, _held(said.get("locked")), _held(said.get("not")))


def _held(given: Any) -> tuple[str, ...]:
    """Of what a camera may hold still, what it names; nothing else goes on to pages."""
    return tuple(one for one in HELD if one in given) if isinstance(given, list) else ()


def _is_size(size: Any) -> bool:
    return (
        isinstance(size, list) and len(size) == 2 and all(isinstance(px, int) and 0 < px < 100_000 for px in size)
    )


async def _nothing(_: bytes) -> None:
    """For a page that sends no pieces."""


async def _converse(
    socket: WebSocket, guest: Guest, viewer: Viewer | None, *, texts: Texts, pieces: Pieces
) -> None:
    """Reads what comes and sends what waits, until the page leaves or is sent away."""
    async with asyncio.TaskGroup() as group:
        reading = group.create_task(_read(socket, texts, pieces))
        gone = group.create_task(guest.gone())
        sending = group.create_task(_send(socket, viewer) if viewer is not None else guest.gone())
        ended, _ = await asyncio.wait([reading, gone, sending], return_when=asyncio.FIRST_COMPLETED)
        for task in (reading, gone, sending):
            task.cancel()
    code, reason = reading.result() if reading in ended else (_SENT_AWAY, "")
    if socket.application_state is WebSocketState.CONNECTED and socket.client_state is WebSocketState.CONNECTED:
        with suppress(RuntimeError):  # it left meanwhile
            await socket.close(code, reason)


async def _read(socket: WebSocket, texts: Texts, pieces: Pieces) -> tuple[int, str]:
    """Takes in what comes; gives how to end: the code and a sentence (RFC 6455, 7.4)."""
    allowance = Allowance(TEXTS_A_SECOND, TEXTS_AT_ONCE)
    while True:
        message = await socket.receive()
        if message["type"] == "websocket.disconnect":
            return 1000, ""
        try:
            if message.get("bytes") is not None:
                await pieces(message["bytes"])
            elif not allowance.allows():
                return _NOT_ALLOWED, short(told(_TOO_MANY.sentence))
            else:
                said = json.loads(message.get("text") or "{}")
                await texts(said if isinstance(said, dict) else {})
        except Trouble as trouble:
            return _WRONG_KIND, short(told(trouble.sentence))
        except (ValueError, RecursionError):  # of brackets within brackets
            return _NOT_ALLOWED, "No message of a station."


_TOO_MANY = Trouble(Sentence("Too many messages came at once"), "", Sentence("Load the page again"))


async def _send(socket: WebSocket, viewer: Viewer) -> None:
    """Sends what waits, as fast as the page takes it."""
    with suppress(WebSocketDisconnect, RuntimeError):  # it left; who reads sees it, too
        while True:
            waiting = await viewer.next()
            if isinstance(waiting, Notice):
                # What stands is read from the collection: that may wait for somebody who writes.
                message = await asyncio.to_thread(_spoken, waiting)
                await socket.send_text(json.dumps(message, ensure_ascii=False))
            else:
                await socket.send_bytes(waiting)


def _spoken(notice: Notice) -> Any:
    return spoken(notice.told())


async def _refuse(socket: WebSocket, trouble: Trouble) -> None:
    if "websocket.http.response" in socket.scope.get("extensions", {}):
        await socket.send_denial_response(JSONResponse(spoken(trouble_message(trouble)), trouble.status))
    else:
        await socket.close(_NOT_ALLOWED, short(told(trouble.sentence)))
