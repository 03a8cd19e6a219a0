"""The station in a real browser, in all its states, before a stand-in for the live stage."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from attrs import frozen
from page_checks import LOOKS, access_faults, cut_off, keep_picture, open_page, overflow, until, window
from stage_stand_in import LAST, SLIP, WATCHED, StandIn, drawn_stage

pytestmark = [pytest.mark.browser, pytest.mark.slow]

LONG = "between Whitsun 1936 and the war"
LONG_NAME = "Wawrzyniec Brzęczyszczykiewicz-Chrząszczyżewoszycki (40), perhaps Małgorzata and 3 not named"
AGAIN = {
    "accession": "B2-E5-0014",
    "side": "front",
    "old": "/station/1/drawn/12.jpg",
    "new": "/station/1/drawn/14.jpg",
    "faults": ["Not sharp"],
}


@frozen
class Opened:
    """The page of the station with what tells it."""

    page: object
    stage: StandIn

    def text(self, name: str) -> str:
        return self.page.locator(f"#{name}").inner_text().strip()

    def until(self, script: str) -> None:
        """Waits until something is so on the page; its policy forbids to do that in the page itself."""
        until(self.page, lambda: self.page.evaluate(script), script)

    def until_posted(self, count: int = 1) -> list[tuple[str, dict]]:
        for _ in range(400):
            if len(self.stage.posted) >= count:
                break
            self.page.wait_for_timeout(25)
        return list(self.stage.posted)

    def has_camera(self) -> None:
        self.stage.tell(
            camera={"words": ["300 pixels an inch in a full still: it is used for every print."]},
            slip=SLIP,
            last=LAST,
        )
        self.stage.show(drawn_stage())
        self.page.wait_for_selector("#stage", state="visible")


@pytest.fixture
def home(home_of_stage: str) -> str:
    return home_of_stage


@pytest.fixture
def station(chromium, home, stage) -> Iterator[Opened]:
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/station")
        stage.wait()
        yield Opened(page, stage)


@pytest.mark.parametrize(("size", "scheme"), [*LOOKS, ("zoomed", "light")])
def test_every_state_is_open_to_everybody_and_fits(chromium, home, stage, size, scheme):
    faults = []
    with window(chromium, size, scheme) as page:
        open_page(page, f"{home}/station")
        stage.wait()
        for name in told_one_after_the_other(Opened(page, stage)):
            page.wait_for_timeout(120)
            keep_picture(page, f"station-{name}-{size}-{scheme}")
            found = [*access_faults(page), *cut_off(page)]
            found += [f"wider than its window by {over} px"] if (over := overflow(page)) else []
            faults += [f"{name}: {fault}" for fault in found]
        assert page.told == []
        assert all(address.startswith(home) for address in page.asked)
    assert faults == []


def told_one_after_the_other(station: Opened) -> Iterator[str]:
    """Tells the page each state that there is, and gives its name."""
    stage = station.stage
    stage.tell(camera=None, slip={}, last=[], watched=WATCHED["empty"])
    yield "no-camera"
    station.has_camera()
    for name, watched in WATCHED.items():
        stage.show(drawn_stage(laid=bool(watched["outlines"]), hand=name == "hand"))
        stage.tell(watched=watched)
        yield name
    long = [{"part": "date", "words": LONG, "sure": "guess"}, {"part": "people", "words": LONG_NAME}]
    stage.tell(watched=WATCHED["still"], slip={"parts": long, "sounds": [{"id": "7", "covers": ["B2-E5-0014"]}]})
    stage.tell(story={"running": True, "seconds": 84, "prints": ["B2-E5-0014"]}, others=1)
    stage.tell(heard={"id": 1, "words": "summer 1958, Bergen", "state": "ask"})
    yield "much-said"
    station.page.keyboard.press("1")
    station.page.wait_for_selector(".typing input")
    yield "typing"
    station.page.keyboard.press("Escape")
    stage.tell(again=AGAIN, trouble={"what": "Not taken", "why": "the picture is cut off", "todo": "Try again"})
    yield "again"


@pytest.mark.parametrize("code", ["de", "fr"])
@pytest.mark.parametrize("size", ["desk", "phone"])
def test_longer_languages_fit(chromium, home, stage, code, size):
    faults = []
    with window(chromium, size) as page:
        page.context.add_cookies([{"name": "language", "value": code, "url": home}])
        open_page(page, f"{home}/station")
        stage.wait()
        for name in told_one_after_the_other(Opened(page, stage)):
            found = cut_off(page) + ([f"wider by {over} px"] if (over := overflow(page)) else [])
            faults += [f"{name}: {fault}" for fault in found]
        assert page.locator("html").get_attribute("lang") == code
        assert "Take it now" not in page.locator(".orders").inner_text()
        keep_picture(page, f"station-{code}-{size}")
    assert faults == []


def test_type_of_twice_the_size_fits(chromium, home, stage):
    with window(chromium, "phone") as page:
        open_page(page, f"{home}/station")
        stage.wait()
        Opened(page, stage).has_camera()
        page.evaluate("document.documentElement.style.fontSize = '200%'")
        assert overflow(page) == 0


@pytest.mark.parametrize(
    ("name", "line", "word", "state"),
    [
        ("unsure", "is-unsure", "edge not sure", "Something moves"),
        ("still", "is-still", "lies still", "The print lies still"),
        ("glare", "is-still", "lies still", "Glare at the top edge"),
        ("taken", "is-taken", "taken", "Taken"),
    ],
)
def test_the_line_and_a_word_tell_how_far_it_is(station, name, line, word, state):
    station.has_camera()
    station.stage.tell(watched=WATCHED[name])
    station.until(f"document.querySelector('.edge.{line}')")
    assert station.text("stage-edge-words") == word
    assert station.text("state") == state


def test_lines_differ_in_more_than_colour(station):
    """Source: WCAG 2.2, success criterion 1.4.1."""
    styles = {}
    station.has_camera()
    for name in ("unsure", "still", "taken"):
        station.stage.tell(watched=WATCHED[name])
        station.until(f"document.querySelector('#state').dataset.state === '{WATCHED[name]['state']}'")
        styles[name] = station.page.evaluate(
            "(() => { const s = getComputedStyle(document.querySelector('.edge'));"
            "return [s.strokeDasharray, s.strokeWidth]; })()"
        )
    assert styles["unsure"][0] != "none"
    assert styles["still"][0] == styles["taken"][0] == "none"
    assert float(styles["taken"][1][:-2]) >= 2 * float(styles["still"][1][:-2])


def test_the_outline_lies_on_the_picture_where_it_was_found(station):
    """Beside the drawing itself: the pixel in each corner's way to the middle is paper, outwards it is not."""
    station.has_camera()
    station.stage.tell(watched=WATCHED["still"])
    station.page.wait_for_selector(".edge.is-still", state="attached")
    box, lines = (station.page.locator(one).bounding_box() for one in ("#stage-picture", "#stage-lines"))
    assert box == lines
    assert box["width"] / box["height"] == pytest.approx(640 / 480, rel=0.01)
    assert station.page.evaluate("document.querySelector('.edge').getAttribute('points')") == (
        "0.28,0.2 0.74,0.24 0.71,0.78 0.25,0.74"
    )


