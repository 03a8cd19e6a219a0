"""What a station answers besides its sockets: a still is taken in; what a person presses or types is carried out.

Stills serve the workbench and phones; all else the workbench alone. Answers are objects; what goes wrong is
`{"trouble": {"what", "why", "todo"}}` with its status.
"""

from __future__ import annotations

import asyncio
import json
from collections.abc import Awaitable, Callable, Mapping
from datetime import UTC, datetime
from typing import Any

from attrs import define, field
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import BaseRoute, Route

from solander.core.errors import NotFound, Trouble
from solander.core.orders import Order
from solander.core.sentence import Sentence
from solander.station.allowance import Allowance
from solander.station.spoken import spoken, trouble_message
from solander.station.stage_parts import ROUTES, SentStill
from solander.station.stage_sockets import Door
from solander.station.stages import Stages, Station
from solander.station.ways_in import WaysIn
from solander.tasks.sent_pictures import LARGEST_STILL, refuse_still

__all__ = ["StageAnswers", "StillAnswers", "answered", "bounded_body"]

STILLS_A_SECOND, STILLS_AT_ONCE = 1.0, 30
"""Stills of one sender: nobody lays down more than one a second; what was kept out of reach comes at once."""

STILLS_UNDER_WAY = 4
"""Stills of one sender that come at the same time: each is held in memory as a whole."""

STILL_COMES_S = 180.0
"""Seconds in which one must have come: 80 MB at half a megabyte a second."""

LARGEST_WORDS = 64 * 1024
_TOO_LARGE = 413

Answering = Callable[[Request], Awaitable[Response]]


def answered(doing: Answering) -> Answering:
    """An answer whose trouble is an object."""

    async def answering(request: Request) -> Response:
        try:
            return await doing(request)
        except Trouble as trouble:
            # What is too large may still be coming: closing the line ends it.
            closing = {"connection": "close"} if trouble.status == _TOO_LARGE else None
            return JSONResponse(spoken(trouble_message(trouble)), trouble.status, closing)

    return answering


@define(eq=False)
class StillAnswers:
    """Takes stills in behind one door."""

    stages: Stages
    door: Door
    _allowances: dict[str, Allowance] = field(factory=dict, init=False)
    _under_way: dict[str, asyncio.Semaphore] = field(factory=dict, init=False)

    @property
    def routes(self) -> list[BaseRoute]:
        """The address to which stills go."""
        return [Route("/station/{name}/still", answered(self.still), methods=["POST"])]

    async def still(self, request: Request) -> Response:
        """Takes one still in: its bytes are the body; how it was taken stands in the query (`route`, `id`, `ask`,
        `at` in milliseconds since 1970, `collection` by its identifier)."""
        guest = self.door(request)
        if request.query_params.get("collection", self.stages.collection) != self.stages.collection:
            # A page that is open since another collection was served here; the camera keeps the picture.
            raise _refused(
                421, Sentence("it is of another collection"), Sentence("Load the page of the camera again")
            )
        allowance = self._allowances.setdefault(guest.key, Allowance(STILLS_A_SECOND, STILLS_AT_ONCE))
        under_way = self._under_way.setdefault(guest.key, asyncio.Semaphore(STILLS_UNDER_WAY))
        if under_way.locked() or not allowance.allows():
            raise _refused(429, Sentence("too many came at once"), Sentence("It is sent again by itself"))
        async with under_way:
            return await self._taken(request)

    async def _taken(self, request: Request) -> Response:
        try:
            async with asyncio.timeout(STILL_COMES_S):
                picture = await bounded_body(request, LARGEST_STILL)
        except TimeoutError:  # a line that broke without a word looks like one that is slow
            raise _refused(408, Sentence("it came too slowly"), Sentence("It is sent again by itself")) from None
        self.door(request)  # who sent it may have been sent away while it came
        query = request.query_params
        still = SentStill(
            picture,
            _name(query.get("at", ""), refuse_still(picture)),
            route=query["route"] if query.get("route") in ROUTES else "file",
            sent=query.get("id", "")[:64],
            ask=_number(query.get("ask", "")),
        )
        station = await asyncio.to_thread(self.stages.at, request.path_params["name"])
        return JSONResponse(spoken(await asyncio.to_thread(station.stage.take, still)))


def _refused(status: int, why: str, todo: str) -> Trouble:
    trouble = Trouble(Sentence("The picture was not taken in"), why, todo)
    trouble.status = status
    return trouble


async def bounded_body(request: Request, most: int) -> bytes:
    """The body, as far as it is not too large: more is not read.

    Raises
    ------
    Trouble
        When it is larger (status 413).
    """
    told, body = request.headers.get("content-length", ""), bytearray()
    if not (told.isdecimal() and int(told) > most):
        async for piece in request.stream():
            body += piece
            if len(body) > most:
                break
        else:
            return bytes(body)
    why = Sentence("it is larger than %(size)s MB", size=most >> 20)
    raise _refused(_TOO_LARGE, why, Sentence("Let it come by a watched folder instead"))


