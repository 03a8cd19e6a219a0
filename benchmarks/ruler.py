"""Times the time ruler in a headless Chromium: from a century to a day and along, with thousands of bars.

    python benchmarks/ruler.py [--prints 5000] [--again 3] [--vague] [--slower 1]

The made-up collection: 90 years of prints, mostly in rolls; a third dated to the day, the others to a month, a
season, a year, a decade, one end open or not at all; a likely range in half of them, one in fifty contradicts.
The Table page of the workbench is opened, not a page made for this. Script is what the page's own code takes in a
frame, handlers of the wheel included; the whole is script, style and layout by the browser's own account. A zoom
that asks for the next step as soon as a frame is shown tells how far apart frames are, painting included; 16.7 ms
is the least that a screen of 60 Hz allows. `--vague` gives every print a decade or an open end, the worst case for
lanes; `--slower 4` lets the browser's processor be four times slower.
"""

from __future__ import annotations

import argparse
import datetime
import random
import shutil
import statistics
import threading
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import uvicorn
from attrs import frozen
from playwright.sync_api import CDPSession, Page, sync_playwright

from solander.core.descriptions import DescribedPrint, When
from solander.core.prints import Print, accession_number
from solander.core.questions import Question
from solander.core.statements import Sure
from solander.look.ruler import bar_of, span_of
from solander.look.ruler_figure import ruler_figure
from solander.station.app import create_app
from solander.station.serve import listening_socket
from solander.station.workbench import Workbench

FIRST, LAST = datetime.date(1900, 1, 1).toordinal(), datetime.date(1989, 12, 31).toordinal()
STEPS = 60

VAGUE = 0.75
"""From here on the made-up kinds of dates are a decade or open."""

COUNT_FRAMES = """
(() => {
  window.frames_taken = [];
  let taken = 0;
  const own = window.requestAnimationFrame.bind(window);
  const timed = (work) => (...given) => {
    const began = performance.now();
    try { return work(...given); } finally { taken += performance.now() - began; }
  };
  window.requestAnimationFrame = (work) => own((now) => {
    timed(work)(now);
    window.frames_taken.push(taken);
    taken = 0;
  });
  const listen = EventTarget.prototype.addEventListener;
  EventTarget.prototype.addEventListener = function (kind, work, options) {
    return listen.call(this, kind, typeof work === "function" ? timed(work.bind(this)) : work, options);
  };
})();
"""


@frozen
class MadeUp:
    """A made-up collection as the workbench reads it, without pictures."""

    prints: Sequence[DescribedPrint]
    title: str = "Made up"
    second_copy: bool = True
    made_up: bool = True

    def described(self) -> Sequence[DescribedPrint]:
        return self.prints

    def questions(self) -> Sequence[Question]:
        return ()

    def view_path(self, key: str) -> Path | None:
        return None

    def thumb_path(self, key: str) -> Path | None:
        return None


def made_up_prints(count: int, *, seed: int = 1, vague: bool = False) -> list[DescribedPrint]:
    """Prints in the order of their best guesses."""
    dice = random.Random(seed)
    days: list[int] = []
    while len(days) < count:
        begin = dice.randint(FIRST, LAST - 60)
        days += [begin + dice.randint(0, 45) for _ in range(dice.randint(12, 36))]
    return [_print(dice, number, day, vague=vague) for number, day in enumerate(sorted(days[:count]), 1)]


def _print(dice: random.Random, number: int, true_day: int, *, vague: bool) -> DescribedPrint:
    kind = dice.uniform(VAGUE, 1) if vague else dice.random()
    before, after, words = _range(dice, datetime.date.fromordinal(true_day), kind)
    near = (max(before or FIRST, true_day - 90), min(after or LAST, true_day + 90))
    when = When(
        edtf="",
        words=words,
        earliest=_text(before),
        latest=_text(after),
        guess=_text(true_day),
        sure=Sure.LIKELY,
        stated=False,
        contradicts=(f"“1990”, said by {accession_number('B1', number + 1)}",) if dice.random() < 0.02 else (),
        likely=(_day(near[0]), _day(near[1])) if dice.random() < 0.5 else None,
    )
    return DescribedPrint(Print(accession_number("B1", number), "B1", number, ()), number, when)


def _range(dice: random.Random, day: datetime.date, kind: float) -> tuple[int | None, int | None, str]:
    own, year = day.toordinal(), day.year
    if kind < 0.35:
        return own, own, f"{day.day} {day:%B} {year}"
    if kind < 0.5:
        return own - 45, own + 45, f"around {day:%B} {year}"
    if kind < VAGUE:
        return _first(year), _first(year + 1) - 1, str(year)
    if kind < 0.88:
        decade = year // 10 * 10
        return _first(decade), _first(decade + 10) - 1, f"{decade}s"
    if kind < 0.93:
        return own - dice.randint(100, 3000), None, f"after {year - 4}"
    if kind < 0.97:
        return None, own + dice.randint(100, 3000), f"before {year + 4}"
    return None, None, ""


def _first(year: int) -> int:
    return datetime.date(year, 1, 1).toordinal()


def _text(day: int | None) -> str | None:
    return None if day is None else _day(day)


def _day(day: int) -> str:
    return datetime.date.fromordinal(day).isoformat()


@contextmanager
def served(prints: Sequence[DescribedPrint]) -> Iterator[str]:
    """The address of a workbench over these prints."""
    listening = listening_socket()
    server = uvicorn.Server(uvicorn.Config(create_app(Workbench(MadeUp(prints))), log_level="error", ws="none"))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]})
    thread.start()
    while not server.started:
        time.sleep(0.01)
    yield f"http://127.0.0.1:{listening.getsockname()[1]}"
    server.should_exit = True
    thread.join()
    listening.close()


