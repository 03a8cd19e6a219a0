"""People from address books: vCard 3 and 4, and what telephones still write of version 2.1.

Forms from RFC 6350 (4.0), RFC 6474 (BIRTHPLACE, DEATHPLACE, DEATHDATE) and RFC 2426 (3.0); of 2.1 only
quoted-printable text, from memory. Only people are taken: cards of organisations, groups and places are not.
"""

from __future__ import annotations

import quopri
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from attrs import define, field, frozen

from solander.core.dates import parse_edtf
from solander.core.errors import CannotBegin, InvalidValue
from solander.core.kin import How
from solander.core.people import Name, NameKind
from solander.core.statements import Says
from solander.core.told import Telling, Told, ToldKin, ToldOf, name_value

__all__ = ["address_book_told", "read_address_book"]

_LINE = re.compile(
    r"(?:[\w-]+\.)?(?P<name>[\w-]+)(?P<params>(?:;(?:\"[^\"]*\"|[^:\"])*)*):(?P<value>.*)", re.DOTALL
)
_PARAM = re.compile(r";([\w-]+)(?:=((?:\"[^\"]*\"|[^;])*))?")
_DAY = re.compile(r"(?P<year>\d{4}|--)-?(?P<month>\d\d|-)?-?(?P<day>\d\d)?(?:T.*)?")
_ESCAPED = re.compile(r"\\([nN,;:\\])")
_SEX = {"F": "female", "M": "male"}
_HIDDEN = ("PRIVATE", "CONFIDENTIAL")
_BIRTH_NAMES = ("X-MAIDENNAME", "X-ABMAIDENNAME")
_KIN = {"spouse": "partner", "sweetheart": "partner", "parent": "parent", "child": "child"}


@frozen
class _Property:
    """A line of a card: its name, its parameters in capitals with their values in small letters, its value."""

    name: str
    params: dict[str, str]
    value: str

    def words(self) -> str:
        """The value as text."""
        return _text(self.value)

    def parts(self) -> list[str]:
        """The parts of a value that semicolons part."""
        return [_text(part) for part in re.split(r"(?<!\\);", self.value)]


def read_address_book(path: Path) -> Telling:
    """The people of a file of vCards.

    Raises
    ------
    CannotBegin
        When it can't be read or holds no card.
    """
    try:
        data = path.read_bytes()
    except OSError as error:
        raise CannotBegin(f"{path} could not be read", error.strerror or "", "Check the name") from error
    return address_book_told(_decoded(data), path.name)


def _decoded(data: bytes) -> str:
    for encoding in ("utf-8-sig", "utf-16") if data.startswith((b"\xff\xfe", b"\xfe\xff")) else ("utf-8-sig",):
        try:
            return data.decode(encoding)
        except UnicodeDecodeError:
            continue
    return data.decode("cp1252", "replace")


def address_book_told(text: str, source: str) -> Telling:
    """The people of the text of an address book; see `read_address_book`."""
    reading = _Reading(source)
    card: list[_Property] | None = None
    for line in _lines(text):
        prop = _property(line)
        if prop is None:
            continue
        if prop.name == "BEGIN" and prop.value.strip().upper() == "VCARD":
            card = []
        elif prop.name == "END" and card is not None:
            reading.take(card)
            card = None
        elif card is not None:
            card.append(prop)
    return reading.told(cut_off=card is not None)


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


def _property(line: str) -> _Property | None:
    found = _LINE.fullmatch(line)
    if found is None:
        return None
    params = {name.upper(): value.strip('"').casefold() for name, value in _PARAM.findall(found["params"])}
    value = found["value"]
    if params.get("ENCODING") == "quoted-printable" or "QUOTED-PRINTABLE" in params:
        value = quopri.decodestring(value.encode()).decode(params.get("CHARSET", "utf-8"), "replace")
    return _Property(found["name"].upper(), params, value)


def _text(value: str) -> str:
    plain = _ESCAPED.sub(lambda found: "\n" if found[1] in "nN" else found[1], value)
    return " ".join(plain.split())


