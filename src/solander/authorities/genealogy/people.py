"""People and families out of the records of a family-tree file."""

from __future__ import annotations

import io
import re
import zipfile
from collections import Counter, defaultdict
from collections.abc import Iterator
from datetime import date
from pathlib import Path

from attrs import define, field

from solander.authorities.genealogy.lines import Line, records, text_of
from solander.authorities.genealogy.names import names_told
from solander.authorities.genealogy.vitals import Vitals
from solander.core.errors import CannotBegin
from solander.core.kin import How
from solander.core.sentence import Sentence
from solander.core.statements import Says
from solander.core.told import Telling, Told, ToldKin, ToldOf

__all__ = ["is_tree", "read_tree", "tree_told"]

_HEAD = re.compile(r"\s*0\s+HEAD\b")
_VERSION = re.compile(r"^\s*2\s+VERS\s+([\d.]+)", re.MULTILINE)
_HIDDEN = ("CONFIDENTIAL", "PRIVACY")
_IN_A_ZIP = "gedcom.ged"
_LARGEST = 4 << 30
"""Bytes of a tree inside a package; beyond it, it is no family-tree file (our choice)."""
_BY = {"birth": "birth", "adopted": "adopted", "foster": "foster"}
_SEX = {"F": "female", "M": "male"}


def is_tree(data: bytes) -> bool:
    """Whether these first bytes are those of a family-tree file."""
    return bool(_HEAD.match(text_of(data[:400] + b" " * (len(data[:400]) % 2)).text.lstrip("\ufeff")))


def read_tree(path: Path, *, today: date) -> Telling:
    """The people of a family-tree file, or of a package (GEDZIP) that holds one.

    Parameters
    ----------
    path
        The file.
    today
        Who is only said to be dead died on this day or before, unless the file tells its own day.

    Raises
    ------
    CannotBegin
        When it can't be read or is no family-tree file.
    """
    try:
        data = path.read_bytes()
    except OSError as error:
        raise CannotBegin(
            Sentence("%(path)s could not be read", path=path), error.strerror or "", Sentence("Check the name")
        ) from error
    return tree_told(_out_of_package(data, path.name), path.name, today=today)


def _out_of_package(data: bytes, name: str) -> bytes:
    if not data.startswith(b"PK"):
        return data
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as package:
            if package.getinfo(_IN_A_ZIP).file_size > _LARGEST:
                raise CannotBegin(
                    Sentence("%(name)s could not be read", name=name),
                    Sentence("the family tree in it is larger than 4 GB"),
                )
            return package.read(_IN_A_ZIP)
    except KeyError as error:
        raise CannotBegin(
            Sentence("%(name)s is no family-tree package", name=name),
            Sentence("there is no %(in_a_zip)s in it", in_a_zip=_IN_A_ZIP),
            Sentence("Export the tree again"),
        ) from error
    except (zipfile.BadZipFile, EOFError, RuntimeError, NotImplementedError, zipfile.zlib.error) as error:  # type: ignore[attr-defined]
        raise CannotBegin(
            Sentence("%(name)s could not be read", name=name),
            Sentence("the package is damaged or cut off"),
            Sentence("Copy or export it again"),
        ) from error


def tree_told(data: bytes, source: str, *, today: date) -> Telling:
    """The people of a family-tree file's bytes; see `read_tree`."""
    text = text_of(data)
    if not _HEAD.match(text.text):
        raise CannotBegin(
            Sentence("%(source)s is no family-tree file", source=source),
            Sentence("it does not begin with the line “0 HEAD”"),
            Sentence("Export the tree as GEDCOM and take that file in"),
        )
    version = _VERSION.search(text.text[:4096])
    seven = bool(version and version[1].startswith("7"))
    reading = _Reading(source, Vitals("7.0" if seven else "5.5.1", today))
    for record in records(text.text, seven=seven):
        reading.take(record)
    if not text.text.endswith(("\n", "\r")):
        reading.leave_out_the_last()
    return reading.told([text.remark] if text.remark else [])