@contextmanager
def opened(address: str) -> Iterator[Page]:
    """The Table in a window of 1440 × 900, every frame counted."""
    program = shutil.which("chromium") or shutil.which("chromium-browser")
    if program is None:
        raise SystemExit("Chromium is not installed.")
    with sync_playwright() as running:
        launched = running.chromium.launch(executable_path=program, args=["--no-sandbox", "--disable-gpu"])
        page = launched.new_page(viewport={"width": 1440, "height": 900}, reduced_motion="reduce")
        page.add_init_script(COUNT_FRAMES)
        page.goto(address, wait_until="load")
        page.wait_for_selector(".rule-bars .guess[d]", state="attached")
        yield page
        launched.close()


def zoomed(page: Page) -> list[float]:
    """Milliseconds of script in each frame, from a century to a day in 60 turns of the wheel."""
    page.evaluate("frames_taken.length = 0")
    strip = page.locator(".rule-strip").bounding_box()
    page.mouse.move(strip["x"] + 0.62 * strip["width"], strip["y"] + 10)
    for _ in range(STEPS):
        # 36,525 to the sixtieth root is 1.19; a pixel of the wheel leads closer by e to the power of .0015.
        page.mouse.wheel(0, -118)
        _one_frame(page)
    assert "to" not in page.locator(".rule-words span").inner_text().split(":")[0], "the zoom did not reach a day"
    return page.evaluate("frames_taken")


def dragged(page: Page) -> list[float]:
    """The same, along the years at the width of a decade, in 60 moves."""
    page.locator("[data-do=all]").click()
    for _ in range(3):
        page.locator("[data-do=closer]").click()
    _one_frame(page)
    page.evaluate("frames_taken.length = 0")
    strip = page.locator(".rule-strip").bounding_box()
    page.mouse.move(200, strip["y"] + 10)
    page.mouse.down()
    for step in range(STEPS):
        page.mouse.move(200 + 18 * (step + 1), strip["y"] + 10)
        _one_frame(page)
    page.mouse.up()
    return page.evaluate("frames_taken")


def shown(page: Page) -> list[float]:
    """Milliseconds between frames of the same zoom, a step asked for in each, there and back."""
    page.locator("[data-do=all]").click()
    _one_frame(page)
    return page.evaluate(
        """async (steps) => {
            const strip = document.querySelector(".rule-strip");
            const box = strip.getBoundingClientRect();
            const place = { bubbles: true, cancelable: true, clientX: 0.62 * box.width, clientY: box.y + 10 };
            const next = () => new Promise((done) => requestAnimationFrame(done));
            const apart = [];
            let before = await next();
            for (let step = 0; step < 2 * steps; step += 1) {
                strip.dispatchEvent(new WheelEvent("wheel", { ...place, deltaY: step < steps ? -118 : 118 }));
                const now = await next();
                apart.push(now - before);
                before = now;
            }
            return apart;
        }""",
        STEPS,
    )


def _one_frame(page: Page) -> None:
    page.evaluate("new Promise((done) => setTimeout(done, 20))")


def work_by_the_browser(session: CDPSession) -> dict[str, float]:
    """Seconds of script, style and layout so far, by the browser's own account."""
    metrics = session.send("Performance.getMetrics")["metrics"]
    wanted = ("ScriptDuration", "RecalcStyleDuration", "LayoutDuration")
    return {metric["name"]: metric["value"] for metric in metrics if metric["name"] in wanted}


def told(name: str, milliseconds: Sequence[float]) -> None:
    """One line of figures."""
    p95 = statistics.quantiles(milliseconds, n=20)[-1]
    print(f"{name}: median {statistics.median(milliseconds):.1f} ms, p95 {p95:.1f} ms, n = {len(milliseconds)}")


def main() -> None:
    """Says how long each part takes."""
    asked: Any = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    asked.add_argument("--prints", type=int, default=5000)
    asked.add_argument("--again", type=int, default=3)
    asked.add_argument("--vague", action="store_true")
    asked.add_argument("--slower", type=float, default=1)
    given = asked.parse_args()
    prints = made_up_prints(given.prints, vague=given.vague)
    began = time.perf_counter()
    bars = [bar_of(one) for one in prints]
    figure = ruler_figure(bars, [f"/print/{bar.name}" for bar in bars], span=span_of(bars))
    took = 1000 * (time.perf_counter() - began)
    print(f"data and drawing for the page: {took:.0f} ms, {len(figure) / 1000:.0f} kB")
    with served(prints) as address, opened(address) as page:
        timing = page.evaluate("performance.getEntriesByType('navigation')[0].toJSON()")
        print(
            f"Table: answer after {timing['responseStart']:.0f} ms, loaded after {timing['loadEventEnd']:.0f} ms"
        )
        session = page.context.new_cdp_session(page)
        session.send("Performance.enable")
        session.send("Emulation.setCPUThrottlingRate", {"rate": given.slower})
        for _ in range(given.again):
            before = work_by_the_browser(session)
            told("script, century to day", zoomed(page))
            told("script, along the years", dragged(page))
            after = work_by_the_browser(session)
            told("frames apart, there and back", shown(page))
            print("all, ms a step:", {k: round(1000 * (after[k] - before[k]) / (2 * STEPS), 1) for k in after})


if __name__ == "__main__":
    main()
