"""What a station answers: to words, to orders, to a picture."""

from __future__ import annotations

from enum import StrEnum

from attrs import frozen

from solander.core.slips import Part
from solander.core.statements import Sure
from solander.tasks.stand_faults import FaultTold

__all__ = ["Again", "Lately", "Said", "Story", "Taken", "Told", "Tone"]


class Tone(StrEnum):
    """Which sound goes with an answer."""

    TAKEN = "taken"
    UNDERSTOOD = "understood"
    NOT_UNDERSTOOD = "not"
    AGAIN = "again"


@frozen
class Said:
    """What became of words: `state` is "understood", "ask" (shown, to be confirmed, nothing changed) or "not".

    `parts` are those that were understood, as the slip says them then and how sure; `left` is what was not
    understood. `act` is the number of the act where prints that were taken before got it too.
    """

    state: str
    words: str
    parts: tuple[tuple[Part, str, Sure], ...] = ()
    left: tuple[str, ...] = ()
    act: int | None = None

    @property
    def tone(self) -> Tone:
        """Which sound goes with it."""
        return Tone.UNDERSTOOD if self.state == "understood" else Tone.NOT_UNDERSTOOD


@frozen
class Told:
    """What an order did, as a sentence, with its sound; `act` where it changed what is known."""

    words: str
    tone: Tone = Tone.UNDERSTOOD
    act: int | None = None


@frozen
class Lately:
    """A picture that lies beside the stage: the print with its slip in words, which side, the key of the view.

    `back_of` is the print of which it looks to be the back, where that waits for an answer.
    """

    accession: str
    side: str
    key: str
    act: int
    words: str
    faults: tuple[FaultTold, ...] = ()
    back_of: str = ""


@frozen
class Taken:
    """What became of a picture. `accession` is empty where nothing was taken; `prints` are all that it showed.

    `side` is "front", "back" or "detail"; `key` is that of the view. `ppi` is pixels an inch on the paper where
    the stage tells them. `looks_like` is a print taken before that it shows again, `back_of` the one of which it
    looks to be the back. `known` tells that the very same bytes were taken before.
    """

    words: str
    tone: Tone
    accession: str = ""
    side: str = ""
    key: str = ""
    act: int | None = None
    faults: tuple[FaultTold, ...] = ()
    ppi: float | None = None
    prints: tuple[str, ...] = ()
    looks_like: str = ""
    back_of: str = ""
    known: bool = False


@frozen
class Story:
    """A story that is being told: when it `began` (seconds of UNIX time), how long the recording is, and the
    prints that it goes with; with none, it goes with the next."""

    began: float
    seconds: float
    prints: tuple[str, ...] = ()


@frozen
class Again:
    """Two pictures of one side of a print, of which a person chooses the one that is shown: views by key, and the
    faults of each."""

    accession: str
    side: str
    old: str
    new: str
    old_faults: tuple[FaultTold, ...] = ()
    new_faults: tuple[FaultTold, ...] = ()
