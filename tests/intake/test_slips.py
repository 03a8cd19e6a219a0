"""The slip file: read as people save it, faults named by line, the rest goes on."""

from __future__ import annotations

import csv
import tempfile
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solander.core.errors import CannotBegin
from solander.core.language import speaking, told
from solander.core.prints import Side
from solander.intake.slips import COLUMNS, SlipFile, SlipRow, read_slips
from solander.look.languages import language_of


def slips(tmp_path: Path, text: str | bytes) -> SlipFile:
    path = tmp_path / "slips.csv"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return read_slips(path)


def test_every_column_is_read(tmp_path: Path) -> None:
    text = (
        "file,side,occasion,date,place,people,caption,note,transcription,container,order,roll,evidence,source\r\n"
        '14.jpg,verso,Wedding,June 1958,Breslau,"Anna; Karl ;",By the church,"torn, left",Liebe Anna,B2/E5,14,'
        "film 7,deckle edge; E012,Aunt Vera\r\n"
    )
    assert slips(tmp_path, text) == SlipFile(
        (
            SlipRow(
                line=2,
                file="14.jpg",
                side=Side.VERSO,
                occasion="Wedding",
                date="June 1958",
                place="Breslau",
                people=("Anna", "Karl"),
                caption="By the church",
                note="torn, left",
                transcription="Liebe Anna",
                container="B2/E5",
                order=14,
                roll="film 7",
                evidence=("deckle edge", "E012"),
                source="Aunt Vera",
            ),
        ),
        columns=COLUMNS,
    )
    assert set(text.partition("\r\n")[0].split(",")) == set(COLUMNS)


def test_semicolons_a_mark_of_byte_order_and_capitals(tmp_path: Path) -> None:
    text = '\ufeffFile; DATE ;People\n14.jpg;1958, summer;"Anna;Karl"\n'
    (row,) = slips(tmp_path, text).rows
    assert (row.file, row.date, row.people) == ("14.jpg", "1958, summer", ("Anna", "Karl"))


def test_a_row_without_file_describes_an_occasion(tmp_path: Path) -> None:
    found = slips(tmp_path, "file,occasion,date\n,Wedding,1958\n")
    assert found.rows == (SlipRow(line=2, occasion="Wedding", date="1958"),)
    assert set(found.columns) == {"file", "occasion", "date"}
    assert found.whole


def test_a_row_that_was_set_aside_leaves_the_file_not_whole(tmp_path: Path) -> None:
    found = slips(tmp_path, "file,order\n14.jpg,first\n15.jpg,2\n")
    assert [row.file for row in found.rows] == ["15.jpg"]
    assert len(found.warnings) == 1
    assert not found.whole


def test_a_file_name_is_written_as_arrivals_write_it(tmp_path: Path) -> None:
    (row,) = slips(tmp_path, "file\nbox 2\\O\u0308se.jpg\n").rows
    assert row.file == "box 2/Öse.jpg"


def test_wrong_rows_are_set_aside_by_line_and_the_rest_goes_on(tmp_path: Path) -> None:
    found = slips(
        tmp_path,
        "file,side,order,note\n"
        '1.jpg,front,1,"over\ntwo lines"\n'
        "2.jpg,left,,\n"
        "\n"
        "3.jpg,,three,\n"
        ",,,nothing to say it of\n"
        "4.jpg,,,a,b\n"
        "5.jpg,back\n",
    )
    assert [(row.line, row.file, row.side, row.order) for row in found.rows] == [
        (2, "1.jpg", Side.RECTO, 1),
        (9, "5.jpg", Side.VERSO, None),
    ]
    assert found.warnings == (
        "Line 4 of the slip file was set aside: “left” is no side. Write recto or front, verso or back, detail, or"
        " nothing.",
        "Line 6 of the slip file was set aside: “three” is no whole number. Write the order as 1, 2, 3 ….",
        "Line 7 of the slip file was set aside: it names neither a file nor an occasion. Fill in one of the two.",
        "Line 8 of the slip file was set aside: it has 5 cells under 4 columns. Quote cells that hold a comma.",
    )


