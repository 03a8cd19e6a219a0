from __future__ import annotations

import re

import pytest
from attrs import evolve
from drawn_box import many_prints
from served_box import Box, Client

from solander.look.pages import MADE_UP
from solander.station.app import PRINTS_ON_A_PAGE, create_app
from solander.station.guard import HEADERS

PAGES = ("/", "/print/B2-E5-0009", "/questions")


def slips(page: str) -> list[str]:
    """The text of every slip's sentence, in the order of the page."""
    found = re.findall(r'class="sentence">(.*?)</(?:p|h1)>', page, flags=re.S)
    return [re.sub(r"\s+", " ", re.sub(r"<[^>]+>", "", one).replace("&nbsp;", " ")).strip() for one in found]


def test_the_table_shows_every_print_in_time_order_with_its_slip(client, box):
    page = client.get("/").text
    assert re.findall(r'<article [^>]*id="([^"]+)"', page) == [one.print.accession for one in box.prints]
    assert slips(page)[8] == "Summer 1958, likely · Vessholm · Ingrid Sollihøgda (31) and Nils Sollihøgda (28)"


def test_every_date_on_the_table_has_its_reason_or_says_that_there_is_none(client, box):
    page = client.get("/").text
    reasons = sum(len(one.when.reasons) or 1 for one in box.prints)
    assert page.count('class="source"') + page.count("Nothing says yet") == reasons


def test_backs_lie_under_fronts_with_the_word(client, box):
    page = client.get("/").text
    assert page.count('class="back-word"') == sum(one.print.verso is not None for one in box.prints)
    assert page.count("edge not checked") == 2


def test_a_print_by_itself_shows_both_sides_reasons_and_who_says_so(client, box):
    page = client.get("/print/B2-E5-0009").text
    one = box.prints[8]
    for view in one.print.views:
        assert f"/view/{view.key}.jpg" in page
    for words in (
        "Why this date",
        "Who says so",
        "slip file vessholm.csv, line 4",
        "128 × 89 mm",
        "print 9 of 14",
    ):
        assert words in page
    assert 'rel="prev" href="/print/B2-E5-0008"' in page
    assert 'rel="next" href="/print/B2-E5-0010"' in page


def test_the_first_and_last_print_say_that_nothing_is_beyond(client):
    assert "nothing, this is the first" in client.get("/print/B2-E5-0001").text
    assert "nothing, this is the last" in client.get("/print/B2-E5-0014").text


def test_what_waits_and_the_missing_second_copy_stand_at_the_top(client, box):
    page = client.get("/").text
    assert ">5 questions</a>" in page
    assert "one copy only" in page
    safe = Client(evolve(box, second_copy=True)).get("/").text
    assert "one copy only" not in safe


def test_questions_can_be_read_with_the_print_they_are_about(client):
    page = client.get("/questions").text
    assert "5 questions wait for you" in page
    assert "Is this the edge of B2-E5-0006?" in page
    assert 'id="B2-E5-0006"' in page
    assert "Copy it again from the card." in page


@pytest.mark.parametrize("path", PAGES)
def test_a_made_up_collection_says_so_on_every_page(client, box, path):
    assert MADE_UP in client.get(path).text
    real = Client(evolve(box, made_up=False))
    assert MADE_UP not in real.get(path).text


def test_an_empty_table_says_how_to_begin(empty_box):
    page = Client(empty_box).get("/").text
    assert "The table is empty" in page
    assert "solander accession" in page
    assert "Nothing waits" in Client(empty_box).get("/questions").text


def test_names_are_shown_as_text_whatever_they_hold(box):
    hostile = evolve(box.prints[8], caption="<script>alert(1)</script>")
    page = Client(evolve(box, prints=[hostile])).get("/").text
    assert "<script>alert" not in page
    assert "&lt;script&gt;alert" in page


