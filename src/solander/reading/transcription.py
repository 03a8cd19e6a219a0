"""What is said in a recording, written down by a speech model of the Whisper family that the user supplies.

The model is a folder on this computer in the form that faster-whisper reads (a converted model: `model.bin` and
what belongs to it). Nothing is ever got from a network. The program that runs it is an extra, imported here alone:
`pip install "solander[transcription]"`.
"""

from __future__ import annotations

import importlib
import importlib.util
import os
from collections.abc import Callable
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from solander.core.errors import CannotBegin
from solander.core.sentence import Sentence

__all__ = ["Transcriber", "is_installed", "transcriber"]

Transcriber = Callable[[NDArray[np.int16]], str]
"""Writes down 16-bit samples of one channel at 16 kHz."""

_PROGRAM = "faster_whisper"


def is_installed() -> bool:
    """Whether the program that runs such models is there."""
    return importlib.util.find_spec(_PROGRAM) is not None


def transcriber(model: Path, *, language: str | None = None) -> Transcriber:
    """Writes down what is said, by the model in that folder; `language` (ISO 639-1) is guessed where not given.

    Raises
    ------
    CannotBegin
        When there is no such model, or the program is not installed.
    """
    what = Sentence("Nothing was written down")
    if not (model / "model.bin").is_file():
        why = Sentence("there is no speech model in %(folder)s", folder=model)
        todo = Sentence("Name a folder with a converted model of the Whisper family: model.bin is in it")
        raise CannotBegin(what, why, todo)
    if not is_installed():
        why = Sentence("the program that runs such models is not installed")
        raise CannotBegin(what, why, Sentence('Run: pip install "solander[transcription]"'))
    os.environ["HF_HUB_OFFLINE"] = "1"  # the library looks for parts of models on a network otherwise
    library = importlib.import_module(_PROGRAM)
    try:
        engine = library.WhisperModel(str(model), device="auto", compute_type="auto", local_files_only=True)
    except (RuntimeError, ValueError, OSError) as error:
        todo = Sentence("Use a model that is converted for faster-whisper")
        raise CannotBegin(what, Sentence("the model could not be read (%(why)s)", why=error), todo) from error

    def write_down(samples: NDArray[np.int16]) -> str:
        segments, _told = engine.transcribe(samples.astype(np.float32) / 32768, language=language)
        return " ".join(segment.text.strip() for segment in segments).strip()

    return write_down
