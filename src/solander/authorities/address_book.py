"""People from address books: vCard 3 and 4, and what telephones still write of version 2.1.

Forms from RFC 6350 (4.0), RFC 6474 (BIRTHPLACE, DEATHPLACE, DEATHDATE) and RFC 2426 (3.0); of 2.1 only
quoted-printable text, from memory. Only people are taken: cards of organisations, groups and places are not.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from pathlib import Path

from attrs import define, field

from solander.authorities.card_lines import Property, properties, text_of_value
from solander.authorities.dates_written import date_written
from solander.core.dates import parse_edtf
from solander.core.errors import CannotBegin, InvalidValue
from solander.core.kin import How
from solander.core.people import Name, NameKind
from solander.core.sentence import Sentence
from solander.core.statements import Says
from solander.core.told import Telling, Told, ToldKin, ToldOf, name_value

__all__ = ["address_book_told", "read_address_book"]

_DAY = re.compile(r"(?P<year>\d{4}|--)-?(?P<month>\d\d|-)?-?(?P<day>\d\d)?(?:T.*)?")
_SEX = {"F": "female", "M": "male"}
_HIDDEN = ("PRIVATE", "CONFIDENTIAL")
_BIRTH_NAMES = ("X-MAIDENNAME", "X-ABMAIDENNAME")
_DAYS = {"BDAY": Says.BORN, "DEATHDATE": Says.DIED, "X-DEATHDATE": Says.DIED}
_YEAR_STANDS_IN = "X-APPLE-OMIT-YEAR"
_KIN = {"spouse": "partner", "sweetheart": "partner", "parent": "parent", "child": "child"}


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
        raise CannotBegin(
            Sentence("%(path)s could not be read", path=path), error.strerror or "", Sentence("Check the name")
        ) from error
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
    card: list[Property] | None = None
    for prop in properties(text):
        if prop.name == "BEGIN" and prop.value.strip().upper() == "VCARD":
            reading.cut_off += card is not None
            card = []
        elif prop.name == "END" and card is not None:
            reading.take(card)
            card = None
        elif card is not None:
            card.append(prop)
    reading.cut_off += card is not None
    return reading.told()


@define
class _Reading:
    """The cards read so far."""

    source: str
    people: dict[str, ToldOf] = field(factory=dict)
    by_name: defaultdict[str, list[str]] = field(factory=lambda: defaultdict(list))
    related: list[tuple[str, str, str]] = field(factory=list)
    set_aside: list[str] = field(factory=list)
    passed: Counter[str] = field(factory=Counter)
    cards: int = 0
    cut_off: int = 0

    def take(self, card: list[Property]) -> None:
        """Takes one card in."""
        self.cards += 1
        said = {prop.name: prop.words() for prop in reversed(card)}
        if said.get("CLASS", "").upper() in _HIDDEN:
            self.passed["hidden"] += 1
        elif _is_of_no_person(said):
            self.passed["other"] += 1
        elif names := _names(card):
            self._person(card, names, said)
        else:
            self.passed["nameless"] += 1

    def _person(self, card: list[Property], names: list[Name], said: dict[str, str]) -> None:
        uid = said.get("UID", "").removeprefix("urn:uuid:")
        name = names[0].text
        key = uid or f"{name}#{self.cards}"
        if key in self.people:
            self.set_aside.append(
                Sentence(
                    "%(source)s, %(name)s: an earlier card, of %(other)s, has the same UID; only that one was "
                    "taken in. Give this one a UID of its own.",
                    source=self.source,
                    name=name,
                    other=self.people[key].name,
                )
            )
            return
        told = [Told(Says.NAME, name_value(each), each.text) for each in names]
        for prop in card:
            try:
                told += _facts(prop)
            except InvalidValue as trouble:
                self.set_aside.append(f"{self.source}, {name}: {trouble.sentence}")
                told.append(Told(_DAYS[prop.name], "", prop.words()))
            if prop.name == "RELATED" and (how := _kin_of(prop.params.get("TYPE", ""))):
                self.related.append((key, how, prop.value.removeprefix("urn:uuid:")))
        self.by_name[name].append(key)
        which = f"#{len(self.by_name[name])}" if len(self.by_name[name]) > 1 else ""
        lasting = (f"uid:{_digits(uid)}", f"{self.source}#{uid}") if uid else (f"{self.source}#{name}{which}",)
        self.people[key] = ToldOf(key, name, tuple(told), lasting, Sentence("card %(cards)s", cards=self.cards))

    def told(self) -> Telling:
        """All that was read.

        Raises
        ------
        CannotBegin
            When there is no card at all.
        """
        if not self.cards:
            raise CannotBegin(
                Sentence("%(source)s is no address book", source=self.source),
                Sentence("it holds no whole vCard"),
                Sentence("Export the contacts again as vCard"),
            )
        return Telling(
            self.source,
            tuple(self.people.values()),
            tuple(self._kin()),
            set_aside=tuple(self.set_aside),
            remarks=tuple(self._remarks()),
            whole=not self.cut_off,
        )

    def _remarks(self) -> Iterator[str]:
        if self.cut_off == 1:
            yield Sentence(
                "%(source)s is cut off in a card; the others were taken in. Export it again.", source=self.source
            )
        elif self.cut_off:
            yield Sentence(
                "%(source)s is cut off in %(cut_off)s cards; the others were taken in. Export it again.",
                source=self.source,
                cut_off=self.cut_off,
            )
        if hidden := self.passed["hidden"]:
            yield Sentence(
                "%(hidden)s of its cards are marked as private or confidential and stay out.", hidden=hidden
            )
        if other := self.passed["other"]:
            yield Sentence("%(other)s of its cards are of no person and were passed over.", other=other)
        if nameless := self.passed["nameless"]:
            yield Sentence("%(nameless)s of its cards have no name and were passed over.", nameless=nameless)
        if strangers := sum(not self._card_of(other) for _, _, other in self.related):
            yield Sentence(
                "Relatives without a card of their own there, who were passed over: %(strangers)s.",
                strangers=strangers,
            )

    def _kin(self) -> Iterator[ToldKin]:
        """Relations between cards; one to somebody without a card is left out."""
        for key, how, other in self.related:
            there = self._card_of(other)
            if there and how == "partner":
                yield ToldKin(key, How.PARTNER, there)
            elif there:
                yield ToldKin(*((there, How.PARENT, key) if how == "parent" else (key, How.PARENT, there)))

    def _card_of(self, other: str) -> str:
        """The key of a card by its UID or its name; empty where there is none."""
        return other if other in self.people else next(iter(self.by_name.get(text_of_value(other), ())), "")


def _is_of_no_person(said: Mapping[str, str]) -> bool:
    """Whether a card says so, or bears the name of an organisation and nobody's: some have no KIND."""
    if said.get("KIND", "individual").casefold() != "individual" or "X-ABSHOWAS" in said:
        return True
    return bool(said.get("ORG")) and said.get("FN", "") == said["ORG"] and not said.get("N", "").strip(" ;")


