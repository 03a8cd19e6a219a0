from __future__ import annotations

import random
import re
from collections.abc import Iterator
from itertools import pairwise

import pytest
from attrs import evolve
from drawn_box import described_prints, many_prints
from page_checks import access_faults, keep_picture, open_page, overflow, window
from served import workbench

from solander.core.days import from_day
from solander.delivery.site import write_site

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def home(box) -> Iterator[str]:
    with workbench(box) as address:
        yield address


@pytest.fixture(scope="module")
def long(box) -> Iterator[str]:
    """5,000 prints from 1900 to 1989, 55 or 56 a year, each with its year for a range."""
    with workbench(evolve(box, prints=many_prints(5000))) as address:
        yield address


def said(page) -> str:
    return page.locator(".rule-words").inner_text()


def after_frames(page) -> None:
    page.evaluate("new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")


def press(page, *keys: str) -> None:
    page.locator(".rule-box").focus()
    for key in keys:
        page.keyboard.press(key)
    after_frames(page)


def figures(page) -> list[str]:
    return page.locator(".rule-figures text").all_text_contents()


def drawn_bars(page) -> int:
    """How many ticks of best guesses are drawn."""
    return page.locator(".rule-bars .guess").get_attribute("d").count("M")


def test_the_whole_collection_is_on_the_rule_at_first(chromium, long):
    with window(chromium, "desk") as page:
        open_page(page, long)
        after_frames(page)
        assert said(page) == "1900 to 1989: 5,000 prints"
        assert figures(page)[:3] == ["1900", "1905", "1910"]
        assert page.told == []


def test_one_comes_from_a_century_to_a_day(chromium, long):
    with window(chromium, "desk") as page:
        open_page(page, long)
        press(page, "Home", *["+"] * 20)
        assert re.fullmatch(r"\w+day \d+ \w+ \d{4}: 5[56] of 5,000 prints may be from then", said(page))
        assert len(figures(page)) == 1
        press(page, *["-"] * 20)
        assert said(page) == "1895 to 1994: 5,000 prints"


def test_days_of_the_script_are_those_of_the_records(chromium, home):
    dice = random.Random(7)
    days = [dice.randint(-4_000_000, 4_000_000) for _ in range(2000)] + list(range(-800, 800))
    with window(chromium, "desk") as page:
        open_page(page, home)
        dates = page.evaluate("days => days.map(dateOf).map(({ year, month, date }) => [year, month, date])", days)
        back = page.evaluate("dates => dates.map(([year, month, date]) => dayOf(year, month, date))", dates)
    assert [tuple(date) for date in dates] == [from_day(number) for number in days]
    assert back == days


@pytest.mark.parametrize("seed", range(5))
def test_bars_of_one_lane_stay_apart_and_surer_ones_lie_higher(chromium, home, seed):
    dice = random.Random(seed)
    rows = [row_of(dice) for _ in range(400)]
    with window(chromium, "desk") as page:
        open_page(page, home)
        bars, lanes = page.evaluate(
            """([rows, scope]) => {
                const data = { all: [700000, 730000], links: {}, words: [""], href: ["", ""], bars: rows };
                const bars = rows.map((row) => barOf(row, data));
                return [bars, [...layInLanes(bars, vaguenessOf(bars), scope).lanes]];
            }""",
            [rows, {"from": 700_000, "to": 730_000, "scale": 0.03}],
        )
    by_lane: dict[int, list[dict]] = {}
    for bar, lane in zip(bars, lanes, strict=True):
        assert (lane >= 0) == (bar["to"] > 700_000 and bar["from"] < 730_000)
        by_lane.setdefault(lane, []).append(bar)
    for lane, own in by_lane.items():
        own.sort(key=lambda bar: bar["from"])
        assert lane < 0 or all(one["to"] <= other["from"] for one, other in pairwise(own))
    first = [bar for bar, lane in zip(bars, lanes, strict=True) if lane == 0]
    assert min(bar["to"] - bar["from"] for bar in first) <= 31


