"""Drawing outlines in a real browser: by mouse, finger, keys and without a script."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import numpy as np
import pytest
from doubtful_box import BESIDE, Doubtful, doubtful_box
from page_checks import LOOKS, access_faults, cut_off, keep_picture, open_page, overflow, window
from served import running

from solander.imaging.conventions import corner_error
from solander.imaging.decode import decode
from solander.station.app import create_app
from solander.station.workbench import Workbench
from solander.tasks.collection import Collection
from solander.tasks.outlines import Outlines
from solander.tasks.queue import Queue
from solander.tasks.show import Shown

pytestmark = pytest.mark.browser

THIRD = "B12-E34-P5-0003"
EDGES = "/questions/one?kind=outline"
THEN = "then=%2Fquestions%2Fone%3Fkind%3Doutline"


@pytest.fixture(scope="module")
def made(tmp_path_factory) -> Doubtful:
    return doubtful_box(tmp_path_factory.mktemp("doubtful"))


@contextmanager
def served(box: Doubtful) -> Iterator[tuple[str, Collection]]:
    """A workbench over the collection that can be changed; its address and the collection."""
    with box.opened() as collection:
        outlines = Outlines(collection)
        queue = Queue(collection, outlines.sitting)
        app = create_app(Workbench(Shown(collection), outlines=outlines, queue=queue))
        with running(app) as address:
            yield address, collection


@pytest.fixture(scope="module")
def home(made) -> Iterator[tuple[str, Collection]]:
    """Not to be changed."""
    with served(made) as found:
        yield found


@pytest.fixture
def desk(made, tmp_path) -> Iterator[tuple[str, Collection]]:
    """One's own, to be changed."""
    with served(made.copied_to(tmp_path / "collection")) as found:
        yield found


def waiting(collection: Collection) -> list[str]:
    return [view.key for _, view in collection.catalogue.unsure_views()]


def front(collection: Collection, accession: str):
    return collection.catalogue.print(accession).recto


def drawing(page, address: str) -> None:
    """Opens the page on which an outline is drawn and waits until it can be."""
    open_page(page, address)
    page.locator(".corners").wait_for()


def corners(page) -> np.ndarray:
    """Where the corners are, by the figures that would be sent."""
    names = [(f"across-{i}", f"down-{i}") for i in range(4)]
    return np.array([[float(page.locator(f"[name={name}]").input_value()) for name in pair] for pair in names])


def said(page, words: str) -> None:
    page.locator("#state", has_text=words).wait_for()


@pytest.mark.parametrize("name", ["edges", "outline", "another", "questions"])
@pytest.mark.parametrize(("size", "scheme"), LOOKS)
def test_pages_are_open_to_everybody_fit_and_stay_at_home(chromium, home, name, size, scheme):
    address, collection = home
    key = waiting(collection)[1]
    path = {
        "edges": f"{EDGES}&at=outline:{key}",
        "outline": f"/outline/{key}?{THEN}",
        "another": f"/outline/{key}/another",
        "questions": "/questions",
    }[name]
    with window(chromium, size, scheme) as page:
        open_page(page, address + path)
        page.wait_for_load_state("networkidle")
        keep_picture(page, f"station-{name}-doubtful-{size}-{scheme}")
        assert page.told == []
        assert all(asked.startswith(address) for asked in page.asked)
        assert overflow(page) == 0
        assert cut_off(page) == []
        assert access_faults(page) == []


@pytest.mark.parametrize("path", [EDGES, "/outline/{}"])
def test_type_of_twice_the_size_fits(chromium, home, path):
    address, collection = home
    with window(chromium, "phone") as page:
        open_page(page, address + path.format(waiting(collection)[1]))
        page.evaluate("document.documentElement.style.fontSize = '200%'")
        assert overflow(page) == 0
        assert cut_off(page) == []


@pytest.mark.parametrize("size", ["desk", "phone", "zoomed"])
def test_corners_are_large_enough_for_a_finger_and_the_loupe_hides_nothing(chromium, home, size):
    address, collection = home
    with window(chromium, size) as page:
        drawing(page, f"{address}/outline/{waiting(collection)[1]}")
        for i in range(4):
            box = page.locator(f"[data-corner='{i}']").bounding_box()
            assert min(box["width"], box["height"]) >= 44
        loupe, paper = (page.locator(found).bounding_box() for found in ("#loupe", "#capture"))
        beside = loupe["x"] >= paper["x"] + paper["width"] or loupe["y"] + loupe["height"] <= paper["y"]
        assert beside
        wide = page.locator("#capture").evaluate("e => [e.clientWidth, e.clientHeight]")
        assert wide[0] / wide[1] == pytest.approx(900 / 680, rel=0.01)


