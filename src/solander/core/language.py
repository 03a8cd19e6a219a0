"""In which language words for people are said: the reader's, chosen for each request or command.

The language is carried by the context that runs (PEP 567), so that two readers at once each read their own.
`core` knows no files: whoever begins a request brings the catalogue of messages. Outside `speaking` English is
said, which is the language of the messages themselves.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from gettext import NullTranslations
from html import escape
from typing import Any

from attrs import field, frozen

__all__ = [
    "ENGLISH",
    "Language",
    "Told",
    "_",
    "_n",
    "decimal_words",
    "gettext",
    "joined",
    "language",
    "marked",
    "ngettext",
    "number_words",
    "speaking",
    "told",
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
    return gettext(message) % {name: told(value) for name, value in places.items()}


def _n(one: str, many: str, number: int, /, **places: Any) -> str:
    """The message for one or for many with its places filled; `%(num)s` is the number as it is written there."""
    filled = {name: told(value) for name, value in places.items()}
    return ngettext(one, many, number) % {**filled, "num": number_words(number)}


def marked(message: str) -> str:
    """The message itself, marked for translation: for words in tables, told by `_` when they are shown."""
    return message


class Told(str):
    """Text that can be told again in another language; as text it is English. See `solander.core.sentence`."""

    __slots__ = ()

    def told(self) -> str:
        """In the reader's language."""
        raise NotImplementedError

    def __html__(self) -> str:
        """How page templates show it."""
        return escape(self.told())


def told(value: Any) -> Any:
    """The value in the reader's language where it can be told in it, else as it is."""
    return value.told() if isinstance(value, Told) else value


def joined(parts: Sequence[str]) -> str:
    """A list as it is spoken: "Ingrid, Nils and Ola"."""
    if len(parts) < 2:
        return "".join(map(told, parts))
    return _("%(parts)s and %(last)s", parts=", ".join(map(told, parts[:-1])), last=parts[-1])


def number_words(number: int) -> str:
    """ "1,204", "1.204", "1 204": with the mark between thousands of the language."""
    return f"{number:,}".replace(",", _THOUSANDS.get(language().code, ","))


def decimal_words(number: float, digits: int) -> str:
    """ "1.8", "1,8": with so many digits after the mark of the language."""
    return f"{number:.{digits}f}".replace(".", _DECIMALS.get(language().code, "."))


_DECIMALS = {"en": ".", "de": ",", "fr": ","}
"""As CLDR says it (a test compares)."""

_THOUSANDS = {"en": ",", "de": ".", "fr": "\u202f"}
"""As CLDR says it (a test compares); French parts thousands by a narrow space that does not break."""
