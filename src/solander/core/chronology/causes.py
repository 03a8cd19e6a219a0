"""Why a bound is where it is: the statements behind it, as they are written down while tightening."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

__all__ = ["Cause", "Joint", "behind", "head", "statements_behind"]


class Joint(tuple[int, ...]):
    """The numbers of several statements that make a bound together, as with holes; nearest first."""


Cause = tuple[int, Any] | Joint
"""Why a bound is where it is: a statement's number and the cause (or None) that it built on, or a joint cause."""


def statements_behind(causes: Iterable[Cause | None]) -> list[int]:
    """The numbers of all statements behind the causes, each once, nearest first."""
    return list(dict.fromkeys(behind(causes)))


def behind(causes: Iterable[Cause | None]) -> Iterator[int]:
    """The same one by one, some perhaps more than once."""
    for why in causes:
        cause: Any = why
        while type(cause) is tuple:
            yield cause[0]
            cause = cause[1]
        if cause is not None:
            yield from cause


def head(cause: Cause | None) -> int | None:
    """The statement that made a bound in the last step, unless several did."""
    return cause[0] if type(cause) is tuple else None
