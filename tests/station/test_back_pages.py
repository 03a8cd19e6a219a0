"""Pages on which backs are transcribed, without a browser: what they show, what is kept, where they lead."""

from __future__ import annotations

import asyncio
import re
import shutil
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from urllib.parse import urlencode

import httpx
import numpy as np
import pytest
from backs_box import Backs, made_backs, opened_backs
from PIL import Image
from written_box import SIZE

from solander.core.inscriptions import Inscription
from solander.core.inscriptions.kept import Writing
from solander.core.statements import Says
from solander.imaging.legibility import LEGIBILITY_VIEWS
from solander.station.backs import WAY_WORDS
from solander.station.guard import TOKEN_HEADER
from solander.station.sealing import seal
from solander.tasks.ask_inscriptions import ask_inscriptions
from solander.tasks.collection import Progress
from solander.tasks.described_some import described_one
from solander.tasks.legible import WAYS
from solander.tasks.typed import Field, Typed

OURS = {
    "accept": "text/html",
    "content-type": "application/x-www-form-urlencoded",
    "origin": "http://127.0.0.1",
    TOKEN_HEADER: seal(),
}


@pytest.fixture(scope="module")
def made(tmp_path_factory) -> Path:
    return made_backs(tmp_path_factory.mktemp("backs"))


@pytest.fixture
def backs(made: Path, tmp_path: Path, gazetteer) -> Iterator[Backs]:
    shutil.copytree(made, tmp_path / "box")
    with opened_backs(tmp_path / "box") as opened:
        yield opened


def get(backs: Backs, path: str, status: int = 200) -> httpx.Response:
    answer = asyncio.run(_ask(backs, "GET", path, {"accept": "text/html"}, b""))
    assert answer.status_code == status, answer.text
    return answer


def post(backs: Backs, path: str, **form: str) -> httpx.Response:
    return asyncio.run(_ask(backs, "POST", path, OURS, urlencode(form).encode()))


async def _ask(backs: Backs, method: str, path: str, headers: dict[str, str], body: bytes) -> httpx.Response:
    transport = httpx.ASGITransport(backs.app, raise_app_exceptions=False)
    async with httpx.AsyncClient(transport=transport, base_url="http://127.0.0.1") as client:
        return await client.request(method, path, headers=headers, content=body)


def _picture(answer: httpx.Response) -> np.ndarray:
    return np.asarray(Image.open(BytesIO(answer.content)).convert("RGB")).astype(int)


def _ticked(backs: Backs, accession: str) -> dict[str, str]:
    """What the form of a back sends of its lines when each is ticked."""
    page = get(backs, f"/back/{accession}").text
    return dict(re.findall(r'type="checkbox" name="(take-\d+)" value="([^"]*)"', page))


def test_the_backs_that_wait_are_counted_and_listed_with_writing_first(backs: Backs) -> None:
    page = get(backs, "/backs").text
    assert "3 backs wait to be transcribed" in page
    assert "0 of 4 backs are transcribed. On 1 nothing is written." in page
    # The first is also where the button leads; the machine could not read a word of the second, so it comes last.
    assert re.findall(r'href="/back/(B1-\d+)"', page) == ["B1-0001", "B1-0001", "B1-0004", "B1-0002"]


def test_each_line_is_shown_with_what_was_read_and_is_kept_only_where_a_person_took_it(backs: Backs) -> None:
    page = get(backs, "/back/B1-0001").text
    assert "back 1 of 3 that wait" in page
    assert re.findall(r"<q[^>]*>([^<]+)</q>", page) == ["Skegness August 1952", "Nan and Bill"]
    assert page.count("read by a machine") == 2
    answer = post(backs, "/back/B1-0001/keep", **{"line-0": "Skegness, _August_ 1952 ", "line-1": "", "next": "1"})
    assert answer.status_code == 303
    assert answer.headers["location"].startswith("/back/B1-0004?done=")
    assert backs.transcribed("B1-0001") == [("Skegness, _August_ 1952", "Skegness, _August_ 1952")]
    after = get(backs, answer.headers["location"]).text
    assert "Take it back" in after
    assert "1 of 2 that wait" in after