def _kin_of(kinds: str) -> str:
    """The first of several kinds of relation, "friend,spouse", that is kin; empty where none is."""
    return next((_KIN[kind] for kind in kinds.split(",") if kind in _KIN), "")


def _digits(uid: str) -> str:
    return re.sub(r"[^0-9A-Z]", "", uid.upper())[:32]


def _names(card: list[Property]) -> list[Name]:
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
            called = (text_of_value(each) for each in re.split(r"(?<!\\),", prop.value))
            found += [Name(each, NameKind.NICKNAME) for each in called if each]
        elif prop.name in _BIRTH_NAMES and (text := prop.words()):
            alone = " " not in text and given
            found.append(Name(f"{given} {text}" if alone else text, NameKind.BIRTH, text if alone else ""))
    return found


def _facts(prop: Property) -> Iterator[Told]:
    words = prop.words()
    if not words:
        return
    if prop.name in _DAYS:
        yield Told(_DAYS[prop.name], "" if prop.params.get("VALUE") == "text" else _day_of(prop, words), words)
    elif prop.name in ("BIRTHPLACE", "DEATHPLACE"):
        yield Told(Says.BORN_AT if prop.name == "BIRTHPLACE" else Says.DIED_AT, words)
    elif prop.name == "GENDER" and (sex := _SEX.get(words[:1].upper())):
        yield Told(Says.SEX, sex, words)


def _day_of(prop: Property, written: str) -> str:
    """The date of a property; its year is none where telephones mark it as a stand-in (from memory)."""
    stand_in = prop.params.get(_YEAR_STANDS_IN, "")
    if stand_in and written.startswith(stand_in):
        written = f"--{written[len(stand_in) :].replace('-', '')}"
    try:
        return _day(written)
    except InvalidValue as trouble:
        try:
            return date_written(written, where="")
        except InvalidValue:
            raise trouble from None


def _day(written: str) -> str:
    """A date of RFC 6350 as EDTF: 19850412, 1985-04-12, 1985-04, 1985, --0412 (no year)."""
    found = _DAY.fullmatch(written)
    if found is None:
        raise InvalidValue(
            Sentence("“%(written)s” is no date that a card can have", written=written),
            "",
            Sentence("Write it as 1985-04-12 or 1985"),
        )
    year = "XXXX" if found["year"] == "--" else found["year"]
    parts = [year, *(part for part in (found["month"], found["day"]) if part and part != "-")]
    return str(parse_edtf("-".join(parts)))
