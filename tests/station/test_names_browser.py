"""The room of names and places in a browser: seen by everybody, worked by mouse, keys and without script."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator

import pytest
from named_box import LONG, Workbench, named_collection, opened
from page_checks import (
    LOOKS,
    SIZES,
    access_faults,
    faults_of,
    faults_of_pages,
    keep_picture,
    open_page,
    overflow,
    window,
)
from served import running

pytestmark = pytest.mark.browser

PAGES = {
    "people": "/people?everybody=true",
    "found": "/people?said=ing",
    "nobody": "/people?said=xyzzyx",
    "person": "/person/Ingrid%20Sollih%C3%B8gda",
    "long": "/person/Wawrzyniec%20Brz%C4%99czyszczykiewicz-Chrz%C4%85szczy%C5%BCewoszycki",
    "places": "/places",
    "place": "/place/Vessholm",
    "nowhere": "/place/the%20far%20farm",
    "where": "/place/the%20boathouse/where",
    "map": "/map",
    "first-words": "/first-words",
    "take-in": "/take-in?of=people",
    "unknown": "/person/Nobody",
}


@pytest.fixture(scope="module")
def home(tmp_path_factory, gazetteer) -> Iterator[str]:
    with opened(tmp_path_factory.mktemp("named") / "box") as bench, running(bench.app) as address:
        yield address


@pytest.fixture
def bench(tmp_path, gazetteer) -> Iterator[tuple[Workbench, str]]:
    with named_collection(tmp_path / "box") as collection:
        workbench = Workbench(collection)
        with running(workbench.app) as address:
            yield workbench, address


@pytest.fixture(scope="module")
def bare(tmp_path_factory, gazetteer) -> Iterator[str]:
    with opened(tmp_path_factory.mktemp("bare") / "box", empty=True) as bench, running(bench.app) as address:
        yield address


def laid(page) -> None:
    """Waits until the map is laid, where there is one."""
    if page.locator("[data-map]").count():
        page.wait_for_selector("[data-laid]")


@pytest.mark.parametrize(("size", "scheme"), LOOKS)
def test_pages_are_open_to_everybody_fit_and_stay_at_home(chromium, home, size, scheme):
    faults = []
    with window(chromium, size, scheme) as page:
        for name, path in PAGES.items():
            open_page(page, home + path)
            laid(page)
            keep_picture(page, f"names-{name}-{size}-{scheme}")
            told = [text for text in page.told if not (name == "unknown" and "404" in text)]
            faults += [f"{name}: {fault}" for fault in [*faults_of(page, home), *told]]
            page.told.clear()
    assert faults == []


@pytest.mark.parametrize("look", LOOKS)
def test_empty_rooms_are_open_to_everybody_too(chromium, bare, look):
    pages = {name: f"/{name}" for name in ("first-words", "people", "places", "map")}
    assert faults_of_pages(chromium, look, bare, pages, "names-empty") == []


@pytest.mark.parametrize("name", ["map", "person", "where", "first-words"])
def test_type_of_twice_the_size_fits(chromium, home, name):
    with window(chromium, "phone") as page:
        open_page(page, home + PAGES[name])
        laid(page)
        page.evaluate("document.documentElement.style.fontSize = '200%'")
        assert overflow(page) == 0


def marks(page) -> list[str]:
    return [one.get_attribute("aria-label") for one in page.locator(".map-mark").all()]


def test_places_are_reached_by_tab_and_arrows_in_reading_order_and_enter_opens(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/map")
        laid(page)
        assert marks(page) == [
            "Vessholm and 1 more, 5 prints",
            "Trzcianna pod Wzgórzem, 1 print, a circle of 4 km",
        ]
        page.locator(".map-mark[tabindex='0']").focus()
        page.keyboard.press("ArrowRight")
        assert (
            page.locator(".map-words").inner_text().startswith("Trzcianna pod Wzgórzem, 1 print, a circle of 4 km")
        )
        page.keyboard.press("Enter")
        page.wait_for_url("**/place/Trzcianna%20pod%20Wzg%C3%B3rzem")


def test_enter_on_several_places_comes_closer_until_they_part(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/map")
        laid(page)
        page.locator(".map-mark").first.focus()
        page.keyboard.press("Enter")
        assert "Vessholm, 4 prints, a circle of 9 km" in marks(page)


@pytest.mark.parametrize("how", ["buttons", "keys", "wheel"])
def test_one_comes_closer_and_goes_wider(chromium, home, how):
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/map")
        laid(page)
        before = page.locator(".map-scale text").text_content()
        page.locator(".map-mark").first.focus()
        box = page.locator(".map-box").bounding_box()
        page.mouse.move(box["x"] + 300, box["y"] + 200)
        for closer in (True, False):
            for _ in range(4):
                if how == "buttons":
                    page.locator(f"[data-do={'closer' if closer else 'wider'}]").click()
                elif how == "keys":
                    page.locator(".map-mark").first.focus() if page.locator(".map-mark").count() else None
                    page.keyboard.press("+" if closer else "-")
                else:
                    page.mouse.wheel(0, -300 if closer else 300)
            page.wait_for_timeout(250)
            now = page.locator(".map-scale text").text_content()
            assert (metres(now) < metres(before)) if closer else metres(now) >= metres(before) / 2


def metres(words: str) -> float:
    number, unit = words.replace(",", "").split()
    return float(number) * (1000 if unit == "km" else 1)


def test_the_wheel_scrolls_the_page_until_the_map_is_in_hand(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/map")
        laid(page)
        before = page.locator(".map-scale text").text_content()
        box = page.locator(".map-box").bounding_box()
        page.mouse.move(box["x"] + 300, box["y"] + 200)
        page.mouse.wheel(0, 300)
        page.wait_for_timeout(100)
        assert page.locator(".map-scale text").text_content() == before
        assert page.evaluate("scrollY") > 0


def test_years_are_taken_by_keys_drag_and_fields_and_leave_out_what_lies_outside(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/map")
        laid(page)
        rows = page.locator("[data-place-row]:visible")
        assert rows.count() == 3
        bracket = page.locator("[role=slider]").first
        bracket.focus()
        for _ in range(3):
            page.keyboard.press("PageUp")
        assert bracket.get_attribute("aria-valuenow") == "1930"
        assert rows.count() == 2
        assert "Trzcianna" not in " ".join(marks(page))
        assert page.locator("input[name=from]").input_value() == "1930"
        page.locator("input[name=to]").fill("1949")
        assert page.locator("[data-place-row]:visible").all_inner_texts()[0].startswith("Vessholm")
        assert "3 prints" in page.locator("[data-place-row]:visible").first.inner_text()
        page.locator("[data-do=all-years]").click()
        assert rows.count() == 3
        rule = page.locator(".years-rule").bounding_box()
        page.mouse.move(rule["x"] + rule["width"] * 0.02, rule["y"] + 20)
        page.mouse.down()
        page.mouse.move(rule["x"] + rule["width"] * 0.15, rule["y"] + 20, steps=4)
        page.mouse.up()
        assert [text.split("\t")[0] for text in rows.all_inner_texts()] == ["Trzcianna pod Wzgórzem"]


def test_without_script_the_table_and_the_fields_do_the_same(chromium, home):
    with window(chromium, "desk", script=False) as page:
        page.goto(f"{home}/map")
        assert page.locator("[data-map]").is_hidden()
        page.locator("input[name=from]").fill("1930")
        page.locator("input[name=to]").fill("1949")
        page.get_by_role("button", name="Show these years").click()
        rows = page.locator("[data-place-row]").all_inner_texts()
        assert len(rows) == 1
        assert rows[0].startswith("Vessholm")
        assert "3 prints" in rows[0]


def test_a_place_is_laid_with_the_keys_alone(chromium, bench):
    workbench, home = bench
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/place/Vessholm/where")
        laid(page)
        page.locator(".map-box").focus()
        before = float(page.locator("[name=latitude]").input_value())
        page.keyboard.press("ArrowUp")
        assert float(page.locator("[name=latitude]").input_value()) > before
        page.keyboard.press("<")
        assert page.locator("[name=radius]").input_value() == "6.4 km"
        page.locator("[name=radius]").press("Enter")
        page.wait_for_url("**/place/Vessholm?done=*")
    place = next(one for one in workbench.collection.catalogue.places() if one.name == "Vessholm")
    assert place.latitude > 60.4
    assert place.radius_m == 6400
    assert place.longitude == pytest.approx(5.3, abs=1e-4)


def test_a_place_is_laid_by_a_click_and_by_what_is_typed(chromium, bench):
    _, home = bench
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/place/Vessholm/where")
        laid(page)
        box = page.locator(".map-box").bounding_box()
        page.mouse.click(box["x"] + box["width"] / 2 + 100, box["y"] + box["height"] / 2)
        assert float(page.locator("[name=longitude]").input_value()) > 5.3
        page.locator("[name=latitude]").fill("50")
        assert "50.000° N" in page.locator("#circle-words").inner_text()


@pytest.mark.parametrize("size", SIZES)
def test_a_circle_has_its_true_radius_and_the_scale_is_true(chromium, home, size):
    """The middle of Lambert's azimuthal equal-area projection keeps distances: Snyder, Map Projections (USGS
    Professional Paper 1395, 1987), equations 24-2 and 24-3, here for one point north of the middle."""
    with window(chromium, size) as page:
        open_page(page, f"{home}/place/Vessholm")
        laid(page)
        width = page.evaluate("document.querySelector('.map-circle').getBBox().width")
        scale = page.evaluate("document.querySelector('.map-scale path').getBBox().width")
        metres_a_pixel = metres(page.locator(".map-scale text").text_content()) / scale
        assert width / 2 * metres_a_pixel == pytest.approx(9000, rel=0.02)


def test_the_projection_is_that_of_the_formula(chromium, home):
    """Against Snyder (1987), equations 24-2 to 24-4, worked out here for the sphere."""
    middle, scale = (-100.0, 40.0), 300.0
    points = [(-74.0, 40.7), (5.3, 60.4), (139.7, 35.7), (-58.4, -34.6), (18.4, -33.9)]
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/map")
        laid(page)
        got = page.evaluate(
            """([[longitude, latitude], scale, points]) => {
              const plain = d3.geoAzimuthalEqualArea().rotate([-longitude, -latitude]).scale(scale);
              const it = plain.translate([0, 0]);
              return points.map((point) => it(point)); }""",
            [middle, scale, points],
        )
    for (longitude, latitude), (x, y) in zip(points, got, strict=True):
        expected = azimuthal_equal_area(longitude, latitude, *middle)
        assert (x / scale, -y / scale) == pytest.approx(expected, abs=1e-9)


def azimuthal_equal_area(longitude: float, latitude: float, longitude_0: float, latitude_1: float):
    lam, phi, phi_1 = math.radians(longitude - longitude_0), math.radians(latitude), math.radians(latitude_1)
    cosine = math.sin(phi_1) * math.sin(phi) + math.cos(phi_1) * math.cos(phi) * math.cos(lam)
    k = math.sqrt(2 / (1 + cosine))
    x = k * math.cos(phi) * math.sin(lam)
    return x, k * (math.cos(phi_1) * math.sin(phi) - math.sin(phi_1) * math.cos(phi) * math.cos(lam))


@pytest.mark.parametrize("detail", ["110m", "50m"])
def test_land_is_land_and_water_is_water(chromium, home, detail):
    """Points far from any coast, as any atlas shows them (from memory)."""
    land = [(25, 62), (10, 51), (-100, 45), (134, -24), (105, 60), (20, 0), (-60, -10)]
    water = [(3, 56.5), (-40, 40), (-150, 0), (80, -10), (35, 43.5), (-90, 25), (18, 35)]
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/map")
        inside = page.evaluate(
            """async ([name, points]) => {
              const topology = await (await fetch(`/static/vendor/land-${name}.json`)).json();
              const shape = topojson.feature(topology, topology.objects.land);
              return points.map((point) => d3.geoContains(shape, point)); }""",
            [detail, [*land, *water]],
        )
    assert inside == [True] * len(land) + [False] * len(water)


def test_what_is_typed_first_is_understood_while_one_types(chromium, bare):
    with window(chromium, "desk") as page:
        open_page(page, f"{bare}/first-words")
        page.locator("#years").type("the twenties to 1975")
        page.wait_for_selector("#years-said .understood")
        assert "Between 1920 and 1975" in page.locator("#years-said").inner_text()
        page.locator("#whose").type(LONG)
        page.wait_for_selector("#whose-said .understood")
        assert "new: will be added" in page.locator("#whose-said").inner_text()
        keep_picture(page, "names-first-words-typed")
        assert access_faults(page) == []


def test_first_words_fit_on_one_screen_and_are_said_with_the_keyboard(chromium, tmp_path, gazetteer):
    with opened(tmp_path / "box", empty=True) as bench, running(bench.app) as home:
        with window(chromium, "desk") as page:
            open_page(page, home)
            assert page.url.endswith("/first-words")
            button = page.get_by_role("button", name="Keep this").bounding_box()
            assert button["y"] + button["height"] <= SIZES["desk"][1]
            page.locator("#whose").focus()
            page.keyboard.type("Ingrid Sollihøgda")
            page.keyboard.press("Tab")
            page.keyboard.type("Vessholm")
            page.keyboard.press("Tab")
            page.keyboard.type("1890 to 1975")
            page.keyboard.press("Enter")
            page.wait_for_url(re.compile(r"first-words\?done="))
            keep_picture(page, "names-first-words-kept")
            page.keyboard.press("Escape")
            page.locator("body").press("u")
            page.wait_for_url(re.compile(r"first-words$"))
        assert bench.names.first_words.is_empty


@pytest.mark.parametrize(("size", "scheme"), [("desk", "light"), ("phone", "dark")])
def test_a_file_is_chosen_looked_at_and_taken_in(chromium, bench, tmp_path, size, scheme):
    workbench, home = bench
    people = tmp_path / "people.csv"
    people.write_text(f"name,born\nRagnhild Sollihøgda,1931\nNils Sollihøgda,1932\n{LONG},\n", encoding="utf-8")
    with window(chromium, size, scheme) as page:
        open_page(page, f"{home}/take-in?of=people")
        page.locator("[name=file]").set_input_files(people)
        page.get_by_role("button", name="Look what is in it").click()
        page.wait_for_url("**/take-in/*")
        keep_picture(page, f"names-taking-in-{size}-{scheme}")
        assert "new: 1" in page.locator("main").inner_text()
        assert access_faults(page) == []
        assert overflow(page) == 0
        page.get_by_role("button", name="Take this in").click()
        page.wait_for_selector("text=was taken in")
        keep_picture(page, f"names-taken-in-{size}-{scheme}")
        assert access_faults(page) == []
    assert workbench.collection.catalogue.person("Ragnhild Sollihøgda").born == "1931"


def test_motion_is_left_out_when_the_system_asks_for_less(chromium, home):
    """`window` asks for less motion: the map lies anew in the same frame."""
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/map")
        laid(page)
        before, after = page.evaluate(
            """() => {
              const words = () => document.querySelector(".map-scale text").textContent, before = words();
              document.querySelector("[data-do=wider]").click();
              return [before, words()]; }"""
        )
        assert before != after
