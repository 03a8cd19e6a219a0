"""Whether what was just taken looks like a back that bears writing."""

from __future__ import annotations

from solander.core.prints import View
from solander.tasks.collection import Collection

__all__ = ["looks_like_back"]


def looks_like_back(collection: Collection, view: View) -> bool:
    """Whether the view shows a plain side with writing on it."""
    return False
