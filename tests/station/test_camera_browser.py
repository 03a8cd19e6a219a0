"""The camera page in a real Chromium with a made camera: on loopback, and over TLS under another name."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import httpx
import pytest
from cryptography import x509
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat
from filmed_stage import CAMERA, film
from page_checks import access_faults, browser, cut_off, keep_picture, open_page, overflow, window
from served import running
from stage_parts_here import Here

from solander.station.app import create_app
from solander.station.phone_line import with_phones
from solander.station.workbench import Workbench
from solander.tasks.collection import Collection

pytestmark = [pytest.mark.browser, pytest.mark.slow]

LONG = 90_000
"""Milliseconds after which what must come is missed, on a machine that does ten other things."""

NAME = "desk-in-the-house.local"


@pytest.fixture(scope="module")
def filmed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return film(tmp_path_factory.mktemp("film"))


@contextmanager
def with_camera(filmed: Path, *more: str) -> Iterator[object]:
    with browser(*(option.format(film=filmed) for option in CAMERA), *more) as launched:
        yield launched


@pytest.fixture
def chromium(filmed) -> Iterator[object]:
    with with_camera(filmed) as launched:
        yield launched


@pytest.fixture
def collection(tmp_path) -> Iterator[Collection]:
    with Collection.create(tmp_path / "collection", title="A box") as made:
        yield made


def words(page, name: str) -> str:
    return page.locator(f"#{name}").inner_text()


def until(page, name: str, text: str) -> None:
    page.locator(f"#{name}", has_text=text).wait_for(state="attached", timeout=LONG)


def taken_once(collection: Collection) -> None:
    prints = collection.catalogue.prints()
    assert [one.accession for one in prints] == ["P-0001"]
    (view,) = prints[0].views
    assert view.outline.is_sure
    assert max(view.width, view.height) > 300  # of the 640 of the film
    assert len(collection.catalogue.captures()) == 1


def test_a_print_that_is_laid_down_is_taken_once_and_stands_in_the_collection(chromium, collection):
    bench = Workbench.over(collection)
    with running(create_app(bench)) as home, window(chromium, "desk") as page:
        open_page(page, f"{home}/station/1/camera")
        page.click("#camera-begin")
        until(page, "taken-words", "P-0001")
        keep_picture(page, "camera-desk-light")
        # The film begins anew: the same print is laid down again, and not taken again.
        until(page, "state", "taken before")
        taken_once(collection)
        assert page.told == []
        assert overflow(page) == 0
        assert access_faults(page) == []


def test_a_print_is_taken_by_a_paired_phone_over_a_secure_line(filmed, collection, tmp_path, monkeypatch):
    monkeypatch.setattr("solander.station.phone_line.machine_names", lambda: [NAME])
    bench, beside = with_phones(Workbench.over(collection), addresses=["127.0.0.1"], folder=tmp_path / "own")
    port = beside.sockets[0].getsockname()[1]
    believed = (
        f"--host-resolver-rules=MAP {NAME} 127.0.0.1",
        f"--ignore-certificate-errors-spki-list={_pin(beside.certificate.chain)}",
    )
    with (
        beside.served(),
        running(create_app(bench)) as home,
        with_camera(filmed, *believed) as launched,
        window(launched, "desk") as desk,
        window(launched, "phone", "dark") as phone,
    ):
        open_page(desk, f"{home}/phones")
        desk.get_by_role("button", name="Show a code").click()
        desk.locator("img.code").wait_for(timeout=LONG)
        keep_picture(desk, "phones-desk-light")
        assert access_faults(desk) == []

        open_page(phone, f"https://{NAME}:{port}/pair/{bench.phones.code}")
        keep_picture(phone, "pair-phone-dark")
        assert access_faults(phone) == []
        phone.get_by_label("What shall it be called?").fill("Mette’s phone")
        phone.get_by_role("button", name="Pair it").click()
        phone.wait_for_url("**/station/1/camera")
        phone.evaluate("document.fonts.ready")
        keep_picture(phone, "camera-phone-asks-dark")
        assert phone.evaluate("isSecureContext")
        phone.click("#camera-begin")
        until(phone, "taken-words", "P-0001")
        keep_picture(phone, "camera-phone-dark")
        assert overflow(phone) == 0
        assert cut_off(phone) == []
        assert access_faults(phone) == []
        taken_once(collection)

        desk.get_by_text("Mette’s phone").first.wait_for(timeout=LONG)
        keep_picture(desk, "phones-paired-desk-light")
        desk.get_by_role("button", name="Send it away").click()
        phone.get_by_role("heading", name="This phone is not paired").wait_for(timeout=LONG)
        keep_picture(phone, "camera-phone-sent-away-dark")


def _pin(chain: Path) -> str:
    """The certificate's key as Chromium wants it named: SHA-256 of its SPKI, in Base64."""
    key = x509.load_pem_x509_certificate(chain.read_bytes()).public_key()
    spki = key.public_bytes(Encoding.DER, PublicFormat.SubjectPublicKeyInfo)
    return base64.b64encode(hashlib.sha256(spki).digest()).decode()


