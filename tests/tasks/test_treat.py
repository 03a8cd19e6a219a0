"""Acts on treatments: one act with one sentence each, undone whole; what can't be done is told."""

from __future__ import annotations

from pathlib import Path

import cv2
import numpy as np
import pytest
from attrs import evolve
from PIL import Image

from solander.core.errors import NotFound, Trouble
from solander.core.prints import Capture, Outline, Print, Side, View
from solander.core.treatments import UNTREATED, Step, Treatment
from solander.imaging.simulate import drawn_picture
from solander.tasks.collection import Collection
from solander.tasks.measured_step import OFFERED, measured_step
from solander.tasks.prepare import view_paths
from solander.tasks.treat import Wish, give, prints_in, set_treatment, switch, wishes_of, withdraw

SMALL = cv2.resize(drawn_picture(3), (300, 200), interpolation=cv2.INTER_AREA)
YELLOW = cv2.copyMakeBorder(SMALL, 24, 24, 24, 24, cv2.BORDER_CONSTANT, value=(240, 226, 190))
OUTLINE = Outline(((0.0, 0.0), (347.0, 0.0), (347.0, 247.0), (0.0, 247.0)), 1.0)


@pytest.fixture
def box(collection: Collection) -> Collection:
    """Three prints in B1, B1/E1 and B2: the first two with a yellow border, the third without any."""
    with collection.catalogue.act("test", "began") as act, act.work() as work:
        for number, (code, rgb) in enumerate((("B1", YELLOW), ("B1/E1", YELLOW), ("B2", SMALL)), start=1):
            sha = f"{number:064d}"
            work.keep_capture(Capture(sha, f"{number}.jpg", "image/jpeg", 1, 400, 300))
            view = View(sha, 0, OUTLINE, Side.RECTO, rgb.shape[1], rgb.shape[0])
            work.add_print(Print(f"{code.replace('/', '-')}-0001", code, 1, (view,)))
            for path in view_paths(collection.views_root, view.key):
                keep(path, rgb)
        work.commit()
    return collection


def keep(path: Path, rgb: np.ndarray) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    Image.fromarray(rgb).save(path, quality=95)


def told(collection: Collection, accession: str) -> tuple[str, ...]:
    view = collection.catalogue.print(accession).recto
    assert view is not None
    return view.treatment.sentences


def test_a_container_is_given_a_step_in_one_act_and_undone_whole(box: Collection) -> None:
    done = give(box, prints_in(box, containers=["B1"]), [Wish("neutral"), Wish("density", {"by": -0.1})])
    assert done.prints == ("B1-0001", "B1-E1-0001")
    assert told(box, "B1-E1-0001") == ("paper border made neutral", "mid-tones lighter by a density of 0.10")
    assert told(box, "B2-0001") == ()
    said = box.catalogue.undo("archivist", only=done.act)
    assert said == "treated 2 prints: paper border made neutral; mid-tones lighter by a density of 0.10"
    assert told(box, "B1-0001") == ()


def test_each_print_is_measured_by_itself_and_one_that_does_not_tell_stays_as_it_was(box: Collection) -> None:
    done = give(box, prints_in(box), [Wish("neutral")])
    assert done.prints == ("B1-0001", "B1-E1-0001")
    assert [(one.accession, str(one.why)) for one in done.refused] == [
        ("B2-0001", "no bare paper border was found")
    ]
    shift = box.catalogue.print("B1-0001").recto.treatment.step("neutral").parameters["shift"]
    # Drawn as (240, 226, 190): blue is denser by log10 of the ratio in linear light (sRGB, IEC 61966-2-1).
    linear = ((np.array([240, 226, 190]) / 255 + 0.055) / 1.055) ** 2.4
    assert shift == pytest.approx(-np.log10(linear / linear.max()), abs=0.01)


def test_a_place_that_was_picked_is_made_neutral(box: Collection) -> None:
    give(box, prints_in(box, ["B2-0001"]), [Wish("neutral", place=(0.5, 0.5))])
    assert told(box, "B2-0001") == ("picked place made neutral",)


def test_what_nobody_said_is_not_guessed(box: Collection) -> None:
    done = give(box, prints_in(box, ["B1-0001"]), [Wish("fading")])
    assert done.act is None
    assert str(done.refused[0].why) == "nothing tells yet how far the colours have faded"


def test_a_step_is_switched_off_and_on_and_withdrawn_everywhere(box: Collection) -> None:
    prints = prints_in(box, containers=["B1"])
    give(box, prints, [Wish("density", {"by": 0.1})])
    prints = prints_in(box, containers=["B1"])
    off = switch(box, prints, "density", on=False)
    assert told(box, "B1-0001") == ()
    assert box.catalogue.last_act()[1] == "treated 2 prints: “mid-tones darker by a density of 0.10” switched off"
    box.catalogue.undo("archivist", only=off.act)
    assert told(box, "B1-0001") == ("mid-tones darker by a density of 0.10",)
    give(box, prints, [Wish("detail", {"shadows": 0.2})])
    withdraw(box, prints_in(box), "density")
    assert box.catalogue.last_act()[1] == "treated 2 prints: “mid-tones darker by a density of 0.10” withdrawn"
    withdraw(box, prints_in(box), "detail")
    assert box.catalogue.print("B1-0001").recto.treatment == UNTREATED


