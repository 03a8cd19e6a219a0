"""In which language words for people are said: the reader's, chosen for each request or command.

The language is carried by the context that runs (PEP 567), so that two readers at once each read their own.
`core` knows no files: whoever begins a request brings the catalogue of messages. Outside `speaking` English is
said, which is the language of the messages themselves.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from gettext import NullTranslations
from typing import Any

from attrs import field, frozen

__all__ = [
    "ENGLISH",
    "Language",
    "_",
    "_n",
    "gettext",
    "language",
    "marked",
    "ngettext",
    "number_words",
    "speaking",
]


@frozen
class Language:
    """A language by its code (ISO 639-1), its name in itself, and its messages."""

    code: str
    name: str
    messages: NullTranslations = field(factory=NullTranslations, eq=False, repr=False)


ENGLISH = Language("en", "English")

_SPOKEN: ContextVar[Language] = ContextVar("language", default=ENGLISH)


def language() -> Language:
    """The language that is spoken here and now."""
    return _SPOKEN.get()


@contextmanager
def speaking(chosen: Language) -> Iterator[None]:
    """Everything said within is said in `chosen`."""
    before = _SPOKEN.set(chosen)
    try:
        yield
    finally:
        _SPOKEN.reset(before)


def gettext(message: str) -> str:
    """The message as it is, translated."""
    return language().messages.gettext(message)


def ngettext(one: str, many: str, number: int) -> str:
    """The message for one or for many, as the language counts."""
    return language().messages.ngettext(one, many, number)


def _(message: str, /, **places: Any) -> str:
    """The message in the reader's language with its places filled: `_("The back of %(print)s", print=number)`.

    A percent sign of the message itself is doubled, in every message, as in page templates.
    """
    return gettext(message) % places


def _n(one: str, many: str, number: int, /, **places: Any) -> str:
    """The message for one or for many with its places filled; `%(num)s` is the number as it is written there."""
    return ngettext(one, many, number) % {**places, "num": number_words(number)}


def marked(message: str) -> str:
    """The message itself, marked for translation: for words in tables, told by `_` when they are shown."""
    return message


def number_words(number: int) -> str:
    """ "1,204", "1.204", "1 204": with the mark between thousands of the language."""
    return f"{number:,}".replace(",", _THOUSANDS.get(language().code, ","))


_THOUSANDS = {"en": ",", "de": ".", "fr": "\u202f"}
"""As CLDR says it (a test compares); French parts thousands by a narrow space that does not break."""
