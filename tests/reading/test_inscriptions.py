"""Reading inscriptions: lines in every direction, two looks, what repeats, and readers that can be exchanged."""

from __future__ import annotations

import csv
import os
import shutil
import stat
from collections.abc import Sequence
from pathlib import Path

import cv2
import numpy as np
import pytest
from rapidfuzz.distance import Levenshtein

from solander.core.errors import CannotBegin, Trouble
from solander.core.inscriptions import Line, Word
from solander.core.inscriptions.records import Corners
from solander.imaging.decode import decode
from solander.reading.inscriptions import networks
from solander.reading.inscriptions.borders import read_border
from solander.reading.inscriptions.engine import NetworkReader, decoded
from solander.reading.inscriptions.handwriting import HandwritingReader, _Form, handwriting_reader
from solander.reading.inscriptions.reader import LineRead, Patch, Rgb, ScriptedReader, cut_out
from solander.reading.inscriptions.repeated import set_apart
from solander.reading.inscriptions.side import MOST, read_side
from solander.reading.inscriptions.tesseract import TesseractReader, tesseract_reader

RED, BLUE, INK, PAPER = (200, 30, 30), (30, 30, 200), (90, 90, 90), (245, 245, 240)
SCRIPT = {RED: "Nan and Bill", BLUE: "Skegness 1952"}


def _corners(left: float, top: float, right: float, low: float) -> Corners:
    return (left, top), (right, top), (right, low), (left, low)


