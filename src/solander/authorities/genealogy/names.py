"""Names out of the record of a person."""

from __future__ import annotations

import re
from collections.abc import Iterator

from attrs import frozen

from solander.authorities.genealogy.lines import Line
from solander.core.people import Name, NameKind
from solander.core.statements import Says, Sure
from solander.core.told import Told, name_value

__all__ = ["NamesTold", "called_between", "names_told"]

_KINDS = {
    "birth": NameKind.BIRTH,
    "maiden": NameKind.BIRTH,
    "married": NameKind.MARRIED,
    "nick": NameKind.NICKNAME,
    "nickname": NameKind.NICKNAME,
}
_CALLED = re.compile(r"[\"“”„«»]([^\"“”„«»]+)[\"“”„«»]|\(([^()]+)\)|(?<!\w)['‘]([^'’‘]+)['’](?!\w)")


@frozen
class NamesTold:
    """The name that the record puts first, as plain words, and all of its names as claims."""

    name: str
    told: tuple[Told, ...]


def names_told(record: Line) -> NamesTold:
    """The names of a person's record.

    The first is the name at birth where its TYPE says nothing (common practice, so only likely); words in quotes
    or brackets inside a name, NICK and `_AKA` are what somebody is called; ROMN, FONE and TRAN the same name in
    other letters. `_MARNM` is a married name (common practice of programs, no source).
    """
    claims: dict[Told, None] = {}
    first = ""
    for place, line in enumerate(record.all("NAME")):
        names = list(_names(line, NameKind.BIRTH if place == 0 else NameKind.OTHER))
        first = first or (names[0].text if names else "")
        unsaid = not line.said("TYPE")
        for name in names:
            sure = Sure.LIKELY if unsaid and name.kind is NameKind.BIRTH else Sure.CERTAIN
            claims[Told(Says.NAME, name_value(name), line.value or name.text, sure)] = None
    return NamesTold(first, tuple(claims))


def _names(line: Line, kind: NameKind) -> Iterator[Name]:
    kind = _KINDS.get(line.said("TYPE").casefold(), kind if not line.said("TYPE") else NameKind.OTHER)
    if name := _name(line, kind):
        yield name
    for called in (*called_between(line.value), *_listed(line, "NICK")):
        yield Name(called, NameKind.NICKNAME)
    for other in line.all("ROMN", "FONE", "TRAN"):
        if name := _name(other, NameKind.OTHER_SCRIPT):
            yield name
    for called in _listed(line, "_AKA"):
        yield Name(called, NameKind.OTHER)
    for married in line.all("_MARNM"):
        yield _married(line, married.value)


def _name(line: Line, kind: NameKind) -> Name | None:
    """The name of a line, `Anna /Weber/`, or of the pieces below it where the line itself is empty."""
    written = _CALLED.sub(" ", line.value)
    before, _, rest = written.partition("/")
    surname, _, after = rest.partition("/")
    if not written.replace("/", "").strip():
        before, surname, after = line.said("GIVN"), _surname(line), line.said("NSFX")
    text = " ".join(f"{before} {surname} {after}".split())
    return Name(text, kind, " ".join(surname.split())) if text else None


def _surname(line: Line) -> str:
    return f"{line.said('SPFX')} {line.said('SURN')}".strip()


def _married(line: Line, written: str) -> Name:
    """A married name; a surname alone goes behind the given names."""
    before, _, rest = written.partition("/")
    surname = rest.partition("/")[0].strip()
    if not surname and " " not in written.strip():
        before, surname = line.value.partition("/")[0], written.strip()
    text = " ".join(f"{_CALLED.sub(' ', before)} {surname}".split())
    return Name(text, NameKind.MARRIED, surname)


def called_between(written: str) -> tuple[str, ...]:
    """What stands in quotes or brackets inside a name: `Anna "Nan" Weber` is called Nan."""
    found = (next(filter(None, groups)) for groups in _CALLED.findall(written))
    return tuple(" ".join(called.split()) for called in found if called.strip())


def _listed(line: Line, tag: str) -> Iterator[str]:
    for below in line.all(tag):
        for called in re.split(r"[,;]", below.value):
            if called.strip(" \"'/"):
                yield " ".join(called.replace("/", " ").strip(" \"'").split())
