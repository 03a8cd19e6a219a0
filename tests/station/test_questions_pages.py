"""All that waits in one queue: told by kind, asked one at a time, answered, left for later, taken back."""

from __future__ import annotations

import asyncio
import re
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import httpx
import pytest
from asking_box import FIRST, SECOND, THIRD, asking_box, bench_over
from attrs import frozen
from doubtful_box import Doubtful, doubtful_box

from solander.core.errors import NotFound
from solander.core.questions import Asks
from solander.core.statements import Says
from solander.imaging.one_negative import Likeness
from solander.station.app import create_app
from solander.station.guard import TOKEN_HEADER
from solander.station.sealing import seal
from solander.station.workbench import Workbench
from solander.tasks.ask import ask
from solander.tasks.claims import two_dates_sentence
from solander.tasks.collection import Collection
from solander.tasks.duplicates import Kind, Pair, sentence_of
from solander.tasks.queue import KINDS
from solander.tasks.seen_twice import duplicate_sentence
from solander.tasks.show import Shown
from solander.tasks.typed import Field, Typed

pytestmark = pytest.mark.slow

OURS = {"origin": "http://127.0.0.1", TOKEN_HEADER: seal()}


@frozen
class Room:
    """The workbench, asked in this process."""

    collection: Collection
    bench: Workbench
    app: object

    def get(self, path: str) -> str:
        return self._told("GET", path).text

    def post(self, path: str, **form: str) -> httpx.Response:
        return self._told("POST", path, form)

    def _told(self, method: str, path: str, form: dict[str, str] | None = None) -> httpx.Response:
        return asyncio.run(self._ask(method, path, form))

    async def _ask(self, method: str, path: str, form: dict[str, str] | None) -> httpx.Response:
        transport = httpx.ASGITransport(self.app)  # type: ignore[arg-type]
        async with httpx.AsyncClient(transport=transport, base_url="http://127.0.0.1") as client:
            headers = {"accept": "text/html", **OURS}
            return await client.request(method, path, headers=headers, data=form)

    def waiting(self, asks: Asks) -> list[str]:
        return [one.key for one in self.collection.catalogue.questions() if one.asks is asks]


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Doubtful:
    return doubtful_box(tmp_path_factory.mktemp("asking"))


@pytest.fixture
def room(made: Doubtful, tmp_path: Path) -> Iterator[Room]:
    with asking_box(made, tmp_path / "box") as collection:
        bench = bench_over(collection)
        yield Room(collection, bench, create_app(bench))


