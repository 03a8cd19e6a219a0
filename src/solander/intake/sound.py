"""Sound as it comes from a microphone (16-bit PCM, one channel, 16 kHz) and as it is kept and played.

Kept as FLAC (RFC 9639), which loses nothing; handed to relatives as MP3 (ISO/IEC 11172-3). Written and read by
libsndfile.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import soundfile
from attrs import frozen
from numpy.typing import NDArray

__all__ = [
    "RATE",
    "SoundFacts",
    "UnreadableSound",
    "facts_of",
    "flac_of",
    "mp3_of",
    "pcm_of",
    "wav_of",
    "write_flac",
]

RATE = 16_000
"""Samples a second: enough for a voice, and what recognition hears."""

_BYTES = 2
_BLOCK = 1 << 18  # samples written at once: a quarter of a minute

Samples = NDArray[np.int16]


class UnreadableSound(Exception):
    """A file that is no sound that can be read."""


@frozen
class SoundFacts:
    """Of a recording: seconds, samples a second, channels."""

    seconds: float
    rate: int
    channels: int


def samples_of(pcm: bytes) -> Samples:
    """Samples of little-endian PCM; half a sample at the end is left off."""
    return np.frombuffer(pcm[: len(pcm) // _BYTES * _BYTES], "<i2").astype(np.int16)


def flac_of(pcm: bytes) -> bytes:
    """FLAC of 16-bit PCM, sample for sample the same."""
    content = io.BytesIO()
    soundfile.write(content, samples_of(pcm), RATE, format="FLAC", subtype="PCM_16")
    return content.getvalue()


def write_flac(pcm: Path, target: Path) -> float:
    """Writes the FLAC of a file of 16-bit PCM, block by block; gives the seconds."""
    written = 0
    with soundfile.SoundFile(target, "w", RATE, 1, "PCM_16", format="FLAC") as file:
        for block in _blocks(pcm):
            file.write(block)
            written += len(block)
    return written / RATE


def _blocks(pcm: Path) -> Iterator[Samples]:
    with pcm.open("rb") as file:
        while content := file.read(_BLOCK * _BYTES):
            yield samples_of(content)


def facts_of(path: Path) -> SoundFacts:
    """What a recording is.

    Raises
    ------
    UnreadableSound
        When it can't be read as sound.
    """
    try:
        told = soundfile.info(path)
    except (soundfile.LibsndfileError, RuntimeError) as error:
        raise UnreadableSound(str(error)) from error
    return SoundFacts(told.frames / told.samplerate, told.samplerate, told.channels)


def pcm_of(path: Path) -> Samples:
    """The samples of a recording, one channel.

    Raises
    ------
    UnreadableSound
        When it can't be read as sound.
    """
    try:
        samples, _rate = soundfile.read(path, dtype="int16", always_2d=True)
    except (soundfile.LibsndfileError, RuntimeError) as error:
        raise UnreadableSound(str(error)) from error
    return np.asarray(samples[:, 0], np.int16)


def wav_of(path: Path) -> bytes:
    """A recording as WAV, which every browser plays."""
    content = io.BytesIO()
    soundfile.write(content, pcm_of(path), facts_of(path).rate, format="WAV", subtype="PCM_16")
    return content.getvalue()


def mp3_of(path: Path) -> bytes:
    """A recording as MP3, a third of its size, for listening: it opens by a double click on whatever relatives
    have, which Opus does not yet (telephones and tablets of some years ago; from memory)."""
    content = io.BytesIO()
    soundfile.write(content, pcm_of(path), facts_of(path).rate, format="MP3", subtype="MPEG_LAYER_III")
    return content.getvalue()
