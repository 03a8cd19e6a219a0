"""A file from outside that tells of people, whichever kind it is: known by what is in it, not by its name."""

from __future__ import annotations

import zipfile
from datetime import date
from pathlib import Path

from solander.authorities.address_book import read_address_book
from solander.authorities.genealogy import read_tree
from solander.authorities.genealogy.people import is_tree
from solander.authorities.people_lists import is_people_table, read_people_list
from solander.authorities.people_typed import read_typed_people
from solander.core.errors import CannotBegin
from solander.core.sentence import Sentence
from solander.core.told import Telling

__all__ = ["read_people"]

_BEGINNING = 4096
_PICTURES = (b"\xff\xd8\xff", b"\x89PNG", b"II*\0", b"MM\0*", b"GIF8", b"RIFF", b"%PDF")
_TYPED = (".txt", ".text", "")
_WHAT_IS_TAKEN = Sentence(
    "Take in a family tree (GEDCOM), an address book (vCard), a table (CSV or XLSX) or a typed list (.txt)"
)


def read_people(path: Path, *, today: date) -> Telling:
    """The people that a file tells of; see `read_tree`, `read_address_book`, `read_people_list`,
    `read_typed_people`.

    Raises
    ------
    CannotBegin
        When it can't be read, or tells of nobody.
    """
    try:
        with path.open("rb") as file:
            data = file.read(_BEGINNING)
    except OSError as error:
        raise CannotBegin(
            Sentence("%(path)s could not be read", path=path), error.strerror or "", Sentence("Check the name")
        ) from error
    if not data.strip(b"\0\r\n\t \xef\xbb\xbf"):
        raise CannotBegin(
            Sentence("%(path)s tells of nobody", path=path.name), Sentence("it is empty"), _WHAT_IS_TAKEN
        )
    if data.startswith(_PICTURES):
        raise CannotBegin(
            Sentence("%(path)s tells of nobody", path=path.name),
            Sentence("it is a picture or a document"),
            _WHAT_IS_TAKEN,
        )
    if data.startswith(b"PK"):
        return read_tree(path, today=today) if _is_package_of_tree(path) else read_people_list(path)
    if is_tree(data) or path.suffix.casefold() in (".ged", ".gedcom"):
        return read_tree(path, today=today)
    if b"BEGIN:VCARD" in data.replace(b"\0", b"").upper():
        return read_address_book(path)
    return _from_text(path, data, today)


def _is_package_of_tree(path: Path) -> bool:
    if path.suffix.casefold() in (".gdz", ".zip", ".gedzip"):
        return True
    try:
        with zipfile.ZipFile(path) as package:
            return "gedcom.ged" in package.namelist()
    except zipfile.BadZipFile:
        return False


def _from_text(path: Path, data: bytes, today: date) -> Telling:
    marked = data.startswith((b"\xff\xfe", b"\xfe\xff"))
    if b"\0" in data and not marked:
        raise CannotBegin(
            Sentence("%(path)s tells of nobody", path=path.name), Sentence("it holds no text"), _WHAT_IS_TAKEN
        )
    text = data.decode("utf-16" if marked else "utf-8-sig", "replace")
    if path.suffix.casefold() in _TYPED and not is_people_table(text.partition("\n")[0]):
        return read_typed_people(path)
    return read_people_list(path)
