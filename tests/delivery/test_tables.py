"""The table and the records of a release: what goes in comes back, and other programs read it."""

from __future__ import annotations

import csv
import io
import json

import pytest
from attrs import evolve
from delivered import CAPTURE, DESCRIBED, STATEMENT
from hypothesis import given
from hypothesis import strategies as st

from solander.core.errors import InvalidValue
from solander.core.kin import How, Kin
from solander.core.occasions import Occasion
from solander.core.people import Name, NameKind, Person
from solander.core.places import Place
from solander.core.prints import Capture, Condition, Container, Outline, Print, Side, View
from solander.core.questions import Asks, Question
from solander.core.sounds import Sound, SoundKind
from solander.core.statements import About, Says, Statement, Sure
from solander.delivery.tables import (
    HEADINGS,
    Row,
    read_records,
    read_rows,
    row_of,
    row_of_capture,
    write_records,
    write_rows,
)
from solander.delivery.tables_records import KINDS, Record

TEXT = st.text(st.one_of(st.sampled_from("'=+-@|\\ \",;\r\n\t\0ŁＺ＝"), st.characters()), max_size=12).filter(
    lambda text: not any("\ud800" <= char <= "\udfff" for char in text)
)
ANY_TEXT = st.text(st.characters(), max_size=12)
NUMBER = st.floats(0.01, 1e6)
COUNT = st.integers(1, 10**6)
SHA256 = st.integers(0, 2**256 - 1).map(lambda number: f"{number:064x}")
CORNER = st.tuples(st.floats(-1e5, 1e5), st.floats(-1e5, 1e5))
OUTLINES = st.builds(Outline, st.tuples(CORNER, CORNER, CORNER, CORNER), st.floats(0, 1), checked=st.booleans())
VIEWS = st.builds(
    View,
    SHA256,
    COUNT,
    OUTLINES,
    st.sampled_from(Side),
    COUNT,
    COUNT,
    ppi=st.none() | NUMBER,
    condition=st.none()
    | st.builds(Condition, st.none() | NUMBER, NUMBER, NUMBER, ANY_TEXT, faults=st.lists(ANY_TEXT).map(tuple)),
)
OPTIONAL_NUMBER = st.none() | NUMBER
CODE = st.from_regex(r"[A-Z]{1,3}[0-9]{1,5}", fullmatch=True)
RECORDS: dict[str, st.SearchStrategy[Record]] = {
    "container": st.builds(Container, CODE, ANY_TEXT),
    "capture": st.builds(
        Capture,
        sha256=SHA256,
        name=ANY_TEXT,
        media_type=ANY_TEXT,
        size=COUNT,
        width=COUNT,
        height=COUNT,
        pages=COUNT,
        dpi=OPTIONAL_NUMBER,
        taken=st.none() | ANY_TEXT,
    ),
    "print": st.builds(Print, ANY_TEXT, st.none() | CODE, COUNT, st.lists(VIEWS, max_size=2).map(tuple)),
    "person": st.builds(
        Person,
        ANY_TEXT,
        st.lists(ANY_TEXT, max_size=3).map(tuple),
        ANY_TEXT,
        ANY_TEXT,
        st.lists(st.builds(Name, ANY_TEXT, st.sampled_from(NameKind), ANY_TEXT), max_size=2).map(tuple),
        ANY_TEXT,
        known_as=st.lists(ANY_TEXT, max_size=2).map(tuple),
    ),
    "kin": st.builds(Kin, ANY_TEXT, st.sampled_from(How), ANY_TEXT, ANY_TEXT, ANY_TEXT, st.sampled_from(Sure)),
    "place": st.builds(Place, ANY_TEXT, ANY_TEXT, st.floats(-90, 90), st.floats(-180, 180), OPTIONAL_NUMBER),
    "occasion": st.builds(Occasion, ANY_TEXT),
    "statement": st.builds(
        Statement,
        ANY_TEXT,
        st.sampled_from(About),
        ANY_TEXT,
        st.sampled_from(Says),
        ANY_TEXT,
        ANY_TEXT,
        st.sampled_from(Sure),
        ANY_TEXT,
        ANY_TEXT,
        st.none() | ANY_TEXT,
    ),
    "question": st.builds(Question, ANY_TEXT, st.sampled_from(Asks), ANY_TEXT, ANY_TEXT, ANY_TEXT),
    "sound": st.builds(
        Sound,
        SHA256,
        st.sampled_from(SoundKind),
        ANY_TEXT,
        st.floats(0, 1e6),
        st.integers(0, 2**40),
        ANY_TEXT,
        ANY_TEXT,
    ),
}