@pytest.fixture
def here_stages():
    made = Here().stages()
    yield made
    made.close()


@pytest.fixture
def home(box, here_stages) -> Iterator[str]:
    with running(create_app(Workbench(box, stages=here_stages))) as address:
        yield address


KEPT = """new Promise((done) => {
  const asked = indexedDB.open("solander-camera");
  asked.onsuccess = () => {
    const all = asked.result.transaction("stills").objectStore("stills").getAll();
    all.onsuccess = () => done(all.result.length);
  };
})"""
"""How many stills the browser keeps."""


def test_a_still_waits_while_the_line_is_broken_and_is_taken_once_when_it_holds_again(chromium, home, here_stages):
    with window(chromium, "desk") as page:
        stage = here_stages.at("7").stage
        stage.watch.wants = False
        open_page(page, f"{home}/station/7/camera")
        page.click("#camera-begin")
        page.locator("#take").wait_for(timeout=LONG)
        page.context.route("**/still*", lambda route: route.abort())
        page.click("#take")
        until(page, "waiting-words", "Pictures that wait to be sent")
        page.locator("#waiting").wait_for(timeout=LONG)
        # It waits also when the page is left and opened again.
        page.reload()
        page.context.unroute("**/still*")
        page.click("#camera-begin")
        for _ in range(LONG // 200):
            if stage.stand.pictures and page.evaluate(KEPT) == 0:
                break
            page.wait_for_timeout(200)
        page.locator("#waiting").wait_for(state="hidden", timeout=LONG)
        assert page.evaluate(KEPT) == 0
        assert len(stage.stand.pictures) == 1


def test_a_still_that_waits_goes_into_no_other_collection(chromium, home, here_stages):
    def opened_for(collection: str) -> None:
        here_stages.collection = collection
        open_page(page, f"{home}/station/5/camera")
        page.click("#camera-begin")
        page.locator("#take").wait_for(timeout=LONG)

    def taken_and_kept(taken: int, kept: int) -> None:
        for _ in range(LONG // 200):
            if (len(stage.stand.pictures), page.evaluate(KEPT)) == (taken, kept):
                break
            page.wait_for_timeout(200)
        assert (len(stage.stand.pictures), page.evaluate(KEPT)) == (taken, kept)

    stage = here_stages.at("5").stage
    stage.watch.wants = False
    with window(chromium, "desk") as page:
        opened_for("one")
        page.context.route("**/still*", lambda route: route.abort())
        page.click("#take")
        page.locator("#waiting").wait_for(timeout=LONG)
        page.context.unroute("**/still*")
        opened_for("another")
        page.click("#take")
        taken_and_kept(1, 1)
        opened_for("one")
        taken_and_kept(2, 0)


def test_a_still_at_which_the_workbench_fails_is_told_kept_and_holds_up_no_other(chromium, home, here_stages):
    with window(chromium, "desk") as page:
        stage, failing = here_stages.at("6").stage, []
        stage.watch.wants = False

        def answer(route) -> None:
            (number,) = parse_qs(urlsplit(route.request.url).query)["id"]
            failing[:] = failing or [number]
            if number in failing:
                route.fulfill(status=status, json={"trouble": {"what": f"No {status}", "why": "", "todo": ""}})
            else:
                route.continue_()

        status = 409  # the workbench was started anew: nothing can be sent until the page is loaded again
        open_page(page, f"{home}/station/6/camera")
        page.context.route("**/still*", answer)
        page.click("#camera-begin")
        page.locator("#take").wait_for(timeout=LONG)
        page.click("#take")
        until(page, "trouble-words", "No 409")
        status = 500  # something is wrong with this very picture
        page.click("#take")
        until(page, "trouble-words", "No 500")
        for count in (1, 2):
            for _ in range(LONG // 200):
                if len(stage.stand.pictures) == count and page.evaluate(KEPT) == 2 - count:
                    break
                page.wait_for_timeout(200)
            assert (len(stage.stand.pictures), page.evaluate(KEPT)) == (count, 2 - count)
            page.context.unroute("**/still*")


def test_a_camera_that_is_told_to_rest_while_it_opens_does_not_stay_open(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/station/5/camera")
        page.click("#camera-begin")
        page.locator("#rest").click(timeout=LONG)
        page.locator("#camera-rests").wait_for(timeout=LONG)
        page.evaluate(HELD_BACK)
        page.click("#go-on")
        page.wait_for_function("() => Boolean(globalThis.letGo)", timeout=LONG)
        page.locator("#rest").click(timeout=LONG)
        page.evaluate("letGo()")
        page.wait_for_function(
            "() => globalThis.given && given.getTracks().every((one) => one.readyState === 'ended')", timeout=LONG
        )


HELD_BACK = """() => {
  const ask = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
  navigator.mediaDevices.getUserMedia = async (wanted) => {
    await new Promise((go) => { globalThis.letGo = go; });
    globalThis.given = await ask(wanted);
    return given;
  };
}"""
"""The browser gives the camera only when it is let go."""


def test_rest_stops_the_camera_itself_and_it_goes_on(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/station/1/camera")
        page.click("#camera-begin")
        page.locator("#rest").click(timeout=LONG)
        page.locator("#camera-rests").wait_for(timeout=LONG)
        assert page.evaluate("document.getElementById('camera-video').srcObject") is None
        page.click("#go-on")
        page.locator("#camera-video").wait_for(timeout=LONG)
        page.wait_for_function("document.getElementById('camera-video').srcObject?.active", timeout=LONG)


def test_a_camera_that_was_not_allowed_is_told(home):
    denied = ("--use-fake-device-for-media-stream", "--deny-permission-prompts")
    with browser(*denied) as launched, window(launched, "phone") as page:
        open_page(page, f"{home}/station/1/camera")
        page.click("#camera-begin")
        until(page, "trouble-words", "not allowed to use the camera")
        keep_picture(page, "camera-phone-not-allowed")
        assert access_faults(page) == []


def test_a_page_without_a_secure_line_explains_itself(chromium, home):
    """The workbench refuses such a name; so the page is brought to it by hand."""
    with window(chromium, "phone") as page:

        def from_home(route) -> None:
            path = route.request.url.removeprefix("http://desk.example")
            answer = httpx.get(home + path)
            route.fulfill(
                status=answer.status_code, body=answer.content, content_type=answer.headers["content-type"]
            )

        page.route("http://desk.example/**", from_home)
        open_page(page, "http://desk.example/station/1/camera")
        assert page.evaluate("isSecureContext") is False
        until(page, "trouble-words", "was not opened over a secure line")
        assert not page.locator("#camera-begin").is_visible()
        keep_picture(page, "camera-phone-insecure")
        assert access_faults(page) == []
