"""The contact sheet of a container: which prints stand on it, in which words; by task, command and page."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from click.testing import CliRunner
from small_box import Draw

from solander.cli.main import solander
from solander.core.errors import CannotBegin, NotFound
from solander.core.language import speaking
from solander.core.treatments import UNTREATED, Step, Treatment
from solander.look.languages import language_of
from solander.tasks.accession import accession
from solander.tasks.collection import Collection
from solander.tasks.contact_sheet import ContactSheetOf, write_sheet_of_treated

pdfium = pytest.importorskip("pypdfium2", reason="PDFium is not installed: the sheet is not read")

pytestmark = pytest.mark.slow

DARKER = Treatment.of([Step("density", {"by": 0.2}, who="Ada"), Step("quarter turn", {"turns": 1}, who="Ada")])
ASLEEP = Treatment.of([Step("density", {"by": 0.2}, on=False)])


@pytest.fixture
def box(draw: Draw, collection: Collection) -> Collection:
    """Two prints in B2/E5, of which the first is treated and the second has a step that is off, and one in B20."""
    accession(collection, [draw("a.jpg", 1), draw("b.jpg", 2)], container="B2/E5")
    accession(collection, [draw("c.jpg", 4)], container="B20")
    with collection.catalogue.act("Ada", "treated") as act, act.work() as work:
        for number, treatment in (("B2-E5-0001", DARKER), ("B2-E5-0002", ASLEEP), ("B20-0001", DARKER)):
            view = collection.catalogue.print(number).recto
            assert view is not None
            work.set_treatment(view.key, treatment)
        work.commit()
    return collection


def read(pdf: bytes) -> str:
    return " ".join(page.get_textpage().get_text_range() for page in pdfium.PdfDocument(pdf))


def of(collection: Collection, container: str | None = None) -> str:
    held = io.BytesIO()
    ContactSheetOf(collection, container).write(held)
    return read(held.getvalue())


def test_it_holds_treated_prints_of_the_container_and_of_those_within(box: Collection) -> None:
    text = of(box, "B2")
    assert "1 of 2 prints is treated." in text
    assert "B2-E5-0001" in text
    assert "Mid-tones darker by a density of 0.20; turned a quarter clockwise." in text
    assert "B2-E5-0002" not in text  # its only step is off
    assert "B20" not in text  # a container of its own, not one in B2
    assert "B20-0001" in of(box)


def test_it_speaks_the_readers_language(box: Collection) -> None:
    with speaking(language_of("de")):
        text = of(box, "B2/E5")
    assert "Unbehandelt" in text
    assert "1 von 2 Abzügen ist behandelt." in text
    assert "0,20" in text


def test_what_cannot_be_shown_is_told_and_the_others_stand_there(box: Collection, tmp_path: Path) -> None:
    view = box.catalogue.print("B2-E5-0001").recto
    assert view is not None
    for path in (box.views_root / view.key[:2]).iterdir():
        path.unlink()
    box.vault.path(view.capture).unlink()
    sheet = ContactSheetOf(box)
    write_sheet_of_treated(sheet, tmp_path / "sheet.pdf")
    assert [sentence.startswith("B2-E5-0001: ") for sentence in sheet.set_aside] == [True]
    assert "B20-0001" in read((tmp_path / "sheet.pdf").read_bytes())


def test_without_a_treated_print_or_a_container_it_says_so(box: Collection) -> None:
    with pytest.raises(NotFound, match="There is no container B7"):
        ContactSheetOf(box, "B7")
    with box.catalogue.act("Ada", "made") as act, act.work() as work:
        work.set_treatment(box.catalogue.print("B20-0001").views[0].key, ASLEEP)
        work.commit()
    with pytest.raises(CannotBegin, match="none of its prints is treated"):
        ContactSheetOf(box, "B20")
    assert box.catalogue.has_treated("B2")
    assert box.catalogue.has_treated("B2/E5")
    assert not box.catalogue.has_treated("B2/E")


def test_a_sheet_is_offered_only_where_there_is_one(box: Collection) -> None:
    view = box.catalogue.print("B2-E5-0001").recto
    assert view is not None
    with box.catalogue.act("Ada", "withdrew it") as act, act.work() as work:
        work.set_treatment(view.key, UNTREATED)
        work.commit()
    assert not box.catalogue.has_treated("B2/E5")  # the other print's only step is off
    assert not box.catalogue.has_treated("B2")  # B20 is no container in B2
    assert box.catalogue.has_treated("B20")


def test_the_command_writes_it_and_never_over_another_file(box: Collection, tmp_path: Path) -> None:
    box.close()
    target = tmp_path / "sheet.pdf"
    asked = ["contact-sheet", str(box.root), str(target), "--container", "b2"]
    done = CliRunner().invoke(solander, asked)
    assert done.exit_code == 0
    assert "1 picture before and after" in done.output
    assert "B2-E5-0001" in read(target.read_bytes())
    again = CliRunner().invoke(solander, asked, standalone_mode=False)
    assert isinstance(again.exception, CannotBegin)
    assert "something is there already" in again.exception.sentence
