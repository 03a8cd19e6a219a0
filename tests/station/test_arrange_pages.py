"""Occasions, containers, how far and what was done, by their forms alone: no script, no browser."""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import pytest
from arranged_box import Workbench, arranging, number

from solander.core.statements import Says
from solander.tasks.containers import say_where
from solander.tasks.occasions import make_occasion

pytestmark = pytest.mark.slow

ONE, TWO, THREE = (number(i) for i in range(1, 4))


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Workbench]:
    monkeypatch.setenv("SOLANDER_GAZETTEER", str(tmp_path / "none.db"))
    with arranging(tmp_path / "a box", prints=6) as workbench:
        yield workbench


def text(answer) -> str:  # type: ignore[no-untyped-def]
    """What stands on a page, without its marks."""
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]*>", " ", answer.text)))


def taken_up(*accessions: str) -> dict[str, str]:
    return {f"print-{accession}": "on" for accession in accessions}


def last(bench: Workbench) -> str:
    return (bench.collection.catalogue.last_act() or (0, ""))[1]


def test_a_pile_becomes_an_occasion_that_is_dated_and_placed_on_its_page(bench: Workbench) -> None:
    piled = bench.post(
        "/arrange", do="pile", occasion="School outing", then="/container/B2-E5", **taken_up(ONE, TWO)
    )
    assert piled.url.path == "/occasion/School outing"
    assert "Done: made the occasion “School outing” of 2 prints" in text(piled)
    said = bench.post("/occasion/School%20outing/say", date="May 1936", place="Vessholm", source="Aunt Signe")
    assert "May 1936 · Vessholm · 2 prints" in text(said)
    assert "Taken: May 1936 Aunt Signe" in text(said)
    assert "School outing May 1936 Vessholm 2" in text(bench.get("/occasions"))


def test_prints_that_another_has_piled_meanwhile_are_not_taken_from_that_pile_unseen(bench: Workbench) -> None:
    bench.post("/arrange", do="pile", occasion="School outing", stay="1", **taken_up(ONE, TWO))
    seen = str(bench.collection.catalogue.last_change())
    make_occasion(bench.collection, "Regatta", [TWO], who="Vera")
    say_where(bench.collection, "B2/E5", "lent to Vera", who="Vera")
    answer = bench.post("/arrange", do="pile", occasion="Class trip", seen=seen, **taken_up(ONE, TWO))
    assert answer.status_code == 409
    assert "made the occasion “Regatta” of 1 print" in text(answer).replace("Made", "made")
    assert "Class trip" in text(answer)
    assert not bench.collection.catalogue.has_occasion("Class trip")
    # What others said of another kind is in nobody's way, and said once more it is done.
    put = bench.post("/arrange", do="put", container="B2/E6", seen=seen, **taken_up(TWO))
    assert put.status_code == 200
    fields = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)">', answer.text))
    assert bench.post("/arrange", **{name: unescape(value) for name, value in fields.items()}).status_code == 200
    assert bench.collection.catalogue.has_occasion("Class trip")


def test_what_was_done_can_be_taken_back_at_once(bench: Workbench) -> None:
    bench.post("/arrange", do="pile", occasion="School outing", **taken_up(ONE))
    said = bench.post("/occasion/School%20outing/say", date="May 1936")
    act = re.search(r'name="act" value="(\d+)"', said.text)
    assert act is not None
    undone = bench.post("/undo", act=act[1], then="/occasion/School%20outing")
    assert "Nobody has said yet when or where this was" in text(undone)


def test_prints_are_parted_moved_and_taken_out_by_the_hand(bench: Workbench) -> None:
    bench.post("/arrange", do="pile", occasion="School outing", **taken_up(ONE, TWO, THREE))
    parted = bench.post("/arrange", do="part", of="School outing", occasion="The bus home", **taken_up(THREE))
    assert parted.url.path == "/occasion/The bus home"
    then = "/occasion/School%20outing"
    moved = bench.post("/arrange", do="pile", occasion="The bus home", then=then, **taken_up(TWO))
    assert moved.url.path == "/occasion/School outing", "into one that there is: one stays where one is"
    assert last(bench) == "put 1 print into “The bus home”"
    bench.post("/arrange", do="take-out", then="/", **taken_up(ONE))
    assert last(bench) == "took 1 print out of “School outing”"


