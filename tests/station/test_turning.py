"""Which way is up, on the pages: asked in four turns, answered with one press, told with its reason."""

from __future__ import annotations

import re

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


def test_a_picture_is_shown_in_four_turns_each_a_button_with_its_key(asking: Asking) -> None:
    page = Client(asking).get("/questions").text
    forms = re.findall(r'<form method="post" class="turns".*?</form>', page, flags=re.S)
    assert len(forms) == 2
    for place, form in enumerate(forms):
        addresses = re.findall(r'formaction="([^"]+)"', form)
        assert addresses == [f"/turn/{_front(asking, place)}/{turn}?back=questions" for turn in range(4)]
        assert re.findall(r"<kbd>(\d)</kbd>", form) == ["1", "2", "3", "4"]
    assert page.count('id="up"') == 1, "where the page goes on after an answer"


def test_an_answer_turns_and_leads_back_to_the_next_question(asking: Asking) -> None:
    key = _front(asking, 1)
    answer = Client(asking).post(f"/turn/{key}/3?back=questions", **OURS)
    assert (answer.status_code, answer.headers["location"]) == (303, "/questions?done=7#up")
    assert asking.turned == [(key, 3)]


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