@define
class _Reading:
    """What was read so far."""

    source: str
    vitals: Vitals
    people: dict[str, ToldOf] = field(factory=dict)
    hidden: set[str] = field(factory=set)
    couples: list[tuple[str, str]] = field(factory=list)
    parents: dict[str, list[str]] = field(factory=dict)
    children: dict[tuple[str, str], str] = field(factory=dict)
    set_aside: list[str] = field(factory=list)
    kept_back: Counter[str] = field(factory=Counter)
    ended: bool = False
    last: str = ""

    def take(self, record: Line) -> None:
        """Takes one record in."""
        self.last = record.xref
        if record.tag == "HEAD":
            self.vitals = self.vitals.as_of(record.said("DATE"))
        elif record.tag == "INDI":
            self._person(record)
        elif record.tag == "FAM":
            self._family(record)
        self.ended = record.tag == "TRLR"

    def _person(self, record: Line) -> None:
        if _is_hidden(record):
            self.hidden.add(record.xref)
            return
        record = _open(record, self.kept_back)
        names = names_told(record)
        if why := self._unnumbered(record):
            self.set_aside.append(f"{self.source}, {names.name or 'somebody'}: {why}")
            return
        told = [*names.told, *self._sex(record)]
        for event in self.vitals.told(record):
            if isinstance(event, Told):
                told.append(event)
            else:
                self.set_aside.append(f"{self.source}, {names.name or record.xref}: {event}")
        lasting = (*_uids(record), f"{self.source}#{record.xref}")
        self.people[record.xref] = ToldOf(record.xref, names.name, tuple(told), lasting, record.xref)
        for family, by in _families_of(record):
            self.children[record.xref, family] = by or self.children.get((record.xref, family), "")

    def _unnumbered(self, record: Line) -> str:
        """Why a record has no number of its own; empty when it has."""
        if not record.xref:
            return Sentence("the record has no number, so that nobody could find it again. Export the tree again.")
        if record.xref in self.people:
            return Sentence(
                "this is a second record %(xref)s; only the first was taken in. Give it another number.",
                xref=record.xref,
            )
        return ""

    def _sex(self, record: Line) -> Iterator[Told]:
        if sex := _SEX.get(record.said("SEX")[:1].upper()):
            yield Told(Says.SEX, sex, record.said("SEX"))

    def _family(self, record: Line) -> None:
        if _is_hidden(record):
            self.kept_back["family"] += 1
            return
        parents = [line.value.strip() for line in record.all("HUSB", "WIFE") if line.value.strip() != "@VOID@"]
        self.parents[record.xref] = parents
        self.couples += [(one, two) for place, one in enumerate(parents) for two in parents[place + 1 :]]
        for line in record.all("CHIL"):
            self.children.setdefault((line.value.strip(), record.xref), "")

    def leave_out_the_last(self) -> None:
        """Leaves out the last person where the file ends in the midst of a line about them."""
        if not self.ended:
            self.people.pop(self.last, None)

    def told(self, remarks: list[str]) -> Telling:
        """All that was read."""
        if not self.ended:
            remarks.append(self._cut_off())
        if self.hidden:
            remarks.append(
                Sentence(
                    "%(count)s of its people are marked as confidential or private there and stay out.",
                    count=len(self.hidden),
                )
            )
        if self.kept_back:
            remarks.append(
                Sentence(
                    "Single facts that are marked so stay out too: %(sum)s.", sum=sum(self.kept_back.values())
                )
            )
        kin, lost = self._kin()
        if lost:
            remarks.append(Sentence("%(lost)s of its links lead to nobody and were passed over.", lost=lost))
        people = tuple(self.people.values())
        return Telling(
            self.source, people, kin, set_aside=tuple(self.set_aside), remarks=tuple(remarks), whole=self.ended
        )

    def _called(self, key: str) -> str:
        return (self.people[key].name if key in self.people else "") or key

    def _cut_off(self) -> str:
        return Sentence(
            "%(source)s is cut off: its last line is missing. Whoever is told of whole was taken in (%(count)s); "
            "copy or export it again for the rest.",
            source=self.source,
            count=len(self.people),
        )

    def _kin(self) -> tuple[tuple[ToldKin, ...], int]:
        """The kin of people who were taken in, and how many links lead to nobody."""
        found: dict[ToldKin, None] = {}
        lost = 0
        links = [(one, How.PARTNER, two, "") for one, two in self.couples]
        for (child, family), by in self.children.items():
            links += [(parent, How.PARENT, child, by) for parent in self.parents.get(family, ())]
        for person, how, other, by in links:
            if person == other:
                self.set_aside.append(
                    Sentence(
                        "%(source)s, %(called)s: a link makes them their own %(how)s.",
                        source=self.source,
                        called=self._called(person),
                        how=how,
                    )
                )
            elif person in self.people and other in self.people:
                found[ToldKin(person, how, other, by)] = None
            elif not {person, other} & self.hidden:
                lost += 1
        return tuple(found), lost


def _is_hidden(line: Line) -> bool:
    said = line.said("RESN") if line.below else ""
    return bool(said) and any(word.strip().upper() in _HIDDEN for word in said.split(","))


def _open(record: Line, kept_back: Counter[str]) -> Line:
    """The record without the facts that are marked as confidential or private."""
    hidden = [line for line in record.below if _is_hidden(line)]
    if not hidden:
        return record
    kept_back["fact"] += len(hidden)
    return Line(record.tag, record.value, record.xref, [line for line in record.below if line not in hidden])


def _uids(record: Line) -> Iterator[str]:
    """Keys that stay when the tree is exported again: UID of GEDCOM 7, _UID of many programs, EXID with its type.

    The digits alone count; some programs put four of a check sum behind the 32.
    """
    for line in record.all("UID", "_UID"):
        digits = re.sub(r"[^0-9A-Z]", "", line.value.upper())
        if digits:
            yield f"uid:{digits[:32]}"
    for line in record.all("EXID"):
        yield f"{line.said('TYPE') or 'exid'}:{line.value.strip()}"


def _families_of(record: Line) -> Iterator[tuple[str, str]]:
    """The families in which a person is a child, and how they came to be one."""
    adopted = defaultdict(str)
    for event in record.all("ADOP"):
        for family in event.all("FAMC"):
            adopted[family.value.strip()] = "adopted"
    for line in record.all("FAMC"):
        by = _BY.get(line.said("PEDI").casefold(), "")
        yield line.value.strip(), by or adopted.pop(line.value.strip(), "")
    yield from adopted.items()
