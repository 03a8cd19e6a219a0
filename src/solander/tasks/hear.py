"""Hears at the stand: a stream of sound in, what was said out, as a person would type it."""

from __future__ import annotations

from collections.abc import Sequence
from threading import Lock, Thread

from attrs import define, field, frozen

from solander.core.orders import Order
from solander.reading.speech import Listener, Model, Stream, Told
from solander.tasks.collection import Collection
from solander.tasks.names_said import names_said
from solander.tasks.sounds_like import sounds_like

__all__ = ["Heard", "Hearing"]


@frozen
class Heard:
    """One utterance. `words` is what a person would type for it, `parts` the same by kind ("date", "place",
    "people", "container", "occasion") with how sure: "sure", "ask" or "not". `sound` is 16-bit PCM at 16 kHz;
    times are those of the stream. With `again` it takes the place of the utterance before, of which it is the
    rest."""

    words: str
    order: Order | None
    sure: str
    parts: tuple[tuple[str, str, str], ...] = ()
    sound: bytes = field(default=b"", repr=False)
    began_ms: int = 0
    ended_ms: int = 0
    again: bool = False


@define
class Hearing:
    """Listens to one microphone; `model` is one that the user supplies, else English is understood. `sound` is
    called by one thread at a time; all else by any."""

    collection: Collection
    model: Model | None = None
    _stream: Stream = field(init=False)
    _is_muted: bool = field(default=False, init=False)
    _forgets: bool = field(default=False, init=False)
    _closed_until_ms: int = field(default=0, init=False)
    _making: Lock = field(factory=Lock, init=False)
    _maker: Thread | None = field(default=None, init=False)
    _asked: bool = field(default=False, init=False)

    def __attrs_post_init__(self) -> None:
        self._stream = Stream(self._listener())

    def sound(self, pcm: bytes) -> Sequence[Heard]:
        """What was said within these samples (16-bit little-endian, one channel, 16 kHz; any number of them)."""
        if self._forgets:
            self._forgets = False
            self._stream.pass_by(b"")
        if self._is_muted or self._stream.activity.now_ms < self._closed_until_ms:
            self._stream.pass_by(pcm)
            return ()
        return [_heard(told) for told in self._stream.hear(pcm)]

    def own_sound(self, for_ms: int) -> None:
        """Hears nothing from now for so long, since our own sound plays; what was begun is dropped."""
        self._closed_until_ms = max(self._closed_until_ms, self._stream.activity.now_ms + for_ms)

    def forget(self) -> None:
        """Drops what was begun to be said, before the next samples: they are no rest of it."""
        self._forgets = True

    def mute(self, muted: bool) -> None:
        """Hears nothing until told otherwise."""
        self._is_muted = muted

    def refresh(self) -> Thread:
        """Names or places changed: makes the grammar anew in the background; until then the old one hears.

        Asked for while it is being made, the same thread makes it once more.
        """
        with self._making:
            self._asked = True
            if self._maker is None:
                self._maker = Thread(target=self._make_anew, name="grammar", daemon=True)
                self._maker.start()
            return self._maker

    def _make_anew(self) -> None:
        while True:
            with self._making:
                if not self._asked:
                    self._maker = None
                    return
                self._asked = False
            try:
                self._stream.listener = self._listener()
            except BaseException:
                self._maker = None
                raise

    def _listener(self) -> Listener:
        told = sounds_like(self.collection.catalogue)
        return Listener(names_said(self.collection), sounds_like=told, model=self.model)


def _heard(told: Told) -> Heard:
    understood, utterance = told.understood, told.utterance
    sure = understood.certainty.value
    parts = tuple((part.kind.value, part.words, sure) for part in understood.parts)
    sound, times = utterance.samples.tobytes(), (utterance.began_ms, utterance.ended_ms)
    return Heard(understood.words, understood.order, sure, parts, sound, *times, told.again)
