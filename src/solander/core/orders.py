"""What a person at the stand may order, by a spoken phrase, a key, a pedal or a shutter button."""

from __future__ import annotations

from enum import Enum

__all__ = ["Order"]


class Order(Enum):
    """An order at the stand; its value is its name in messages between page and program."""

    TAKE = "take"
    """Take the print now, settled or not."""
    TAKE_AGAIN = "take-again"
    """The next capture is to replace the last one, when the person has seen both."""
    BACK = "back"
    """The next capture is the back of the last print."""
    OWN_PRINT = "own-print"
    """The last capture, taken for a back, is a print of its own."""
    UNDO = "undo"
    """The last act of this station is taken back."""
    CLEAR = "clear"
    """The slip is emptied; the container stays."""
    REST = "rest"
    """Camera and analysis stop until they are wanted."""
    WAKE = "wake"
    """They go on."""
    STORY = "story"
    """A told story begins: it is recorded, and changes no slip."""
    STORY_ENDS = "story-ends"
    """It ends."""
    EMPTY_STAGE = "empty-stage"
    """The stage is empty now: this picture is the new reference."""
    DEAF = "deaf"
    """The microphone is shut until it is opened by hand."""
