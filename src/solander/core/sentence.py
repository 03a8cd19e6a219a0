"""Sentences that are kept as parts, so that each reader hears them in the reader's language.

A `Sentence` is its English text, and holds beside it the message that it was made of and what fills its places.
Whoever compares, sorts or writes it meets English; a page tells it by `told`, and page templates do so by
themselves. The catalogue keeps it as one line of JSON (`kept`); what is no such line is read as it stands.

Names, captions and what people typed stand in places and stay as they are; dates (`solander.core.dates.Dated`),
numbers and other sentences in places are told in the reader's language too.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from typing import Any, ClassVar, Self

from solander.core.language import Told, _, decimal_words, gettext, joined, ngettext, number_words, told

__all__ = [
    "Capital",
    "Clause",
    "Counted",
    "Decimal",
    "Either",
    "Joined",
    "Kept",
    "Listed",
    "Number",
    "Sentence",
    "kept",
    "parts",
    "read_kept",
    "read_parts",
]

Part = Any
"""What JSON can hold; a list begins with the kind of sentence that it is."""

_KINDS: dict[str, type[Kept]] = {}


class Kept(Told):
    """Text that is kept as the parts it was made of; each subclass is a `kind` of it."""

    __slots__ = ("made_of",)
    kind: ClassVar[str]
    made_of: tuple[Any, ...]

    def __init_subclass__(cls, kind: str, **options: Any) -> None:
        super().__init_subclass__(**options)
        cls.kind = kind
        _KINDS[kind] = cls

    @classmethod
    def _made(cls, english: str, *made_of: Any) -> Self:
        new = str.__new__(cls, english)
        new.made_of = made_of
        return new

    @classmethod
    def again(cls, *made_of: Any) -> Self:
        """The same again, of its parts."""
        return cls(*made_of)

    def __reduce__(self) -> tuple[Callable[[Part], Any], tuple[Part]]:
        return read_parts, (parts(self),)


class Sentence(Kept, kind="say"):
    """A message with its places filled: `Sentence("joined %(one)s to %(other)s", one=…, other=…)`.

    A percent sign of the message itself is doubled, in every message.
    """

    __slots__ = ()

    def __new__(cls, message: str, /, **places: Any) -> Self:
        """Says it in English."""
        filled = {name: _value(each) for name, each in places.items()}
        return cls._made(message % filled, message, filled)

    def told(self) -> str:
        """In the reader's language."""
        message, places = self.made_of
        return (message and gettext(message)) % {name: told(value) for name, value in places.items()}

    @classmethod
    def again(cls, message: str, places: dict[str, Any]) -> Self:
        """The same again, of its parts."""
        return cls(message, **places)

    @classmethod
    def whole(cls, text: str) -> Self:
        """A text without places, of a table that translators know."""
        return cls(text.replace("%", "%%"))


class Counted(Kept, kind="count"):
    """A message for one or for many, as the language counts; `%(num)s` is the number as it is written there."""

    __slots__ = ()

    def __new__(cls, one: str, many: str, number: int, /, **places: Any) -> Self:
        """Says it in English."""
        filled = {name: _value(each) for name, each in places.items()}
        english = (one if number == 1 else many) % {**filled, "num": f"{number:,}"}
        return cls._made(english, one, many, number, filled)

    def told(self) -> str:
        """In the reader's language."""
        one, many, number, places = self.made_of
        filled = {name: told(value) for name, value in places.items()}
        return ngettext(one, many, number) % {**filled, "num": number_words(number)}

    @classmethod
    def again(cls, one: str, many: str, number: int, places: dict[str, Any]) -> Self:
        """The same again, of its parts."""
        return cls(one, many, number, **places)


class Number(Kept, kind="number"):
    """A number as the language writes it; years and other numbers that are names stand in places as they are."""

    __slots__ = ()

    def __new__(cls, number: int) -> Self:
        """Says it in English."""
        return cls._made(f"{number:,}", number)

    def told(self) -> str:
        """In the reader's language."""
        return number_words(*self.made_of)


