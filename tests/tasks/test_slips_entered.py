"""What a slip file becomes: containers, statements, and questions about what was not understood."""

from __future__ import annotations

from pathlib import Path

import pytest
from small_box import Draw, asked, slip_file

from solander.core.errors import CannotBegin
from solander.core.people import Person
from solander.core.questions import Asks
from solander.core.statements import About, Says, Sure
from solander.tasks.accession import Accessioned, accession
from solander.tasks.collection import Collection
from solander.tasks.described import described
from solander.tasks.occasions import rename_occasion
from solander.tasks.people import take_in_people

pytestmark = pytest.mark.slow


def enter(collection: Collection, folder: Path, *lines: str) -> Accessioned:
    """Takes the folder in with a slip file of those lines."""
    return accession(collection, [folder], slips=slip_file(folder.parent, *lines))


def told(collection: Collection) -> list[tuple[str, Says, str]]:
    return [(one.subject, one.says, one.value) for one in collection.catalogue.statements()]


@pytest.fixture
def folder(draw: Draw) -> Path:
    """Two fronts and a back."""
    draw("b_r.jpg", 2)
    draw("a_v.jpg", 0)
    return draw("a_r.jpg", 1).parent


def test_containers_of_the_slips_give_accession_numbers(folder: Path, collection: Collection) -> None:
    report = enter(collection, folder, "file,container", "a_r.jpg,B2/E5", "b_r.jpg,b2-e6")
    assert report.prints == ["B2-E5-0001", "B2-E6-0001"]
    assert report.backs == ["B2-E5-0001"], "a back without a container of its own goes where its front went"


def test_a_cell_that_is_no_container_stops_before_anything_is_taken_in(
    folder: Path, collection: Collection
) -> None:
    with pytest.raises(CannotBegin, match=r"line 2 of the slip file has “the blue box”"):
        enter(collection, folder, "file,container", "a_r.jpg,the blue box")
    assert collection.catalogue.captures() == []


def test_every_cell_becomes_a_statement_with_its_source(folder: Path, collection: Collection) -> None:
    row = "a_r.jpg,front,Regatta,summer 1958,Ternvik?,Inga;Ned ?,At sea,A note,Written,3"
    head = "file,side,occasion,date,place,people,caption,note,transcription,order"
    enter(collection, folder, head, row)
    assert told(collection) == [
        ("P-0001", Says.EXPOSURE, "1958-22"),
        ("P-0001", Says.PLACE, "Ternvik"),
        ("P-0001", Says.PERSON, "Inga"),
        ("P-0001", Says.PERSON, "Ned"),
        ("P-0001", Says.OCCASION, "Regatta"),
        ("P-0001", Says.CAPTION, "At sea"),
        ("P-0001", Says.NOTE, "A note"),
        ("P-0001", Says.TRANSCRIPTION, "Written"),
        ("P-0001", Says.ORDER, "3"),
    ]
    statements = {one.value: one for one in collection.catalogue.statements()}
    assert statements["1958-22"].words == "summer 1958"
    assert {one.source for one in statements.values()} == {"slip file slips.csv"}
    assert [statements[name].sure for name in ("Inga", "Ned", "Ternvik")] == [Sure.CERTAIN, Sure.GUESS, Sure.GUESS]


def test_a_row_without_a_file_speaks_of_its_occasion(folder: Path, collection: Collection) -> None:
    enter(collection, folder, "file,occasion,date", ",Regatta,July 1948", "a_r.jpg,Regatta,")
    (date,) = (one for one in collection.catalogue.statements() if one.says is Says.EXPOSURE)
    assert (date.about, date.subject, date.value) == (About.OCCASION, "Regatta", "1948-07")
    by_accession = {one.print.accession: one for one in described(collection)}
    assert by_accession["P-0001"].when.edtf == "1948-07"


def test_people_in_a_row_without_a_file_do_not_stop_the_take_in(folder: Path, collection: Collection) -> None:
    with collection.catalogue.act("test", "entered Inga") as act, act.work() as work:
        work.keep_person(Person("Inga", (), "1908", "1991"))
        work.commit()
    enter(collection, folder, "file,occasion,people,order", ",Regatta,Inga,1", "a_r.jpg,Regatta,,")
    assert [one.when.earliest for one in described(collection)] == [None, None]


