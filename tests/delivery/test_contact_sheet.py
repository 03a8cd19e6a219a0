"""The contact sheet, read and rendered by PDFium: an outside program says what stands on which page."""

from __future__ import annotations

import io
import re
from pathlib import Path

import numpy as np
import pytest

from solander.delivery.contact_sheet import ContactSheet, Pair, write_contact_sheet
from solander.imaging.encode import encode_jpeg

pdfium = pytest.importorskip("pypdfium2", reason="PDFium is not installed: the sheet is not read")

A4_POINTS = 210 / 25.4 * 72, 297 / 25.4 * 72  # ISO 216
RED, BLUE = (200, 30, 30), (30, 30, 200)


def plain(path: Path, colour: tuple[int, int, int], size: tuple[int, int] = (480, 320)) -> Path:
    path.write_bytes(encode_jpeg(np.full((size[1], size[0], 3), colour, np.uint8)))
    return path


def sheet_of(folder: Path, prints: int, done: tuple[str, ...] = ("paper border made neutral",)) -> bytes:
    before, after = plain(folder / "before.jpg", RED), plain(folder / "after.jpg", BLUE)
    pairs = (Pair(f"B2-E5-{number:04d}", before, after, done) for number in range(1, prints + 1))
    held = io.BytesIO()
    heads = "Untreated", "Treated"
    write_contact_sheet(held, ContactSheet("B2/E5", "All are treated.", heads, pairs))
    return held.getvalue()


def texts(pdf: bytes) -> list[str]:
    return [page.get_textpage().get_text_range() for page in pdfium.PdfDocument(pdf)]


def test_each_pair_stands_with_its_number_and_what_was_done_four_a_page(tmp_path: Path) -> None:
    pages = texts(sheet_of(tmp_path, 9, ("yellow stain taken off, the tone kept", "cropped to the picture")))
    assert [page.count("Yellow stain taken off, the tone kept; cropped to the picture.") for page in pages] == [
        4,
        4,
        1,
    ]
    assert re.findall("B2-E5-[0-9]{4}", " ".join(pages)) == [f"B2-E5-{number:04d}" for number in range(1, 10)]
    assert all("Untreated" in page and "Treated" in page for page in pages)


def test_pages_are_a4_and_pictures_stand_side_by_side(tmp_path: Path) -> None:
    page = pdfium.PdfDocument(sheet_of(tmp_path, 1))[0]
    assert page.get_size() == pytest.approx(A4_POINTS, abs=0.01)
    rgb = page.render(scale=1, rev_byteorder=True).to_numpy()[..., :3].astype(int)
    boxes = []
    for colour in (RED, BLUE):
        rows, columns = np.nonzero(np.abs(rgb - colour).max(axis=2) < 12)
        boxes.append((columns.min(), rows.min(), columns.max(), rows.max()))
    (left, top, right, bottom), other = boxes
    assert (right - left) / (bottom - top) == pytest.approx(480 / 320, abs=0.03)
    assert right < other[0]  # untreated at the left
    assert (top, bottom) == (other[1], other[3])
    assert other[2] < page.get_size()[0] - 30


def test_pictures_go_in_to_the_bit(tmp_path: Path) -> None:
    pdf = sheet_of(tmp_path, 1)
    assert pdf.count((tmp_path / "before.jpg").read_bytes()) == 1
    assert pdf.count((tmp_path / "after.jpg").read_bytes()) == 1


def test_a_long_treatment_takes_more_lines_and_none_runs_off_the_page(tmp_path: Path) -> None:
    done = tuple(f"step {number} of a long list that was done" for number in range(20))
    page = pdfium.PdfDocument(sheet_of(tmp_path, 1, done))[0]
    text = page.get_textpage()
    assert "step 19" in " ".join(text.get_text_range().split())
    right = max(text.get_rect(number)[2] for number in range(text.count_rects()))
    assert right <= (210 - 14) / 25.4 * 72 + 1


def test_the_same_prints_give_the_same_bytes(tmp_path: Path) -> None:
    assert sheet_of(tmp_path, 3) == sheet_of(tmp_path, 3)


def test_a_sheet_without_a_print_is_a_page_that_says_so(tmp_path: Path) -> None:
    (page,) = texts(sheet_of(tmp_path, 0))
    assert "All are treated." in page
