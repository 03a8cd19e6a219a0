"""A second light and a blank sheet of the collection: truth is the same capture without glare, evenly lit."""

from __future__ import annotations

import hashlib
import io

import cv2
import numpy as np
import pytest
from attrs import evolve
from numpy.typing import NDArray
from PIL import Image
from skimage.color import deltaE_ciede2000, rgb2lab
from small_box import SHARP, capture_of

from solander.core.errors import Trouble
from solander.core.prints import Stand, View
from solander.core.questions import Asks
from solander.core.treatments import Step, Treatment
from solander.imaging.decode import decode, probe
from solander.imaging.linear_light import decode_codes, encode_light
from solander.imaging.rectify import quarter_turn
from solander.tasks.accession import accession
from solander.tasks.ask import ask, question_key
from solander.tasks.collection import Collection
from solander.tasks.one_print import one_print
from solander.tasks.prepare import laid_straight
from solander.tasks.seen_twice import duplicate_sentence
from solander.tasks.stand import capture_of as record_of
from solander.tasks.step_with_picture import offered_with_picture, step_with_picture
from solander.tasks.treated import treated, treated_paths, untreated_pixels
from solander.tasks.upright import turn_by_hand

pytestmark = pytest.mark.slow

Rgb = NDArray[np.uint8]


def even() -> Rgb:
    """The capture in an even light without glare."""
    return np.asarray(capture_of(1, SHARP, 2.0), np.uint8)


def under_lamp(rgb: Rgb, x: float) -> Rgb:
    """With a lamp mirrored at that share of the width, as light that is added."""
    height, width = rgb.shape[:2]
    light = (rgb / 255.0) ** 2.2
    across, down = np.meshgrid(np.arange(width) / width, np.arange(height) / height)
    lamp = 0.6 * np.exp(-(((across - x) / 0.05) ** 2) - ((down - 0.5) / 0.07) ** 2)
    return np.asarray(np.clip((light + lamp[..., None]) ** (1 / 2.2), 0, 1) * 255, np.uint8)


def fall_off(rgb: Rgb) -> Rgb:
    """Under a lamp at the left: the right edge gets 60 % of the light of the left one."""
    return lit(rgb, np.linspace(1.0, 0.6, rgb.shape[1])[None, :, None])


def lit(rgb: Rgb, share: NDArray[np.float64] | float) -> Rgb:
    """In so much of the light."""
    return np.asarray(np.rint(encode_light(decode_codes(rgb / 255.0) * share) * 255), np.uint8)


def keep(collection: Collection, rgb: Rgb, name: str) -> str:
    """The SHA-256 of a further capture without a print."""
    held = io.BytesIO()
    Image.fromarray(rgb).save(held, "PNG")
    path = collection.root.parent / name
    path.write_bytes(held.getvalue())
    kept = collection.vault.put(path, suffix=".png")
    with collection.catalogue.act("test", "kept") as act, act.work() as work:
        work.keep_capture(record_of(kept.path, name, kept.sha256, probe(kept.path)))
        work.commit()
    return str(kept.sha256)


def taken(collection: Collection, rgb: Rgb) -> View:
    """The front of a print that is taken in."""
    path = collection.root.parent / "first.png"
    Image.fromarray(rgb).save(path)
    accession(collection, [path])
    return front(collection)


def front(collection: Collection) -> View:
    view = collection.catalogue.print("P-0001").recto
    assert view is not None
    return view


def as_cut(rgb: Rgb, view: View) -> Rgb:
    """What the view's outline cuts out of another picture of that frame."""
    return quarter_turn(laid_straight(rgb, view), view.turn)


def difference(one: Rgb, other: Rgb) -> float:
    """CIEDE2000, mean (scikit-image's), of areas of 4 × 4 pixels: noise and what JPEG loses are no light."""
    lab = [
        rgb2lab(cv2.resize(each, None, fx=0.25, fy=0.25, interpolation=cv2.INTER_AREA)) for each in (one, other)
    ]
    return float(deltaE_ciede2000(*lab)[1:-1, 1:-1].mean())


def with_second(collection: Collection, view: View, sha256: str) -> None:
    """The other capture as a picture of the same side that a person did not choose."""
    other = evolve(view, capture=sha256)
    with collection.catalogue.act("test", "again") as act, act.work() as work:
        work.add_view("P-0001", other)
        work.commit()
    with collection.catalogue.act("test", "chosen") as act, act.work() as work:
        work.take_out_view("P-0001", other)
        work.commit()