def test_a_print_of_a_scan_is_told_by_its_place(folder: Path, collection: Collection) -> None:
    report = enter(collection, folder, "file,caption", "b_r.jpg#1,the first", "b_r.jpg#2,there is none")
    assert told(collection) == [("P-0002", Says.CAPTION, "the first")]
    assert report.slip_notes == ("slips.csv, line 3: no print came from “b_r.jpg#2”.",)


def test_a_row_for_the_second_name_of_the_same_bytes_is_heard(folder: Path, collection: Collection) -> None:
    (folder / "z_r.jpg").write_bytes((folder / "b_r.jpg").read_bytes())
    report = enter(collection, folder, "file,caption", "z_r.jpg,told by its other name")
    assert (told(collection), report.slip_notes) == ([("P-0002", Says.CAPTION, "told by its other name")], ())


def test_the_same_file_entered_twice_changes_nothing(folder: Path, collection: Collection) -> None:
    lines = ("file,date,people,place", "a_r.jpg,summer 1958,Inga;Ned,Ternvik", "b_r.jpg,the year of the flood,,")
    enter(collection, folder, *lines)
    before = collection.catalogue.statements(withdrawn=True), collection.catalogue.questions(settled=True)
    enter(collection, folder, *lines)
    assert (
        collection.catalogue.statements(withdrawn=True),
        collection.catalogue.questions(settled=True),
    ) == before


def test_a_changed_cell_withdraws_what_it_said_before(folder: Path, collection: Collection) -> None:
    enter(collection, folder, "file,date,people", "a_r.jpg,1958,Inga;Ned")
    enter(collection, folder, "file,date,people", "a_r.jpg,1959,Ned")
    assert told(collection) == [("P-0001", Says.PERSON, "Ned"), ("P-0001", Says.EXPOSURE, "1959")]
    withdrawn = [one.value for one in collection.catalogue.statements(withdrawn=True) if one.withdrawn]
    assert withdrawn == ["1958", "Inga"]


def test_a_cell_that_is_changed_back_holds_again(folder: Path, collection: Collection) -> None:
    for year in ("1958", "1959", "1958", "1959", "1958"):
        enter(collection, folder, "file,date", f"a_r.jpg,{year}")
        assert told(collection) == [("P-0001", Says.EXPOSURE, year)]
    assert len(collection.catalogue.statements(withdrawn=True)) == 5


def test_what_another_slip_file_said_stays(folder: Path, collection: Collection) -> None:
    enter(collection, folder, "file,date", "a_r.jpg,1958")
    other = folder.parent / "others.csv"
    other.write_text("file,date\na_r.jpg,1959\n", encoding="utf-8")
    accession(collection, [folder], slips=other)
    assert [value for _, _, value in told(collection)] == ["1958", "1959"]


def test_who_says_so_is_named_before_the_file(folder: Path, collection: Collection) -> None:
    enter(
        collection, folder, "file,date,people,source", "a_r.jpg,not before 1948,Inga,Aunt Vera", "b_r.jpg,1950,,"
    )
    sources = [(one.says, one.source) for one in collection.catalogue.statements()]
    assert sources == [
        (Says.EXPOSURE, "Aunt Vera, slip file slips.csv"),
        (Says.PERSON, "Aunt Vera, slip file slips.csv"),
        (Says.EXPOSURE, "slip file slips.csv"),
    ]


def test_a_changed_row_withdraws_whoever_said_it(folder: Path, collection: Collection) -> None:
    """Another's name in `source` is another claim of the same row: the file speaks for both."""
    head = "file,date,source"
    for source, year in (("Aunt Vera", "1950"), ("", "1950"), ("Uncle Nils", "1951"), ("Aunt Vera", "1950")):
        enter(collection, folder, head, f"a_r.jpg,{year},{source}")
        (said,) = collection.catalogue.statements()
        assert (said.value, said.source) == (year, f"{source}, slip file slips.csv".removeprefix(", "))


def test_two_rows_let_two_people_speak_of_one_print(folder: Path, collection: Collection) -> None:
    lines = "file,date,source", "a_r.jpg,1950,Aunt Vera", "a_r.jpg,[1949..1951],Uncle Nils"
    enter(collection, folder, *lines)
    enter(collection, folder, *lines)
    told = [(one.value, one.source.partition(",")[0]) for one in collection.catalogue.statements(withdrawn=True)]
    assert told == [("1950", "Aunt Vera"), ("[1949..1951]", "Uncle Nils")]


