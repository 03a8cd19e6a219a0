"""Naming faces in a real browser: by keys, by typing, by a drawn frame; in every look."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from box_of_faces import READER, face_of, made_box, served_faces
from page_checks import LOOKS, access_faults, cut_off, keep_picture, open_page, overflow, window

from solander.core.faces import Aside
from solander.core.statements import Says
from solander.tasks import face_desk, name_faces
from solander.tasks.collection import Collection
from solander.tasks.face_switch import switch_faces

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def made(tmp_path_factory) -> Path:
    return made_box(tmp_path_factory.mktemp("faces"))


@pytest.fixture
def desk(made, tmp_path, monkeypatch) -> Iterator[tuple[str, Collection]]:
    monkeypatch.setattr(name_faces, "face_reader", lambda: READER)
    monkeypatch.setattr(face_desk, "face_model", lambda: tmp_path)
    with served_faces(made, tmp_path / "collection") as found:
        yield found


def _people(collection: Collection) -> list[str]:
    return [one.value for one in collection.catalogue.statements() if one.says is Says.PERSON]


@pytest.mark.parametrize("name", ["asked", "of-print", "off", "erase", "none-left"])
def test_pages_are_open_to_everybody_and_fit(chromium, desk, name):
    address, collection = desk
    view = collection.catalogue.faces()[0].view
    name_faces.name_faces(collection, [face_of(collection, 0)], "Ingrid Åsheim-Wróblewska")
    path = {"of-print": f"/faces/in/{view}", "erase": "/faces/erase"}.get(name, "/faces")
    if name == "asked":
        path = f"/faces?start={face_of(collection, 0, 1)}"
    if name == "off":
        switch_faces(collection, on=False)
    if name == "none-left":
        path = "/faces?within=B9"
    for size, scheme in LOOKS:
        with window(chromium, size, scheme) as page:
            open_page(page, address + path)
            page.wait_for_load_state("networkidle")
            keep_picture(page, f"station-faces-{name}-{size}-{scheme}")
            assert page.told == []
            assert all(asked.startswith(address) for asked in page.asked)
            assert overflow(page) == 0
            assert cut_off(page) == []
            assert access_faults(page) == []


def test_one_key_names_another_leaves_and_one_takes_back(chromium, desk):
    address, collection = desk
    name_faces.name_faces(collection, [face_of(collection, 0)], "Ida")
    with window(chromium, "desk") as page:
        open_page(page, f"{address}/faces?start={face_of(collection, 0, 1)}")
        page.keyboard.press("1")
        page.get_by_text("Done: named a face Ida.").wait_for()
        page.wait_for_load_state()  # keys answer once the script is there
        assert _people(collection) == ["Ida", "Ida"]
        page.keyboard.press("u")
        page.get_by_text("Done:").wait_for(state="detached")
        page.wait_for_load_state()
        assert _people(collection) == ["Ida"]
        page.keyboard.press("l")
        page.get_by_text("Done: left a face for later.").wait_for()
        assert page.told == []


def test_a_name_is_typed_from_the_keyboard_alone(chromium, desk):
    address, collection = desk
    with window(chromium, "desk") as page:
        open_page(page, f"{address}/faces?start={face_of(collection, 2)}")
        page.keyboard.press("w")
        page.keyboard.type("Nils")
        page.keyboard.press("Enter")
        page.get_by_text("Done: named a face Nils.").wait_for()
    assert _people(collection) == ["Nils"]


def test_the_frame_lies_on_the_face(chromium, desk):
    address, collection = desk
    face = collection.catalogue.face(face_of(collection, 2))
    with window(chromium, "desk") as page:
        open_page(page, f"{address}/faces?start={face.key}")
        picture = page.locator(".framed img").bounding_box()
        frame = page.locator(".asked rect").first.bounding_box()
    seen = [(frame["x"] - picture["x"]) / picture["width"], (frame["y"] - picture["y"]) / picture["height"]]
    _, view = collection.catalogue.view(face.view)
    box = face.box.turned(view.turn)
    assert seen == pytest.approx([box.left, box.top], abs=0.01)


@pytest.mark.parametrize("by", ["mouse", "keys"])
def test_a_missed_face_is_framed_and_added(chromium, desk, by):
    address, collection = desk
    view = collection.catalogue.prints()[2].recto
    truth = next(one.box for one in READER.__class__().faces_in(_pixels(collection, view)) if one.box.left < 0.2)
    with window(chromium, "desk") as page:
        open_page(page, f"{address}/faces/in/{view.key}")
        page.keyboard.press("d")
        page.locator(".in-hand").wait_for()
        picture = page.locator(".framed img").bounding_box()
        if by == "mouse":
            left, top = picture["x"] + truth.left * picture["width"], picture["y"] + truth.top * picture["height"]
            page.mouse.move(left, top)
            page.mouse.down()
            page.mouse.move(left + truth.width * picture["width"], top + truth.height * picture["height"], steps=4)
            page.mouse.up()
        else:
            _lay_by_keys(page, truth)
        page.locator("#add").click()
        page.get_by_text("Done: drew a face in B2-E5-0003.").wait_for()
        assert page.told == []
    (drawn,) = [face for face in collection.catalogue.faces(view=view.key) if face.score is None]
    assert drawn.box.turned(view.turn).overlap(truth) > 0.75
    assert drawn.points, "the models were asked to tell it"


def _lay_by_keys(page, truth) -> None:
    """From 40 %, 40 %, 10 × 14 % in steps of half a per cent, as the page says."""
    wanted = [200 * value for value in (truth.left - 0.4, truth.top - 0.4, truth.width - 0.1, truth.height - 0.14)]
    for place, steps in enumerate(wanted):
        held, keys = "Shift+" * (place > 1), (("Left", "Right"), ("Up", "Down"))[place % 2]
        for _ in range(abs(round(steps))):
            page.keyboard.press(f"{held}Arrow{keys[int(steps > 0)]}")


def _pixels(collection: Collection, view):
    from solander.imaging.decode import decode
    from solander.tasks.look_for_faces import picture_of_view

    return decode(picture_of_view(collection.root, view))


def test_without_a_script_a_face_is_named_and_drawn_all_the_same(chromium, desk):
    address, collection = desk
    blue = face_of(collection, 2)
    with window(chromium, "phone", script=False) as page:
        open_page(page, f"{address}/faces?start={blue}")
        page.get_by_text("Not a person").click()
        page.get_by_text("Done: said that a face is no person.").wait_for()
        assert collection.catalogue.face(blue).aside is Aside.NO_PERSON
        view = collection.catalogue.prints()[2].recto
        open_page(page, f"{address}/faces/in/{view.key}")
        for name, value in (("left", "70"), ("top", "70"), ("width", "10"), ("height", "12")):
            page.locator(f"#frame [name={name}]").fill(value)
        page.locator("#add").click()
        page.get_by_text("Done: drew a face").wait_for()


def test_the_switch_is_turned_off_and_on_again_and_faces_are_looked_for_at_once(chromium, desk, monkeypatch):
    address, collection = desk
    looked = []
    monkeypatch.setattr(face_desk, "look_for_faces", lambda *_, **__: looked.append(True))
    with window(chromium, "phone") as page:
        open_page(page, f"{address}/faces")
        page.get_by_text("Which faces, and whether they are kept at all").click()
        page.get_by_text("Switch faces off").click()
        page.get_by_text("Shall faces be kept in this collection?").wait_for()
        page.get_by_text("Yes, keep faces here").click()
        page.get_by_text("Who is this?").first.wait_for()
    assert collection.catalogue.setting("faces").startswith("on ")
    assert looked == [True]