@define
class _Reading:
    """The cards read so far."""

    source: str
    people: dict[str, ToldOf] = field(factory=dict)
    related: list[tuple[str, str, str]] = field(factory=list)
    set_aside: list[str] = field(factory=list)
    passed: Counter[str] = field(factory=Counter)
    cards: int = 0

    def take(self, card: list[_Property]) -> None:
        """Takes one card in."""
        self.cards += 1
        said = {prop.name: prop.words() for prop in reversed(card)}
        if said.get("CLASS", "").upper() in _HIDDEN:
            self.passed["hidden"] += 1
        elif said.get("KIND", "individual").casefold() != "individual" or "X-ABSHOWAS" in said:
            self.passed["other"] += 1
        elif names := _names(card):
            self._person(card, names, said)
        else:
            self.passed["nameless"] += 1

    def _person(self, card: list[_Property], names: list[Name], said: dict[str, str]) -> None:
        uid = said.get("UID", "").removeprefix("urn:uuid:")
        name = names[0].text
        key = uid or f"{name}#{self.cards}"
        told = [Told(Says.NAME, name_value(each), each.text) for each in names]
        for prop in card:
            try:
                told += _facts(prop)
            except InvalidValue as trouble:
                self.set_aside.append(f"{self.source}, {name}: {trouble.sentence}")
            if prop.name == "RELATED" and prop.params.get("TYPE", "") in _KIN:
                self.related.append((key, _KIN[prop.params["TYPE"]], prop.value.removeprefix("urn:uuid:")))
        lasting = (f"uid:{_digits(uid)}", f"{self.source}#{uid}") if uid else (f"{self.source}#{name}",)
        self.people[key] = ToldOf(key, name, tuple(told), lasting, f"card {self.cards}")

    def told(self, *, cut_off: bool) -> Telling:
        """All that was read.

        Raises
        ------
        CannotBegin
            When there is no card at all.
        """
        if not self.cards:
            raise CannotBegin(
                f"{self.source} is no address book",
                "it holds no whole vCard",
                "Export the contacts again as vCard",
            )
        return Telling(
            self.source,
            tuple(self.people.values()),
            tuple(self._kin()),
            set_aside=tuple(self.set_aside),
            remarks=tuple(self._remarks(cut_off)),
            whole=not cut_off,
        )

    def _remarks(self, cut_off: bool) -> Iterator[str]:
        if cut_off:
            yield f"{self.source} is cut off in its last card; the others were taken in. Export it again."
        if hidden := self.passed["hidden"]:
            yield f"{hidden} of its cards are marked as private or confidential and stay out."
        if other := self.passed["other"]:
            yield f"{other} of its cards are of no person and were passed over."
        if nameless := self.passed["nameless"]:
            yield f"{nameless} of its cards have no name and were passed over."

    def _kin(self) -> Iterator[ToldKin]:
        """Relations between cards; one to somebody without a card is left out."""
        by_name = {one.name: one.key for one in self.people.values()}
        for key, how, other in self.related:
            there = other if other in self.people else by_name.get(_text(other), "")
            if there and how == "partner":
                yield ToldKin(key, How.PARTNER, there)
            elif there:
                yield ToldKin(*((there, How.PARENT, key) if how == "parent" else (key, How.PARENT, there)))


def _digits(uid: str) -> str:
    return re.sub(r"[^0-9A-Z]", "", uid.upper())[:32]


def _names(card: list[_Property]) -> list[Name]:
    """The names of a card, the one to speak by first."""
    found: list[Name] = []
    parts = next((prop.parts() for prop in card if prop.name == "N"), [])
    surname, given, *more = [*parts, "", "", "", "", ""][:5]
    for prop in card:
        if prop.name == "FN" and (text := prop.words()):
            other = bool(found) and "ALTID" in prop.params
            kind = NameKind.OTHER_SCRIPT if other else NameKind.OTHER
            found.append(Name(text, kind, surname if surname and surname in text else ""))
    if not found and (text := " ".join(f"{given} {more[0]} {surname}".split())):
        found.append(Name(text, NameKind.OTHER, surname))
    for prop in card:
        if prop.name == "NICKNAME":
            called = (_text(each) for each in re.split(r"(?<!\\),", prop.value))
            found += [Name(each, NameKind.NICKNAME) for each in called if each]
        elif prop.name in _BIRTH_NAMES and (text := prop.words()):
            alone = " " not in text and given
            found.append(Name(f"{given} {text}" if alone else text, NameKind.BIRTH, text if alone else ""))
    return found


def _facts(prop: _Property) -> Iterator[Told]:
    words = prop.words()
    if not words:
        return
    if prop.name in ("BDAY", "DEATHDATE", "X-DEATHDATE"):
        says = Says.BORN if prop.name == "BDAY" else Says.DIED
        yield Told(says, "" if prop.params.get("VALUE") == "text" else _day(words), words)
    elif prop.name in ("BIRTHPLACE", "DEATHPLACE"):
        yield Told(Says.BORN_AT if prop.name == "BIRTHPLACE" else Says.DIED_AT, words)
    elif prop.name == "GENDER" and (sex := _SEX.get(words[:1].upper())):
        yield Told(Says.SEX, sex, words)


def _day(written: str) -> str:
    """A date of RFC 6350 as EDTF: 19850412, 1985-04-12, 1985-04, 1985, --0412 (no year)."""
    found = _DAY.fullmatch(written)
    if found is None:
        raise InvalidValue(f"“{written}” is no date that a card can have", "", "Write it as 1985-04-12 or 1985")
    year = "XXXX" if found["year"] == "--" else found["year"]
    parts = [year, *(part for part in (found["month"], found["day"]) if part and part != "-")]
    return str(parse_edtf("-".join(parts)))