def test_without_script_a_line_is_ticked_and_a_free_reading_stands_beside_what_is_written(backs: Backs) -> None:
    post(
        backs,
        "/back/B1-0001/keep",
        **{**_ticked(backs, "B1-0001"), "more": "p.t.o.\r\n\r\n[illegible]", "reading": "Nan, on holiday"},
    )
    written = "Skegness August 1952\nNan and Bill\np.t.o.\n\n[illegible]"
    assert backs.transcribed("B1-0001") == [(written, "Nan, on holiday")]
    page = get(backs, "/back/B1-0001").text
    assert f">{written}</textarea>" in page
    assert ">Nan, on holiday</textarea>" in page
    assert 'name="line-0"' not in page  # what is written down is changed as a whole, and stands there once
    asked = [one.sentence for one in backs.collection.catalogue.questions()]
    assert any("August 1952" in sentence for sentence in asked)


def test_keeping_once_more_takes_the_place_of_ones_own_and_is_taken_back_in_one_act(backs: Backs) -> None:
    post(backs, "/back/B1-0001/keep", more="Skegness 1962")
    answer = post(backs, "/back/B1-0001/keep", more="Skegness 1952", stay="1")
    assert [words for words, _ in backs.transcribed("B1-0001")] == ["Skegness 1952"]
    act = answer.headers["location"].partition("done=")[2]
    post(backs, "/undo", act=act, then="/back/B1-0001")
    assert [words for words, _ in backs.transcribed("B1-0001")] == ["Skegness 1962"]


def test_versions_of_several_people_are_parted_and_none_is_told_twice(backs: Backs) -> None:
    post(backs, "/back/B1-0001/keep", more="Skegness 1952\nNan and Bill")

    def told(*words: str) -> str:
        for who, one in zip(("Aunt May", "Uncle Joe"), words, strict=False):
            backs.desk.prints.say(Typed("B1-0001", Field.TRANSCRIPTION, one, by=who))
        return described_one(backs.collection, "B1-0001").transcription

    assert told("Skegness 1952") == "Skegness 1952\nNan and Bill"
    assert told("Skegness 1952", "Skegness 1962") == "Skegness 1952\nNan and Bill\n\nSkegness 1962"


def test_what_was_typed_or_ticked_is_kept_though_the_back_was_read_anew_meanwhile(backs: Backs) -> None:
    form = _ticked(backs, "B1-0001") | {"line-1": "Nan and William"}
    back = backs.collection.catalogue.print("B1-0001").verso
    assert back
    backs.collection.catalogue.keep_writing(back.key, Writing(Inscription(), *SIZE))
    post(backs, "/back/B1-0001/keep", **form)
    written = "Skegness August 1952\nNan and William"
    assert backs.transcribed("B1-0001") == [(written, written)]


def test_what_was_typed_in_ones_own_words_is_not_lost_by_saying_that_nothing_is_written(backs: Backs) -> None:
    answer = post(backs, "/back/B1-0002/keep", reading="a name, I think", blank="1")
    assert answer.status_code == 422
    assert "a name, I think" in answer.text
    assert "3 backs wait" in get(backs, "/backs").text


def test_two_people_at_one_back_see_both_versions(backs: Backs) -> None:
    seen = re.search(r'name="seen" value="(\d+)"', get(backs, "/back/B1-0001").text)
    assert seen
    post(backs, "/back/B1-0001/keep", more="Skegness 1952")
    answer = post(backs, "/back/B1-0001/keep", more="Skegness 1962", seen=seen.group(1))
    assert answer.status_code == 409
    assert "Skegness 1952" in answer.text
    assert "Skegness 1962" in answer.text
    assert 'href="/back/B1-0001"' in answer.text
    assert [words for words, _ in backs.transcribed("B1-0001")] == ["Skegness 1952"]


def test_writing_of_any_script_and_length_and_marks_of_a_page_are_shown_as_they_are(backs: Backs) -> None:
    scripts = (
        "\u05e9\u05dc\u05d5\u05dd \u0627\u0644\u0628\u062d\u0631 e\u0301"  # Hebrew, Arabic, a combining accent
    )
    written = f"{scripts} <script>alert(1)</script> \u201c\u201d: wa {'x' * 10_000}"
    assert post(backs, "/back/B1-0001/keep", more=written).status_code == 303
    assert backs.transcribed("B1-0001") == [(written, written)]
    for path in ("/back/B1-0001", "/print/B1-0001"):
        page = get(backs, path).text
        assert "<script>alert" not in page
        assert "&lt;script&gt;alert(1)&lt;/script&gt;" in page


