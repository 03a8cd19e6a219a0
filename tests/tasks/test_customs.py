"""How a collection's people write dates: kept, asked by every reading, read again when it changes."""

from __future__ import annotations

import pytest
from attrs import evolve
from small_box import Draw, slip_file

from solander.core.customs import Customs
from solander.core.errors import InvalidValue
from solander.core.statements import Says
from solander.tasks.accession import accession
from solander.tasks.collection import Collection
from solander.tasks.customs import change_customs
from solander.tasks.date import customs_of, date_reader


@pytest.fixture
def dated(draw: Draw, collection: Collection) -> Collection:
    """Two prints: one date that has two orders, one that has only one."""
    folder = draw("a.jpg", 1).parent
    draw("b.jpg", 2)
    accession(collection, [folder], slips=slip_file(folder.parent, "file,date", "a.jpg,3/7/48", "b.jpg,1952"))
    return collection


def dates(collection: Collection) -> dict[str, str]:
    return {said.subject: said.value for said in collection.catalogue.statements() if said.says is Says.EXPOSURE}


def test_an_empty_collection_goes_by_the_usual_customs(collection: Collection) -> None:
    assert customs_of(collection.catalogue) == Customs(None, 1901, None, False)


def test_the_order_of_day_and_month_decides_dates_that_were_read_before(dated: Collection) -> None:
    assert dates(dated) == {"P-0001": "[1948-03-07,1948-07-03]", "P-0002": "1952"}
    told = change_customs(dated, Customs(day_first=True))
    assert dates(dated) == {"P-0001": "1948-07-03", "P-0002": "1952"}
    assert told == ["P-0001: “3/7/48” was read as 7 March or 3 July 1948, now 3 July 1948"]
    assert customs_of(dated.catalogue) == Customs(day_first=True)


def test_undo_takes_the_customs_and_the_dates_back_together(dated: Collection) -> None:
    change_customs(dated, Customs(day_first=False))
    assert dated.catalogue.undo("archivist") == "changed how dates are read"
    assert dates(dated)["P-0001"] == "[1948-03-07,1948-07-03]"
    assert customs_of(dated.catalogue) == Customs()


def test_there_and_back_again(dated: Collection) -> None:
    change_customs(dated, Customs(day_first=True))
    change_customs(dated, Customs())
    change_customs(dated, Customs(day_first=True))
    assert dates(dated)["P-0001"] == "1948-07-03"


def test_a_date_that_was_corrected_by_hand_stays(dated: Collection) -> None:
    said = next(each for each in dated.catalogue.statements() if each.subject == "P-0001")
    with dated.catalogue.act("archivist", "corrected") as act, act.work() as work:
        work.withdraw(said.id)
        work.state(evolve(said, id="corrected", value="1948-03-07"))
        work.commit()
    assert change_customs(dated, Customs(day_first=True)) == []
    assert dates(dated)["P-0001"] == "1948-03-07"


@pytest.mark.parametrize(
    ("customs", "phrase", "edtf"),
    [
        (Customs(first_year=1850), "June 58", "1858-06"),
        (Customs(), "June 58", "1958-06"),
        (Customs(southern=True), "summer 58", "1958-30"),
        (Customs(southern=True), "late winter 1951", "1951-08"),
        (Customs(southern=True), "summer before the war", "1938-30"),
        (Customs(language="de"), "Sommer 58", "1958-22"),
        (Customs(language="de"), "summer 58", "1958-22"),  # another language than theirs is still understood
    ],
)
def test_dates_are_read_by_the_customs(collection: Collection, customs: Customs, phrase: str, edtf: str) -> None:
    change_customs(collection, customs)
    assert date_reader(collection.catalogue)(phrase).readings[0].edtf == edtf


@pytest.mark.parametrize("wrong", [{"language": "xx"}, {"first_year": 1700}, {"first_year": 2100}])
def test_customs_that_nobody_can_have_are_refused(wrong: dict[str, object]) -> None:
    with pytest.raises(InvalidValue):
        Customs(**wrong)
