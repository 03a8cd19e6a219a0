"""Every page there is, in a real browser: open to everybody, light and dark, on a telephone, at 200 % zoom.

The pages are found in the workbench itself, so that none is forgotten: one without an example here fails the test.
Access is judged by axe-core (WCAG 2.2 and best practices); 360 CSS pixels and 200 % are those of WCAG 1.4.10 and
1.4.4, a little stricter.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import quote

import httpx
import pytest
from attrs import frozen
from fastapi.responses import HTMLResponse
from page_checks import SIZES, access_faults, browser, cut_off, keep_picture, open_page, overflow, window
from served import running
from whole_box import OCCASION, whole_collection

from solander.core.sounds import Sound, SoundKind
from solander.intake.sound import flac_of
from solander.station.app import create_app
from solander.station.workbench import Workbench
from solander.tasks.collection import Collection

pytestmark = [pytest.mark.browser, pytest.mark.slow, pytest.mark.end_to_end]


@frozen
class Bench:
    """The workbench at an address, with an example of each of its pages."""

    address: str
    pages: dict[str, str]
    answers: dict[str, httpx.Response]

    @property
    def whole(self) -> dict[str, str]:
        """Those that are no part of a page; a part is judged within its page."""
        begins = {path: answer.text.lstrip().casefold() for path, answer in self.answers.items()}
        return {path: self.pages[path] for path, text in begins.items() if text.startswith("<!doctype")}


def routes_of(app) -> list[str]:
    """The addresses of all pages and parts of pages."""
    found = (route for route in app.routes if "GET" in (getattr(route, "methods", None) or ()))
    return [route.path for route in found if getattr(route, "response_class", None) is HTMLResponse]


def examples(bench: Workbench, collection: Collection) -> dict[str, str]:
    """A real value for each place in an address."""
    catalogue = collection.catalogue
    print_ = catalogue.prints()[0]
    view = print_.views[0].key
    given = bench.names.given
    token = given.look(given.send("list.csv", "name;born\nMette Åsheim;1950\n".encode()), "people").token
    return {
        "/print/{accession}/understood": f"/print/{print_.accession}/understood?part=date&words=summer+58",
        "/print/{accession}/seen": f"/print/{print_.accession}/seen",
        "/back/{accession}": "/back/B9-0001",
        "/understood/people/{accession}": f"/understood/people/{print_.accession}?said=Ingrid",
        "/understood/{kind}": "/understood/date?said=summer+58",
        "/person/{name:path}": f"/person/{quote('Ingrid Sollihøgda')}",
        "/place/{name:path}": "/place/Vessholm",
        "/place/{name:path}/where": "/place/Vessholm/where",
        "/occasion/{name:path}": f"/occasion/{quote(OCCASION)}",
        "/occasion-by-print/{name:path}": f"/occasion-by-print/{quote(OCCASION)}",
        "/station/{name}/camera": "/station/1/camera",
        "/recordings/{sha256}/erase": f"/recordings/{recording(collection)}/erase",
        "{accession}": print_.accession,
        "{key}": view,
        "{view}": view,
        "{code}": "B2-E5",
        "{token}": token,
        "{act}": str(catalogue.last_act()[0]),
    }


def recording(collection: Collection) -> str:
    """A told story of one second, by its checksum."""
    kept = collection.sounds.put(flac_of(bytes(32_000)), suffix=".flac")
    with collection.catalogue.act("test", "kept a story") as act, act.work() as work:
        work.keep_sound(Sound(kept.sha256, SoundKind.ACCOUNT, "2026-11-26T10:00:00.000Z", 1.0, kept.size))
        work.commit()
    return kept.sha256


def filled(path: str, known: dict[str, str]) -> str:
    """An address with real values in its places."""
    if path in known:
        return known[path]
    for place, value in known.items():
        if place.startswith("{"):
            path = path.replace(place, value)
    assert "{" not in path, f"no example for the page {path}: add one"
    return path


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Bench]:
    root = whole_collection(Path(tmp_path_factory.mktemp("whole")))
    with Collection.open(root) as collection:
        desks = Workbench.over(collection)
        app = create_app(desks)
        known = examples(desks, collection)
        with running(app) as address:
            pages = {path: filled(path, known) for path in routes_of(app)}
            yield Bench(address, pages, {path: get(address + example) for path, example in pages.items()})


def get(address: str) -> httpx.Response:
    """What a browser is answered."""
    return httpx.get(address, headers={"accept": "text/html"}, follow_redirects=True, timeout=60)


@pytest.fixture(scope="module")
def launched() -> Iterator[object]:
    with browser() as running_browser:
        yield running_browser


def test_every_page_answers_and_has_nothing_that_its_policy_forbids(bench):
    assert len(bench.pages) > 20
    faults = []
    for path, answer in bench.answers.items():
        if answer.status_code != 200:
            faults.append(f"{path}: {answer.status_code} {answer.text[:200]}")
        inline = re.findall(r"<style|\sstyle=|\son[a-z]+=|<script(?![^>]*src=)|javascript:", answer.text)
        foreign = re.findall(r'(?:src|href|action)="(?:https?:)?//[^"]*', answer.text)
        faults += [f"{path}: {fault}" for fault in inline + foreign]
    assert faults == []


@pytest.mark.parametrize("size", ["desk", "phone"])
def test_every_page_is_open_to_everybody(bench, launched, size):
    """In the dark only colours differ, so there they alone are judged again, without loading the page anew."""
    faults = []
    with window(launched, size, "light") as page:
        for path, example in bench.whole.items():
            _resize(page, size)
            open_page(page, bench.address + example)
            _drawn(page)
            told = []
            for scheme in ("light", "dark"):
                page.emulate_media(color_scheme=scheme)
                found = access_faults(page, only="" if scheme == "light" else "color-contrast")
                told += [f"{scheme}: {fault}" for fault in found]
                keep_picture(page, f"every-page-{size}-{scheme}-{_file_name(path)}")
            page.emulate_media(color_scheme="light")
            told += _does_not_fit(page) if size == "phone" else _does_not_fit_magnified(page, path)
            told += [f"asked elsewhere: {asked}" for asked in page.asked if not asked.startswith(bench.address)]
            faults += [f"{path}: {fault}" for fault in [*told, *page.told]]
            page.told.clear()
    assert faults == []


def _does_not_fit(page) -> list[str]:
    told = [f"wider than its window by {wide} px"] if (wide := overflow(page)) else []
    return told + [f"cut off: {text}" for text in cut_off(page)]


def _does_not_fit_magnified(page, path: str) -> list[str]:
    """In its window, and magnified to 200 %, which halves the window of a page that is open."""
    told = [f"wider than its window by {wide} px"] if (wide := overflow(page)) else []
    _resize(page, "zoomed")
    _drawn(page)
    keep_picture(page, f"every-page-zoomed-light-{_file_name(path)}")
    return told + [f"at 200 %: {fault}" for fault in _does_not_fit(page)]


def _resize(page, size: str) -> None:
    width, height = SIZES[size]
    page.set_viewport_size({"width": width, "height": height})


def _drawn(page) -> None:
    """Waits until it is drawn, with what its scripts add at once."""
    page.evaluate("new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn)))")


def _file_name(path: str) -> str:
    return re.sub(r"\W+", "-", path).strip("-") or "table"
