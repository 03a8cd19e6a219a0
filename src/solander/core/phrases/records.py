"""What was understood of a phrase."""

from __future__ import annotations

from typing import Literal

from attrs import frozen

from solander.core.statements import Sure

__all__ = ["DatePhrase", "Reading"]


@frozen
class Reading:
    """One way to understand a phrase as EDTF, with the first and last day of it (ordinals, None where open).

    `bounds` is `printing` for what a laboratory or a paper says: the picture was taken then or before.
    """

    edtf: str
    earliest: int | None
    latest: int | None
    bounds: Literal["exposure", "printing"] = "exposure"
    sure: Sure = Sure.CERTAIN


@frozen
class DatePhrase:
    """A phrase, its readings best first (none when there is no date in it), and the words that were not read."""

    phrase: str
    readings: tuple[Reading, ...]
    unused: tuple[str, ...]
