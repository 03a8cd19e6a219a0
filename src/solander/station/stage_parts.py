"""What a live stage is made of, as far as it needs to know: who watches, who takes in, who listens; and what a
camera tells and sends."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Protocol

from attrs import field, frozen

from solander.core.orders import Order

__all__ = ["HELD", "PACES", "ROUTES", "CameraSays", "Listening", "SentStill", "StageWatching", "Standing"]

PACES = ("watch", "slow", "rest")
"""How often a camera sends its picture: as usual, once a second, not at all."""

ROUTES = ("frame", "still", "file")
"""Ways in which a still is taken."""

HELD = ("exposure", "white-balance", "focus", "torch", "awake")
"""What a camera may hold still."""


@frozen
class SentStill:
    """A still as it came: the file's bytes, the name that it gets, the `route` by which it was taken ("frame",
    "still", "file"); `sent` is the camera's own number of it, `ask` the number of the ask that it answers, 0 for
    none."""

    picture: bytes = field(repr=False)
    name: str
    route: str = "still"
    sent: str = ""
    ask: int = 0


@frozen
class CameraSays:
    """What a camera tells of itself: pixels of a picture by `routes` ("frame", "still"), what it holds still
    (`locked`: "exposure", "white-balance", "focus", "torch", "awake") and what its browser does not let it hold
    (`missing`)."""

    routes: Mapping[str, tuple[int, int]] = field(factory=dict)
    locked: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()


class StageWatching(Protocol):
    """Sees what lies on the stage; `tasks.watch_stage` provides it. Times are milliseconds of any clock that never
    goes back."""

    def frame(self, jpeg: bytes, at_ms: int) -> Any:
        """What a picture of the stage shows."""

    def order(self, order: Order, at_ms: int) -> Any:
        """What comes of an order."""

    def taken(self, at_ms: int, good: bool, missed: bool) -> Any:
        """A still was kept; with `missed` it showed no print."""


class Standing(Protocol):
    """The person at the stand: what holds just now, and what was taken; `tasks.at_stand` provides it."""

    @property
    def again(self) -> Any:
        """Two pictures of one side, of which a person keeps one; None where none wait."""

    @property
    def story(self) -> Any:
        """The story that is told just now; None where none is."""

    def take(self, picture: bytes, name: str, *, route: str) -> Any:
        """Takes a picture in."""

    def order(self, order: Order) -> Any:
        """Carries out an order."""

    def say(self, words: str, *, sure: str = "sure") -> Any:
        """Understands words, spoken or typed."""

    def put(self, part: str, value: str) -> Any:
        """Writes a part of the slip."""

    def drop(self, part: str) -> Any:
        """Takes a part off the slip."""

    def last(self, n: int) -> Sequence[Any]:
        """The last prints, the newest first."""

    def slip_words(self) -> str:
        """The slip as one sentence."""

    def slip_parts(self) -> Sequence[tuple[str, str, str]]:
        """Its parts: which, its words, how sure."""

    def sounds(self) -> Sequence[Any]:
        """What was said and not understood."""

    def sound_wav(self, number: Any) -> bytes:
        """One of them, to be played."""

    def type_sound(self, number: Any, words: str) -> Any:
        """What one of them says."""

    def keep_sound(self, pcm: bytes) -> Any:
        """Keeps what was not understood."""

    def keep_of_two(self, which: str) -> Any:
        """Decides between the old picture and the new one."""

    def answer_back(self, yes: bool) -> Any:
        """Answers whether the last picture is the back of the print before."""

    def story_sound(self, pcm: bytes) -> Any:
        """More of a told story."""


class Listening(Protocol):
    """Understands speech; `tasks.hear` provides it."""

    def sound(self, pcm: bytes) -> Sequence[Any]:
        """What was said up to now; the next piece of sound, 16-bit mono at 16 kHz."""

    def own_sound(self, until_ms: int) -> None:
        """Hears nothing for so long: our own sound plays."""

    def forget(self) -> None:
        """Drops what was begun to be said: what follows is no rest of it."""

    def mute(self, muted: bool) -> None:
        """Shuts or opens the ear."""

    def refresh(self) -> object:
        """Learns names and places that changed; does not wait for it."""