def test_occasions_are_renamed_and_joined_and_old_addresses_lead_on(bench: Workbench) -> None:
    for name, one in (("School outing", ONE), ("Class trip / 1936", TWO)):
        bench.post("/arrange", do="pile", occasion=name, **taken_up(one))
    joined = bench.post("/occasion/School%20outing/join", other="Class trip / 1936")
    assert "2 prints · formerly Class trip / 1936" in text(joined)
    called = bench.post("/occasion/School%20outing/call", called="Outing to Vessholm")
    assert called.url.path == "/occasion/Outing to Vessholm"
    assert bench.get("/occasion/Class%20trip%20%2F%201936").url.path == "/occasion/Outing to Vessholm"


@pytest.mark.parametrize(
    ("path", "fields", "says"),
    [
        ("/arrange", {"do": "pile", "occasion": "x"}, "no print is in your hand"),
        ("/arrange", {"do": "burn", **taken_up(ONE)}, "it was not said what"),
        ("/arrange", {"do": "pile", "occasion": " ", **taken_up(ONE)}, "has no name yet"),
        ("/arrange", {"do": "put", "container": "under the bed", **taken_up(ONE)}, "is no container code"),
        ("/arrange", {"do": "lay", "after": "B9-0001", **taken_up(ONE)}, "There is no print B9-0001"),
        ("/arrange", {"do": "lay-so", **taken_up(ONE)}, "one print has no order"),
        ("/occasions/new", {"name": "Regatta", "date": "long ago, when"}, "not understood as a date"),
        ("/occasion/Nothing/say", {"date": "1936"}, "There is no occasion “Nothing”"),
        ("/container/B2-E5/where", {"where": ""}, "the field is empty"),
        ("/containers/new", {"code": "B2/E5"}, "there is a container of that code"),
        ("/what-was-done/99/take-back", {}, "never can be"),
    ],
)
def test_what_cannot_be_done_is_told_on_a_page(
    bench: Workbench, path: str, fields: dict[str, str], says: str
) -> None:
    answer = bench.post(path, **fields)
    assert 400 <= answer.status_code < 500
    assert says.casefold() in text(answer).casefold()


def test_a_container_tells_its_order_where_it_is_and_that_it_is_done(bench: Workbench) -> None:
    shown = bench.get("/container/B2-E5")
    assert [m[1] for m in re.finditer(r'<li value="(\d+)">', shown.text)] == ["1", "2", "3", "4", "5", "6"]
    where = bench.post("/container/B2-E5/where", where="lent to Vera on 3 May")
    assert "is now lent to Vera on 3 May archivist" in text(where)
    assert "lent to Vera on 3 May" in text(bench.get("/containers"))
    assert "Said before Is now: lent to Vera" in text(bench.post("/container/B2-E5/back"))
    assert "done and put back" in text(bench.post("/container/B2-E5/done"))
    assert "1 of 3 are done and put back" in text(bench.get("/containers"))
    bench.post("/container/B2-E5/not-done")
    assert "B2 · Shoe box" in text(bench.post("/container/B2/title", title="Shoe box"))


def test_paper_put_elsewhere_is_listed_there_as_a_guest(bench: Workbench) -> None:
    bench.post("/arrange", do="put", container="B2/E6", then="/container/B2-E5", **taken_up(ONE))
    assert ONE not in bench.get("/container/B2-E5").text.split("Where it is now")[0].split("</form>", 1)[1]
    told = text(bench.get("/container/B2-E6"))
    assert re.search(f"These came here from another container: .*{ONE}", told)
    bench.post("/arrange", do="back", then="/container/B2-E6", **taken_up(ONE))
    assert "These came here" not in text(bench.get("/container/B2-E6"))


def test_how_far_counts_and_says_how_a_second_copy_is_made(bench: Workbench) -> None:
    bench.post("/arrange", do="pile", occasion="School outing", **taken_up(ONE, TWO))
    bench.post("/occasion/School%20outing/say", date="May 1936", place="Vessholm")
    told = text(bench.get("/how-far"))
    assert "Described a date, and a place, somebody or a caption 25 % 2 of 8, 25 %" in told
    assert "After 3 more sittings Solander can tell how much longer it takes" in told
    assert "There is one copy only" in told
    (command,) = re.findall(r"<code>(solander copy .*?)</code>", bench.get("/how-far").text)
    root = str(bench.collection.root.resolve())
    assert shlex.split(unescape(command)) == ["solander", "copy", root, "FOLDER-ON-THE-OTHER-DISK"]


@pytest.mark.parametrize(
    "path",
    ["/what-was-done/{}", "/what-was-done?before={}", "/what-was-done?took={}", "/what-was-done/1?after={}"],
)
@pytest.mark.parametrize("number", [2**63, 10**30, -1])
def test_a_number_that_nothing_has_is_told_to_be_none(bench: Workbench, path: str, number: int) -> None:
    answer = bench.get(path.format(number))
    assert answer.status_code in (404, 422)
    assert "<h1" in answer.text