def test_long_collections_come_in_parts(box):
    client = Client(evolve(box, prints=many_prints(PRINTS_ON_A_PAGE * 2 + 1)))
    first, second, third = (client.get(f"/?after={PRINTS_ON_A_PAGE * i}").text for i in range(3))
    assert [page.count("<article") for page in (first, second, third)] == [PRINTS_ON_A_PAGE, PRINTS_ON_A_PAGE, 1]
    assert f'rel="next" href="/?after={PRINTS_ON_A_PAGE}"' in first
    assert 'rel="prev"' not in first
    assert 'rel="prev" href="/?after=0"' in second
    assert 'rel="next"' not in third


def test_pictures_are_kept_by_the_browser_and_pages_are_not(client, box):
    key = box.prints[0].print.views[0].key
    for kind in ("view", "thumb"):
        answer = client.get(f"/{kind}/{key}.jpg")
        assert answer.headers["content-type"] == "image/jpeg"
        assert "immutable" in answer.headers["cache-control"]
    assert client.get("/").headers["cache-control"] == "no-store"


@pytest.mark.parametrize("key", ["0" * 32, "..", "%2e%2e%2fsolander", "A" * 32, "x"])
def test_pictures_that_are_not_of_the_collection_are_not_found(client, key):
    assert client.get(f"/view/{key}.jpg").status_code == 404


def test_trouble_is_a_page_for_people_and_json_for_programs(client):
    page = client.get("/print/B9-0001")
    assert page.status_code == 404
    assert "No print has the number “B9-0001”" in page.text
    said = client.get("/print/B9-0001", accept="application/json")
    assert said.status_code == 404
    assert said.json()["what"] == "No print has the number “B9-0001”"
    assert set(said.json()) == {"error", "what", "why", "todo"}


def test_an_unknown_address_is_trouble_too(client):
    answer = client.get("/nowhere")
    assert answer.status_code == 404
    assert "There is nothing at this address" in answer.text


def test_a_page_number_that_is_none_is_trouble_too(client):
    answer = client.get("/?after=soon")
    assert answer.status_code == 422
    assert "could not be understood" in answer.text


def test_a_fault_of_ours_is_told_plainly_and_still_guarded(box):
    class Broken(Box):
        def described(self):
            raise ZeroDivisionError("no numbers")

    answer = Client(Broken([])).get("/")
    assert answer.status_code == 500
    assert "Something went wrong in Solander" in answer.text
    assert "ZeroDivisionError: no numbers." in answer.text
    assert answer.headers["content-security-policy"] == HEADERS["Content-Security-Policy"]


@pytest.mark.parametrize("path", [*PAGES, "/nowhere", "/static/solander.css", "/static/nothing.css"])
def test_every_answer_carries_the_guarding_headers(client, path):
    answer = client.get(path)
    for name, value in HEADERS.items():
        assert answer.headers[name] == value


@pytest.mark.parametrize("path", PAGES)
def test_pages_have_nothing_that_their_policy_forbids(client, path):
    page = client.get(path).text
    assert not re.findall(r"<style|\sstyle=|\son[a-z]+=|<script(?![^>]*src=)", page)
    assert not re.findall(r'(?:src|href)="(?:https?:)?//', page)


def test_nothing_here_writes(box):
    routes = [route for route in create_app(box).routes if hasattr(route, "methods")]
    assert routes
    assert all(route.methods <= {"GET", "HEAD"} for route in routes)


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1.evil.example", "127.0.0.1:1", "", "localhost:9"])
def test_requests_under_a_foreign_name_are_refused(client, host):
    answer = client.get("/", host=host)
    assert answer.status_code == 421
    assert "Sollihøgda" not in answer.text
    assert answer.headers["x-content-type-options"] == "nosniff"


@pytest.mark.parametrize("host", ["localhost", "127.0.0.1", "[::1]", "127.0.0.1:80"])
def test_requests_under_the_names_of_this_machine_are_answered(client, host):
    assert client.get("/", host=host).status_code == 200


def test_with_a_port_the_name_must_carry_it(box):
    client = Client(box, "http://127.0.0.1:8765")
    answers = {
        host: client.get("/", host=host).status_code for host in ("localhost:8765", "localhost", "localhost:80")
    }
    assert answers == {"localhost:8765": 200, "localhost": 421, "localhost:80": 421}