def _name(at: str, suffix: str) -> str:
    """A name by when the picture was taken: as its camera says, else now."""
    when = datetime.fromtimestamp(int(at) / 1000, UTC) if at.isdecimal() and len(at) == 13 else datetime.now(UTC)
    return f"stand {when.astimezone():%Y-%m-%d %H.%M.%S}.{when.microsecond // 1000:03d}{suffix}"


def _number(text: str) -> int:
    return int(text) if text.isdecimal() and len(text) < 16 else 0


Said = Mapping[str, Any]
Acting = Callable[[Station, Said], Any]


@define(eq=False)
class StageAnswers:
    """Carries out what a person presses or types at the workbench."""

    stages: Stages
    door: Door

    @property
    def routes(self) -> list[BaseRoute]:
        """The addresses of all acts, and of sounds to be played."""
        acts = [
            Route(f"/station/{{name}}/{verb}", answered(self._acting(act)), methods=["POST"])
            for verb, act in _ACTS.items()
        ]
        return [*acts, Route("/station/{name}/sounds/{number}.wav", answered(self.played))]

    def _acting(self, act: Acting) -> Answering:
        async def answering(request: Request) -> Response:
            self.door(request)
            said = _said(await bounded_body(request, LARGEST_WORDS))
            station = await asyncio.to_thread(self.stages.at, request.path_params["name"])
            await asyncio.to_thread(act, station, said)
            return JSONResponse({})

        return answering

    async def played(self, request: Request) -> Response:
        """A sound that was not understood."""
        station = self.stages.open.get(request.path_params["name"])
        if station is None:  # any page may ask for an address, but none makes a station by that
            raise NotFound(Sentence("There is no such sound"), todo=Sentence("Load the page again"))
        wav = await asyncio.to_thread(station.stage.stand.sound_wav, request.path_params["number"])
        return Response(wav, media_type="audio/wav")


def _said(body: bytes) -> Said:
    try:
        said = json.loads(body or b"{}")
    except (ValueError, RecursionError):  # of brackets within brackets
        said = None
    if not isinstance(said, dict):
        raise _not_done(Sentence("it was no message of a page"))
    return said


def _not_done(why: str) -> Trouble:
    return Trouble(Sentence("Nothing was done"), why, Sentence("Load the page again"))


def _text(said: Said, name: str) -> str:
    text = said.get(name, "")
    if not isinstance(text, str) or not text.strip():
        raise _not_done(Sentence("“%(name)s” is missing", name=name))
    return text.strip()


def _order(station: Station, said: Said) -> None:
    try:
        order = Order(said.get("order"))
    except ValueError:
        raise _not_done(Sentence("there is no such order")) from None
    station.order(order)


def _say(station: Station, said: Said) -> None:
    words, stand = _text(said, "words"), station.stage.stand
    sound = said.get("sound")
    station.stage.act(lambda: stand.type_sound(sound, words) if sound is not None else stand.say(words))


def _put(station: Station, said: Said) -> None:
    part, words = _text(said, "part"), _text(said, "words")
    station.stage.act(lambda: station.stage.stand.put(part, words))


def _drop(station: Station, said: Said) -> None:
    part = _text(said, "part")
    station.stage.act(lambda: station.stage.stand.drop(part))


def _heard(station: Station, said: Said) -> None:
    number = said.get("id")
    station.ear.answer(number if isinstance(number, int) else 0, said.get("yes") is True)


def _again(station: Station, said: Said) -> None:
    which = _text(said, "keep")
    if which not in ("new", "old"):
        raise _not_done(Sentence("it was not said which picture to keep"))
    station.stage.act(lambda: station.stage.stand.keep_of_two(which))


def _back(station: Station, said: Said) -> None:
    station.stage.act(lambda: station.stage.stand.answer_back(said.get("yes") is True))


def _ways(station: Station) -> WaysIn:
    if station.ways is None:
        raise _not_done(Sentence("there is no other way in at this station"))
    return station.ways


def _folder(station: Station, said: Said) -> None:
    if said.get("do") == "end":
        _ways(station).ways.leave_folder()
    else:
        path = said.get("path")
        only_new = said.get("all") is not True
        _ways(station).ways.watch(path if isinstance(path, str) else "", only_new=only_new)


def _scanner(station: Station, said: Said) -> None:
    ways = _ways(station).ways
    match said.get("do"):
        case "look":
            ways.look_for_scanners()
        case "stop":
            ways.stop_scan()
        case "away":
            ways.leave_scanner()
        case _:
            device, place, dpi = (said.get(name) for name in ("device", "place", "dpi"))
            text = [one if isinstance(one, str) else "" for one in (device, place)]
            ways.scan(text[0], dpi if isinstance(dpi, int) else 0, text[1])


def _cable(station: Station, said: Said) -> None:
    ways = _ways(station).ways
    ways.end_cable() if said.get("do") == "end" else ways.begin_cable()


_ACTS: Mapping[str, Acting] = {
    "order": _order,
    "say": _say,
    "put": _put,
    "drop": _drop,
    "heard": _heard,
    "again": _again,
    "back": _back,
    "folder": _folder,
    "scanner": _scanner,
    "cable": _cable,
}
"""What each address does."""