def test_a_corner_is_reached_by_tab_and_moved_by_keys(chromium, home):
    address, collection = home
    with window(chromium, "desk") as page:
        drawing(page, f"{address}/outline/{waiting(collection)[1]}")
        for _ in range(20):
            page.keyboard.press("Tab")
            if page.evaluate("document.activeElement.dataset.corner") == "0":
                break
        start = corners(page)
        for key, moved in {
            "ArrowRight": (1, 0),
            "ArrowUp": (0, -1),
            "Shift+ArrowLeft": (-10, 0),
            "Shift+ArrowDown": (0, 10),
            "Alt+ArrowRight": (0.1, 0),
            "Alt+ArrowUp": (0, -0.1),
        }.items():
            before = corners(page)
            page.keyboard.press(key)
            assert corners(page)[0] - before[0] == pytest.approx(moved, abs=0.011)
        assert np.array_equal(corners(page)[1:], start[1:])
        across, down = corners(page)[0]
        spoken = f"top left corner, {across:.1f} across, {down:.1f} down".replace(".0 ", " ")
        assert page.evaluate("document.activeElement.getAttribute('aria-label')") == spoken
        said(page, f"T{spoken[1:]}. Not kept yet.")
        page.keyboard.press("Tab")
        assert page.evaluate("document.activeElement.dataset.corner") == "1"
        page.keyboard.press("4")
        assert page.evaluate("document.activeElement.dataset.name") == "bottom left"
        assert page.told == []


def test_enter_keeps_what_was_drawn_and_one_key_takes_it_back(chromium, desk):
    address, collection = desk
    key = waiting(collection)[1]
    before = front(collection, "B12-E34-P5-0002")
    with window(chromium, "desk") as page:
        drawing(page, f"{address}/outline/{key}?{THEN}")
        page.keyboard.press("1")
        page.keyboard.press("Shift+ArrowRight")
        drawn = corners(page)
        page.keyboard.press("Enter")
        page.wait_for_url("**/questions/one?*done=*")
        now = front(collection, "B12-E34-P5-0002").outline
        assert now.checked
        assert np.allclose(now.corners, drawn, atol=0.006)
        assert page.locator(".done").inner_text().startswith("Done: redrew the outline")
        page.keyboard.press("u")
        page.wait_for_url("**/questions/one?*undone=*")
        assert front(collection, "B12-E34-P5-0002") == before
        assert page.told == []


def test_escape_leaves_all_as_it_was(chromium, desk):
    address, collection = desk
    last = collection.catalogue.last_change()
    with window(chromium, "desk") as page:
        view = front(collection, THIRD)
        drawing(page, f"{address}/outline/{view.key}")
        page.keyboard.press("2")
        page.keyboard.press("ArrowUp")
        page.keyboard.press("Escape")
        page.wait_for_url(f"**/print/{THIRD}")
    assert collection.catalogue.last_change() == last


def test_a_corner_is_dragged_by_the_mouse_as_far_as_the_pointer_went(chromium, home):
    address, collection = home
    with window(chromium, "desk") as page:
        drawing(page, f"{address}/outline/{waiting(collection)[1]}")
        scale = 900 / page.locator("#capture").bounding_box()["width"]
        box = page.locator("[data-corner='2']").bounding_box()
        x, y = box["x"] + 30, box["y"] + 10  # not on its middle: the corner does not jump there
        start = corners(page)
        page.mouse.move(x, y)
        page.mouse.down()
        page.mouse.move(x - 25, y - 13, steps=5)
        page.mouse.up()
        page.mouse.move(x, y)
        assert corners(page)[2] - start[2] == pytest.approx((-25 * scale, -13 * scale), abs=0.02)
        page.keyboard.press("z")
        assert np.array_equal(corners(page), start)
        said(page, "As it was found.")
        assert page.told == []


def test_a_corner_is_dragged_by_a_finger_and_the_page_stays(chromium, home):
    address, collection = home
    with window(chromium, "phone") as page:
        drawing(page, f"{address}/outline/{waiting(collection)[1]}")
        scale = 900 / page.locator("#capture").bounding_box()["width"]
        box = page.locator("[data-corner='0']").bounding_box()
        x, y = box["x"] + 22, box["y"] + 22
        start, scrolled = corners(page), page.evaluate("scrollY")
        touch = page.context.new_cdp_session(page)
        for kind, at in (("touchStart", (x, y)), ("touchMove", (x + 6, y + 20)), ("touchMove", (x + 12, y + 30))):
            touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [{"x": at[0], "y": at[1]}]})
        touch.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
        assert corners(page)[0] - start[0] == pytest.approx((12 * scale, 30 * scale), abs=0.02)
        assert page.evaluate("scrollY") == scrolled


