"""Whether what was just taken looks like a back that bears writing."""

from __future__ import annotations

from solander.core.prints import View
from solander.imaging.backs import looks_like_written_back
from solander.tasks.collection import Collection
from solander.tasks.known_points import picture_of

__all__ = ["looks_like_back"]

LIKELY = 0.5
"""From here on it is asked; docs/measured.md says how often that is right."""


def looks_like_back(collection: Collection, view: View) -> bool:
    """Whether the view shows a plain side with writing on it."""
    return looks_like_written_back(picture_of(collection, view)) >= LIKELY
