"""A stream of sound, listened to: utterances are cut out, understood, and joined where one was in two.

What is said is understood beside, as soon as it may have ended; when the pause is long enough to believe it, the
answer is mostly there. Where the speaker went on, it was understood for nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import Future, ThreadPoolExecutor

from attrs import define, field, frozen

from solander.reading.speech.activity import Activity, Utterance
from solander.reading.speech.listen import Certainty, Listener, Understood

__all__ = ["Stream", "Told"]

_GOES_ON_MS = 4000
"""What begins so soon after something else may be the rest of it: "summer nineteen … fifty-eight" (our choice)."""

_A_BREATH_MS = 1000
"""So short a pause parts nothing that belongs to one kind (our choice)."""

_MOST_TOGETHER_MS = 20_000
"""Longer than this nothing is put together: the search takes as long as the sound is long."""


@frozen
class Told:
    """What was understood of an utterance; `again` when it takes the place of the one before, being its rest."""

    understood: Understood
    utterance: Utterance
    again: bool = False


@define
class Stream:
    """Listens to one microphone; `listener` may be changed for another at any time."""

    listener: Listener
    activity: Activity = field(factory=Activity)
    _before: Told | None = field(default=None, init=False)
    _beside: ThreadPoolExecutor = field(factory=lambda: ThreadPoolExecutor(1, "speech"), init=False)
    _perhaps: tuple[int, Future[Told]] | None = field(default=None, init=False)
    """When speech may have ended, in the stream's milliseconds, and what is being understood of it."""

    def hear(self, pcm: bytes) -> Iterator[Told]:
        """What was said within these samples (16-bit little-endian, one channel, 16 kHz)."""
        for utterance in self.activity.hear(pcm):
            if not utterance.is_over:
                self._begin(utterance)
                continue
            self._before = self._finished(utterance)
            yield self._before

    def pass_by(self, pcm: bytes) -> None:
        """Time passes, and nothing is listened to; what was begun is dropped."""
        self.activity.forget()
        self.activity.skip(pcm)
        self._before = None
        self._drop()

    def _begin(self, utterance: Utterance) -> None:
        self._drop()
        self._perhaps = utterance.ended_ms, self._beside.submit(self._told, utterance, self._before)

    def _drop(self) -> None:
        if self._perhaps is not None:
            self._perhaps[1].cancel()
            self._perhaps = None

    def _finished(self, utterance: Utterance) -> Told:
        if self._perhaps is None or self._perhaps[0] != utterance.ended_ms:  # cut at its greatest length
            self._begin(utterance)
        assert self._perhaps is not None
        told = self._perhaps[1].result()
        self._perhaps = None
        return told

    def _told(self, utterance: Utterance, before: Told | None) -> Told:
        """Alone, where that is clear; else together with what was said just before, where that makes sense."""
        alone = self.listener.understand(utterance.samples)
        clear = alone.certainty is Certainty.SURE
        if before is None or not _follows(before, utterance) or (clear and not _goes_on(before, alone, utterance)):
            return Told(alone, utterance)
        together = before.utterance.before(utterance)
        whole = self.listener.understand(together.samples)
        if whole.certainty is Certainty.SURE and whole.order is None:
            return Told(whole, together, again=True)
        return Told(alone, utterance)


def _follows(before: Told, after: Utterance) -> bool:
    """Whether it comes soon enough to be the rest of what was said before."""
    began, ended = before.utterance.began_ms, before.utterance.ended_ms
    is_order = before.understood.order is not None and before.understood.certainty is Certainty.SURE
    soon, short = after.began_ms - ended <= _GOES_ON_MS, after.ended_ms - began <= _MOST_TOGETHER_MS
    return soon and short and not is_order


def _goes_on(before: Told, alone: Understood, utterance: Utterance) -> bool:
    """Whether what is clear alone may still be the rest of a list or a number: "Ingrid … Nils and Anna"."""
    last, first = before.understood.parts[-1:], alone.parts[:1]
    at_once = utterance.began_ms - before.utterance.ended_ms <= _A_BREATH_MS
    return at_once and bool(last and first) and last[0].kind is first[0].kind