def test_one_that_can_t_have_a_step_switched_on_keeps_no_other_from_it(box: Collection) -> None:
    off = Step("yellowing", {"stain": [0, 0.04, 0.2]}, on=False)
    fading = Step("fading", {"stain": [0, 0, 0.1], "gain": [1.5, 1, 1]})
    for number, steps in (("B1-0001", [off, fading]), ("B1-E1-0001", [off])):
        set_treatment(box, box.catalogue.print(number).recto.key, Treatment.of(steps))
    done = switch(box, prints_in(box), "yellowing", on=True)
    assert done.prints == ("B1-E1-0001",)
    assert [(one.accession, str(one.why)) for one in done.refused] == [
        ("B1-0001", "a print is either faded in colour or yellowed in monochrome")
    ]


def test_the_whole_treatment_is_withdrawn(box: Collection) -> None:
    give(box, prints_in(box, ["B1-0001"]), [Wish("density", {"by": 0.1})])
    withdraw(box, prints_in(box))
    assert box.catalogue.last_act()[1] == "withdrew the treatment of the front of B1-0001"


def test_a_list_as_a_person_left_it_is_one_act_of_what_differs(box: Collection) -> None:
    key = box.catalogue.print("B1-0001").recto.key
    darker = Treatment.of([Step("density", {"by": 0.1}), Step("fine turn", {"degrees": 2.0})])
    assert set_treatment(box, key, darker).prints == ("B1-0001",)
    changed = darker.with_step(Step("density", {"by": 0.2})).without("fine turn")
    set_treatment(box, key, changed)
    assert box.catalogue.last_act()[1] == (
        "treated the front of B1-0001: mid-tones darker by a density of 0.20; “turned clockwise by 2.0°” withdrawn"
    )
    assert set_treatment(box, key, changed).act is None


def test_others_are_given_as_much_of_a_step_as_this_one_has_and_no_box_drawn_by_hand() -> None:
    steps = [
        Step("texture", {"peaks": [[0.1, 0.2]], "strength": 0.4}),
        Step("yellowing", {"stain": [0, 0.04, 0.2], "share": 0.6}),
        Step("crop", {"box": [0.1, 0.1, 0.9, 0.9], "to": "border"}),
    ]
    assert wishes_of(Treatment.of(steps)) == [
        Wish("texture", amount={"strength": 0.4}),
        Wish("yellowing", amount={"share": 0.6}),
    ]
    to_picture = Step("crop", {"box": [0.1, 0.1, 0.9, 0.9], "to": "picture"})
    assert wishes_of(Treatment.of([to_picture])) == [Wish("crop")]


def test_as_much_of_a_stain_is_taken_off_as_was_wanted(box: Collection) -> None:
    grey = cv2.cvtColor(cv2.cvtColor(YELLOW, cv2.COLOR_RGB2GRAY), cv2.COLOR_GRAY2RGB)
    rgb = (grey / 255 * (240, 226, 180)).astype(np.uint8)
    for path in view_paths(box.views_root, box.catalogue.print("B1-0001").recto.key):
        keep(path, rgb)
    give(box, prints_in(box, ["B1-0001"]), [Wish("yellowing", amount={"share": 0.5})])
    assert box.catalogue.print("B1-0001").recto.treatment.step("yellowing").parameters["share"] == 0.5


def test_what_somebody_else_does_while_prints_are_measured_is_not_overwritten(box: Collection) -> None:
    prints = prints_in(box, containers=["B1"])
    by_hand = Treatment.of([Step("density", {"by": 0.2})])
    set_treatment(box, prints[0].recto.key, by_hand)
    done = give(box, prints, [Wish("neutral")])
    assert done.prints == ("B1-E1-0001",)
    assert [(one.accession, str(one.why)) for one in done.refused] == [
        ("B1-0001", "somebody else changed it meanwhile")
    ]
    assert box.catalogue.print("B1-0001").recto.treatment == by_hand


def test_a_front_that_was_turned_meanwhile_keeps_no_other_from_its_treatment(box: Collection) -> None:
    prints = prints_in(box, containers=["B1"])
    with box.catalogue.act("test", "turned") as act, act.work() as work:
        work.replace_view(prints[0].accession, prints[0].recto, evolve(prints[0].recto, turn=1))
        work.commit()
    done = give(box, prints, [Wish("density", {"by": 0.1})])
    assert (done.prints, len(done.refused)) == (("B1-E1-0001",), 1)


def test_prints_and_containers_that_are_not_there_are_named(box: Collection) -> None:
    with pytest.raises(NotFound, match="B9"):
        prints_in(box, containers=["B9"])
    with pytest.raises(NotFound):
        prints_in(box, ["B1-0099"])


@pytest.mark.parametrize("name", sorted(set(OFFERED) - {"fading", "texture", "yellowing", "marks"}))
def test_every_step_that_is_offered_begins(name: str) -> None:
    assert measured_step(YELLOW, name).name == name


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("yellowing", "the print is in colour"),
        ("texture", "no pattern repeats"),
        ("two lights", "it needs another picture"),
    ],
)
def test_what_the_view_does_not_show_is_refused_with_its_reason(name: str, why: str) -> None:
    with pytest.raises(Trouble, match=why):
        measured_step(YELLOW, name)


def test_a_place_that_is_too_light_tells_no_fading() -> None:
    with pytest.raises(Trouble, match="too light to tell"):
        measured_step(YELLOW, "fading", place=(0.01, 0.01))