def test_an_age_beside_a_name_dates_the_print(folder: Path, collection: Collection) -> None:
    people = folder.parent / "people.csv"
    people.write_text("name,also_called,born\nIngrid,baby Ingrid,1921-03-05\n", encoding="utf-8")
    take_in_people(collection, people)
    enter(collection, folder, "file,people", "a_r.jpg,Ingrid (6); Nan? (about 40)", "b_r.jpg,baby Ingrid")
    assert told(collection) == [
        ("P-0001", Says.PERSON, "Ingrid"),
        ("P-0001", Says.AGE, "Ingrid|6..6"),
        ("P-0001", Says.PERSON, "Nan"),
        ("P-0001", Says.AGE, "Nan|32..48"),
        ("P-0002", Says.PERSON, "Ingrid"),
    ]
    ages = [one for one in collection.catalogue.statements() if one.says is Says.AGE]
    assert [(one.sure, one.words) for one in ages] == [
        (Sure.LIKELY, "Ingrid (6)"),
        (Sure.GUESS, "Nan? (about 40)"),
    ]
    assert "Ingrid (6)" not in {person.name for person in collection.catalogue.people()}
    dated = {one.print.accession: one.when for one in described(collection)}
    assert (dated["P-0001"].earliest, dated["P-0001"].latest) == ("1927-03-05", "1928-03-04")


def test_an_age_that_is_taken_back_is_withdrawn_with_its_cell(folder: Path, collection: Collection) -> None:
    enter(collection, folder, "file,people", "a_r.jpg,Ingrid (6)")
    enter(collection, folder, "file,people", "a_r.jpg,Ingrid")
    assert told(collection) == [("P-0001", Says.PERSON, "Ingrid")]


def test_what_is_seen_on_the_paper_is_looked_up(folder: Path, collection: Collection) -> None:
    enter(collection, folder, "file,evidence", "a_r.jpg,deckle edge; E012 ?", "b_r.jpg,cabinet card")
    seen = [(one.subject, one.value, one.words, one.sure) for one in collection.catalogue.statements()]
    assert seen == [
        ("P-0001", "E124", "deckle edge", Sure.CERTAIN),
        ("P-0001", "E012", "E012 ?", Sure.GUESS),
        ("P-0002", "E028", "cabinet card", Sure.CERTAIN),
    ]


def test_evidence_that_is_not_known_or_not_told_apart_is_asked_about(folder: Path, collection: Collection) -> None:
    head = "file,date,evidence"
    enter(collection, folder, head, "a_r.jpg,1950,purple spots", "b_r.jpg,the year of the flood,carte de visite")
    asked_first = asked(collection, Asks.WORDS)
    assert asked_first == [
        ("P-0001", "“purple spots” as evidence on P-0001 was not understood: no such kind is known; what is it?"),
        ("P-0002", "“the year of the flood” on the slip of P-0002 was not understood: when was it?"),
        (
            "P-0002",
            "“carte de visite” as evidence on P-0002 was not understood: does it mean E026 (carte de visite,"
            " France) or E027 (carte de visite, United States)?",
        ),
    ]
    enter(collection, folder, "file,evidence", "a_r.jpg,", "b_r.jpg,E027")
    assert asked(collection, Asks.WORDS) == [asked_first[1]], "what the file says nothing of still waits"
    assert ("P-0002", Says.EVIDENCE, "E027") in told(collection)


def test_words_that_were_not_read_are_asked_about(folder: Path, collection: Collection) -> None:
    enter(collection, folder, "file,date", "a_r.jpg,the year of the flood", "b_r.jpg,1958 xylophone")
    assert asked(collection, Asks.WORDS) == [
        ("P-0001", "“the year of the flood” on the slip of P-0001 was not understood: when was it?"),
        ("P-0002", "In “1958 xylophone” on the slip of P-0002 “xylophone” was not understood."),
    ]


def test_writing_that_may_date_an_undated_print_is_asked_about(folder: Path, collection: Collection) -> None:
    enter(
        collection, folder,
        "file,date,transcription", "a_r.jpg,1958,Easter 1950", "b_r.jpg,,Summer 1955",
    )  # fmt: skip
    assert asked(collection, Asks.INSCRIPTION) == [
        ("P-0002", "On the back of P-0002 stands “Summer 1955”: was it taken then (summer 1955)?")
    ]
    assert all(value != "1955-22" for _, _, value in told(collection)), "asked about, not believed"


