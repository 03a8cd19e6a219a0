"""Speech at the stand: from sound to what a person would type, without a network."""

from __future__ import annotations

from solander.reading.speech.cues import likeliest, said_as
from solander.reading.speech.letters import can_be_said
from solander.reading.speech.listen import Listener, pronouncer
from solander.reading.speech.model import Model, english_model, model_in, table_for
from solander.reading.speech.pronounce import Pronouncer, Reads
from solander.reading.speech.respelt import respelt
from solander.reading.speech.sentences import Names
from solander.reading.speech.stream import Stream, Told

__all__ = [
    "Listener",
    "Model",
    "Names",
    "Pronouncer",
    "Reads",
    "Stream",
    "Told",
    "can_be_said",
    "english_model",
    "likeliest",
    "model_in",
    "pronouncer",
    "respelt",
    "said_as",
    "table_for",
]
