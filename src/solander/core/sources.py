"""Who says something, as statements keep it, told in the reader's language."""

from __future__ import annotations

import re
from typing import Self

from solander.core.language import _, marked
from solander.core.sentence import Kept

__all__ = ["Source"]

_SLIP = re.compile(r"(?P<who>.*?, )?slip file (?P<file>.+), line (?P<line>\d+)(?P<more>.*)")
_CALLED = {
    marked("archivist"),
    marked("list of people"),
    marked("told before"),
    marked("back inscription"),
    marked("border inscription"),
}
"""How commands call whoever speaks, and what stands on the print. Statements are found again by it, so it is kept
in English."""


class Source(Kept, kind="source"):
    """The source of a statement: names as they are, a slip's place as slips are called in the language."""

    __slots__ = ()

    def __new__(cls, source: str) -> Self:
        """Says it in English, as it is kept."""
        return cls._made(source, str(source))

    def told(self) -> str:
        """In the reader's language."""
        (source,) = self.made_of
        if source in _CALLED:
            return _(source)
        found = _SLIP.fullmatch(source)
        if not found:
            return str(source)
        place = _("slip file %(file)s, line %(line)s", file=found["file"], line=found["line"])
        return f"{found['who'] or ''}{place}{found['more']}"