def test_what_cannot_all_be_true_is_asked_about(folder: Path, collection: Collection) -> None:
    with collection.catalogue.act("test", "entered Inga") as act, act.work() as work:
        work.keep_person(Person("Inga", (), "1960", ""))
        work.commit()
    enter(collection, folder, "file,date,people", "a_r.jpg,1955,Inga")
    ((subject, sentence),) = asked(collection, Asks.CONTRADICTION)
    assert subject == "P-0001"
    for part in ("dated “1955”", "Inga was born 1960", "4 years apart", "Which gives way?"):
        assert part in sentence


def test_an_emptied_cell_and_one_not_understood_withdraw_what_they_said(
    folder: Path, collection: Collection
) -> None:
    head = "file,date,people,caption"
    enter(collection, folder, head, "a_r.jpg,1950,Ada,At sea", "b_r.jpg,1951,,")
    enter(collection, folder, head, "a_r.jpg,the year the ferry sank,,At sea", "b_r.jpg,,,")
    assert told(collection) == [("P-0001", Says.CAPTION, "At sea"), ("P-0001", Says.UNREAD_DATE, "")]


def test_a_column_that_the_file_lacks_withdraws_nothing(folder: Path, collection: Collection) -> None:
    enter(collection, folder, "file,date,caption", "a_r.jpg,1950,At sea")
    enter(collection, folder, "file,date", "a_r.jpg,1951")
    assert sorted(told(collection)) == [("P-0001", Says.CAPTION, "At sea"), ("P-0001", Says.EXPOSURE, "1951")]


def test_a_row_that_was_set_aside_withdraws_nothing(folder: Path, collection: Collection) -> None:
    head = "file,date,caption,order"
    enter(collection, folder, head, "a_r.jpg,1950,At sea,1")
    enter(collection, folder, head, "a_v.jpg,,,1", "a_r.jpg,1950,At sea,first")
    assert ("P-0001", Says.CAPTION, "At sea") in told(collection)


def test_a_row_that_is_gone_withdraws_nothing_but_is_told(folder: Path, collection: Collection) -> None:
    enter(collection, folder, "file,date", "a_r.jpg,1958", "b_r.jpg,1959")
    before = told(collection)
    report = enter(collection, folder, "file,date", "a_r.jpg,1958")
    assert told(collection) == before
    assert report.slip_notes == (
        "slips.csv has no row for b_r.jpg any more; what it said of P-0002 was kept. "
        "To take it back, give the row again with empty cells.",
    )


def test_boxes_with_the_same_file_names_keep_their_own_slips_and_backs(draw: Draw, collection: Collection) -> None:
    for container, seed, year in (("B1/E1", 1, "1950"), ("B1/E2", 4, "1960")):
        folder = draw(f"{year}/001_r.jpg", seed).parent
        draw(f"{year}/001_v.jpg", seed + 1)
        slips = slip_file(folder.parent, "file,date", f"001_r.jpg,{year}")
        accession(collection, [folder], container=container, slips=slips)
    assert told(collection) == [
        ("B1-E1-0001", Says.EXPOSURE, "1950"),
        ("B1-E2-0001", Says.EXPOSURE, "1960"),
    ]
    assert [len(print_.views) for print_ in collection.catalogue.prints()] == [2, 2]


def test_a_corrected_slip_answers_what_was_asked_about_it(folder: Path, collection: Collection) -> None:
    people = folder.parent / "people.csv"
    people.write_text("name,born\nJo,1960\n", encoding="utf-8")
    take_in_people(collection, people)
    head = "file,date,people"
    enter(collection, folder, head, "a_r.jpg,the year of the flood,", "b_r.jpg,1955,Jo")
    assert [len(asked(collection, kind)) for kind in (Asks.WORDS, Asks.CONTRADICTION)] == [1, 1]
    enter(collection, folder, head, "a_r.jpg,1953,", "b_r.jpg,1965,Jo")
    assert [len(asked(collection, kind)) for kind in (Asks.WORDS, Asks.CONTRADICTION)] == [0, 0]


def test_slips_that_are_entered_again_find_an_occasion_under_its_new_name(
    folder: Path, collection: Collection
) -> None:
    lines = ("file,occasion,date", ",Skuletur,July 1948", "a_r.jpg,Skuletur,")
    enter(collection, folder, *lines)
    rename_occasion(collection, "Skuletur", "School outing")
    before = collection.catalogue.statements(withdrawn=True)
    enter(collection, folder, *lines)
    assert collection.catalogue.statements(withdrawn=True) == before
    assert [one.name for one in collection.catalogue.occasions()] == ["School outing"]