def test_unknown_and_doubled_columns_are_named_and_passed_over(tmp_path: Path) -> None:
    found = slips(tmp_path, "file,colour,note,Note,\n1.jpg,red,first,second,\n")
    assert [row.note for row in found.rows] == ["first"]
    assert found.warnings == (
        "The column “colour” of slips.csv is not known and was passed over.",
        "The column “note” of slips.csv is there more than once; the first was read.",
    )


@pytest.mark.parametrize(
    ("content", "said"),
    [
        ("file\nÖse.jpg\n".encode("latin-1"), "line 2 is not UTF-8"),
        ("file\n1.jpg\n".encode("utf-16"), "not UTF-8|not a text file"),
        (b"file\n1\0.jpg\n", "not a text file"),
        (b'file,note\n1.jpg,"never closed\n', "line 2"),
        (b"", "names no column"),
        (b"name,when\n1.jpg,1958\n", "names no column"),
    ],
)
def test_a_file_that_is_no_slip_file_is_refused(tmp_path: Path, content: bytes, said: str) -> None:
    with pytest.raises(CannotBegin, match=said) as caught:
        slips(tmp_path, content)
    assert caught.value.todo


def test_a_slip_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(CannotBegin, match="there is no such file"):
        read_slips(tmp_path / "gone.csv")


TEXT = st.text(
    st.characters(blacklist_categories=("Cs", "Cc"), blacklist_characters="\u2028\u2029\x85"), max_size=12
).map(str.strip)
CELLS = st.one_of(TEXT, st.builds("{}\n{}".format, TEXT, TEXT).map(str.strip))
NAMES = st.text(st.sampled_from("abc 019_-.äß"), min_size=1, max_size=12).map(str.strip).filter(bool)
SEVERAL = st.lists(TEXT.map(lambda one: one.replace(";", "").strip()).filter(bool), max_size=3).map(tuple)
ROWS = st.builds(
    SlipRow,
    line=st.just(0),
    file=NAMES,
    side=st.sampled_from([None, *Side]),
    occasion=CELLS,
    date=CELLS,
    place=CELLS,
    people=SEVERAL,
    caption=CELLS,
    note=CELLS,
    transcription=CELLS,
    container=CELLS,
    order=st.none() | st.integers(-5, 10**6),
    roll=CELLS,
    evidence=SEVERAL,
    source=CELLS,
)


@given(st.lists(ROWS, max_size=5), st.sampled_from([",", ";"]), st.permutations(COLUMNS), st.booleans())
@settings(max_examples=80, deadline=None)
def test_what_was_written_comes_back(
    rows: list[SlipRow], delimiter: str, columns: list[str], marked: bool
) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "slips.csv"
        with path.open("w", encoding="utf-8-sig" if marked else "utf-8", newline="") as file:
            writer = csv.writer(file, delimiter=delimiter)
            writer.writerow(columns)
            for row in rows:
                writer.writerow([written(getattr(row, column)) for column in columns])
        found = read_slips(path)
    assert found.warnings == ()
    assert [as_written(row) for row in found.rows] == [as_written(row) for row in rows]
    assert [row.line for row in found.rows] == sorted({row.line for row in found.rows})


def as_written(row: SlipRow) -> list[object]:
    return [getattr(row, column) for column in COLUMNS]


def written(value: object) -> str:
    if isinstance(value, tuple):
        return ";".join(value)
    return "" if value is None else str(value)


@pytest.mark.parametrize("language", ["de", "fr"])
def test_what_could_not_be_read_is_told_in_the_readers_language(tmp_path: Path, language: str) -> None:
    path = tmp_path / "slips.csv"
    path.write_text("file,side,order,colour\nx.jpg,top,,\ny.jpg,,first,\n,,,\n,front,2,\nz.jpg,,,,more\n", "utf-8")
    warnings = read_slips(path).warnings
    assert len(warnings) == 5
    with speaking(language_of(language)):
        for one in warnings:
            assert told(one) != one, one
        path.write_text("colour\nred\n", "utf-8")
        with pytest.raises(CannotBegin) as refused:
            read_slips(path)
        assert told(refused.value.why) != refused.value.why