def test_each_picture_drawn_asks_for_the_next(station):
    station.has_camera()
    station.stage.show(drawn_stage(laid=False))
    for _ in range(400):
        if station.stage.drawn >= 2:
            break
        station.page.wait_for_timeout(25)
    assert station.stage.drawn >= 2


def test_type_is_read_at_an_arms_length_and_the_picture_comes_first(station):
    """Sizes: look.md, 28 and 44 pixels at the station."""
    station.has_camera()
    station.stage.tell(watched=WATCHED["still"])
    size = "(one) => parseFloat(getComputedStyle(document.querySelector(one)).fontSize)"
    assert station.page.evaluate(size, "#state") == 44
    assert station.page.evaluate(size, "#slip-sentence") == 28
    picture, slip = (station.page.locator(one).bounding_box() for one in ("#stage", ".stand-slip"))
    assert picture["width"] * picture["height"] > 0.2 * 1440 * 900
    assert picture["y"] + picture["height"] <= slip["y"]
    assert slip["y"] + slip["height"] < 900
    assert station.page.locator(".orders").bounding_box()["y"] < 860


def test_a_part_of_the_slip_is_typed_where_it_stands_and_dropped(station):
    station.has_camera()
    station.page.keyboard.press("1")
    station.page.keyboard.type("summer 59")
    station.page.wait_for_selector(".typing .understood:has-text('ummer 1959')")
    assert station.stage.posted == []
    station.page.keyboard.press("Enter")
    assert station.until_posted() == [("put", {"part": "date", "words": "summer 59"})]
    station.page.wait_for_selector(".typing", state="detached")
    station.page.keyboard.press("2")
    station.page.get_by_role("button", name="Drop").click()
    assert station.until_posted(2)[1] == ("drop", {"part": "place"})


def test_a_field_left_changes_nothing_and_gives_the_focus_back(station):
    station.has_camera()
    station.page.keyboard.press("3")
    station.page.keyboard.type("Nobody")
    station.page.keyboard.press("Escape")
    assert station.page.evaluate("document.activeElement.closest('.part-people') !== null")
    assert "Ingrid (31) and Nils (28)" in station.text("slip-sentence")
    assert station.stage.posted == []