def _page() -> tuple[Rgb, list[Corners]]:
    """Two bars that begin with a colour of the script and end in ink."""
    page = np.full((200, 300, 3), PAPER, np.uint8)
    boxes = [(20, 30, 220, 50), (20, 70, 180, 90)]
    for (left, top, right, low), colour in zip(boxes, (RED, BLUE), strict=True):
        page[top:low, left:right] = INK
        page[top:low, left : (left + right) // 2] = colour
    return page, [_corners(box[0] - 0.5, box[1] - 0.5, box[2] - 0.5, box[3] - 0.5) for box in boxes]


def _turned(corners: Corners, turn: int) -> Corners:
    """The corners after quarter turns clockwise of the page, as a finder gives them: along a side that runs right
    or down."""
    height, width = 200, 300
    found = np.asarray(corners, float)
    for _ in range(turn):
        found = np.column_stack([height - 1 - found[:, 1], found[:, 0]])
        height, width = width, height
    along = found[1] - found[0]
    found = found if along[np.argmax(np.abs(along))] > 0 else np.roll(found, 2, axis=0)
    first, second, third, fourth = ((float(x), float(y)) for x, y in found)
    return first, second, third, fourth


@pytest.mark.parametrize("turn", range(4))
def test_lines_are_read_whichever_way_they_run(turn: int) -> None:
    page, corners = _page()
    lying = np.ascontiguousarray(np.rot90(page, -turn))
    reader = ScriptedReader([Patch(_turned(each, turn), 0.9) for each in corners], SCRIPT)
    found = read_side(lying, lying, reader)
    assert [line.text for line in found.lines] == ["Nan and Bill", "Skegness 1952"]
    assert all(line.agreed for line in found.lines)
    votes = [bool(vote) for vote in found.votes]
    assert votes.index(True) == (4 - turn) % 4
    assert votes.count(True) == 1


def test_writing_that_cannot_be_read_is_kept_and_said() -> None:
    page, corners = _page()
    reader = ScriptedReader([Patch(corner, 0.9) for corner in corners], {RED: "Nan and Bill"})
    found = read_side(page, page, reader)
    assert found.text == "Nan and Bill\n[illegible]"
    assert len(found.lines) == 2


def test_an_empty_side_says_nothing() -> None:
    page, _ = _page()
    found = read_side(page, page, ScriptedReader())
    assert (found.lines, found.is_written, found.text) == ((), False, "")


def test_of_too_many_lines_the_largest_are_read_and_the_others_told() -> None:
    page, corners = _page()
    specks = [Patch(_corners(4.5, y + 0.5, 9.5, y + 1.5), 0.9) for y in range(100, 100 + MOST)]
    found = read_side(page, page, ScriptedReader([*specks, *(Patch(each, 0.9) for each in corners)], SCRIPT))
    assert (len(found.lines), found.left) == (MOST, 2)
    assert {"Nan and Bill", "Skegness 1952"} <= {line.text for line in found.lines}


class _Disagreeing(ScriptedReader):
    """Reads the flattened look, which is white on the paper, otherwise."""

    def read(self, lines: Sequence[Rgb]) -> list[LineRead]:
        return [LineRead((Word("1952" if line.max() > 250 else "1962", 0.8),), 0.8) for line in lines]


def test_two_looks_that_differ_are_both_kept() -> None:
    page, corners = _page()
    flat = page.copy()
    flat[31:33, 30:200] = 255
    (line,) = read_side(page, flat, _Disagreeing([Patch(corners[0], 0.9)])).lines
    assert {line.text, line.also} == {"1952", "1962"}
    assert not line.agreed


class _OnPrint:
    """Reads a pale print thrice and, across it, what is written; blotted out, the print isn't found, nor the faint
    line, which only the first look finds."""

    def __init__(self) -> None:
        places = [(10.5, 20.5), (150.5, 60.5), (60.5, 120.5)]
        self.print_ = [Patch(_corners(x, y, x + 60, y + 12), 0.9) for x, y in places]
        self.faint = Patch(_corners(100.5, 160.5, 220.5, 180.5), 0.9)
        self.looks = 0

    def find(self, rgb: Rgb) -> list[Patch]:
        self.looks += 1
        return [*self.print_, self.faint] if self.looks == 1 else []

    def read(self, lines: Sequence[Rgb]) -> list[LineRead]:
        said = ["NORDA" if line.shape[0] < 16 else "Bill" for line in lines]
        return [LineRead((Word(each, 0.9),), 0.9) for each in said]


def test_what_only_the_look_before_the_print_was_blotted_out_shows_is_kept() -> None:
    page = np.full((200, 300, 3), PAPER, np.uint8)
    reader = _OnPrint()
    found = read_side(page, page, reader)
    assert (reader.looks, found.text, len(found.repeated)) == (2, "Bill", 3)


class _AllOver(_OnPrint):
    """Ten places of the print in rows, and a longer and higher line."""

    def __init__(self) -> None:
        super().__init__()
        spots = [(x, y) for y in (10.5, 40.5, 70.5, 100.5, 130.5) for x in (5.5, 80.5)]
        self.print_ = [Patch(_corners(x, y, x + 60, y + 12), 0.9) for x, y in spots]


def test_of_a_makers_print_no_more_is_read_than_tells_it_and_no_place_is_lost() -> None:
    page = np.full((200, 300, 3), PAPER, np.uint8)
    found = read_side(page, page, _AllOver())
    assert (found.text, len(found.repeated)) == ("Bill", 10)
    # Of the eight longest the line is one; what lies as the other seven do is told without being read.
    assert sum(not line.words for line in found.repeated) == 3


class _Hand:
    def read(self, lines: Sequence[Rgb]) -> list[LineRead]:
        return [LineRead((Word("Skegness", 0.95),), 0.95) for _ in lines]


def test_a_recogniser_of_handwriting_reads_what_is_doubtful() -> None:
    page, corners = _page()
    reader = ScriptedReader([Patch(corner, 0.9) for corner in corners], SCRIPT, sure=0.75)
    found = read_side(page, page, reader, hand=_Hand())
    assert [(line.text, line.also) for line in found.lines] == [
        ("Skegness", "Nan and Bill"),
        ("Skegness", "Skegness 1952"),
    ]


def _line(
    text: str, x: float, y: float, *, angle: float = 0.0, ink: tuple[int, int, int] = (200, 195, 180)
) -> Line:
    along = np.array([np.cos(np.deg2rad(angle)), np.sin(np.deg2rad(angle))])
    down = np.array([-along[1], along[0]])
    start = np.array([x, y])
    ends = [start, start + 80 * along, start + 80 * along + 15 * down, start + 15 * down]
    first, second, third, fourth = ((float(a), float(b)) for a, b in ends)
    return Line((Word(text, 0.9),), (first, second, third, fourth), 0.9, ink=ink)


def test_a_makers_name_all_over_the_back_stands_apart() -> None:
    print_ = [_line("NORDA", x, y, angle=-40) for x in (10, 150) for y in (20, 90)]
    cut = _line("NOR", 280, 90, angle=-41)
    hand = _line("Nan at home", 40, 60, ink=(40, 40, 80))
    own, repeated = set_apart([*print_, cut, hand])
    assert own == [hand]
    assert len(repeated) == 5


def test_a_name_written_twice_stays() -> None:
    lines = [_line("Nan", 0, 0), _line("Nan", 0, 40), _line("and Bill", 0, 80)]
    assert set_apart(lines) == (lines, [])


def test_letters_come_out_of_columns() -> None:
    """Connectionist temporal classification, Graves and others (2006), section 3.1: equal neighbours are one
    letter, blanks part equal letters and fall out. "abb c" from a, a, blank, b, blank, b, space, c."""
    columns = [1, 1, 0, 2, 0, 2, 4, 3]
    likely = np.full((8, 5), 0.05, np.float32)
    likely[np.arange(8), columns] = 0.8
    read = decoded(likely, ("", "a", "b", "c", " "))
    assert read.text == "abb c"
    assert read.sure == pytest.approx(0.8)
    first, second = read.words
    assert first.begins == 0.0
    assert first.ends <= second.begins < second.ends == 1.0


def test_cut_out_holds_just_what_lies_within() -> None:
    page, corners = _page()
    bar = cut_out(page, corners[0])
    assert bar.shape == (20, 200, 3)
    assert np.array_equal(bar[:, :100].reshape(-1, 3), np.tile(RED, (2000, 1)))
    upside_down: Corners = (*corners[0][2:], *corners[0][:2])
    assert np.array_equal(cut_out(page, upside_down), bar[::-1, ::-1])


class _Marks:
    """Finds what is pure blue, and reads it as a date where a green dot stands at its end."""

    def find(self, rgb: Rgb) -> list[Patch]:
        mask = (np.abs(rgb.astype(int) - (0, 0, 255)).sum(axis=2) < 90).astype(np.uint8)
        boxes = cv2.connectedComponentsWithStats(mask)[2][1:]
        return [
            Patch(_corners(x - 0.5, y - 0.5, x + w - 0.5, y + h - 0.5), 0.9)
            for x, y, w, h, size in boxes
            if size > 60
        ]

    def read(self, lines: Sequence[Rgb]) -> list[LineRead]:
        return [LineRead((Word("JUL", 0.9), Word("63", 0.9)), 0.9) for _ in lines]


@pytest.mark.parametrize(
    ("mark", "middle"),
    [
        ((40, 190, 80, 195), (60, 192.5)),
        ((40, 4, 80, 9), (60, 6.5)),
        ((4, 60, 9, 100), (6.5, 80)),
        ((290, 60, 295, 100), (292.5, 80)),
    ],
)
def test_a_mark_in_each_border_is_found_and_put_back_where_it_is(
    mark: tuple[int, int, int, int], middle: tuple[float, float]
) -> None:
    front = np.full((200, 300, 3), 250, np.uint8)
    front[20:180, 20:280] = (110, 120, 100)
    left, top, right, low = mark
    front[top:low, left:right] = (0, 0, 255)
    found = read_border(front, _Marks())
    assert found.date is not None
    assert found.date.edtf == "1963-07"
    (line,) = found.lines
    assert line.centre == pytest.approx((middle[0] - 0.5, middle[1] - 0.5), abs=1.0)


def test_without_the_extra_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(networks, "is_installed", lambda: False)
    networks.network.cache_clear()
    with pytest.raises(CannotBegin, match=r"solander\[ocr\]"):
        NetworkReader().read([np.zeros((20, 60, 3), np.uint8)])


needs_models = pytest.mark.skipif(
    not networks.is_installed(), reason='the recogniser of writing is not installed: pip install "solander[ocr]"'
)


@pytest.mark.slow
@needs_models
def test_the_networks_read_print_whichever_way_it_lies() -> None:
    page = np.full((160, 420, 3), 240, np.uint8)
    cv2.putText(page, "MARKET 1964", (40, 90), cv2.FONT_HERSHEY_DUPLEX, 1.3, (50, 40, 60), 2, cv2.LINE_AA)
    for turn in (0, 1):
        lying = np.ascontiguousarray(np.rot90(page, 2 * turn))
        found = read_side(lying, lying, NetworkReader())
        assert found.text.replace(" ", "") == "MARKET1964"
        assert found.lines[0].turn == 2 * turn
        assert found.is_written


@pytest.mark.slow
@needs_models
def test_blank_paper_has_no_writing() -> None:
    page = np.full((300, 420, 3), (235, 228, 210), np.uint8)
    assert not read_side(page, page, NetworkReader()).is_written


def _proto(*fields: tuple[int, int | bytes]) -> bytes:
    """Protocol buffers by hand: varints and bytes, with the numbers of onnx.proto3 (from memory)."""
    out = b""
    for number, value in fields:
        if isinstance(value, int):
            out += _varint(number << 3) + _varint(value)
        else:
            out += _varint(number << 3 | 2) + _varint(len(value)) + value
    return out


def _varint(value: int) -> bytes:
    out = b""
    while value > 127:
        out += bytes([value & 127 | 128])
        value >>= 7
    return out + bytes([value])


def _tensor(name: bytes, *dims: bytes | int) -> bytes:
    shape = _proto(*((1, _proto((1, dim) if isinstance(dim, int) else (2, dim))) for dim in dims))
    return _proto((1, name), (2, _proto((1, _proto((1, 1), (2, shape))))))


def _model() -> bytes:
    """The mean of each column of a line: red is the blank, green the first letter, blue the second."""
    mean = _proto(
        (1, b"x"), (2, b"m"), (4, b"ReduceMean"),
        (5, _proto((1, b"axes"), (8, 2), (20, 7))), (5, _proto((1, b"keepdims"), (3, 0), (20, 2))),
    )  # fmt: skip
    swap = _proto(
        (1, b"m"), (2, b"y"), (4, b"Transpose"), (5, _proto((1, b"perm"), (8, 0), (8, 2), (8, 1), (20, 7)))
    )
    graph = _proto(
        (1, mean), (1, swap), (2, b"columns"),
        (11, _tensor(b"x", 1, 3, 8, b"w")), (12, _tensor(b"y", 1, b"w", 3)),
    )  # fmt: skip
    return _proto((1, 8), (7, graph), (8, _proto((2, 13))))


def _folder(path: Path, *, alphabet: str = "a\nb\n", form: str = '{"height": 8, "scaled": "0..1"}') -> Path:
    path.mkdir()
    (path / "model.onnx").write_bytes(_model())
    (path / "alphabet.txt").write_text(alphabet, encoding="utf-8")
    (path / "model.json").write_text(form, encoding="utf-8")
    return path


@needs_models
def test_a_users_recogniser_reads_by_its_own_alphabet(tmp_path: Path) -> None:
    line = np.zeros((8, 60, 3), np.uint8)
    for begin, colour in enumerate([1, 0, 2, 0, 2, 0]):  # green, red, blue, red, blue, red
        line[:, 10 * begin : 10 * begin + 10, colour] = 255
    (read,) = handwriting_reader(_folder(tmp_path / "hand")).read([line])
    assert read.text == "abb"


@needs_models
@pytest.mark.parametrize(
    ("spoiled", "why"),
    [
        (lambda folder: (folder / "alphabet.txt").unlink(), "no alphabet.txt"),
        (lambda folder: (folder / "model.json").write_text("{", "utf-8"), "model.json"),
        (lambda folder: (folder / "model.json").write_text('{"tall": 3}', "utf-8"), "“tall”, which means nothing"),
        (lambda folder: (folder / "model.json").write_text("[48]", "utf-8"), "no keys"),
        (lambda folder: (folder / "model.json").write_text('{"height": "48"}', "utf-8"), '"48" for “height”'),
        (lambda folder: (folder / "model.json").write_text('{"height": 0}', "utf-8"), "0 for “height”"),
        (lambda folder: (folder / "model.json").write_text('{"height": true}', "utf-8"), "true for “height”"),
        (lambda folder: (folder / "model.json").write_text('{"stretch": NaN}', "utf-8"), "NaN for “stretch”"),
        (lambda folder: (folder / "model.json").write_text('{"colours": 2}', "utf-8"), "2 for “colours”"),
        (lambda folder: (folder / "model.json").write_text('{"blank": 1}', "utf-8"), "1 for “blank”"),
        (lambda folder: (folder / "model.json").write_text('{"scaled": "0-1"}', "utf-8"), "for “scaled”"),
        (
            lambda folder: (folder / "model.json").write_text('{"probabilities": 1}', "utf-8"),
            "for “probabilities”",
        ),
        (lambda folder: (folder / "model.onnx").write_bytes(b"no model"), "could not be loaded"),
        (lambda folder: (folder / "alphabet.txt").write_text("a\n", "utf-8"), "2 characters apart"),
        (lambda folder: (folder / "model.json").write_text('{"height": 16}', "utf-8"), "does not take lines"),
        (lambda folder: (folder / "model.json").write_text('{"height": 8}', "utf-8"), "no probabilities"),
        (lambda folder: (folder / "alphabet.txt").write_bytes(b"\xe4\n\xf6\n"), "not UTF-8"),
    ],
)
def test_a_recogniser_that_is_not_whole_is_refused(tmp_path: Path, spoiled: object, why: str) -> None:
    folder = _folder(tmp_path / "hand")
    spoiled(folder)  # type: ignore[operator]
    with pytest.raises(CannotBegin, match=why):
        handwriting_reader(folder).read([np.zeros((8, 40, 3), np.uint8)])


@pytest.mark.parametrize("probabilities", [True, False])
def test_a_line_on_which_a_recogniser_breaks_down_is_not_read_by_it(probabilities: bool) -> None:
    """A score that is no number would be no JSON (RFC 8259, 6) where it is kept."""

    def broken(batch: np.ndarray) -> np.ndarray:
        return np.full((1, 5, 3), np.nan, np.float32)

    reader = HandwritingReader(broken, ("a", "b"), _Form(probabilities=probabilities))  # type: ignore[arg-type]
    assert reader.read([np.zeros((48, 60, 3), np.uint8)]) == [LineRead((), 0.0)]


TABLE = (
    "level\\tpage_num\\tblock_num\\tpar_num\\tline_num\\tword_num\\tleft\\ttop\\twidth\\theight\\tconf\\ttext\\n"
    "4\\t1\\t1\\t1\\t1\\t0\\t10\\t20\\t90\\t12\\t-1\\t\\n"
    "5\\t1\\t1\\t1\\t1\\t1\\t10\\t20\\t40\\t12\\t90.0\\tИван\\n"
    "5\\t1\\t1\\t1\\t1\\t2\\t60\\t20\\t40\\t12\\t70.0\\t1936\\n"
)
"""The form of Tesseract's table (from memory)."""


@pytest.mark.skipif(os.name == "nt", reason="a stand-in for the program is a shell script")
def test_tesseract_reads_where_its_program_is_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    program = tmp_path / "tesseract"
    refuses = '[ "$4" = rus ] || { echo no data >&2; exit 1; }'
    program.write_text(f"#!/bin/sh\ncat > /dev/null\n{refuses}\nprintf '{TABLE}'\n", encoding="utf-8")
    program.chmod(program.stat().st_mode | stat.S_IXUSR)
    monkeypatch.setenv("PATH", f"{tmp_path}{os.pathsep}{os.environ['PATH']}")
    page = np.full((60, 120, 3), 240, np.uint8)
    reader = tesseract_reader("rus")
    assert [patch.corners for patch in reader.find(page)] == [_corners(9.5, 19.5, 99.5, 31.5)]
    (read,) = reader.read([page])
    assert read.text == "Иван 1936"
    assert read.sure == pytest.approx(0.8)
    with pytest.raises(CannotBegin, match="no data"):
        tesseract_reader("ukr").read([page])


@pytest.mark.skipif(os.name == "nt", reason="a stand-in for the program is a shell script")
def test_a_tesseract_that_does_not_answer_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    program = tmp_path / "tesseract"
    program.write_text("#!/bin/sh\nexec sleep 60\n", encoding="utf-8")
    program.chmod(program.stat().st_mode | stat.S_IXUSR)
    monkeypatch.setattr("solander.reading.inscriptions.tesseract._SECONDS", 0.1)
    with pytest.raises(Trouble, match="no answer within"):
        TesseractReader(str(program)).read([np.full((60, 120, 3), 240, np.uint8)])


def test_without_tesseract_it_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    with pytest.raises(CannotBegin, match="not installed"):
        tesseract_reader()


@pytest.mark.slow
@pytest.mark.skipif(shutil.which("tesseract") is None, reason="the program tesseract is not installed")
def test_tesseract_itself_reads_print_and_says_which_data_it_lacks() -> None:
    """Against the program: its table has the form that is read here."""
    page = np.full((160, 420, 3), 240, np.uint8)
    cv2.putText(page, "MARKET 1964", (40, 90), cv2.FONT_HERSHEY_DUPLEX, 1.3, (50, 40, 60), 2, cv2.LINE_AA)
    found = read_side(page, page, tesseract_reader("eng"))
    assert found.text == "MARKET 1964"
    assert found.lines[0].turn == 0
    assert found.is_written
    with pytest.raises(CannotBegin, match="Tesseract could not read"):
        tesseract_reader("xyz").read([page])


LINES = Path(__file__).resolve().parents[3] / "shared" / "data" / "handwriting"


@pytest.mark.slow
@needs_models
@pytest.mark.skipif(not LINES.is_dir(), reason="shared/data/handwriting is not beside the project")
def test_of_real_typed_and_printed_lines_five_letters_in_a_hundred_are_wrong_at_most() -> None:
    """ "Memorials for Jane Lathrop Stanford" (Guimarães and others, 2022, CC BY 4.0), the ten lines that are no
    hand's. All lines, and hands: benchmarks/inscriptions.py."""
    with (LINES / "lines.csv").open(encoding="utf-8") as file:
        rows = [row for row in csv.DictReader(file) if row["kind"] != "hand"]
    reads = NetworkReader().read([decode(LINES / row["file"]) for row in rows])
    wrong = sum(Levenshtein.distance(read.text, row["text"]) for read, row in zip(reads, rows, strict=True))
    assert len(rows) == 10
    assert wrong <= 0.05 * sum(len(row["text"]) for row in rows)
