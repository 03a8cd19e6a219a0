"""Small parts of a stage for tests: a watch that wants a still of every picture that begins a print, a stand that
keeps what it is given, an ear that hears what it was told to."""

from __future__ import annotations

import io
import warnings

import anyio
from attrs import define, field, frozen
from PIL import Image
from served import LONG_S

from solander.core.errors import Trouble
from solander.core.watching import State
from solander.station.stages import Stages
from solander.tasks.watch_stage import Watched

with warnings.catch_warnings():
    # It asks for the next major version of httpx, which nothing else here speaks yet.
    warnings.simplefilter("ignore")
    from starlette.testclient import TestClient as TestClient
    from starlette.testclient import WebSocketDenialResponse as SocketRefused  # noqa: F401
    from starlette.testclient import WebSocketTestSession


async def _received(session: WebSocketTestSession):
    with anyio.fail_after(LONG_S):
        return await session._send_rx.receive()


# Starlette's own waits without end for a message that never comes.
WebSocketTestSession.receive = lambda session: session.portal.call(_received, session)


def jpeg(width: int = 64, height: int = 48, grey: int = 128) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (width, height), (grey, grey, grey)).save(out, "JPEG")
    return out.getvalue()


@define
class Watch:
    """Wants a still whenever a picture differs from the one before it."""

    before: bytes = b""
    frames: list[bytes] = field(factory=list)
    kept: list[bool] = field(factory=list)
    missed: list[bool] = field(factory=list)
    orders: list = field(factory=list)
    state: State = State.EMPTY
    wants: bool = True

    def frame(self, picture: bytes, at_ms: int) -> Watched:
        new, self.before = picture != self.before, picture
        self.frames.append(picture)
        self.state = State.TAKEN if self.state is not State.RESTING else self.state
        corners = ((0.25, 0.25), (0.75, 0.25), (0.75, 0.75), (0.25, 0.75))
        return Watched(self.state, wants_still=new and self.wants, outlines=((corners, True),))

    def order(self, order, at_ms: int) -> Watched:
        self.orders.append(order)
        self.state = {"rest": State.RESTING, "wake": State.ARRIVING}.get(order.value, self.state)
        return Watched(self.state, wants_still=order.value == "take")

    def taken(self, at_ms: int, good: bool, missed: bool) -> Watched:
        self.kept.append(good)
        self.missed.append(missed)
        return Watched(self.state)


@frozen
class Took:
    accession: str
    side: str = "front"
    key: str = "0" * 32
    act: int | None = 1
    words: str = "Summer 1958"
    faults: tuple = ()
    ppi: float | None = 400.0
    back_of: str = ""
    tone: str = "taken"


@frozen
class Told:
    words: str
    act: int | None = None
    tone: str = "understood"


@define
class Stand:
    name: str
    again: object = None
    story: object = None
    pictures: list = field(factory=list)
    done: list = field(factory=list)

    def take(self, picture: bytes, name: str, *, route: str) -> Took:
        if picture.endswith(b"spoilt"):
            raise Trouble("The picture was not taken", "it is spoilt", "Take it again")
        if picture.endswith(b"nothing"):
            return Took("", words="No print was found", tone="again")
        self.pictures.append((picture, name, route))
        return Took(f"P-{len(self.pictures):04d}")

    def last(self, n: int) -> list[Took]:
        return [Took(f"P-{number:04d}") for number in range(len(self.pictures), 0, -1)][:n]

    def order(self, order) -> Told:
        self.done.append(order)
        return Told(f"Done: {order.value}")

    def say(self, words: str, *, sure: str = "sure") -> Told:
        self.done.append(words)
        return Told(words)

    def put(self, part: str, value: str) -> Told:
        self.done.append((part, value))
        return Told(value)

    def drop(self, part: str) -> Told:
        self.done.append(("drop", part))
        return Told("")

    def slip_words(self) -> str:
        return f"The slip of station {self.name}"

    def slip_parts(self) -> list:
        return [("place", "Bergen", "certain")]

    def sounds(self) -> list:
        return []

    def sound_wav(self, number) -> bytes:
        return b"RIFF" + str(number).encode()

    def type_sound(self, number, words: str) -> Told:
        self.done.append((number, words))
        return Told(words)

    def keep_sound(self, pcm: bytes) -> str:
        self.done.append(pcm)
        return Told("")

    def keep_of_two(self, which: str) -> Told:
        self.done.append(which)
        return Told(which)

    def answer_back(self, yes: bool) -> Told:
        self.done.append(yes)
        return Told("")

    def story_sound(self, pcm: bytes) -> None:
        self.done.append(("story", pcm))


@frozen
class Heard:
    words: str = ""
    order: object = None
    sure: str = "sure"
    sound: bytes = b"said"
    again: bool = False


@define
class Listening:
    """Hears what is in `next` once sound comes."""

    next: list[Heard] = field(factory=list)
    muted: bool = False
    pieces: list[bytes] = field(factory=list)
    forgot: int = 0

    def sound(self, pcm: bytes) -> list[Heard]:
        self.pieces.append(pcm)
        heard, self.next = self.next, []
        return heard

    def own_sound(self, for_ms: int) -> None:
        self.pieces.append(b"own")

    def forget(self) -> None:
        self.forgot += 1

    def mute(self, muted: bool) -> None:
        self.muted = muted

    def refresh(self) -> object:
        self.pieces.append(b"refreshed")


@define
class Here:
    """Stations of such parts; `watches`, `ears` are those that were made."""

    watches: list[Watch] = field(factory=list)
    ears: list[Listening] = field(factory=list)
    ear: Listening = field(factory=Listening)

    def stages(self) -> Stages:
        def watching() -> Watch:
            self.watches.append(Watch())
            return self.watches[-1]

        return Stages(watching, Stand, lambda: self.ear)
