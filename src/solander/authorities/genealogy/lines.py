"""The lines of family-tree files: letters, levels, records, one record in memory at a time.

The forms of lines are those of the FamilySearch GEDCOM 7 specification, chapter 1, and of GEDCOM 5.5.1 (from
memory). What real files have and the grammars have not is read too where it can mean one thing only: indented
and empty lines, tabs for blanks, any end of line, text that runs on in a line without a level, a wrong name for
the letters.
"""

from __future__ import annotations

import codecs
import io
import re
from collections.abc import Iterator

from attrs import define, frozen

from solander.authorities.genealogy.ansel import from_ansel

__all__ = ["Line", "Text", "records", "text_of"]

_HEAD = 4096
_MARKS_OF_ORDER = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_UNMARKED = ((b"0\0", "utf-16-le"), (b"\0" + b"0", "utf-16-be"))
_NAMES_OF_LETTERS = {
    "": "ansel",  # of old the usual ones
    "ansel": "ansel",
    "ansi": "cp1252",
    "ansi windows": "cp1252",
    "windows": "cp1252",
    "ibm windows": "cp1252",
    "windows-ansi": "cp1252",
    "ascii": "cp1252",
    "ansi-ascii": "cp1252",
    "latin1": "cp1252",
    "iso-8859-1": "cp1252",
    "ibmpc": "cp437",
    "ibm dos": "cp850",
    "ibm-pc": "cp437",
    "msdos": "cp850",
    "macintosh": "mac-roman",
    "unicode": "utf-8",
    "utf8": "utf-8",
}
"""What programs write behind CHAR, and what is meant (5.5.1 and common practice, no source)."""
_CHAR = re.compile(rb"^[ \t]*1[ \t]+CHAR[ \t]+([^\r\n]*)", re.MULTILINE)
_VERSION = re.compile(rb"^[ \t]*2[ \t]+VERS[ \t]+7", re.MULTILINE)
_LINE = re.compile(r"\s*(\d{1,2})[ \t]+(?:(@[^@\s]+@)[ \t]+)?(\S+)(?:[ \t]([^\n]*))?\n?")
_SIGNS = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]")
"""Control signs, which no name has and no XML may hold."""


@define
class Line:
    """A line with those below it; `value` without the marks of its version, `xref` of a record."""

    tag: str
    value: str
    xref: str
    below: list[Line]

    def first(self, tag: str) -> Line | None:
        """The first line of that tag below."""
        for line in self.below:
            if line.tag == tag:
                return line
        return None

    def all(self, *tags: str) -> list[Line]:
        """The lines of those tags below."""
        return [line for line in self.below if line.tag in tags]

    def said(self, tag: str) -> str:
        """The value of the first line of that tag below, or nothing."""
        found = self.first(tag)
        return found.value.strip() if found else ""


@frozen
class Text:
    """A file's text, and what to know about its letters, if anything."""

    text: str
    remark: str = ""


def text_of(data: bytes) -> Text:
    """The text of a family-tree file, by its mark, its look, or what it says of its letters.

    Where it says one thing and is another, it is read as what it is, and that is told.
    """
    for mark, encoding in (*_MARKS_OF_ORDER, *_UNMARKED):
        if data.startswith(mark):
            return Text(data.decode(encoding, "replace"), _damage(data, encoding))
    named = _CHAR.search(data[:_HEAD])
    said = named[1].decode("latin-1").strip() if named else ""
    meant = "utf-8" if _VERSION.search(data[:_HEAD]) else _codec(said)
    return _as_it_is(data, said=said, meant=meant)


def _as_it_is(data: bytes, *, said: str, meant: str) -> Text:
    if data.isascii():
        return Text(data.decode("ascii"))
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError:
        if meant != "utf-8":
            return Text(_decoded(data, meant))
        return Text(
            data.decode("cp1252", "replace"),
            "It is meant to be in UTF-8 and is not; it was read as Windows-1252. Look at names with accents.",
        )
    wrong = meant != "utf-8"
    return Text(text, f"It says that its letters are {said or 'ANSEL'}, but they are UTF-8." if wrong else "")


def _decoded(data: bytes, codec: str) -> str:
    return from_ansel(data) if codec == "ansel" else data.decode(codec, "replace")


def _damage(data: bytes, encoding: str) -> str:
    try:
        data.decode(encoding)
    except UnicodeDecodeError:
        return "Some of its letters are damaged and stand as �."
    return ""


def _codec(said: str) -> str:
    name = _NAMES_OF_LETTERS.get(said.casefold(), said)
    try:
        return name if name == "ansel" else codecs.lookup(name).name
    except LookupError:
        return "cp1252"


def records(text: str, *, seven: bool) -> Iterator[Line]:
    """The records of a file in order, each with all that is below it; `seven` for the rules of GEDCOM 7.

    A line without a level goes on with the text of the one before.
    """
    path: list[Line] = []
    for raw in io.StringIO(_SIGNS.sub(" ", text), newline=None):
        found = _LINE.fullmatch(raw)
        if found is None:
            if path and raw.strip():
                path[-1].value += f"\n{raw.rstrip()}"
            continue
        level, xref, tag, value = found.groups("")
        if "@" in value:
            value = _plain(value, seven)
        if level == "0":
            if path:
                yield path[0]
            path = [Line(tag.upper(), value, xref, [])]
        elif path:
            _hang(path, int(level), tag=tag.upper(), value=value)
    if path:
        yield path[0]


def _hang(path: list[Line], level: int, *, tag: str, value: str) -> None:
    """Hangs a line below the last of the level before; one that leaps over a level, below the last of all."""
    del path[level:]
    above = path[-1]
    if tag == "CONT" or tag == "CONC":
        above.value += ("\n" if tag == "CONT" else "") + value
        return
    line = Line(tag, value, "", [])
    above.below.append(line)
    path.append(line)


def _plain(value: str, seven: bool) -> str:
    return value[1:] if seven and value.startswith("@@") else value if seven else value.replace("@@", "@")
