"""Names for people whom nobody has named yet, so that one can ask about them.

The rule: "Unknown person" and a number, whatever anybody guesses of sex or age, for a name that changes with every
guess is no name. Numbers count in the order in which somebody was first seen as one.
"""

from __future__ import annotations

import re

__all__ = ["stand_in_name", "stand_in_number"]

_NAME = re.compile(r"unknown\s+person\s+(?:no\.?\s*|#\s*)?0*([1-9]\d{0,8})", re.IGNORECASE)


def stand_in_name(number: int) -> str:
    """What somebody unknown is called until a person says more: "Unknown person 12".

    A number is given once in a collection and never again, so that a question asked of a relative by this name
    still means the same face when the answer comes.
    """
    return f"Unknown person {number}"


def stand_in_number(name: str) -> int | None:
    """The number of a stand-in as people write it ("unknown person 12"), None for any other name."""
    found = _NAME.fullmatch(name.strip())
    return int(found[1]) if found else None
