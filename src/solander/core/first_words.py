"""What the owner says first: whose photographs these are, where they lived, between about which years."""

from __future__ import annotations

from attrs import frozen

__all__ = ["FIRST_WORDS_KEY", "FirstWords"]

FIRST_WORDS_KEY = "first_words"
"""The setting that keeps them."""


@frozen
class FirstWords:
    """All of it may be empty, and changed whenever somebody likes.

    `teller` is the heading of the person whose photographs they are, from whom "Grandmother" and "my brother" are
    seen. `homes` are headings of the places where they lived, which rank first. `years` is an EDTF value, `said`
    the words that it was understood from: it is the weakest of all evidence and binds no date.
    """

    teller: str = ""
    homes: tuple[str, ...] = ()
    years: str = ""
    said: str = ""

    @property
    def is_empty(self) -> bool:
        """Whether nothing was said."""
        return self == FirstWords()
