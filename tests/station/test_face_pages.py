"""Pages on which faces are named, without a browser: what they ask, what an answer does, where it leads."""

from __future__ import annotations

import asyncio
import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlencode

import httpx
import pytest
from attrs import frozen
from box_of_faces import READER, app_over, face_of, made_box

from solander.core.faces import Aside
from solander.core.statements import Says
from solander.station.guard import TOKEN_HEADER
from solander.station.sealing import seal
from solander.tasks import face_desk, name_faces
from solander.tasks.collection import Collection
from solander.tasks.face_switch import CONSENT

pytestmark = pytest.mark.slow

OURS = {
    "accept": "text/html",
    "content-type": "application/x-www-form-urlencoded",
    "origin": "http://127.0.0.1",
    TOKEN_HEADER: seal(),
}


@frozen
class Pages:
    collection: Collection
    app: object

    def get(self, path: str) -> str:
        answer = asyncio.run(self._ask("GET", path, {"accept": "text/html"}, b""))
        assert answer.status_code == 200, answer.text
        return answer.text

    def post(self, path: str, **form: str) -> httpx.Response:
        return asyncio.run(self._ask("POST", path, OURS, urlencode(form).encode()))

    async def _ask(self, method: str, path: str, headers: dict[str, str], body: bytes) -> httpx.Response:
        transport = httpx.ASGITransport(self.app, raise_app_exceptions=False)
        async with httpx.AsyncClient(transport=transport, base_url="http://127.0.0.1") as client:
            return await client.request(method, path, headers=headers, content=body)


@pytest.fixture(scope="module")
def made(tmp_path_factory) -> Path:
    return made_box(tmp_path_factory.mktemp("faces"))


@pytest.fixture
def pages(made: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Pages]:
    monkeypatch.setattr(name_faces, "face_reader", lambda: READER)
    monkeypatch.setattr(face_desk, "face_model", lambda: tmp_path)
    shutil.copytree(made, tmp_path / "collection")
    with Collection.open(tmp_path / "collection") as collection:
        yield Pages(collection, app_over(collection))


def _asked(page: str) -> str:
    found = re.search(r'action="/faces/([0-9a-f]{16})/name"', page)
    assert found
    return found.group(1)


def _people(pages: Pages) -> list[tuple[str, str]]:
    said = pages.collection.catalogue.statements()
    return [(one.subject, one.value) for one in said if one.says is Says.PERSON]


def test_the_largest_group_is_asked_about_first_on_its_print_and_nobody_is_forced(pages: Pages) -> None:
    page = pages.get("/faces")
    assert "1 of 3" in page
    assert "2 faces look alike" in page
    assert "Called “Unknown person" in page
    assert re.search(r'alt="The front of B2-E5-000\d with 2 faces; marked is face \d of 2, from the left"', page)
    assert page.count("<img") == 1, "the print, and no face cut out of it"
    for key in "wopnslfd":
        assert f'data-key="{key}"' in page


def test_a_typed_name_leads_on_to_the_next_face_and_suggests_itself_for_the_like_one(pages: Pages) -> None:
    first = face_of(pages.collection, 0)
    answer = pages.post(f"/faces/{first}/name", name="Ingrid Åsheim-Wróblewska", then="/faces")
    assert answer.status_code == 303
    assert re.fullmatch(r"/faces\?done=\d+", answer.headers["location"])
    page = pages.get(f"/faces?start={face_of(pages.collection, 0, 1)}")
    assert "Perhaps Ingrid Åsheim-Wróblewska" in page
    assert "1 face of this group is named so" in page
    assert _people(pages) == [("B2-E5-0001", "Ingrid Åsheim-Wróblewska")]
    told = pages.get(answer.headers["location"])
    assert "Done: named a face Ingrid Åsheim-Wróblewska." in told


def test_an_answer_leads_to_the_following_face_and_taking_it_back_to_the_one_before(pages: Pages) -> None:
    page = pages.get("/faces")
    key = _asked(page)
    onward = re.search(r'name="then" value="(/faces\?start=[0-9a-f]{16}&amp;was=[0-9a-f]{16})"', page)
    assert onward
    then = onward[1].replace("&amp;", "&")
    told = pages.get(pages.post(f"/faces/{key}/aside/later", then=then).headers["location"])
    assert _asked(told) == then[13:29] != key
    assert f'name="then" value="/faces?start={key}"' in told


def test_yes_and_no_are_acts_that_can_be_taken_back(pages: Pages) -> None:
    off = pages.post("/faces/off").headers["location"]
    assert "Done: switched faces off." in pages.get(off)
    pages.post("/undo", act=off.rpartition("=")[2], then="/faces")
    assert "Who is this?" in pages.get("/faces")


def test_names_are_offered_while_one_types_and_nobody_is_offered_unasked(pages: Pages) -> None:
    pages.post(f"/faces/{face_of(pages.collection, 2)}/name", name="Wilma Öst")
    assert pages.get("/faces/called?begun=asheim") == '["Ingrid Åsheim-Wróblewska"]'
    assert pages.get("/faces/called?begun=w") == '["Ingrid Åsheim-Wróblewska","Wilma Öst"]'
    assert pages.get("/faces/called?begun=wil+os") == '["Wilma Öst"]'
    assert pages.get("/faces/called?begun=+") == pages.get("/faces/called?begun=zz") == "[]"
    assert "Wróblewska" not in pages.get("/faces")