SEVERAL = st.lists(TEXT, max_size=4).map(tuple)
ROWS = st.builds(
    Row,
    identifier=TEXT,
    filename=TEXT,
    title=TEXT,
    description=TEXT,
    date=TEXT,
    spatial=SEVERAL,
    subject=SEVERAL,
    creator=SEVERAL,
    contributor=SEVERAL,
    type=TEXT,
    format=TEXT,
    source=SEVERAL,
    relation=SEVERAL,
    rights=TEXT,
    extent=TEXT,
)


@given(st.lists(ROWS, max_size=4))
def test_rows_come_back(rows: list[Row]) -> None:
    assert read_rows(write_rows(rows)) == rows


@given(st.lists(st.one_of(*RECORDS.values()), max_size=5))
def test_records_come_back(records: list[Record]) -> None:
    written = b"".join(write_records(records))
    assert list(read_records(written.split(b"\n"))) == records
    assert list(read_records(io.BytesIO(written))) == records


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_has_its_round_trip(kind: str) -> None:
    assert kind in RECORDS


@given(st.lists(ROWS, min_size=1, max_size=3))
def test_no_cell_can_be_taken_for_a_formula(rows: list[Row]) -> None:
    cells = [cell for line in csv.reader(io.StringIO(write_rows(rows).decode(), newline="")) for cell in line]
    assert not [cell for cell in cells if cell.startswith(("=", "+", "-", "@", "\t", "\r", "\n", "＝"))]


def test_a_caption_that_looks_like_a_formula_is_guarded_in_the_table_and_untouched_in_the_records() -> None:
    caption = '=HYPERLINK("http://example.org")'
    row = evolve(row_of(DESCRIBED, Side.RECTO, filename="a.jpg"), title=caption)
    assert f',"\'{caption.replace(chr(34), chr(34) * 2)}",' in write_rows([row]).decode()
    assert read_rows(write_rows([row]))[0].title == caption
    line = next(write_records([evolve(STATEMENT, value=caption)]))
    assert json.loads(line)["value"] == caption


def test_the_headings_are_dublin_core_in_the_agreed_order() -> None:
    # Terms and order: shared/standards/interchange.md, layer 1.
    assert write_rows([]) == (
        b"identifier,filename,title,description,date,spatial,subject,creator,contributor,"
        b"type,format,source,relation,rights,extent\r\n"
    )


def test_the_row_of_a_front() -> None:
    row = row_of(DESCRIBED, Side.RECTO, filename="views/B2-E5-0017_front.jpg", rights="Family Kowalski")
    assert row == Row(
        identifier="B2-E5-0017_front",
        filename="views/B2-E5-0017_front.jpg",
        title="Dożynki w ogrodzie <Łódź> & “Anna”",
        description=row.description,
        date="1952-06~/1952-08~",
        spatial=("Łódź, PL", "geo:51.777,19.4555;u=2500"),
        subject=("Anna Kowalska", "Józef Nowak", "Harvest supper at the mill"),
        source=("B2-E5-0017",),
        relation=("B2-E5-0017_back",),
        rights="Family Kowalski",
        extent="89 mm x 127 mm",
    )
    assert row.description.startswith("Dożynki w ogrodzie")
    assert "Aunt Ida (guess)" in row.description


