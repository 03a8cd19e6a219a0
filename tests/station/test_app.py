from __future__ import annotations

import re
from html import unescape

import pytest
from attrs import evolve
from drawn_box import many_prints, undated
from served_box import Box, Client

from solander.core.language import _, speaking
from solander.look.languages import language_of
from solander.look.pages import MADE_UP
from solander.station.app import create_app
from solander.station.guard import HEADERS
from solander.station.table import PRINTS_AT_ONCE
from solander.station.workbench import Workbench

PAGES = ("/", "/print/B2-E5-0009")


def text_of(page: str) -> str:
    """What a page says, in one line."""
    return " ".join(unescape(re.sub(r"<[^>]+>", "", page)).split())


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
        "Who said what",
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


def test_the_likely_years_stand_under_the_date_where_they_say_more(box):
    likely = evolve(box.prints[10], when=evolve(box.prints[10].when, likely=("1959-01-01", "1960-12-31")))
    stated = evolve(box.prints[8], when=evolve(box.prints[8].when, likely=("1958-06-10", "1958-06-20")))
    client = Client(evolve(box, prints=[stated, likely]))
    for path in ("/", "/print/B2-E5-0011"):
        assert re.findall(r'class="likelier">([^<]*)<', client.get(path).text) == [
            "Most likely between 1959 and 1960"
        ]
    assert "Most likely" not in client.get("/print/B2-E5-0009").text.split('class="all-told"')[0].split("<main")[1]


def test_what_was_left_out_of_a_date_is_told_in_plain_words(box):
    when = evolve(box.prints[8].when, contradicts=("dated “1990”",), overruled=("Velox paper: in use to 1940",))
    page = Client(evolve(box, prints=[evolve(box.prints[8], when=when)])).get("/print/B2-E5-0009").text
    assert "Left out, for it cannot be true as well: dated “1990”." in page
    assert "A rule of thumb says otherwise and gave way: Velox paper: in use to 1940." in page


def test_prints_without_a_guess_come_last_under_no_date_yet(box):
    beside = undated(box.prints[12], "1960-01-01", ("1955-01-01", "1964-12-31"))
    prints = [*box.prints[:12], beside, undated(box.prints[13])]
    page = Client(evolve(box, prints=prints)).get("/").text
    headings = [re.sub(r"\s*<.*", "", one) for one in re.findall(r"<h2 id=[^>]*>([^\n]*)", page)]
    assert headings[-2:] == ["1960", "No date yet"]
    told = [" ".join(one.split()) for one in re.findall(r'class="reason">(Nothing[^<]*)<', page)]
    assert told == [
        "Nothing says yet when this was taken; what lies beside it in the box tells its place and "
        "its likely years.",
        "Nothing says yet when this was taken, so it lies at the end until something does.",
    ]


@pytest.mark.parametrize("path", PAGES)
def test_a_made_up_collection_says_so_on_every_page(client, box, path):
    assert MADE_UP in client.get(path).text
    real = Client(evolve(box, made_up=False))
    assert MADE_UP not in real.get(path).text


def test_an_empty_table_says_how_to_begin(empty_box):
    page = Client(empty_box).get("/").text
    assert "The table is empty" in page
    assert "solander accession" in page


def test_names_are_shown_as_text_whatever_they_hold(box):
    hostile = evolve(box.prints[8], caption="<script>alert(1)</script>")
    page = Client(evolve(box, prints=[hostile])).get("/").text
    assert "<script>alert" not in page
    assert "&lt;script&gt;alert" in page


def test_long_collections_come_in_parts(box):
    prints = many_prints(PRINTS_AT_ONCE * 2 + 1)
    client = Client(evolve(box, prints=prints))
    last = [prints[PRINTS_AT_ONCE * times - 1].print.accession for times in (1, 2)]
    first, second, third = (client.get(address).text for address in ("/", *(f"/?after={each}" for each in last)))
    assert [page.count("<article") for page in (first, second, third)] == [PRINTS_AT_ONCE, PRINTS_AT_ONCE, 1]
    assert f'rel="next" href="/?after={last[0]}"' in first
    assert 'rel="prev"' not in first
    assert f'rel="prev" href="/?before={prints[PRINTS_AT_ONCE].print.accession}"' in second
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
    answer = client.get("/?year=soon")
    assert answer.status_code == 422
    assert "could not be understood" in answer.text


def test_a_fault_of_ours_is_told_plainly_and_still_guarded(box):
    class Broken(Box):
        @property
        def is_settled(self):
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


WRITES = {"/turn/{key}/{quarters}", "/language"}


def test_only_what_is_meant_to_write_does(box):
    routes = [route for route in create_app(Workbench(box)).routes if hasattr(route, "methods")]
    assert routes
    assert {route.path for route in routes if not route.methods <= {"GET", "HEAD"}} == WRITES


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1.evil.example", "127.0.0.1:1", "", "localhost:9"])
def test_requests_under_a_foreign_name_are_refused(client, host):
    answer = client.get("/", host=host)
    assert answer.status_code == 421
    assert "Sollihøgda" not in answer.text
    assert answer.headers["x-content-type-options"] == "nosniff"


FOREIGN = {
    "a program or an old browser": {},
    "a page elsewhere": {"origin": "https://evil.example", "sec-fetch-site": "cross-site"},
    "another port of this machine": {"origin": "http://127.0.0.1:9", "sec-fetch-site": "same-site"},
    "a page that hides where it is": {"origin": "null", "sec-fetch-site": "cross-site"},
    "a secure page of our name": {"origin": "https://127.0.0.1"},
}


@pytest.mark.parametrize("language", ["de", "fr"])
def test_who_is_refused_is_told_so_in_their_language(client, language):
    name, page = (
        client.get("/", host="evil.example", **{"accept-language": language}),
        client.post("/undo", **FOREIGN["a page elsewhere"], **{"accept-language": language}),
    )
    assert (name.status_code, page.status_code) == (421, 403)
    with speaking(language_of(language)):
        assert name.text == _("This workbench answers under the name of this machine only: http://127.0.0.1.")
    assert "Load the page again" not in page.text


OURS = {"a script of ours": {"origin": "http://127.0.0.1"}, "a form of ours": {"sec-fetch-site": "same-origin"}}


@pytest.mark.parametrize("headers", FOREIGN.values(), ids=FOREIGN.keys())
def test_what_a_foreign_page_sends_is_refused_before_anything_reads_it(client, headers):
    answer = client.post("/undo", **headers)
    assert answer.status_code == 403
    assert "nothing was changed" in answer.text


@pytest.mark.parametrize("headers", OURS.values(), ids=OURS.keys())
def test_what_a_page_of_ours_sends_is_let_in(client, headers):
    assert client.post("/nowhere", **headers).status_code == 404


@pytest.mark.parametrize("host", ["localhost", "127.0.0.1", "[::1]", "127.0.0.1:80"])
def test_requests_under_the_names_of_this_machine_are_answered(client, host):
    assert client.get("/", host=host).status_code == 200


def test_with_a_port_the_name_must_carry_it(box):
    client = Client(box, "http://127.0.0.1:8765")
    answers = {
        host: client.get("/", host=host).status_code for host in ("localhost:8765", "localhost", "localhost:80")
    }
    assert answers == {"localhost:8765": 200, "localhost": 421, "localhost:80": 421}