def test_a_corner_stays_on_the_capture_however_far_it_is_dragged(chromium, home):
    address, collection = home
    with window(chromium, "desk") as page:
        drawing(page, f"{address}/outline/{waiting(collection)[1]}")
        box = page.locator("[data-corner='0']").bounding_box()
        page.mouse.move(box["x"] + 22, box["y"] + 22)
        page.mouse.down()
        page.mouse.move(0, 0)
        page.mouse.up()
        assert corners(page)[0].tolist() == [-0.5, -0.5]


def test_the_loupe_shows_the_captures_own_pixels_and_the_paper_can_be_drawn_under_it(chromium, home):
    address, collection = home
    view = front(collection, THIRD)
    rgb = decode(collection.vault.path(view.capture))
    with window(chromium, "desk") as page:
        drawing(page, f"{address}/outline/{view.key}")
        for key in ("1", "+", "+", "+"):  # up to 16 times
            page.keyboard.press(key)
        page.wait_for_load_state("networkidle")
        assert page.locator("#loupe-words").inner_text() == "top left, 16 times"
        x, y = (round(value) for value in corners(page)[0])
        assert seen_in_the_middle(page) == rgb[y, x].tolist()
        start = corners(page)[0]
        box = page.locator("#loupe").bounding_box()
        page.mouse.move(box["x"] + 100, box["y"] + 100)
        page.mouse.down()
        page.mouse.move(box["x"] + 100 - 40, box["y"] + 100 - 80, steps=4)
        page.mouse.up()
        assert corners(page)[0] - start == pytest.approx((2.5, 5.0), abs=0.011)
        page.wait_for_load_state("networkidle")
        x, y = (round(value) for value in corners(page)[0])
        assert seen_in_the_middle(page) == rgb[y, x].tolist()


def seen_in_the_middle(page) -> list[int]:
    return page.evaluate(
        """() => { const c = document.querySelector("#loupe");
        return [...c.getContext("2d").getImageData(c.width / 2, c.height / 2, 1, 1).data.slice(0, 3)]; }"""
    )


def test_one_key_fits_a_rough_outline_to_the_paper(chromium, home, made):
    address, collection = home
    truth = made.truths["b.png"]
    with window(chromium, "desk") as page:
        drawing(page, f"{address}/outline/{waiting(collection)[1]}")
        assert corner_error(corners(page), truth) == pytest.approx(corner_error(truth - BESIDE, truth), abs=0.01)
        page.keyboard.press("f")
        said(page, "Fitted to the paper’s edge on all four sides. Not kept yet.")
        assert corner_error(corners(page), truth) < 0.1
        page.keyboard.press("z")
        assert corner_error(corners(page), truth) > 1


def test_where_no_edge_is_near_nothing_moves(chromium, home):
    address, collection = home
    with window(chromium, "desk") as page:
        drawing(page, f"{address}/outline/{waiting(collection)[1]}/another")
        for i, (across, down) in enumerate(((20, 20), (90, 20), (90, 90), (20, 90))):
            page.locator(".figures").evaluate("e => { e.open = true; }")
            page.locator(f"[name=across-{i}]").fill(str(across))
            page.locator(f"[name=down-{i}]").fill(str(down))
        page.locator("[data-does=fit]").click()
        said(page, "No clear edge lies near it")
        assert corners(page).tolist() == [[20, 20], [90, 20], [90, 90], [20, 90]]


def test_the_second_best_is_one_key_away_and_back(chromium, home, made):
    address, collection = home
    with window(chromium, "desk") as page:
        drawing(page, f"{address}/outline/{waiting(collection)[1]}")
        start = corners(page)
        page.keyboard.press("s")
        said(page, "On the second best.")
        assert np.allclose(corners(page), made.truths["b.png"], atol=0.006)
        page.keyboard.press("s")
        assert np.allclose(corners(page), start, atol=0.006)


def test_sides_that_cross_are_told_at_once_and_are_not_kept(chromium, desk):
    address, collection = desk
    last = collection.catalogue.last_change()
    with window(chromium, "desk") as page:
        drawing(page, f"{address}/outline/{waiting(collection)[1]}")
        one, other = corners(page)[:2]
        page.locator(".figures summary").click()
        for name, value in zip(("across-0", "down-0", "across-1", "down-1"), (*other, *one), strict=True):
            page.locator(f"[name={name}]").fill(str(value))
        said(page, "Two sides cross.")
        page.locator("#keep").click(force=True)
        said(page, "Two sides cross.")
        assert page.url.endswith(waiting(collection)[1])
    assert collection.catalogue.last_change() == last


