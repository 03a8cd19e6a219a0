"""Which way is up, on the pages: asked in four turns, answered with one press, told with its reason."""

from __future__ import annotations

import pytest
from attrs import evolve
from served_box import Asking, Box, Client

from solander.core.upright import Upright
from solander.station.guard import TOKEN_HEADER
from solander.station.sealing import seal

OURS = {"origin": "http://127.0.0.1", TOKEN_HEADER: seal()}


@pytest.fixture
def asking(box: Box) -> Asking:
    return Asking(box.prints, box.pictures)


def _front(box: Box, place: int) -> str:
    view = box.prints[place].print.recto
    assert view is not None
    return view.key


def test_from_the_page_of_a_print_one_comes_back_there(asking: Asking) -> None:
    answer = Client(asking).post(f"/turn/{_front(asking, 0)}/1", **OURS)
    assert answer.headers["location"] == f"/print/{asking.prints[0].print.accession}?done=7"


@pytest.mark.parametrize(
    ("address", "status"),
    [("/turn/{}/4", 422), ("/turn/{}/-1", 422), ("/turn/no-key/1", 404), ("/turn/{}/1", 403)],
)
def test_what_is_no_turn_changes_nothing(asking: Asking, address: str, status: int) -> None:
    headers = OURS if status != 403 else {"origin": "http://elsewhere.example"}
    assert Client(asking).post(address.format(_front(asking, 0)), **headers).status_code == status
    assert asking.turned == []


@pytest.mark.parametrize(
    ("turn", "upright", "words"),
    [
        (0, None, "Nothing tells yet which way is up"),
        (1, Upright.FACES, "Turned by the faces seen in it."),
        (0, Upright.FACES, "The faces seen in it stand upright."),
        (3, Upright.HABIT, "Turned as its neighbours lay, likely."),
        (2, Upright.PERSON, "Turned by a person."),
    ],
)
def test_the_page_of_a_print_tells_what_turned_it(
    box: Box, turn: int, upright: Upright | None, words: str
) -> None:
    one = next(each for each in box.prints if len(each.print.views) == 1)
    turned = evolve(one, print=evolve(one.print, views=(one.print.views[0].turned(turn, upright),)))
    page = Client(evolve(box, prints=[turned])).get(f"/print/{one.print.accession}").text
    assert words in page
    assert ("It is right" in page) == (upright is not Upright.PERSON)