def test_a_second_capture_with_the_lamp_elsewhere_takes_the_glare_out(collection: Collection) -> None:
    view = taken(collection, under_lamp(even(), 0.4))
    with pytest.raises(Trouble, match="Capture it again without moving it"):
        step_with_picture(collection, view, "two lights")
    with_second(collection, view, keep(collection, under_lamp(even(), 0.6), "second.png"))
    assert offered_with_picture(collection, view) == ("two lights",)
    step = step_with_picture(collection, view, "two lights", who="Ada")
    assert step.told == "glare taken out with a second capture, the lamp on the other side"
    truth = as_cut(even(), view)
    before = difference(untreated_pixels(collection, view), truth)
    after = difference(treated(collection, view, Treatment((step,))).picture, truth)
    assert before > 2
    assert after < before / 3


def test_a_print_that_was_taken_for_another_and_is_this_one_captured_twice_is_a_second_light(
    collection: Collection,
) -> None:
    view = taken(collection, under_lamp(even(), 0.4))
    path = collection.root.parent / "twice.png"
    Image.fromarray(under_lamp(even(), 0.6)).save(path)
    accession(collection, [path])
    sentence = duplicate_sentence("P-0002", "P-0001")  # so much glare hides from the search that both are alike
    with collection.catalogue.act("test", "asked") as act, act.work() as work:
        ask(work, Asks.DUPLICATE, "P-0002", sentence)
        work.commit()
    one_print(collection, question_key(Asks.DUPLICATE, "P-0002", sentence), "P-0001")
    step = step_with_picture(collection, view, "two lights")
    assert step.parameters["second"] == hashlib.sha256(path.read_bytes()).hexdigest()


def test_a_second_capture_without_other_glare_or_of_another_print_is_not_offered(collection: Collection) -> None:
    view = taken(collection, even())
    with_second(collection, view, keep(collection, np.asarray(capture_of(2, SHARP, 2.0), np.uint8), "other.png"))
    noise = np.random.default_rng(1).normal(0, 1.5, even().shape)
    with_second(collection, view, keep(collection, np.clip(even() + noise, 0, 255).astype(np.uint8), "same.png"))
    assert offered_with_picture(collection, view) == ()


def test_a_blank_sheet_of_the_stage_evens_the_light_and_follows_a_turn(collection: Collection) -> None:
    view = taken(collection, fall_off(even()))
    blank = keep(collection, fall_off(np.full_like(even(), 190)), "blank.png")
    with pytest.raises(Trouble, match="Measure the stand with a blank sheet"):
        step_with_picture(collection, view, "even light")
    with collection.catalogue.act("test", "stage") as act, act.work() as work:
        work.replace_view("P-0001", view, evolve(view, stand=Stand(picture=blank)))
        work.commit()
    view = front(collection)
    step = step_with_picture(collection, view, "even light", who="Ada")
    assert step.parameters == {"field": blank}
    left = min(x for x, _y in view.outline.corners) / even().shape[1]
    # As bright as its brightest place is now, for the exposure stays.
    truth = as_cut(lit(even(), 1.0 - 0.4 * left), view)
    before = difference(untreated_pixels(collection, view), truth)
    after = difference(treated(collection, view, Treatment((step,))).picture, truth)
    assert before > 2
    assert after < before / 3
    with collection.catalogue.act("test", "treated") as act, act.work() as work:
        work.set_treatment(view.key, Treatment((step,)))
        work.commit()
    straight = decode(treated_paths(collection, front(collection))[0])
    turn_by_hand(collection, view.key, 1)
    turned = decode(treated_paths(collection, front(collection))[0])
    assert np.abs(np.rot90(turned, 1).astype(int) - straight).mean() < 1.5


def test_a_picture_that_is_no_blank_sheet_or_of_another_frame_is_refused_in_a_sentence(
    collection: Collection,
) -> None:
    view = taken(collection, even())
    for rgb, why in (
        (np.asarray(capture_of(4, SHARP, 9.0), np.uint8), "shows no blank sheet"),
        (np.full((300, 300, 3), 190, np.uint8), "not taken with the frame"),
    ):
        name = keep(collection, rgb, f"{len(why)}.png")
        with pytest.raises(Trouble, match=why):
            treated(collection, view, Treatment((Step("even light", {"field": name}),)))
    with pytest.raises(Trouble, match="is not there"):
        treated(collection, view, Treatment((Step("two lights", {"second": "0" * 64}),)))
