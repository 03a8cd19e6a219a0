"""Speech at the stand: from sound to what a person would type, without a network."""

from __future__ import annotations

from solander.reading.speech.activity import CHUNK, RATE, Activity, Utterance
from solander.reading.speech.listen import Certainty, Listener, Understood
from solander.reading.speech.said import Part
from solander.reading.speech.sentences import Names

__all__ = ["CHUNK", "RATE", "Activity", "Certainty", "Listener", "Names", "Part", "Understood", "Utterance"]
