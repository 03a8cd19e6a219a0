"""People as far as dates and privacy need them: names, and when they lived."""

from __future__ import annotations

from attrs import frozen

__all__ = ["Person"]


@frozen
class Person:
    """A person; `born` and `died` are EDTF values or empty when unknown."""

    name: str
    also_called: tuple[str, ...] = ()
    born: str = ""
    died: str = ""
