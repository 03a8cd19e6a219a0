"""Facts that date photographs by what one sees, for the command line and the pages."""

from __future__ import annotations

from solander.authorities.dating import dating_facts, facts_like, facts_near
from solander.core.evidence import DatingFact

__all__ = ["facts_about", "facts_near"]


def facts_about(words: str) -> tuple[DatingFact, ...]:
    """The facts that the words mean, by number or description; without words, all of them."""
    return facts_like(words) if words.strip() else tuple(dating_facts().values())