def test_the_row_of_a_back_and_of_a_print_of_which_nothing_is_known() -> None:
    back = row_of(DESCRIBED, Side.VERSO, filename="b.jpg")
    assert (back.identifier, back.relation) == ("B2-E5-0017_back", ("B2-E5-0017_front",))
    assert back.description.startswith("Anna u. Józef,\nSommer 52")
    bare = evolve(
        DESCRIBED, print=Print("P-0001", None, 1), place=None, people=(), occasion="", caption="", when=NOTHING
    )
    row = row_of(bare, Side.RECTO, filename="c.jpg")
    assert (row.title, row.date, row.spatial, row.extent) == ("P-0001", "", (), "")


NOTHING = evolve(DESCRIBED.when, edtf="", words="", earliest=None, latest=None)


def test_the_row_of_a_capture() -> None:
    row = row_of_capture(CAPTURE, filename="captures/ab.jpg", accessions=["B2-E5-0017", "B2-E5-0018"])
    assert (row.identifier, row.title) == (CAPTURE.sha256, "Łódź 017.jpg")
    assert row.source == ("B2-E5-0017", "B2-E5-0018")
    assert row.date == "2026-11-25T09:14:30+01:00"


def test_other_programs_read_the_table() -> None:
    table = write_rows([row_of(DESCRIBED, Side.RECTO, filename="a.jpg")])
    assert not table.startswith(b"\xef\xbb\xbf")
    (found,) = csv.DictReader(io.StringIO(table.decode("utf-8"), newline=""))
    assert tuple(found) == HEADINGS
    assert found["subject"] == "Anna Kowalska | Józef Nowak | Harvest supper at the mill"
    assert found["date"] == "1952-06~/1952-08~"


def test_a_table_that_went_through_a_spreadsheet_is_read() -> None:
    row = row_of(DESCRIBED, Side.RECTO, filename="a.jpg")
    lines = list(csv.reader(io.StringIO(write_rows([row]).decode(), newline="")))
    turned = io.StringIO(newline="")
    csv.writer(turned, quoting=csv.QUOTE_ALL, lineterminator="\n").writerows([line[::-1] for line in lines])
    assert read_rows(b"\xef\xbb\xbf" + turned.getvalue().encode() + b"\n") == [row]


def test_half_characters_in_a_table_are_shown_as_lost() -> None:
    row = Row(identifier="a", filename="odd\udcff.jpg")
    assert read_rows(write_rows([row]))[0].filename == "odd\ufffd.jpg"


@pytest.mark.parametrize(
    ("table", "why"),
    [
        (b"", "its first line should be identifier,filename"),
        (b"a,b\r\n1,2\r\n", "its first line should be identifier,filename"),
        (b"\xff\xfe\x00", "no UTF-8 text"),
        (write_rows([]) + b"one,two\r\n", "Line 2 of the table has 2 cells"),
        (write_rows([]) + b'"open', "Line 2 of the table could not be read"),
    ],
)
def test_what_is_no_table_is_said_plainly(table: bytes, why: str) -> None:
    with pytest.raises(InvalidValue, match=why):
        read_rows(table)


@pytest.mark.parametrize(
    ("line", "why"),
    [
        (b"not json", "Line 2 of the records could not be read"),
        (b"[]", "it should be an object whose kind is one of container"),
        (b'{"kind": "ghost"}', "it should be an object whose kind is one of container"),
        (b'{"kind": "occasion"}', "Occasion cannot be made of these values"),
        (b'{"kind": "occasion", "name": 3}', "3 should be str"),
        (b'{"kind": "occasion", "name": "a", "ghost": 1}', "Occasion has no ghost"),
        (b'{"kind": "container", "code": "x"}', "Line 2"),
        (b'{"kind": "person", "name": "a", "also_called": "b"}', "should be a list"),
        (b'{"kind": "place", "name": "a", "latitude": true}', "True should be float"),
        (b'{"kind": "place", "name": "a", "latitude": 91}', "Line 2"),
        (b'{"kind": "question", "key": "k", "asks": "why"}', "Line 2"),
        (b"\xff", "Line 2"),
    ],
)
def test_lines_that_are_no_records_are_named(line: bytes, why: str) -> None:
    good = next(write_records([Occasion("a")]))
    with pytest.raises(InvalidValue, match=why):
        list(read_records([good, line]))
