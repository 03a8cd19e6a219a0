"""Recordings that a collection keeps: told stories, and what was said at the stand and not understood."""

from __future__ import annotations

from enum import StrEnum

from attrs import frozen

__all__ = ["Sound", "SoundKind"]


class SoundKind(StrEnum):
    """What a recording is of."""

    SLIP = "slip"  # words for a slip that were not understood
    ACCOUNT = "account"  # a told story


@frozen
class Sound:
    """One recording, exactly as it was kept: named by its `sha256`, `size` in bytes, `seconds` long.

    `begun` is when it began (UTC, RFC 3339), `station` where; `suffix` is the ending of its file.
    """

    sha256: str
    what: SoundKind
    begun: str
    seconds: float
    size: int
    station: str = ""
    suffix: str = ".flac"