def test_the_sentence_of_a_refusal_stays_beside_what_was_drawn(chromium, desk):
    """Another print has the same outline already: only the workbench knows."""
    address, collection = desk
    with window(chromium, "desk") as page:
        view = front(collection, THIRD)
        drawing(page, f"{address}/outline/{view.key}/another")
        page.locator(".figures summary").click()
        for i, corner in enumerate(view.outline.corners):
            page.locator(f"[name=across-{i}]").evaluate("(e, v) => { e.value = v; }", str(corner[0]))
            page.locator(f"[name=down-{i}]").evaluate("(e, v) => { e.value = v; }", str(corner[1]))
        page.evaluate("document.querySelector('#drawing').requestSubmit(document.querySelector('#keep'))")
        said(page, f"it is in use in {THIRD}")
        assert "/another" in page.url


def test_how_it_would_be_cut_out_is_seen_while_it_is_drawn(chromium, home):
    address, collection = home
    with window(chromium, "desk") as page:
        drawing(page, f"{address}/outline/{front(collection, THIRD).key}")
        picture = "document.querySelector('#straight').toDataURL()"
        before = page.evaluate(picture)
        size = page.evaluate(
            "[document.querySelector('#straight').width, document.querySelector('#straight').height]"
        )
        view = front(collection, THIRD)
        assert size[0] / size[1] == pytest.approx(view.width / view.height, rel=0.02)
        page.keyboard.press("1")
        page.keyboard.press("Shift+ArrowRight")
        page.keyboard.press("Shift+ArrowRight")
        assert page.evaluate(picture) != before


def answered(page, key: str) -> None:
    """Presses a key that answers, and waits for the next question."""
    with page.expect_navigation(url="**/questions/one?*"):
        page.keyboard.press(key)
    page.wait_for_load_state()


def test_edges_are_answered_one_after_the_other_by_one_key_each(chromium, desk):
    address, collection = desk
    none, less, half = waiting(collection)
    with window(chromium, "desk") as page:
        open_page(page, address + EDGES)
        answered(page, "l")
        assert f"/outline/{less}/" in page.content()
        answered(page, "s")
        assert front(collection, "B12-E34-P5-0002").outline.checked
        assert f"/outline/{half}/" in page.content()
        answered(page, "k")
        assert waiting(collection) == [none], "left for later, it comes when nothing else waits"
        page.keyboard.press("h")
        page.wait_for_url("**/outline/**")
        page.locator(".corners").wait_for()
        answered(page, "n")
        assert page.locator("h1").inner_text() == "Nothing of this waits"
        assert len(collection.catalogue.prints()) == 3
        answered(page, "u")
        assert waiting(collection) == [none]
        assert page.told == []


def test_each_edge_takes_one_key_and_the_next_is_there(chromium, desk):
    """Our aim is 100 outlines in 5 minutes; docs/measured.md has the pace."""
    address, collection = desk
    keys = waiting(collection)[1:]
    with window(chromium, "desk") as page:
        open_page(page, f"{address}{EDGES}&at=outline:{keys[0]}")
        page.wait_for_load_state("networkidle")
        for _ in keys:
            answered(page, "k")
    assert len(waiting(collection)) == 1


def test_the_pictures_of_the_next_edge_come_while_one_looks_at_this(chromium, home):
    address, collection = home
    none, less, _ = waiting(collection)
    with window(chromium, "desk") as page:
        open_page(page, f"{address}{EDGES}&at=outline:{less}")
        page.wait_for_load_state("networkidle")
        assert f"{address}/view/{none}.jpg" in page.asked


def test_everything_can_be_done_without_a_script(chromium, desk, made):
    address, collection = desk
    with window(chromium, "desk", script=False) as page:
        page.goto(address + EDGES)
        page.get_by_text("Draw it by hand").click()
        assert not page.locator(".corners").is_visible()
        for i, corner in enumerate(made.truths["d.png"]):
            page.locator(f"[name=across-{i}]").fill(f"{corner[0]:.2f}")
            page.locator(f"[name=down-{i}]").fill(f"{corner[1]:.2f}")
        page.get_by_role("button", name="Keep this outline").click()
        page.wait_for_url("**/questions/one?*done=*")
        assert np.allclose(front(collection, "B12-E34-P5-0004").outline.corners, made.truths["d.png"], atol=0.006)
        page.get_by_role("button", name="Take it back").click()
        assert len(waiting(collection)) == 3


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_when_no_edge_waits_that_is_said_in_an_open_place(chromium, desk, scheme):
    address, collection = desk
    outlines = Outlines(collection)
    for key in waiting(collection):
        outlines.check(key)
    with window(chromium, "phone", scheme) as page:
        open_page(page, address + EDGES)
        keep_picture(page, f"station-edges-none-{scheme}")
        assert "Nothing of this waits" in page.locator("main").inner_text()
        assert access_faults(page) == []
        assert overflow(page) == 0
