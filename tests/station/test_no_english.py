"""Every page in German and in French: no English stands on it but names, captions and what people typed.

English is told by words that hold its sentences together and are no words of the other language (from memory).
What people typed is known from the collection itself, and stands in quotation marks elsewhere.
"""

from __future__ import annotations

import re
from html.parser import HTMLParser
from pathlib import Path

import httpx
import pytest
from served import running
from test_every_page import examples, filled, routes_of
from whole_box import whole_collection

from solander.authorities.dating import _short_sources
from solander.station.app import create_app
from solander.station.workbench import Workbench
from solander.tasks.collection import Collection

pytestmark = [pytest.mark.slow]

ENGLISH = """
the and of is are been has have had with without not which this that these those from to it its they
their when where there would could should by for you your taken said born asked shown known yet nobody
nothing somebody than then them who what how why does did but both between before after until about left
right front back question questions answer answers prints print people person places place box day days
year years
"""
ALSO = {"de": {"person", "box", "places"}, "fr": {"question", "questions", "print", "place", "places", "dates"}}
"""Words of the list that are words of the other language too."""

SPOKEN = ("title", "alt", "aria-label", "placeholder", "aria-description", "aria-roledescription")
SILENT = {"script", "style", "code", "kbd", "pre", "template", "datalist", "textarea"}
QUOTED = re.compile(r"“[^”]*”|„[^“]*“|«[^»]*»|CC BY 4\.0|[\w.]+\.(?:org|com)[\w./]*")


class Words(HTMLParser):
    """All that a page says: its text and what is read aloud of its pictures and controls."""

    def __init__(self) -> None:
        super().__init__()
        self.said: list[str] = []
        self._silent: list[str] = []

    def handle_starttag(self, tag, attrs):
        fields = dict(attrs)
        if tag in SILENT or fields.get("lang") == "en":
            self._silent.append(tag)
        elif not self._silent:
            self.said += [text for name in SPOKEN if (text := fields.get(name))]

    def handle_endtag(self, tag):
        if self._silent and self._silent[-1] == tag:
            self._silent.pop()

    def handle_data(self, data):
        if not self._silent and data.strip():
            self.said.append(" ".join(data.split()))


def english_in(page: str, code: str, known: re.Pattern[str]) -> list[str]:
    """The texts of a page that have English words."""
    words = Words()
    words.feed(page)
    found = []
    for text in words.said:
        left = known.sub(" ", QUOTED.sub(" ", text))
        if set(re.findall(r"[^\W\d_]+", left.lower())) & (set(ENGLISH.split()) - ALSO[code]):
            found.append(text)
    return found


def typed_in(collection: Collection) -> re.Pattern[str]:
    """Names, captions and all that people typed, longest first."""
    catalogue = collection.catalogue
    known = {collection.title, "named people and places"}
    for said in catalogue.statements():
        known |= {said.words, said.value}
        known.add(re.sub(r", slip file .*", "", said.source))
    for person in catalogue.people():
        known |= {person.name, *person.also_called, *(name.text for name in person.names)}
    known |= {place.name for place in catalogue.places()} | {capture.name for capture in catalogue.captures()}
    known |= {"Kodachrome print", "This is a Kodacolor print, made by Kodak", "Unknown person"}
    known |= set(_short_sources().values())
    return re.compile("|".join(map(re.escape, sorted(filter(None, known), key=len, reverse=True))), re.IGNORECASE)


@pytest.fixture(scope="module")
def workbench(tmp_path_factory):
    with Collection.open(whole_collection(Path(tmp_path_factory.mktemp("whole")))) as collection:
        bench = Workbench.over(collection)
        app = create_app(bench)
        known = examples(bench, collection)
        acts = [f"/what-was-done/{one.number}" for one in collection.catalogue.acts_kept(limit=50)]
        with running(app) as address:
            yield address, [*(filled(path, known) for path in routes_of(app)), *acts], typed_in(collection)


@pytest.mark.parametrize("code", ["de", "fr"])
def test_no_page_speaks_english_to_others(workbench, code):
    address, pages, known = workbench
    headers = {"accept": "text/html", "accept-language": code}
    faults = {}
    for page in pages:
        answer = httpx.get(address + page, headers=headers, follow_redirects=True, timeout=60)
        if english := english_in(answer.text, code, known):
            faults[page] = english
    assert faults == {}
