"""Speech at the stand: from sound to what a person would type, without a network."""

from __future__ import annotations

from solander.reading.speech.letters import can_be_said
from solander.reading.speech.listen import Listener
from solander.reading.speech.sentences import Names
from solander.reading.speech.stream import Stream, Told

__all__ = ["Listener", "Names", "Stream", "Told", "can_be_said"]