def text_of(page: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", "", page)).split())


def numbers(page: str) -> dict[str, int]:
    """How many of each kind wait, as the room tells it."""
    found = re.findall(r"kind=([\w-]+)[^>]*>.*?<b>([\d,]+)</b>", page, flags=re.S)
    return {kind: int(count) for kind, count in found}


def test_the_room_begins_with_every_kind_and_its_number(room: Room) -> None:
    page = room.get("/questions")
    told = numbers(page)
    assert told | {"upright": 0} == {
        "who": 1,
        "same-person": 1,
        "words": 1,
        "outline": 3,
        "pair": 1,
        "upright": 0,
        "capture-again": 1,
        "set-aside": 1,
    }
    assert f"{sum(told.values())} questions wait for you" in text_of(page)


def test_what_relatives_are_best_asked_stands_below_with_its_prints(room: Room) -> None:
    page = room.get("/questions")
    assert "Who remembers in which year the picture" in page[page.index("Best asked next") :]
    about = page.split('aria-label="To ask about Moving house"')[1].split("</article>")[0]
    assert sorted(re.findall(r'href="/print/([^"]+)"', about)) == [FIRST, SECOND]
    assert "What would mend most" in page


def test_a_container_may_be_kept_to(room: Room) -> None:
    assert "same-person" not in numbers(room.get("/questions?in=B12"))
    assert numbers(room.get("/questions?in=B12/E34"))["outline"] == 3
    assert "Nothing waits" in room.get("/questions?in=B9")
    page = room.get("/questions/one?in=B12/E34&kind=words")
    assert "in=B12%2FE34" in page


@pytest.mark.parametrize("kind", [kind.name for kind in KINDS])
def test_every_kind_is_asked_in_one_sentence_with_its_keys(room: Room, kind: str) -> None:
    page = room.get(f"/questions/one?kind={kind}")
    if kind not in numbers(room.get("/questions")):
        assert "Nothing of this waits" in page
        return
    assert page.count('class="sentence" id="asked"') == 1
    keys = re.findall(r'data-key="(\w)"', page)
    assert len(keys) == len(set(keys)) >= 2, "each answer has a key of its own"


def test_left_for_later_it_comes_again_when_nothing_else_waits(room: Room) -> None:
    kind = "/questions/one?kind=outline"
    order = [view.key for _, view in room.collection.catalogue.unsure_views()]
    for key in (*order, order[0]):
        assert f"/outline/{key}/keep" in room.get(kind)
        room.post("/questions/later", later=f"outline:{key}", then=kind)


def test_nothing_to_be_done_is_an_answer_that_can_be_taken_back(room: Room) -> None:
    kind = "/questions/one?kind=capture-again&was=capture-again"
    (key,) = room.waiting(Asks.CAPTURE_AGAIN)
    answer = room.post("/questions/settle", key=key, then=kind)
    assert (answer.status_code, room.waiting(Asks.CAPTURE_AGAIN)) == (303, [])
    page = room.get(answer.headers["location"])
    act = re.search(r'name="act" value="(\d+)"', page)
    assert act
    room.post("/undo", act=act[1], then=f"{kind}&undone={act[1]}")
    assert room.waiting(Asks.CAPTURE_AGAIN) == [key]
    assert room.post("/questions/settle", key="nothing", then=kind).status_code == 404


def test_a_back_is_joined_to_the_front_that_is_chosen(room: Room) -> None:
    page = room.get("/questions/one?kind=pair")
    fronts = re.findall(r'name="front" value="([^"]+)"', page)
    assert fronts[0] == SECOND, "the one before it in the box comes first"
    (key,) = room.waiting(Asks.PAIR)
    answer = room.post("/questions/pair", key=key, front=SECOND)
    assert answer.status_code == 303
    assert room.collection.catalogue.print(SECOND).verso is not None
    assert room.waiting(Asks.PAIR) == []
    room.collection.catalogue.undo("archivist")
    assert room.collection.catalogue.print(THIRD).accession == THIRD


def test_one_press_turns_and_leads_on(room: Room) -> None:
    kind = "/questions/one?kind=upright&was=upright"
    before = numbers(room.get("/questions"))["upright"]
    page = room.get(kind)
    turns = re.findall(r'formaction="(/turn/\w+/\d)"', page)
    assert [turn[-1] for turn in turns] == ["0", "1", "2", "3"]
    answer = room.post(turns[2], then=kind)
    assert answer.headers["location"].startswith(f"{kind}&done=")
    page = room.get(answer.headers["location"])
    assert f"1 answered, {before - 1} wait" in text_of(page)
    assert numbers(room.get("/questions"))["upright"] == before - 1


def test_an_old_address_leads_to_what_waits_now(room: Room) -> None:
    for at in ("outline:" + "0" * 32, "who:0123456789abcdef", "face:x", "nonsense", ":"):
        assert 'id="asked"' in room.get(f"/questions/one?at={at}")
    assert 'id="asked"' in room.get("/questions/one?kind=no-kind")


def test_the_pace_is_told_from_how_long_answers_take(room: Room) -> None:
    queue = room.bench.queue
    assert queue is not None
    times = iter([0.0, 4.0, 8.0, 12.0, 400.0])
    queue.now = lambda: next(times)
    for act in range(1, 5):
        queue.note_answer(act, "outline")
    assert queue.pace("outline").minutes == pytest.approx(3 * 4 / 60)
    queue.note_answer(5, "outline")  # something else came between: it does not count
    assert queue.pace("outline").minutes == pytest.approx(3 * 4 / 60)
    assert queue.pace("outline").answered == 5
    queue.note_undone(5)
    assert queue.pace("outline").answered == 4


def test_no_page_of_the_room_describes_all_prints(room: Room, monkeypatch: pytest.MonkeyPatch) -> None:
    """With 100,000 prints that alone would take many seconds."""

    def all_of_them(_: Shown) -> None:
        raise AssertionError("all prints were described")

    monkeypatch.setattr(Shown, "described", all_of_them)
    assert "questions wait for you" in room.get("/questions")
    for kind in KINDS:
        room.get(f"/questions/one?kind={kind.name}")


def ask_about(room: Room, asks: Asks, subject: str, sentence: str) -> str:
    with room.collection.catalogue.act("test", "asked") as act, act.work() as work:
        key = ask(work, asks, subject, sentence)
        work.commit()
    return key


def said_of(room: Room, accession: str) -> list[tuple[Says, str, str]]:
    return [(one.says, one.value, one.source) for one in room.collection.catalogue.statements(subject=accession)]


def test_of_two_pictures_of_one_print_one_is_kept_with_all_that_was_said(room: Room) -> None:
    catalogue = room.collection.catalogue
    key = ask_about(room, Asks.DUPLICATE, SECOND, duplicate_sentence(SECOND, FIRST))
    page = room.get("/questions/one?kind=duplicate")
    assert re.findall(r'name="keep" value="([^"]+)" data-key="(\d)"', page) == [(FIRST, "1"), (SECOND, "2")]
    answer = room.post("/questions/one-print", key=key, keep=SECOND, then="/questions/one?kind=duplicate")
    assert answer.status_code == 303
    with pytest.raises(NotFound):
        catalogue.print(FIRST)
    assert catalogue.print(SECOND).recto is not None
    assert (Says.PERSON, "Joe", "slip") in said_of(room, SECOND)
    assert [one[0] for one in said_of(room, SECOND)].count(Says.OCCASION) == 1, "what both say alike is said once"
    assert room.waiting(Asks.DUPLICATE) == []
    act = re.search(r'name="act" value="(\d+)"', room.get(answer.headers["location"]))
    assert act
    room.post("/undo", act=act[1], then="/questions")
    assert catalogue.print(FIRST).recto is not None
    assert room.waiting(Asks.DUPLICATE) == [key]
    assert room.post("/questions/one-print", key=key, keep=THIRD).status_code == 404


def test_two_prints_of_one_negative_stay_and_share_what_the_picture_shows(room: Room) -> None:
    catalogue = room.collection.catalogue
    sentence = sentence_of(Pair(FIRST, THIRD, Kind.ONE_NEGATIVE, Likeness()))
    key = ask_about(room, Asks.DUPLICATE, THIRD, sentence)
    page = room.get("/questions/one?kind=duplicate")
    assert re.search(r'data-key="1"><kbd>1</kbd> They are two prints of one negative', page)
    assert re.findall(r'name="keep" value="([^"]+)" data-key="(\d)"', page) == [(FIRST, "2"), (THIRD, "3")]
    answer = room.post("/questions/one-negative", key=key, then="/questions/one?kind=duplicate")
    assert answer.status_code == 303
    assert len(catalogue.print(FIRST).views) > 0
    shown = room.get(f"/print/{THIRD}")
    assert "Other prints of this negative" in text_of(shown)
    assert "Joe" in text_of(shown)
    assert room.post("/questions/one-negative", key=key).status_code == 404
    room.post(f"/print/{THIRD}/not-one-negative", other=FIRST, then=f"/print/{THIRD}")
    assert "Other prints of this negative" not in text_of(room.get(f"/print/{THIRD}"))
    assert room.post(f"/print/{THIRD}/not-one-negative", other=FIRST).status_code == 404


def test_a_back_that_only_the_other_picture_has_comes_with_it(room: Room) -> None:
    (pair,) = room.waiting(Asks.PAIR)
    room.post("/questions/pair", key=pair, front=SECOND)
    key = ask_about(room, Asks.DUPLICATE, SECOND, duplicate_sentence(SECOND, FIRST))
    room.post("/questions/one-print", key=key, keep=FIRST)
    kept = room.collection.catalogue.print(FIRST)
    assert (kept.recto is not None, kept.verso is not None) == (True, True)


def test_a_date_on_a_back_is_taken_by_one_key(room: Room) -> None:
    typed = Typed(SECOND, Field.TRANSCRIPTION, "Nils at the lake, August 1936")
    assert room.bench.prints is not None
    room.bench.prints.say(typed)
    (key,) = room.waiting(Asks.INSCRIPTION)
    page = room.get("/questions/one?kind=inscription")
    assert "Yes: August 1936" in text_of(page)
    (edtf,) = re.findall(r'name="means" value="([^"]+)" data-key="1"', page)
    answer = room.post("/questions/means", key=key, means=edtf, then="/questions/one?kind=inscription")
    assert answer.status_code == 303
    assert (Says.EXPOSURE, "1936-08", "archivist") in said_of(room, SECOND)
    assert room.waiting(Asks.INSCRIPTION) == []
    assert room.post("/questions/means", key=key, means=edtf).status_code == 404


def test_which_of_two_dates_was_meant_is_chosen_by_one_key(room: Room) -> None:
    sentence = two_dates_sentence("5/4/1931", SECOND, ["4 May 1931", "5 April 1931"])
    key = ask_about(room, Asks.WORDS, SECOND, sentence)
    page = room.get(f"/questions/one?kind=words&at=words:{key}")
    offered = re.findall(r'name="means" value="([^"]+)" data-key="(\d)"', page)
    assert [number for _, number in offered] == ["1", "2", "3"], "each by itself, or either"
    assert {"1931-04-05", "1931-05-04"} < {edtf for edtf, _ in offered}
    room.post("/questions/means", key=key, means="1931-05-04")
    assert (Says.EXPOSURE, "1931-05-04", "archivist") in said_of(room, SECOND)
    assert key not in room.waiting(Asks.WORDS)
