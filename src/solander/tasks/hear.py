"""Hears at the stand: a stream of sound in, what was said out, as a person would type it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from threading import Lock, Thread

from attrs import define, field, frozen

from solander.core.orders import Order
from solander.reading.speech import Activity, Certainty, Listener, Understood, Utterance
from solander.tasks.collection import Collection
from solander.tasks.names_said import names_said

__all__ = ["Heard", "Hearing"]

_GOES_ON_MS = 4000
"""What begins so soon after something else may be the rest of it: "summer nineteen … fifty-eight" (our choice)."""


@frozen
class Heard:
    """One utterance. `words` is what a person would type for it, `parts` the same by kind ("date", "place",
    "people", "container", "occasion") with how sure; `sound` is 16-bit PCM at 16 kHz. With `again` it takes the
    place of the utterance before, of which it is the rest."""

    words: str
    order: Order | None
    sure: str
    parts: tuple[tuple[str, str, str], ...]
    sound: bytes = field(repr=False)
    began_ms: int = 0
    ended_ms: int = 0
    again: bool = False


@define
class Hearing:
    """Listens to one microphone. `sound` is called by one thread at a time; all else by any."""

    collection: Collection
    _activity: Activity = field(factory=Activity, init=False)
    _listener: Listener = field(init=False)
    _before: Utterance | None = field(default=None, init=False)
    _is_muted: bool = field(default=False, init=False)
    _closed_until_ms: int = field(default=0, init=False)
    _story: bool = field(default=False, init=False)
    _making: Lock = field(factory=Lock, init=False)

    def __attrs_post_init__(self) -> None:
        self._listener = self._made()

    def sound(self, pcm: bytes) -> Sequence[Heard]:
        """What was said within these samples (16-bit little-endian, one channel, 16 kHz; any number of them)."""
        if self._is_muted or self._activity.now_ms < self._closed_until_ms:
            self._activity.forget()
            self._activity.skip(pcm)
            return ()
        return [heard for utterance in self._activity.hear(pcm) for heard in self._heard(utterance)]

    def own_sound(self, for_ms: int) -> None:
        """Hears nothing from now for so long, since our own sound plays; what was begun is dropped."""
        self._closed_until_ms = max(self._closed_until_ms, self._activity.now_ms + for_ms)

    def mute(self, muted: bool) -> None:
        """Hears nothing until told otherwise."""
        self._is_muted = muted

    def refresh(self) -> None:
        """Names or places changed: makes the grammar anew in the background; until then the old one hears."""
        Thread(target=self._make_anew, name="grammar", daemon=True).start()

    def _make_anew(self) -> None:
        with self._making:
            self._listener = self._made()

    def _made(self) -> Listener:
        return Listener(names_said(self.collection))

    def _heard(self, utterance: Utterance) -> Iterator[Heard]:
        before, self._before = self._before, utterance
        understood, listener = None, self._listener
        alone = listener.understand(utterance.samples)
        if alone.certainty is not Certainty.SURE and before and _follows(before, utterance):
            whole = before.before(utterance)
            understood = listener.understand(whole.samples)
            if understood.certainty is Certainty.SURE:
                self._before = whole
                yield _told(understood, whole, again=True)
                return
        yield _told(alone, utterance)


def _follows(before: Utterance, after: Utterance) -> bool:
    return after.began_ms - before.ended_ms <= _GOES_ON_MS


def _told(understood: Understood, utterance: Utterance, *, again: bool = False) -> Heard:
    sure = understood.certainty.value
    parts = tuple((part.kind.value, part.words, sure) for part in understood.parts)
    times = utterance.began_ms, utterance.ended_ms
    return Heard(understood.words, understood.order, sure, parts, utterance.samples.tobytes(), *times, again)