@pytest.mark.parametrize(
    "path", ["/back/..%2f..", "/legible/..%5csolander/as-taken.jpg", "/back/%00", "/back/B9-0001"]
)
def test_a_back_that_there_is_not_is_not_found(backs: Backs, path: str) -> None:
    get(backs, path, 404)


def test_a_line_is_asked_for_again_for_the_back_may_have_been_read_anew(backs: Backs) -> None:
    back = backs.collection.catalogue.print("B1-0001").views[1]
    assert "no-cache" in get(backs, f"/legible/{back.key}/as-taken/0.jpg").headers["cache-control"]


def test_ones_own_words_stay_when_what_is_written_is_changed_where_the_print_is_described(backs: Backs) -> None:
    post(backs, "/back/B1-0001/keep", more="Skegnes 1952", reading="our first holiday")
    backs.desk.prints.say(Typed("B1-0001", Field.TRANSCRIPTION, "Skegness 1952"))
    assert backs.transcribed("B1-0001") == [("Skegness 1952", "our first holiday")]


def test_a_fault_while_reading_is_told_and_one_may_begin_again(
    backs: Backs, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_memory(*_: object, **__: object) -> None:
        raise MemoryError("no room")

    monkeypatch.setattr("solander.tasks.back_desk.read_collection", no_memory)
    backs.desk._read()
    assert "Something went wrong in Solander" in get(backs, "/backs").text
    assert backs.desk.at is None


def test_nothing_is_kept_of_nothing(backs: Backs) -> None:
    answer = post(backs, "/back/B1-0001/keep", **{"line-0": "  ", "next": "1"})
    assert answer.status_code == 422
    assert "Nothing was kept" in answer.text
    assert backs.transcribed("B1-0001") == []


def test_the_last_back_leads_to_the_list_and_a_blank_one_can_be_written_down_all_the_same(backs: Backs) -> None:
    page = get(backs, "/back/B1-0003").text
    assert "As it is written, line by line" in page
    post(backs, "/back/B1-0001/keep", more="one")
    post(backs, "/back/B1-0002/keep", more="three")
    answer = post(backs, "/back/B1-0004/keep", more="two", next="1")
    assert answer.headers["location"].startswith("/backs?done=")
    assert "No back waits" in get(backs, "/backs").text


def test_of_a_back_it_is_said_by_one_key_that_nothing_is_written_there(backs: Backs) -> None:
    answer = post(backs, "/back/B1-0002/keep", blank="1")
    assert answer.headers["location"].startswith("/back/B1-0001?done=")
    again = post(backs, "/back/B1-0002/keep", blank="1", stay="1")
    assert again.headers["location"] == "/back/B1-0002"  # said already: nothing new to be taken back
    page = get(backs, answer.headers["location"]).text
    assert "said that nothing is written on the back of" in page
    assert "1 of 2 that wait" in page
    assert backs.desk.counted().blank == 2
    post(backs, "/undo", act=answer.headers["location"].partition("done=")[2], then="/backs")
    assert "3 backs wait" in get(backs, "/backs").text


def test_who_writes_something_down_does_not_say_any_more_that_nothing_is_written(backs: Backs) -> None:
    def says() -> list[Says]:
        return [one.says for one in backs.collection.catalogue.statements(subject="B1-0002")]

    post(backs, "/back/B1-0002/keep", blank="1")
    answer = post(backs, "/back/B1-0002/keep", more="in pencil: Nan", stay="1")
    assert says() == [Says.TRANSCRIPTION]
    post(backs, "/undo", act=answer.headers["location"].partition("done=")[2], then="/backs")
    assert says() == [Says.BLANK]


def test_the_writing_is_shown_in_five_ways_and_never_stored(backs: Backs) -> None:
    assert list(WAY_WORDS) == list(WAYS)
    back = backs.collection.catalogue.print("B1-0001").views[1]
    before = sorted(path for path in backs.collection.views_root.rglob("*") if path.is_file())
    taken = _picture(get(backs, f"/legible/{back.key}/as-taken.jpg"))
    for name, make in LEGIBILITY_VIEWS.items():
        seen = _picture(get(backs, f"/legible/{back.key}/{name.replace(' ', '-')}.jpg"))
        # JPEG once more than the view itself: a mean of under four code values.
        assert np.abs(seen - make(taken.astype(np.uint8)).astype(int)).mean() < 4, name
    assert sorted(path for path in backs.collection.views_root.rglob("*") if path.is_file()) == before
    get(backs, f"/legible/{back.key}/other.jpg", 404)
    get(backs, f"/legible/{'0' * 32}/relief.jpg", 404)


def test_lines_are_cut_out_upright_and_a_back_upside_down_is_turned_to_be_read(backs: Backs) -> None:
    back = backs.collection.catalogue.print("B1-0004").views[1]
    crop = _picture(get(backs, f"/legible/{back.key}/as-taken/0.jpg"))
    height, width = crop.shape[:2]
    assert width > 10 * height / 2
    assert crop[height // 2, width // 4, 0] > 150  # it begins in red, as the bar does the right way up
    assert crop[height // 2, width // 4, 2] < 90
    page = get(backs, "/back/B1-0004").text
    turned = re.search(r'src="(/legible/[0-9a-f]+/as-taken\.jpg\?turn=2)"', page)
    assert turned
    shown = _picture(get(backs, turned.group(1)))
    assert shown[47, 80, 0] > 150
    assert shown[47, 80, 2] < 90
    get(backs, f"/legible/{back.key}/as-taken/9.jpg", 404)


def test_what_the_writing_may_mean_is_asked_beside_it_and_answered_there(backs: Backs) -> None:
    assert "What it may mean" not in get(backs, "/back/B1-0001").text
    ask_inscriptions(backs.collection)
    page = get(backs, "/back/B1-0001").text
    found = re.search(r'action="/questions/inscription">.*?name="key" value="([0-9a-f]+)"', page, re.DOTALL)
    assert found
    before = len(backs.collection.catalogue.questions())
    answer = post(backs, "/questions/inscription", key=found.group(1), then="/back/B1-0001")
    assert answer.headers["location"].startswith("/back/B1-0001?done=")
    assert len(backs.collection.catalogue.questions()) < before
    assert found.group(1) not in get(backs, "/back/B1-0001").text


def test_a_print_without_a_back_has_nothing_to_be_transcribed(backs: Backs) -> None:
    front = backs.collection.catalogue.print("B1-0001").views[0]
    with backs.collection.catalogue.act("archivist", "a front alone") as act, act.work() as work:
        work.take_out_view("B1-0002", backs.collection.catalogue.print("B1-0002").views[1])
        work.commit()
    assert "has no back" in get(backs, "/back/B1-0002", 404).text
    assert front.key


def test_what_is_unread_is_read_from_the_page_and_told(tmp_path: Path, gazetteer) -> None:
    with opened_backs(made_backs(tmp_path, read=False)) as backs:
        page = get(backs, "/backs").text
        assert "4 backs wait" in page
        assert "Let the machine read 8 sides" in page
        backs.desk._read()  # what the button begins beside the page
        assert backs.desk.trouble == ""
        page = get(backs, "/backs").text
        assert "3 backs wait" in page
        assert "Let the machine read" not in page
        backs.desk.at = Progress("Reading what is written", "B1-0002", 2, 8)
        assert "side 2 of 8" in get(backs, "/backs").text


def test_what_was_read_is_asked_with_its_line_in_large_and_taken_by_one_key(backs: Backs) -> None:
    ask_inscriptions(backs.collection)
    page = get(backs, "/questions/one?kind=inscription").text
    crop = re.search(r'<p class="the-line"><img src="([^"]+)"', page)
    assert crop is not None
    assert _size(get(backs, crop[1]).content)[0] > 200
    assert "a machine read" in page
    assert "Not used:" in page
    key = re.search(r'name="key" value="([^"]+)"', page)
    assert key is not None
    question = backs.collection.catalogue.question(key[1])
    assert question is not None
    answer = post(backs, "/questions/inscription", key=key[1], then="/questions/one?kind=inscription")
    assert "done=" in answer.headers["location"]
    said = backs.collection.catalogue.statements(subject=question.subject)
    assert {str(one.source) for one in said} == {"back inscription"}
    assert backs.collection.catalogue.question(key[1]) is None
    again = post(backs, "/questions/inscription", key=key[1], then="/questions")
    assert again.status_code == 404


def _size(jpeg: bytes) -> tuple[int, int]:
    return Image.open(BytesIO(jpeg)).size