class Decimal(Kept, kind="decimal"):
    """A number with digits after the decimal mark, as the language writes it."""

    __slots__ = ()

    def __new__(cls, number: float, digits: int = 1) -> Self:
        """Says it in English."""
        return cls._made(f"{number:.{digits}f}", number, digits)

    def told(self) -> str:
        """In the reader's language."""
        return decimal_words(*self.made_of)


class Listed(Kept, kind="list"):
    """A list as it is spoken: "Ingrid, Nils and Ola"."""

    __slots__ = ()

    def __new__(cls, those: Iterable[str]) -> Self:
        """Says it in English."""
        some = list(those)
        english = f"{', '.join(some[:-1])} and {some[-1]}" if len(some) > 1 else "".join(some)
        return cls._made(english, some)

    def told(self) -> str:
        """In the reader's language."""
        return joined(*self.made_of)


class Either(Kept, kind="either"):
    """A choice as it is spoken: "Ingrid or Nils"."""

    __slots__ = ()

    def __new__(cls, those: Iterable[str]) -> Self:
        """Says it in English."""
        some = list(those)
        return cls._made(" or ".join(some), some)

    def told(self) -> str:
        """In the reader's language."""
        *others, last = map(told, *self.made_of)
        return _("%(parts)s or %(last)s", parts=", ".join(others), last=last) if others else last


class Joined(Kept, kind="join"):
    """Clauses one after the other: "born 1921; died 1990"."""

    __slots__ = ()

    def __new__(cls, those: Iterable[str], between: str = "; ") -> Self:
        """Says it in English."""
        some = list(those)
        return cls._made(between.join(some), some, between)

    def told(self) -> str:
        """In the reader's language."""
        some, between = self.made_of
        return str(between).join(map(told, some))


class Capital(Kept, kind="capital"):
    """The same with a capital letter."""

    __slots__ = ()

    def __new__(cls, text: str) -> Self:
        """Says it in English."""
        return cls._made(text[:1].upper() + text[1:], text)

    def told(self) -> str:
        """In the reader's language."""
        (text,) = map(told, self.made_of)
        return str(text[:1].upper() + text[1:])


class Clause(Kept, kind="clause"):
    """The same without its full stop."""

    __slots__ = ()

    def __new__(cls, text: str) -> Self:
        """Says it in English."""
        return cls._made(text.rstrip("."), text)

    def told(self) -> str:
        """In the reader's language."""
        (text,) = map(told, self.made_of)
        return str(text.rstrip("."))


def _value(value: Any) -> Any:
    """What JSON can hold, as it stands in a place: a path by its name."""
    return value if value is None or isinstance(value, (str, int)) else str(value)


def parts(value: Any) -> Part:
    """A value of a place, or a sentence, as JSON keeps it."""
    if isinstance(value, Kept):
        return [value.kind, *map(parts, value.made_of)]
    if isinstance(value, dict):
        return {name: parts(each) for name, each in value.items()}
    if isinstance(value, list):
        return ["", *map(parts, value)]
    # Bytes of a file name that are not UTF-8 are written as escapes: no database and no page takes them.
    return value.encode("utf-8", "backslashreplace").decode() if isinstance(value, str) else value


def read_parts(kept: Part) -> Any:
    """What `parts` made JSON of."""
    if isinstance(kept, dict):
        return {name: read_parts(each) for name, each in kept.items()}
    if isinstance(kept, list):
        kind, *made_of = kept
        values = [read_parts(each) for each in made_of]
        return _KINDS[kind].again(*values) if kind else values
    return kept


def kept(text: str) -> str:
    """A sentence as one line of text, by which `read_kept` finds its parts again; other text as it is."""
    if not isinstance(text, Kept):
        return text
    return json.dumps(parts(text), ensure_ascii=False, separators=(",", ":"))


def read_kept(line: str) -> str:
    """The sentence of a line that `kept` wrote; any other text as it is."""
    if not line.startswith('["'):
        return line
    try:
        found = read_parts(json.loads(line))
    except (ValueError, KeyError, TypeError):
        return line
    return found if isinstance(found, Kept) else line