def row_of(dice: random.Random) -> list:
    """A bar as the page gets it: a few days, a year, a decade, or open."""
    begin = dice.randint(690_000, 735_000)
    end = begin + dice.choice([0, 1, 20, 365, 3652, 9000])
    bounds = dice.choice([(begin, end), (begin, end), (begin, end), (begin, None), (None, end), (None, None)])
    return ["B1-0001", *bounds, (begin + end) // 2, None, None, 0, ""]


def test_only_what_is_in_sight_is_drawn(chromium, long):
    with window(chromium, "desk") as page:
        open_page(page, long)
        after_frames(page)
        elements = page.locator(".rule-box *").count()
        assert 0 < drawn_bars(page) <= 5000
        press(page, *["+"] * 8)
        closer = page.locator(".rule-words span").inner_text()
        in_sight = int(closer.split(": ")[1].split(" ")[0].replace(",", ""))
        assert in_sight < 200
        assert drawn_bars(page) <= in_sight
        assert page.locator(".rule-box *").count() < elements + 50 < 300


def test_figures_follow_from_years_to_months_and_days(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, home)
        press(page, *["+"] * 6)
        assert any(text.split(" ")[0] in ("January", "Jan", "Feb", "February") for text in figures(page))
        press(page, *["+"] * 3)
        assert any(text.isdigit() and int(text) <= 31 for text in figures(page))


def test_buttons_lead_closer_along_and_back_to_all_years(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, home)
        after_frames(page)
        everything = said(page)
        seen = [everything]
        for word in ("Closer", "Earlier", "Later", "Later", "Wider"):
            page.get_by_role("button", name=word).click()
            after_frames(page)
            seen.append(said(page))
        stretches = [words.split(":")[0] for words in seen]
        assert stretches[1:5] == ["1920 to 1959", "1910 to 1949", "1920 to 1959", "1930 to 1969"]
        assert stretches[5] == stretches[0]
        assert seen[1] == "1920 to 1959: 12 of 14 prints may be from then"
        page.get_by_role("button", name="All years").click()
        after_frames(page)
        assert said(page) == everything


def test_the_wheel_over_the_figures_keeps_the_day_under_the_pointer(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, home)
        after_frames(page)
        x = page.locator(".rule-figures text", has_text="1940").bounding_box()["x"] - 5
        page.mouse.move(x, page.locator(".rule-strip").bounding_box()["y"] + 20)
        for _ in range(6):
            page.mouse.wheel(0, -200)
            after_frames(page)
        page.wait_for_timeout(50)
        stays = page.locator(".rule-figures text", has_text="1940").bounding_box()["x"] - 5
        assert said(page) != "1900 to 1979: 14 prints"
        assert stays == pytest.approx(x, abs=2)


def test_the_wheel_over_the_bars_scrolls_as_everywhere(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, home)
        after_frames(page)
        box = page.locator(".rule-bars").bounding_box()
        page.mouse.move(300, box["y"] + 20)
        page.mouse.wheel(0, 300)
        page.wait_for_timeout(200)
        assert page.evaluate("scrollY") > 0
        assert said(page) == "1900 to 1979: 14 prints"


def test_dragging_goes_along_and_is_no_click(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, home)
        press(page, "+", "+")
        before, address = said(page), page.url
        y = page.locator(".rule-strip").bounding_box()["y"] + 30
        page.mouse.move(700, y)
        page.mouse.down()
        page.mouse.move(400, y, steps=5)
        page.mouse.up()
        after_frames(page)
        assert said(page) != before
        assert page.url == address


def test_a_bar_says_its_print_and_leads_to_its_page(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, home)
        press(page, "ArrowDown")
        assert said(page) == "B2-E5-0001: About 1908, a guess"
        press_further(page, "ArrowDown", "ArrowDown")
        link = page.locator(".rule-print")
        assert link.get_attribute("aria-label") == "B2-E5-0003: Whitsun 1924"
        assert link.locator("title").text_content() == "B2-E5-0003: Whitsun 1924"
        place = link.bounding_box()
        page.keyboard.press("Escape")
        page.mouse.move(place["x"] + place["width"] / 2, place["y"] + place["height"] / 2)
        after_frames(page)
        assert said(page) == "B2-E5-0003: Whitsun 1924"
        page.mouse.down()
        page.mouse.up()
        page.wait_for_url("**/print/B2-E5-0003")


def press_further(page, *keys: str) -> None:
    """Keys for the print that has the focus."""
    for key in keys:
        page.keyboard.press(key)
    after_frames(page)


def test_enter_opens_the_print_that_the_keys_reached(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, home)
        press(page, "ArrowDown")
        page.keyboard.press("ArrowDown")
        page.keyboard.press("Enter")
        page.wait_for_url("**/print/B2-E5-0002")


def test_keys_bring_a_print_out_of_sight_into_sight(chromium, long):
    with window(chromium, "desk") as page:
        open_page(page, long)
        press(page, *["+"] * 10, "ArrowDown")
        for _ in range(60):
            page.keyboard.press("ArrowUp")
        after_frames(page)
        bar, box = page.locator(".rule-print rect").bounding_box(), page.locator(".rule-box").bounding_box()
        assert bar["width"] > 0
        assert box["y"] < bar["y"] < box["y"] + box["height"]


def test_a_finger_points_first_and_opens_then(chromium, home):
    context = chromium.new_context(viewport={"width": 360, "height": 740}, has_touch=True, reduced_motion="reduce")
    page = context.new_page()
    open_page(page, home)
    after_frames(page)
    press(page, "ArrowDown")
    place = page.locator(".rule-print").bounding_box()
    page.keyboard.press("Escape")
    x, y = place["x"] + place["width"] / 2, place["y"] + place["height"] / 2
    page.touchscreen.tap(x, y)
    after_frames(page)
    assert said(page) == "B2-E5-0001: About 1908, a guess"
    assert page.url.rstrip("/") == home
    page.touchscreen.tap(x, y)
    page.wait_for_url("**/print/B2-E5-0001")
    context.close()


def test_contradictions_are_hatched_and_said(chromium, box):
    prints = described_prints()
    prints[6] = evolve(prints[6], when=evolve(prints[6].when, contradicts=("“1990”, said by Ola",)))
    with workbench(evolve(box, prints=prints)) as home, window(chromium, "desk") as page:
        open_page(page, home)
        press(page, "ArrowDown")
        press_further(page, *["ArrowDown"] * 6)
        assert page.locator(".rule-bars .clash").get_attribute("d").count("M") == 1
        words = "B2-E5-0007: 7 May 1945 (cannot be true together with: “1990”, said by Ola)"
        assert said(page) == words
        assert page.locator(".rule-print title").text_content() == words


def test_the_likely_range_is_darker_and_said_as_on_the_slip(chromium, box):
    prints = described_prints()
    prints[8] = evolve(prints[8], when=evolve(prints[8].when, likely=("1958-06-10", "1958-06-20")))
    prints[10] = evolve(prints[10], when=evolve(prints[10].when, likely=("1959-01-01", "1960-12-31")))
    with workbench(evolve(box, prints=prints)) as home, window(chromium, "desk") as page:
        open_page(page, home)
        after_frames(page)
        assert page.locator(".rule-bars .likely").get_attribute("d").count("M") == 2
        press(page, "ArrowDown")
        press_further(page, *["ArrowDown"] * 8)
        assert said(page) == "B2-E5-0009: Summer 1958, likely"
        press_further(page, *["ArrowDown"] * 2)
        slip = page.locator("#B2-E5-0011 .slip")
        date, likely = slip.locator(".date").inner_text(), slip.locator(".likelier").inner_text()
        assert likely == "Most likely between 1959 and 1960"
        assert said(page) == f"B2-E5-0011: {date}. {likely}"


def test_a_print_of_which_nothing_is_known_lies_faintly_over_all_years(chromium, box):
    prints = described_prints()
    prints[13] = evolve(prints[13], when=evolve(prints[13].when, guess=None))
    with workbench(evolve(box, prints=prints)) as home, window(chromium, "desk") as page:
        open_page(page, home)
        after_frames(page)
        fades = page.locator(".rule-fades path").evaluate_all("all => all.map((one) => one.getAttribute('d'))")
        assert sum(re.search(r"M0 [\d.]+H1440", d) is not None for d in fades) == 1
        assert drawn_bars(page) == 13
        assert said(page) == "1900 to 1979: 14 prints"


@pytest.mark.parametrize("fingers", ["one goes along", "two spread"])
def test_fingers_go_along_and_closer(chromium, home, fingers):
    context = chromium.new_context(viewport={"width": 360, "height": 740}, has_touch=True, reduced_motion="reduce")
    page = context.new_page()
    open_page(page, home)
    press(page, "+")
    before = said(page)
    hand = context.new_cdp_session(page)
    y = page.locator(".rule-strip").bounding_box()["y"] + 20

    def touch(kind: str, *xs: float) -> None:
        points = [{"x": x, "y": y, "id": i} for i, x in enumerate(xs)]
        hand.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    both = fingers.startswith("two")
    touch("touchStart", *([150, 200] if both else [200]))
    for step in range(1, 11):
        touch("touchMove", *([150 - 8 * step, 200 + 8 * step] if both else [200 - 10 * step]))
    touch("touchEnd")
    after_frames(page)
    years = [int(year) for year in re.findall(r"\d{4}", before)[:2] + re.findall(r"\d{4}", said(page))[:2]]
    assert years[2] > years[0]
    assert (years[3] - years[2] < (years[1] - years[0]) / 3) == both
    context.close()


def test_a_site_on_disk_has_the_same_rule(chromium, tmp_path):
    write_site(described_prints(), {}, tmp_path, title="The Sollihøgda boxes")
    with window(chromium, "desk") as page:
        open_page(page, (tmp_path / "index.html").as_uri())
        press(page, "+", "ArrowDown")
        assert page.told == []
        page.keyboard.press("Enter")
        page.wait_for_url("**/prints/0002_B2-E5-0002.html")


@pytest.mark.parametrize(("size", "scheme"), [("desk", "light"), ("phone", "dark"), ("zoomed", "light")])
def test_the_rule_is_open_to_everybody_far_and_close(chromium, long, size, scheme):
    with window(chromium, size, scheme) as page:
        open_page(page, long)
        page.locator(".rule-help summary").click()
        for steps in (0, 4, 8, 16):
            press(page, *["+"] * steps, "ArrowDown")
            keep_picture(page, f"ruler-{steps}-{size}-{scheme}")
            assert access_faults(page) == []
            assert overflow(page) == 0
        assert page.told == []


def test_the_stretch_is_said_aloud_once_it_stands_still(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, home)
        after_frames(page)
        status = page.locator(".rule-foot [role=status]")
        assert status.text_content() == ""
        press(page, "+")
        page.wait_for_timeout(700)
        assert status.text_content() == page.locator(".rule-words span").text_content()


def test_type_of_twice_the_size_gets_the_room_it_needs(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, home)
        after_frames(page)
        before = page.locator(".rule-strip").bounding_box()["height"]
        page.evaluate("document.documentElement.style.fontSize = '200%'")
        page.set_viewport_size({"width": 1400, "height": 900})
        page.wait_for_timeout(100)
        boxes = [one.bounding_box() for one in page.locator(".rule-figures text").all()]
        assert page.locator(".rule-strip").bounding_box()["height"] == 2 * before
        assert all(a["x"] + a["width"] < b["x"] for a, b in pairwise(boxes))


def test_without_script_the_drawing_serves(chromium, home):
    with window(chromium, "desk", script=False) as page:
        page.goto(home)
        assert page.locator("svg.ruler").is_visible()
        assert page.locator(".rule-box").count() == 0


def test_on_paper_the_drawing_serves(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, home)
        page.emulate_media(media="print")
        assert page.locator(".rule-printed").is_visible()
        assert page.locator(".rule-box").is_hidden()


@pytest.mark.parametrize("years", [(-9000, -8990), (-3, 4), (9990, 10_020), (1, 17_000_000)])
def test_years_far_away_do_not_break_it(chromium, box, years):
    first, last = (f"{'-' if year < 0 else ''}{abs(year):04d}" for year in years)
    one = described_prints(1)[0]
    when = evolve(one.when, earliest=f"{first}-01-01", latest=f"{last}-12-31", guess=f"{first}-07-01")
    with workbench(evolve(box, prints=[evolve(one, when=when)])) as home, window(chromium, "desk") as page:
        open_page(page, home)
        press(page, *["-"] * 12)
        assert "1 print" in said(page)
        press(page, *["+"] * 45)
        assert re.match(r"\w+day \d+ \w+ \d+( BC)?: ", said(page))
        assert page.told == []
