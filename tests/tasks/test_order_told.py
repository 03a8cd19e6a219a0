"""Every print in its place in time, each bound with its reason."""

from __future__ import annotations

from pathlib import Path

import pytest
from small_box import Draw, slip_file

from solander.core.descriptions import DescribedPrint
from solander.core.people import Person
from solander.core.statements import Sure
from solander.tasks.accession import accession
from solander.tasks.collection import Collection
from solander.tasks.described import described
from solander.tasks.put_in_order import timeline

pytestmark = pytest.mark.slow

SLIPS = (
    "file,occasion,date,people,caption,order",
    "p1.jpg,,1962,,the last,4",
    "p2.jpg,,,,between its neighbours,3",
    "p3.jpg,Regatta,,,of the regatta,1",
    "p4.jpg,,,Inga,nothing but a life,",
    "p5.jpg,,DEVELOPED SEP 1958,,a stamp,2",
    ",Regatta,July 1948,,,",
)


@pytest.fixture
def told(draw: Draw, collection: Collection) -> dict[str, DescribedPrint]:
    """Five prints of one envelope by their captions, as they are described."""
    folder = [draw(f"p{number}.jpg", number) for number in range(1, 6)][-1].parent
    with collection.catalogue.act("test", "entered Inga") as act, act.work() as work:
        work.keep_person(Person("Inga", (), "1930", "1955"))
        work.commit()
    accession(collection, [folder], container="B1", slips=slip_file(folder.parent, *SLIPS))
    return {one.caption: one for one in described(collection)}


def test_every_print_has_one_place(told: dict[str, DescribedPrint]) -> None:
    assert sorted(one.order for one in told.values()) == [1, 2, 3, 4, 5]
    assert all(one.when.guess for one in told.values())
    numbered = ("of the regatta", "a stamp", "between its neighbours", "the last")
    orders = [told[caption].order for caption in numbered]
    assert orders == sorted(orders)


def test_an_undated_print_lies_between_those_that_bound_it(told: dict[str, DescribedPrint]) -> None:
    when = told["between its neighbours"].when
    assert (when.earliest, when.latest, when.stated) == ("1948-07-01", "1962-12-31", False)
    assert "1948" in when.words
    assert "1962" in when.words


def test_each_bounded_date_has_reasons_with_their_source(told: dict[str, DescribedPrint]) -> None:
    for one in told.values():
        assert one.when.reasons, one.caption
        assert all(reason.sentence and reason.source for reason in one.when.reasons)
    sentences = {caption: [reason.sentence for reason in one.when.reasons] for caption, one in told.items()}
    assert sentences["nothing but a life"] == ["Inga was born 1930 and died 1955"]
    assert sentences["of the regatta"] == ["belongs to “Regatta”, dated “July 1948”"]
    assert "B1-0001: dated “1962”" in sentences["between its neighbours"]


def test_a_stamp_is_the_papers_date_not_the_pictures(told: dict[str, DescribedPrint]) -> None:
    when = told["a stamp"].when
    assert (when.printing_edtf, when.latest, when.stated) == ("1958-09", "1958-09-30", False)
    assert any(reason.bounds_printing for reason in when.reasons)


def test_what_the_order_is_made_with_is_shown(told: dict[str, DescribedPrint]) -> None:
    guesses = [one.when.guess for one in sorted(told.values(), key=lambda one: one.order)]
    assert guesses == sorted(guesses)


def test_evidence_that_was_left_out_is_not_shown_as_the_date(draw: Draw, collection: Collection) -> None:
    """A likely date, then a certain one that contradicts it: the certain one is the date, the other is told."""
    files = slip_file(draw("p1.jpg", 1).parent.parent, "file,date", "p1.jpg,perhaps 1950")
    accession(collection, [draw("p1.jpg", 1)], slips=files)
    (doubted,) = described(collection)
    assert (doubted.when.edtf[:4], doubted.when.sure is Sure.CERTAIN) == ("1950", False)
    certain = files.with_name("certain.csv")
    certain.write_text("file,date\np1.jpg,1960\n", encoding="utf-8")
    accession(collection, [draw("p1.jpg", 1)], slips=certain)
    (one,) = described(collection)
    assert (one.when.edtf, one.when.earliest, one.when.latest) == ("1960", "1960-01-01", "1960-12-31")
    assert [reason.sentence for reason in one.when.reasons] == ["dated “1960”"]
    assert one.when.contradicts == ("dated “perhaps 1950”",)
    assert [sentence for sentence in one.waits if "can't all be true" in sentence] == list(one.waits[1:])
    assert len(one.waits) == 2, "and which way is up"


def test_a_collection_without_a_date_still_has_an_order(draw: Draw, collection: Collection) -> None:
    accession(collection, [draw("p1.jpg", 1), draw("p2.jpg", 2)])
    assert [(one.order, one.when.guess, one.when.words) for one in described(collection)] == [
        (1, None, ""),
        (2, None, ""),
    ]


def test_an_empty_collection_has_an_empty_timeline(tmp_path: Path, collection: Collection) -> None:
    assert (timeline(collection).placed, described(collection)) == ((), [])


def test_a_date_worked_out_from_a_guess_is_a_guess(draw: Draw, collection: Collection) -> None:
    draw("a.jpg", 1)
    with collection.catalogue.act("test", "names Bo") as act, act.work() as work:
        work.keep_person(Person("Bo", (), "1957-03-02", "1957-11-09"))
        work.commit()
    accession(
        collection, [draw("a.jpg", 1).parent], slips=slip_file(collection.root.parent, "file,people", "a.jpg,Bo?")
    )
    (one,) = described(collection)
    assert one.when.edtf
    assert one.when.sure is Sure.GUESS