def test_what_is_being_typed_stays_while_the_slip_changes(station):
    station.has_camera()
    station.page.keyboard.press("1")
    station.page.keyboard.type("19")
    station.stage.tell(slip={"parts": [{"part": "place", "words": "Vessholm"}]})
    station.page.wait_for_selector(".part-place .words:has-text('Vessholm')")
    assert station.page.locator(".typing input").input_value() == "19"


def test_all_may_be_typed_in_one_line(station):
    station.has_camera()
    station.page.keyboard.press("t")
    station.page.keyboard.type("summer 1958, Bergen")
    station.page.keyboard.press("Enter")
    assert station.until_posted() == [("say", {"words": "summer 1958, Bergen"})]
    station.stage.tell(told={"words": "“xyz” was not understood.", "tone": "not"})
    station.page.wait_for_selector("#told:has-text('not understood')")
    assert station.page.locator("#say input").input_value() == "summer 1958, Bergen"
    station.page.keyboard.press("Enter")
    station.until_posted(2)
    station.stage.tell(told={"words": "Summer 1958 · Bergen", "tone": "understood"})
    station.until("document.querySelector('#say input').value === ''")


def test_what_was_not_understood_is_a_player_and_typed_once(station):
    station.has_camera()
    station.stage.tell(slip={**SLIP, "sounds": [{"id": "7", "covers": ["B2-E5-0013", "B2-E5-0014"]}]})
    station.page.wait_for_selector(".sound")
    assert "B2-E5-0013, B2-E5-0014" in station.text("slip-sounds")
    station.page.locator(".sound input").fill("with Aunt Signe")
    station.page.keyboard.press("Enter")
    assert station.until_posted() == [("say", {"words": "with Aunt Signe", "sound": "7"})]


@pytest.mark.parametrize(
    ("key", "order"),
    [
        ("PageDown", "take"),
        ("Enter", "take"),
        (" ", "take"),
        ("AudioVolumeUp", "take"),
        ("PageUp", "back"),
        ("b", "back"),
        ("a", "take-again"),
        ("u", "undo"),
        ("c", "clear"),
        ("s", "story"),
        ("r", "rest"),
    ],
)
def test_keys_pedals_and_buttons_order(station, key, order):
    """Names of keys: UI Events KeyboardEvent key Values (W3C)."""
    station.has_camera()
    station.page.wait_for_selector(".newest")
    if key == "AudioVolumeUp":  # no key of a usual keyboard
        station.page.evaluate(
            "document.body.dispatchEvent(new KeyboardEvent('keydown', {key: 'AudioVolumeUp', bubbles: true}))"
        )
    else:
        station.page.keyboard.press(key)
    station.until_posted()
    assert station.stage.orders() == [order]


def test_no_key_orders_while_one_types_and_a_pedal_does_not_press_a_button_again(station):
    station.has_camera()
    station.page.keyboard.press("t")
    station.page.keyboard.type("undo all of it")
    assert station.stage.posted == []
    station.page.keyboard.press("PageDown")  # a foot may press while hands type
    station.until_posted()
    assert station.page.locator("#say input").input_value() == "undo all of it"
    station.page.keyboard.press("Escape")
    station.page.get_by_role("button", name="Undo that").click()
    station.until_posted(2)
    station.page.keyboard.press("Enter")
    station.until_posted(3)
    assert station.stage.orders() == ["take", "undo", "take"]


def test_the_table_of_keys_names_what_works(station):
    from solander.station.station_room import KEYS

    station.has_camera()
    told = station.page.locator("table.keys").inner_text()
    on_page = set(station.page.evaluate("[...document.querySelectorAll('[data-key]')].map((e) => e.dataset.key)"))
    for keys, _words in KEYS:
        assert all(key in told for key in keys)
    single = {key.lower() for keys, _ in KEYS for key in keys if len(key) == 1 and key.isalpha()}
    # Those not on the page just now come with what is asked: a back, a choice, a question, a changed light.
    assert single - on_page == {"i", "o", "k", "l", "y", "n"}


def test_a_back_is_asked_about_and_answered_by_key(station):
    station.has_camera()
    station.stage.tell(last=[{**LAST[1], "proposed_back": True}])
    station.page.get_by_role("button", name="It is the back of the one before").wait_for()
    station.page.keyboard.press("i")
    assert station.until_posted() == [("back", {"yes": True})]
    station.page.keyboard.press("o")
    assert station.until_posted(2)[1] == ("back", {"yes": False})


