"""People out of address books.

Sources of the checks: the examples of RFC 6350 (BDAY in 6.2.5, NICKNAME in 6.2.3, GENDER in 6.2.7, folding in 3.2)
and RFC 6474, and the package `vobject` as a second reader of version 3.
"""

from __future__ import annotations

from pathlib import Path

import pytest
import vobject

from solander.authorities.address_book import address_book_told, read_address_book
from solander.core.errors import CannotBegin
from solander.core.kin import How
from solander.core.people import Name, NameKind, Person
from solander.core.statements import Says
from solander.core.told import ToldKin, ToldOf, believed, stated


def person(one: ToldOf) -> Person:
    return believed(one.name, [stated(claim, one.name, "book.vcf", "") for claim in one.told])


def card(*lines: str, version: str = "4.0") -> Person:
    text = "\r\n".join(["BEGIN:VCARD", f"VERSION:{version}", *lines, "END:VCARD", ""])
    return person(address_book_told(text, "book.vcf").people[0])


@pytest.mark.parametrize(
    ("line", "edtf"),
    [
        ("BDAY:19960415", "1996-04-15"),  # RFC 6350, 6.2.5
        ("BDAY:--0415", "XXXX-04-15"),  # RFC 6350, 6.2.5
        ("BDAY;19531015T231000Z:19531015T231000Z", "1953-10-15"),  # RFC 6350, 6.2.5, its value
        ("BDAY;VALUE=text:circa 1800", ""),  # RFC 6350, 6.2.5: words, no date
        ("BDAY:1985-04", "1985-04"),  # RFC 6350, 4.3.1
        ("BDAY:1985", "1985"),  # RFC 6350, 4.3.1
        ("BDAY:1996-04-15", "1996-04-15"),  # RFC 2426, 3.1.5
        ("BDAY;X-APPLE-OMIT-YEAR=1604:1604-04-15", "XXXX-04-15"),  # telephones, from memory
        ("BDAY:12.3.1921", "1921-03-12"),  # no standard, but it can mean one thing only
        ("BDAY;VALUE=date-time:1953-10-15T23:10:00Z", "1953-10-15"),  # RFC 2426, 3.1.5, with seconds from 4.0
    ],
)
def test_birthdays_as_the_standards_write_them(line: str, edtf: str) -> None:
    assert card("FN:Anna Weber", line).born == edtf


def test_the_other_facts_of_the_standards() -> None:
    found = card(
        "FN:Anna Weber",
        "N:Weber;Anna;;;",
        "NICKNAME:Jim,Jimmie",  # RFC 6350, 6.2.3
        "GENDER:F;grrrl",  # RFC 6350, 6.2.7
        "BIRTHPLACE:Babies'R'Us Hospital",  # RFC 6474, 2.1
        "DEATHPLACE:Aboard the Titanic\\, near Newfoundland",  # RFC 6474, 2.2
        "DEATHDATE:19960415",  # RFC 6474, 2.3
    )
    assert found.names == (
        Name("Anna Weber", NameKind.OTHER, "Weber"),
        Name("Jim", NameKind.NICKNAME),
        Name("Jimmie", NameKind.NICKNAME),
    )
    assert (found.sex, found.died) == ("female", "1996-04-15")
    assert (found.born_at, found.died_at) == ("Babies'R'Us Hospital", "Aboard the Titanic, near Newfoundland")


VERSION_3 = """BEGIN:VCARD
VERSION:3.0
item1.FN:Zoë Ångström-
 Moor
N:Ångström-Moor;Zoë;;;
NICKNAME:Zo\\, the elder
BDAY:1921-03-12
END:VCARD
BEGIN:VCARD
VERSION:3.0
FN:Ned Moor
N:Moor;Ned;;;
END:VCARD
"""


def test_version_3_is_read_as_vobject_reads_it() -> None:
    theirs = [(one.fn.value, one.n.value.family) for one in vobject.readComponents(VERSION_3)]
    ours = [person(one) for one in address_book_told(VERSION_3, "book.vcf").people]
    assert [(one.names[0].text, one.names[0].surname) for one in ours] == theirs
    assert ours[0].also_called == ("Zo, the elder",)


def test_what_telephones_write_of_version_2() -> None:
    found = card(
        "N;CHARSET=UTF-8;ENCODING=QUOTED-PRINTABLE:=C3=85ngstr=C3=B6m;Zo=",
        "=C3=AB;;;",
        "X-MAIDENNAME:Moor",
        version="2.1",
    )
    assert found.name == "Zoë Ångström"
    assert found.names[1] == Name("Zoë Moor", NameKind.BIRTH, "Moor")


