from __future__ import annotations

import re
from pathlib import Path

import pytest
from named_box import Workbench, named_collection

BUTTONS = re.compile(r'<button name="code" value="(\w+)"[^>]*?( aria-current="true")?>')


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Workbench:
    return Workbench(named_collection(Path(tmp_path_factory.mktemp("box")) / "collection"))


def spoken(page: str) -> str:
    return re.search(r'<html lang="(\w+)"', page)[1]


@pytest.mark.parametrize(("accepted", "code"), [("de-DE,de;q=0.9", "de"), ("fr", "fr"), ("pl", "en"), ("", "en")])
def test_a_page_is_in_the_language_that_the_browser_likes_best(bench, accepted, code):
    page = bench.get("/people", **{"accept-language": accepted}).text
    assert spoken(page) == code
    assert [button for button, here in BUTTONS.findall(page) if here] == [code]


def test_the_language_that_was_chosen_goes_before_that_of_the_browser(bench):
    page = bench.get("/people", cookie="language=fr", **{"accept-language": "de"}).text
    assert spoken(page) == "fr"


NONSENSE = ("language=tlh", "language=", "other=1; language=../../etc", "=;;,\x7f", "language")


@pytest.mark.parametrize("cookie", NONSENSE)
def test_a_cookie_that_means_nothing_is_passed_over(bench, cookie):
    assert spoken(bench.get("/people", cookie=cookie, **{"accept-language": "de"}).text) == "de"


def test_choosing_a_language_keeps_it_and_leads_back_to_the_page(bench):
    answer = bench.post("/language", code="de", then="/places?said=vess").history[0]
    assert answer.headers["location"] == "/places?said=vess"
    kept = answer.headers["set-cookie"]
    assert kept.startswith("language=de;")
    assert "HttpOnly" in kept
    assert "SameSite=strict" in kept


@pytest.mark.parametrize("code", ["", "tlh"])
def test_what_is_no_language_leaves_it_to_the_browser_again(bench, code):
    kept = bench.post("/language", code=code, then="/people").history[0].headers["set-cookie"]
    assert re.match(r'language="";.*Max-Age=0', kept)


@pytest.mark.parametrize("elsewhere", ["https://evil.example/", "//evil.example", "/\\evil.example", "people"])
def test_choosing_a_language_leads_nowhere_else(bench, elsewhere):
    assert bench.post("/language", code="de", then=elsewhere).history[0].headers["location"] == "/"