def test_a_form_that_saw_what_cannot_be_is_taken_as_one_that_saw_nothing(bench: Workbench) -> None:
    answer = bench.post("/container/B2-E5/where", where="in the hall cupboard", seen="9" * 30)
    assert "B2/E5 is now in the hall cupboard" in text(answer)


def test_what_was_done_tells_each_act_and_takes_back_an_earlier_one(bench: Workbench) -> None:
    bench.post("/container/B2-E5/where", where="in the hall cupboard")
    act = bench.collection.catalogue.last_act()
    bench.post("/container/B2/title", title="Shoe box")
    told = text(bench.get("/what-was-done"))
    assert told.index("Called B2 “Shoe box”") < told.index("B2/E5 is now in the hall cupboard")
    assert act is not None
    alone = text(bench.get(f"/what-was-done/{act[0]}"))
    assert "B2/E5 is now – “in the hall cupboard · archivist”" in alone
    back = text(bench.post(f"/what-was-done/{act[0]}/take-back"))
    assert "Taken back: B2/E5 is now in the hall cupboard." in back
    assert "taken back since" in back
    assert bench.collection.catalogue.container("B2").title == "Shoe box"  # type: ignore[union-attr]


def test_why_an_act_stays_is_told_on_its_page(bench: Workbench) -> None:
    bench.post("/arrange", do="pile", occasion="School outing", **taken_up(ONE))
    act = bench.collection.catalogue.last_act()
    bench.post("/occasion/School%20outing/call", called="Class trip")
    assert act is not None
    alone = text(bench.get(f"/what-was-done/{act[0]}"))
    assert "something later stands on it: “called “School outing” “Class trip”” changed the" in alone
    assert "/take-back" not in bench.get(f"/what-was-done/{act[0]}").text
    assert bench.post(f"/what-was-done/{act[0]}/take-back").status_code == 422


def test_what_was_done_about_a_print_and_by_somebody(bench: Workbench) -> None:
    bench.post("/arrange", do="put", container="B2/E6", **taken_up(ONE))
    bench.post("/container/B2/title", title="Shoe box")
    assert "Shoe box" not in text(bench.get(f"/what-was-done?about={ONE}"))
    by_test = text(bench.get("/what-was-done?who=test"))
    assert "Filled the box" in by_test
    assert "Shoe box" not in by_test


def test_prints_are_named_one_by_one_and_the_last_leads_back(bench: Workbench) -> None:
    bench.post("/arrange", do="pile", occasion="School outing", **taken_up(ONE, TWO))
    first = bench.get("/occasion-by-print/School%20outing")
    assert "Print 1 of 2" in text(first)
    onward = bench.post(
        "/occasion-by-print/School%20outing", at=ONE, after=TWO, people="Ingrid Sollihøgda", caption=""
    )
    assert onward.url.params["at"] == TWO
    assert "Done: said of" in text(onward)
    end = bench.post("/occasion-by-print/School%20outing", at=TWO, after="", people="", caption="On the steps")
    assert end.url.path == "/occasion/School outing"
    said = {(one.subject, one.says): one.value for one in bench.collection.catalogue.statements()}
    assert said[ONE, Says.PERSON] == "Ingrid Sollihøgda"
    assert said[TWO, Says.CAPTION] == "On the steps"


def test_who_is_on_a_print_and_words_for_it_are_kept_and_taken_back_together(bench: Workbench) -> None:
    bench.post("/arrange", do="pile", occasion="School outing", **taken_up(ONE))
    before = {one.id for one in bench.collection.catalogue.statements()}
    told = {"people": "Ingrid Sollihøgda", "caption": "On the steps"}
    kept = bench.post("/occasion-by-print/School%20outing", at=ONE, after="", **told)
    assert "people “Ingrid Sollihøgda”, and caption “On the steps”" in text(kept)
    act = re.search(r'name="act" value="(\d+)"', kept.text)
    assert act is not None
    bench.post("/undo", act=act[1], then="/occasions")
    assert {one.id for one in bench.collection.catalogue.statements()} == before


def test_an_empty_collection_explains_itself(tmp_path: Path) -> None:
    with arranging(tmp_path / "empty", empty=True) as bench:
        for path, says in (
            ("/occasions", "No occasion is known yet"),
            ("/containers", "No container is known yet"),
            ("/how-far", "Nothing is here yet"),
            ("/what-was-done", "Nothing was done yet"),
        ):
            assert says in text(bench.get(path))
