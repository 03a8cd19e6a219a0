"""What every page must hold in a real browser, whoever serves it."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

import pytest

ARTEFACTS = Path(__file__).parents[2] / "test-artefacts"
SIZES = {"desk": (1440, 900), "phone": (360, 740), "zoomed": (720, 450)}
"""CSS pixels of the window; 1440 × 900 at 200 % zoom is a window of 720 × 450."""

LOOKS = [("desk", "dark"), ("phone", "light")]
"""Sizes and colours in which the states of a page are judged: wide and narrow, dark and light, each once.
Every page that there is is judged in all of them by tests/station/test_every_page.py."""

CALM = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


@contextmanager
def browser(*more: str) -> Iterator[object]:
    """The system's Chromium, started with `more` options; the test is skipped where there is none."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        pytest.skip("Chromium is not installed, so pages were not looked at in a browser.")
    playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed").sync_playwright()
    with playwright as running:
        launched = running.chromium.launch(executable_path=chromium, args=[*CALM, *more])
        try:
            yield launched
        finally:
            launched.close()


@contextmanager
def window(launched, size: str, scheme: str = "light", *, script: bool = True) -> Iterator[object]:
    """A page in a window of `SIZES`; errors of the page fail the test, so do requests that leave `home`."""
    width, height = SIZES[size]
    context = launched.new_context(
        viewport={"width": width, "height": height},
        color_scheme=scheme,
        java_script_enabled=script,
        reduced_motion="reduce",
    )
    page = context.new_page()
    page.told, page.asked = [], []
    page.on("console", lambda message: page.told.append(message.text))
    page.on("pageerror", lambda error: page.told.append(str(error)))
    page.on("request", lambda request: page.asked.append(request.url))
    page.on("requestfailed", lambda request: page.told.extend(_told_failed(request)))
    try:
        yield page
    finally:
        context.close()


def _told_failed(request) -> list[str]:
    """What a request that failed says; one that a key took the page away from was given up, and is no fault."""
    return [] if request.failure == "net::ERR_ABORTED" else [f"failed: {request.url}"]


def open_page(page, address: str):
    """Loads the page, its typefaces too; gives what was answered."""
    answered = page.goto(address, wait_until="load")
    page.evaluate("document.fonts.ready")
    return answered


def until(page, condition: Callable[[], object], what: str = "") -> None:
    """Waits until something is so while the page goes on; its policy forbids to wait for it in the page."""
    for _ in range(1200):
        if condition():
            return
        page.wait_for_timeout(25)
    raise AssertionError(f"never so: {what or condition}")


def keep_picture(page, name: str) -> None:
    """Leaves a screenshot for people under test-artefacts/; all tests at once (`./test`) do without, which nobody
    looks through."""
    if os.environ.get("SOLANDER_PICTURES") == "none":
        return
    ARTEFACTS.mkdir(exist_ok=True)
    page.screenshot(path=ARTEFACTS / f"{name}.png")


def access_faults(page, *, only: str = "") -> list[str]:
    """Every violation that axe-core finds, best practices included, with the elements it names; or of one rule."""
    axe = pytest.importorskip("axe_playwright_python.sync_playwright").Axe()
    if not page.evaluate("'axe' in window"):
        page.evaluate(axe.axe_script)
    rules = {"runOnly": [only]} if only else {}
    found = page.evaluate("(how) => axe.run(how)", {"resultTypes": ["violations"], **rules})["violations"]
    return [f"{v['id']}: {v['help']} {[n['html'][:120] for n in v['nodes'][:3]]}" for v in found]


def assert_open_to_everybody(page, home: str, *, told: Sequence[str] = ()) -> None:
    """Nothing but `told` was said of a fault, nothing asked elsewhere, nothing cut off, no fault of access."""
    assert page.told == list(told)
    assert faults_of(page, home) == []


def faults_of(page, home: str) -> list[str]:
    """What was asked elsewhere than at `home`, what does not fit, and faults of access."""
    faults = [f"asked elsewhere: {address}" for address in page.asked if not address.startswith(home)]
    faults += [f"wider than its window by {over} px"] if (over := overflow(page)) else []
    return faults + [f"cut off: {text}" for text in cut_off(page)] + access_faults(page)


def faults_of_pages(launched, look: tuple[str, str], home: str, pages: dict[str, str], picture: str) -> list[str]:
    """The same of each page under `home`, with its name, in one window: to open one takes longer than to look."""
    faults = []
    with window(launched, *look) as page:
        for name, path in pages.items():
            open_page(page, home + path)
            keep_picture(page, f"{picture}-{name}-{'-'.join(look)}")
            told = [*page.told]  # the judge of access asks for style sheets itself, which a page on disk may not
            faults += [f"{name}: {fault}" for fault in [*told, *faults_of(page, home)]]
            page.told.clear()
    return faults


def overflow(page) -> int:
    """How many pixels the page is wider than its window."""
    return page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")


def cut_off(page) -> list[str]:
    """Texts that stick out of their own box or of the window."""
    return page.evaluate(
        """() => [...document.querySelectorAll("p, li, h1, h2, dd, dt, a, figcaption")]
        .filter((e) => e.getClientRects().length && !e.closest(".skip, .unseen"))
        .filter((e) => e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).display !== "inline"
            || e.getBoundingClientRect().right > innerWidth + 1)
        .map((e) => e.outerHTML.slice(0, 120))"""
    )


def reached_by_tab(page, most: int = 200) -> list[str]:
    """Addresses and summaries in the order in which the Tab key reaches them."""
    reached: list[str] = []
    for _ in range(most):
        page.keyboard.press("Tab")
        here = page.evaluate(
            "(() => { const e = document.activeElement; return e === document.body ? null : "
            "e.getAttribute('href') ?? e.textContent.trim(); })()"
        )
        if here is None:
            break
        reached.append(here)
    return reached
