"""Where places are looked up: told on one page, a service off until somebody names one, answers to choose from."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from named_box import Workbench, opened

from solander.core.place_finds import PlaceFound
from solander.core.places import Place
from solander.tasks import where_from
from solander.tasks.collection import Collection
from solander.tasks.keep_places import lay_circle
from solander.tasks.places import LookedUp

pytestmark = pytest.mark.slow

FOUND = (
    PlaceFound("Old school", "NO", 60.39, 5.32, 30.0, reasons=("Old school, Bergen",), known_as="way:1"),
    PlaceFound("Old school <b>", "NO", 60.5, 5.4, 45.0, reasons=("Old school, Voss",)),
)


@pytest.fixture
def fresh(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Workbench]:
    monkeypatch.setenv("SOLANDER_GAZETTEER", str(tmp_path / "none.db"))
    with opened(tmp_path / "box") as workbench:
        yield workbench


def words_of(answer) -> str:
    main = answer.text.partition("<main")[2].partition(">")[2].partition("</main")[0]
    return html.unescape(" ".join(re.sub(r"<[^>]+>", " ", main).split()))


def test_a_service_is_off_until_somebody_names_one_and_naming_it_can_be_taken_back(fresh: Workbench) -> None:
    assert "An address service Off." in words_of(fresh.get("/where-from"))
    assert "Or ask for its address" not in words_of(fresh.get("/place/the far farm/where"))
    named = fresh.post("/where-from/service", url="https://addresses.example/search", credit="Example")
    assert "https://addresses.example/search is asked when you press “Ask”" in words_of(named)
    assert "It is named as: Example." in words_of(named)
    act = re.search(r'name="act" value="([0-9]+)"', named.text)
    assert act
    assert "An address service Off." in words_of(fresh.post("/undo", act=act[1], then="/where-from"))


@pytest.mark.parametrize("url", ["", "addresses.example", "javascript:alert(1)", "file:///etc/passwd"])
def test_what_is_no_address_of_a_service_is_refused(fresh: Workbench, url: str) -> None:
    assert fresh.post("/where-from/service", url=url).status_code == 422
    assert fresh.names.where_from.service == ""


def test_an_answer_is_chosen_on_the_page_of_its_place(fresh: Workbench, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []
    monkeypatch.setattr(where_from, "ask_service", lambda _, words: asked.append(words) or FOUND)
    fresh.post("/where-from/service", url="https://addresses.example/search", credit="Example")
    assert "Or ask for its address" in words_of(fresh.get("/place/the far farm/where"))
    assert asked == [], "looking at the page asks nothing"
    page = fresh.post("/place/the far farm/ask", words="old school bergen")
    assert asked == ["old school bergen"]
    assert "Old school Old school, Bergen; within 30 m This is the place" in words_of(page)
    assert "Old school &lt;b&gt;" in page.text
    told = fresh.post("/place/the far farm/address", words="old school bergen", number="2")
    assert "Done: the far farm is Old school <b>, as the address service says." in words_of(told)
    place = fresh.names.places.place("the far farm").place
    assert (place.latitude, place.radius_m, place.source) == (60.5, 45.0, "Example")
    assert fresh.post("/place/the far farm/address", words="old school bergen", number="3").status_code == 404


def test_names_that_are_not_located_are_counted_and_looked_up(
    fresh: Workbench, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert "Of 1 place of this collection only the name is known." in words_of(fresh.get("/where-from"))

    def found(collection: Collection) -> LookedUp:
        act = lay_circle(collection, "the far farm", (60.0, 5.0), 30.0)
        return LookedUp((Place("the far farm"),), ("which?", "which?"), act)

    monkeypatch.setattr(where_from, "understand_places", found)
    told = words_of(fresh.post("/where-from/look-up"))
    assert "1 place found; 2 questions to answer." in told
    assert "Take it back" in told
    assert "only the name is known" not in told


def test_a_file_of_landmarks_is_taken_in_and_named(fresh: Workbench, tmp_path: Path) -> None:
    columns = ["1", "The mill", "The mill", "", "60.1", "5.2", "S", "ML", "NO", *[""] * 5, "0", *[""] * 4]
    (tmp_path / "NO.txt").write_text("\t".join(columns) + "\n", encoding="utf-8")
    assert "1 place taken in." in words_of(fresh.post("/where-from/landmarks", path=str(tmp_path / "NO.txt")))
    assert "Here are: NO." in words_of(fresh.get("/where-from"))
    refused = fresh.post("/where-from/landmarks", path=str(tmp_path / "SE.txt"))
    assert "there is no such file" in words_of(refused).lower()
