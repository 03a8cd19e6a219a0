"""Names for people whom nobody has named yet, so that one can ask about them."""

from __future__ import annotations

__all__ = ["stand_in_name"]


def stand_in_name(number: int) -> str:
    """What somebody unknown is called until a person says more: "Unknown person 12".

    A number is given once in a collection and never again, so that a question asked of a relative by this name
    still means the same face when the answer comes.
    """
    return f"Unknown person {number}"
