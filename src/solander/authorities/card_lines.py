"""The lines of address books: vCard 3 and 4, and what telephones still write of version 2.1.

Forms from RFC 6350 (4.0) and RFC 2426 (3.0); of 2.1 only quoted-printable text, from memory.
"""

from __future__ import annotations

import quopri
import re
from collections.abc import Iterator

from attrs import frozen

__all__ = ["Property", "properties", "text_of_value"]

_LINE = re.compile(
    r"(?:[\w-]+\.)?(?P<name>[\w-]+)(?P<params>(?:;(?:\"[^\"]*\"|[^:\"])*)*):(?P<value>.*)", re.DOTALL
)
_PARAM = re.compile(r";([\w-]+)(?:=((?:\"[^\"]*\"|[^;])*))?")
_ESCAPED = re.compile(r"\\([nN,;:\\])")


@frozen
class Property:
    """A line of a card: its name, its parameters in capitals with their values in small letters, its value."""

    name: str
    params: dict[str, str]
    value: str

    def words(self) -> str:
        """The value as text."""
        return text_of_value(self.value)

    def parts(self) -> list[str]:
        """The parts of a value that semicolons part."""
        return [text_of_value(part) for part in re.split(r"(?<!\\);", self.value)]


def properties(text: str) -> Iterator[Property]:
    """The properties of all cards in order; what is no property is left out."""
    return filter(None, map(_property, _lines(text)))


def _lines(text: str) -> Iterator[str]:
    """The lines as they were before folding; a soft break of quoted-printable text goes on too."""
    whole = ""
    for line in re.split(r"\r\n|\n|\r", text):
        if line[:1] in (" ", "\t"):
            whole += line[1:]
        elif whole.endswith("=") and "QUOTED-PRINTABLE" in whole.partition(":")[0].upper():
            whole = whole[:-1] + line
        else:
            yield whole
            whole = line
    yield whole


def _property(line: str) -> Property | None:
    found = _LINE.fullmatch(line)
    if found is None:
        return None
    params = {name.upper(): value.strip('"').casefold() for name, value in _PARAM.findall(found["params"])}
    value = found["value"]
    if params.get("ENCODING") == "quoted-printable" or "QUOTED-PRINTABLE" in params:
        value = _in_letters(quopri.decodestring(value.encode()), params.get("CHARSET", "utf-8"))
    return Property(found["name"].upper(), params, value)


def _in_letters(data: bytes, charset: str) -> str:
    """The text, in UTF-8 where nobody knows the letters that a card names."""
    try:
        return data.decode(charset, "replace")
    except LookupError:
        return data.decode("utf-8", "replace")


def text_of_value(value: str) -> str:
    """A value without its escapes, as words with one blank between them."""
    plain = _ESCAPED.sub(lambda found: "\n" if found[1] in "nN" else found[1], value)
    return " ".join(plain.split())
