"""Occasions: what the prints of one event or outing share (a date, a place, a name); people stay with prints."""

from __future__ import annotations

from attrs import frozen

__all__ = ["Occasion"]


@frozen
class Occasion:
    """An event or outing; its date and place are statements about it."""

    name: str