def test_old_and_new_lie_side_by_side_and_a_person_decides(station):
    station.has_camera()
    station.stage.tell(again=AGAIN)
    station.page.get_by_role("heading", name="Which picture of B2-E5-0014").wait_for()
    old, new = (station.page.locator("#again figure").nth(i).bounding_box() for i in (0, 1))
    assert old["y"] == new["y"]
    assert old["x"] + old["width"] <= new["x"]
    assert station.page.locator("#stage").is_visible()
    station.page.keyboard.press("l")
    assert station.until_posted() == [("again", {"keep": "old"})]
    station.stage.tell(again=None)
    station.page.wait_for_selector("#again", state="hidden")


def test_what_may_have_been_said_is_confirmed_by_key(station):
    station.has_camera()
    station.stage.tell(heard={"id": 5, "words": "autumn 1961", "state": "ask"})
    station.page.wait_for_selector("#heard:has-text('Was this said: autumn 1961?')")
    station.page.keyboard.press("n")
    assert station.until_posted() == [("heard", {"id": 5, "yes": False})]


def test_a_refusal_is_told_in_one_sentence_and_nothing_typed_is_lost(station):
    station.has_camera()
    station.stage.refuses = {"what": "Not understood", "why": "no such month", "todo": "Say it another way"}
    station.page.keyboard.press("1")
    station.page.keyboard.type("31 Juni")
    station.page.keyboard.press("Enter")
    station.page.wait_for_selector("#trouble:has-text('Not understood: no such month. Say it another way.')")
    assert station.page.locator(".typing input").input_value() == "31 Juni"


def test_rest_is_quiet_and_any_key_goes_on(station):
    station.has_camera()
    station.stage.tell(watched=WATCHED["resting"])
    station.page.wait_for_selector("#rest-words", state="visible")
    assert float(station.page.evaluate("getComputedStyle(document.querySelector('#stage')).opacity")) < 0.6
    station.page.keyboard.press("g")
    station.until_posted()
    assert station.stage.orders() == ["wake"]
    station.page.locator("#rest-words").click()
    station.until_posted(2)
    assert station.stage.orders() == ["wake", "wake"]
    station.stage.tell(watched=WATCHED["empty"])
    station.page.wait_for_selector("#rest-words", state="hidden")


def test_a_lost_socket_is_told_and_comes_again(station):
    station.has_camera()
    station.stage.cut()
    station.page.wait_for_selector("#lost", state="visible")
    station.stage.wait()
    station.page.wait_for_selector("#lost", state="hidden")
    station.stage.tell(watched=WATCHED["hand"])
    station.until("document.querySelector('#state').textContent === 'A hand is in the picture'")


def test_changed_light_asks_for_the_empty_stage(station):
    station.has_camera()
    station.stage.tell(watched=WATCHED["drift"])
    station.page.get_by_role("button", name="The stage is empty now").wait_for()
    station.page.keyboard.press("e")
    station.until_posted()
    assert station.stage.orders() == ["empty-stage"]


def test_a_story_tells_its_time_its_prints_and_that_it_changes_nothing(station):
    station.has_camera()
    station.stage.tell(story={"running": True, "seconds": 84, "prints": ["B2-E5-0014"]})
    station.page.wait_for_selector("#story", state="visible")
    assert "1:2" in station.text("story-time")
    assert "B2-E5-0014" in station.text("story")
    assert "changes no slip" in station.text("story")
    assert station.page.locator(".unheard").is_visible(), "the microphone is off"
    station.page.keyboard.press("s")
    station.until_posted()
    assert station.stage.orders() == ["story-ends"]


def test_only_what_lasts_is_read_out(chromium, home, stage):
    """The clock of the page is turned by hand, so that it does not matter how fast this machine is."""
    with window(chromium, "desk") as page:
        page.clock.install()
        open_page(page, f"{home}/station")
        stage.wait()
        station = Opened(page, stage)
        station.has_camera()
        read = []
        for name, words, lasts in (
            ("unsure", "Something moves", 200),
            ("hand", "A hand is in the picture", 200),
            ("still", "The print lies still", 5000),
            ("hand", "A hand is in the picture", 200),
            ("taken", "Taken", 5000),
        ):
            stage.tell(watched=WATCHED[name])
            station.until(f"document.querySelector('#state').textContent === '{words}'")
            page.clock.run_for(lasts)
            read.append(page.locator("#read-out").text_content())
    still = "The print lies still."
    assert read[2:] == [still, still, "Taken. Lay the next one down."]
    assert read[0] == read[1]
    assert "hand" not in read[0]


def test_without_script_the_page_explains_itself(chromium, home):
    with window(chromium, "desk", script=False) as page:
        open_page(page, f"{home}/station")
        assert "needs scripts" in page.locator("main").inner_text()
        assert not page.locator("#station").is_visible()