def test_a_group_is_named_at_once_and_taken_back_at_once(pages: Pages) -> None:
    key = _asked(pages.get(f"/faces?start={face_of(pages.collection, 0)}"))
    answer = pages.post(f"/faces/{key}/name-all", name="Ida", then="/faces?within=B2")
    assert answer.headers["location"].startswith("/faces?within=B2&done=")
    assert len(_people(pages)) == 2
    act = answer.headers["location"].rpartition("=")[2]
    pages.collection.catalogue.undo("archivist", only=int(act))
    assert _people(pages) == []


@pytest.mark.parametrize(("word", "left"), [("no-person", 2), ("stranger", 2), ("later", 3)])
def test_a_face_is_put_aside_with_one_key(pages: Pages, word: str, left: int) -> None:
    blue = face_of(pages.collection, 2)
    pages.post(f"/faces/{blue}/aside/{word}")
    assert pages.collection.catalogue.face(blue).aside is Aside(word)
    assert f"1 of {left}" in pages.get("/faces")
    if word == "later":
        assert f"{left} of {left}" in pages.get(f"/faces?start={blue}"), "what was left for later comes last"


def test_a_face_is_parted_from_its_group(pages: Pages) -> None:
    pages.post(f"/faces/{face_of(pages.collection, 0)}/part")
    page = pages.get(f"/faces?start={face_of(pages.collection, 0)}")
    assert "faces look alike" not in page
    assert "1 of 4" in pages.get("/faces")


def test_only_a_container_is_asked_about_where_that_is_wanted(pages: Pages) -> None:
    assert "<option>B2/E5</option>" in pages.get("/faces")
    assert "1 of 3" in pages.get("/faces?within=B2")
    assert "No face waits in B3" in pages.get("/faces?within=B3")


def test_a_missed_face_is_drawn_on_the_print_and_taken_off_again(pages: Pages) -> None:
    view = pages.collection.catalogue.prints()[2].recto
    assert view is not None
    here = f"/faces/in/{view.key}"
    assert "from the left" in pages.get(here)
    box = {"left": "80,5", "top": "70", "width": "12 %", "height": "14"}
    answer = pages.post(f"{here}/draw", then=here, **box)
    assert answer.headers["location"].startswith(f"{here}?done=")
    assert "drawn by hand" in pages.get(here)
    again = pages.post(f"{here}/draw", then=here, **box)
    assert again.status_code == 422
    assert "is one in that place already" in again.text
    assert pages.post(f"{here}/draw", left="abc", top="1", width="2", height="3").status_code == 422
    drawn = next(face for face in pages.collection.catalogue.faces(view=view.key) if face.score is None)
    pages.post(f"/faces/{drawn.key}/remove", then=here)
    assert "drawn by hand" not in pages.get(here)


def test_the_questions_and_the_print_lead_there(pages: Pages) -> None:
    assert re.search(r"<b>3</b>\s*<span>people nobody has named", pages.get("/questions"))
    assert "/faces/in/" in pages.get("/print/B2-E5-0001")


def test_switched_off_nothing_of_a_face_is_shown_and_yes_needs_the_word_on_consent(pages: Pages) -> None:
    assert pages.post("/faces/off").status_code == 303
    page = pages.get("/faces")
    for paragraph in CONSENT:
        assert paragraph in page
    assert "Unknown person" not in page
    assert "Find people by their faces" in pages.get("/questions")
    assert "/faces/in/" not in pages.get("/print/B2-E5-0001")
    view = pages.collection.catalogue.faces()[0].view
    assert "face-frame" not in pages.get(f"/faces/in/{view}"), "no frame is drawn where none may be seen"
    assert "switched off" in pages.get(f"/faces/in/{view}")
    assert "Unknown person" not in pages.get(f"/faces/in/{view}")


def test_erasing_asks_first_and_keeps_the_names_unless_told_otherwise(pages: Pages) -> None:
    pages.post(f"/faces/{face_of(pages.collection, 0)}/name", name="Ida")
    assert "can’t be taken back" in pages.get("/faces/erase")
    answer = pages.post("/faces/erase")
    assert answer.status_code == 303
    assert "5 faces were erased. Faces are switched off." in pages.get(answer.headers["location"])
    assert pages.collection.catalogue.faces() == []
    assert len(_people(pages)) == 1


@pytest.mark.parametrize(
    ("path", "status"),
    [("/faces/no-key/name", 404), ("/faces/0123456789abcdef/name", 404), ("/faces/in/nothing/draw", 404)],
)
def test_what_is_no_face_changes_nothing(pages: Pages, path: str, status: int) -> None:
    before = pages.collection.catalogue.last_change()
    assert pages.post(path, name="Ida").status_code == status
    assert pages.collection.catalogue.last_change() == before


def test_what_can_not_be_said_of_a_face_is_refused(pages: Pages) -> None:
    key = face_of(pages.collection, 0)
    assert pages.post(f"/faces/{key}/aside/famous").status_code == 422
    assert pages.post(f"/faces/{key}/name", name=" ").status_code == 422
    leads_away = pages.post(f"/faces/{key}/name", name="Ida", then="//elsewhere.example/")
    assert leads_away.headers["location"].startswith("/?done=")