def test_relations_between_cards_and_cards_of_no_person() -> None:
    text = """BEGIN:VCARD
FN:Anna Weber
UID:urn:uuid:f81d4fae-7dec-11d0-a765-00a0c91e6bf6
RELATED;TYPE=spouse;VALUE=text:Joe Weber
RELATED;TYPE=child:urn:uuid:03a0e51f-d1aa-4385-8a53-e29025acd8af
RELATED;TYPE=friend;VALUE=text:Ned
END:VCARD
BEGIN:VCARD
FN:Joe Weber
END:VCARD
BEGIN:VCARD
FN:Tom Weber
UID:urn:uuid:03a0e51f-d1aa-4385-8a53-e29025acd8af
END:VCARD
BEGIN:VCARD
FN:The Bakery
KIND:org
END:VCARD
BEGIN:VCARD
FN:Hidden
CLASS:PRIVATE
END:VCARD
"""
    found = address_book_told(text, "book.vcf")
    anna, joe, tom = found.people
    assert [one.name for one in found.people] == ["Anna Weber", "Joe Weber", "Tom Weber"]
    assert found.kin == (ToldKin(anna.key, How.PARTNER, joe.key), ToldKin(anna.key, How.PARENT, tom.key))
    assert tom.lasting[0] == "uid:03A0E51FD1AA43858A53E29025ACD8AF"
    assert found.remarks == (
        "1 of its cards are marked as private or confidential and stay out.",
        "1 of its cards are of no person and were passed over.",
    )


def test_a_relative_of_several_kinds_and_one_without_a_card() -> None:
    text = """BEGIN:VCARD
FN:Anna Weber
RELATED;TYPE="friend,spouse";VALUE=text:Joe Weber
RELATED;TYPE=child;VALUE=text:Nobody Here
END:VCARD
BEGIN:VCARD
FN:Joe Weber
END:VCARD
"""
    found = address_book_told(text, "book.vcf")
    assert [one.how for one in found.kin] == [How.PARTNER]
    assert found.remarks == ("Relatives without a card of their own there, who were passed over: 1.",)


def test_a_firm_that_does_not_say_so_is_no_person() -> None:
    text = "BEGIN:VCARD\nFN:The Bakery\nN:;;;;\nORG:The Bakery\nEND:VCARD\n"
    assert address_book_told(text, "book.vcf").people == ()


def test_a_second_card_of_one_number_is_told_and_so_is_one_that_never_ends() -> None:
    text = "BEGIN:VCARD\nFN:Anna\nUID:1\nEND:VCARD\nBEGIN:VCARD\nFN:Ned\nBEGIN:VCARD\nFN:Else\nUID:1\nEND:VCARD\n"
    found = address_book_told(text, "book.vcf")
    assert [one.name for one in found.people] == ["Anna"]
    assert "Else: an earlier card, of Anna, has the same UID" in found.set_aside[0]
    assert "cut off in a card" in found.remarks[0]


def test_two_cards_of_one_name_are_two_people() -> None:
    text = "BEGIN:VCARD\nFN:Anna\nEND:VCARD\n" * 2
    assert [one.lasting for one in address_book_told(text, "book.vcf").people] == [
        ("book.vcf#Anna",),
        ("book.vcf#Anna#2",),
    ]


def test_letters_that_nobody_knows_are_read_as_utf_8() -> None:
    assert card("FN;QUOTED-PRINTABLE;CHARSET=nobody:Zo=C3=AB", version="2.1").name == "Zoë"


def test_a_day_that_is_none_and_a_card_that_is_cut_off(tmp_path: Path) -> None:
    text = "BEGIN:VCARD\nFN:Anna\nBDAY:yesterday\nEND:VCARD\nBEGIN:VCARD\nFN:Ne"
    (tmp_path / "book.vcf").write_text(text, encoding="utf-8")
    found = read_address_book(tmp_path / "book.vcf")
    assert [one.name for one in found.people] == ["Anna"]
    assert found.set_aside == (
        "book.vcf, Anna: “yesterday” is no date that a card can have. Write it as 1985-04-12 or 1985.",
    )
    assert [claim.words for claim in found.people[0].told if claim.says is Says.BORN] == ["yesterday"]
    assert "cut off" in found.remarks[0]
    assert not found.whole


def test_what_is_no_address_book_is_refused() -> None:
    with pytest.raises(CannotBegin, match="is no address book: it holds no whole vCard"):
        address_book_told("Anna, Ned", "book.vcf")
