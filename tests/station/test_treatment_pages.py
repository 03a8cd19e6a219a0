"""The page of one treatment: sentences with fields that say what is kept, tried before, refused in words."""

from __future__ import annotations

import html
import io
import re
import threading
import time
from collections.abc import Iterator
from urllib.parse import urlencode

import pytest
from PIL import Image
from treated_bench import TreatedBench, treated_bench

from solander.core.errors import InvalidValue
from solander.core.language import speaking
from solander.core.treatments import UNTREATED, Step, Treatment
from solander.engine.local import SerialExecutor
from solander.look.languages import language_of
from solander.station.treatment_fields import SENTENCES, Field, fields_of, parts_of, read_step, slug
from solander.tasks import treatment_desk
from solander.tasks.collection import Progress
from solander.tasks.treat import set_treatment
from solander.tasks.treatment_proposals import waiting_proposals

STEPS = [
    Step("texture", {"peaks": [[0.1, 0.2]], "strength": 0.5}),
    Step("fading", {"stain": [0.1, 0.2, 0.3], "gain": [1.812345, 1.2, 1.0]}),
    Step("yellowing", {"stain": [0, 0.04, 0.2]}),
    Step("density", {"by": -0.12}),
    Step("tone curve", {"points": [[0, 0], [0.2, 0.15], [0.7, 0.8], [1, 1]]}),
    Step("detail", {"shadows": 0.3}),
    Step("keystone", {"corners": [[0, 0.01], [1, 0], [0.98, 1], [0, 1]]}),
    Step("fine turn", {"degrees": -1.5}),
    Step("crop", {"box": [0.0521, 0.1, 0.9, 0.85], "to": "picture"}),
    Step("quarter turn", {"turns": 3}),
    Step("output", {"long_side": 2000}),
]


def sent(step: Step, **changed: str) -> dict[str, str]:
    values = {field.name: field.value for field in fields_of(step)} | changed
    return {f"{slug(step.name)}.on": "1"} | {f"{slug(step.name)}.{name}": value for name, value in values.items()}


def test_every_kind_with_fields_is_tried_here():
    assert {step.name for step in STEPS} == set(SENTENCES)


@pytest.mark.parametrize("step", STEPS, ids=lambda step: step.name)
@pytest.mark.parametrize("code", ["en", "de", "fr"])
def test_fields_stand_in_the_sentence_in_every_language_and_change_nothing_untouched(step, code):
    with speaking(language_of(code)):
        parts = parts_of(step)
        there = [part.name for part in parts if isinstance(part, Field)]
        assert sorted(there) == sorted(field.name for field in SENTENCES[step.name].fields)
        assert any(isinstance(part, str) and part.strip() for part in parts)
        assert read_step(step, sent(step)) == step


@pytest.mark.parametrize("step", STEPS, ids=lambda step: step.name)
def test_a_browser_takes_every_value_as_it_stands(step):
    # A field of type number refuses what is not its least value and whole steps (HTML, 4.10.5.3.8).
    for field in (one for one in fields_of(step) if not one.choices):
        steps = (float(field.value) - field.low) / field.step
        assert steps == pytest.approx(round(steps), abs=1e-6)
        assert field.low <= float(field.value) <= field.high


@pytest.mark.parametrize(
    ("number", "put", "told"),
    [
        (3, {"way": "darker", "by": "0.2"}, "mid-tones darker by a density of 0.20"),
        (3, {"by": "0,2"}, "mid-tones lighter by a density of 0.20"),
        (1, {"cyan": "2"}, "faded dyes restored: cyan 2.00×, magenta 1.20×, yellow 1.00×"),
        (5, {"highlights": "10"}, "shadows opened by 30 %, highlights held back by 10 %"),
        (7, {"way": "clockwise"}, "turned clockwise by 1.5°"),
        (8, {"left": "10"}, "cropped by hand"),
        (9, {"turns": "2"}, "turned 2 quarters clockwise"),
        (10, {"long_side": "900"}, "made 900 pixels long, sharpened for that size"),
    ],
)
def test_what_is_put_into_a_field_is_done(number, put, told):
    assert read_step(STEPS[number], sent(STEPS[number], **put)).told == told


@pytest.mark.parametrize(
    ("number", "put"),
    [
        (3, {"by": "much"}),
        (3, {"by": "3"}),
        (8, {"left": "95"}),
        (9, {"turns": "x"}),
        (9, {"turns": "9" * 5000}),
        (10, {"long_side": "nan"}),
        (10, {"long_side": "1e999"}),
        (10, {"long_side": "9" * 5000}),
        (10, {"long_side": "900.5"}),
    ],
)
def test_what_can_t_be_is_refused(number, put):
    with pytest.raises(InvalidValue):
        read_step(STEPS[number], sent(STEPS[number], **put))


@pytest.fixture(scope="module")
def one_bench(tmp_path_factory, gazetteer) -> Iterator[TreatedBench]:
    with pytest.MonkeyPatch.context() as patch, treated_bench(tmp_path_factory.mktemp("treated") / "box") as bench:
        patch.setattr(treatment_desk, "local_executor", SerialExecutor)
        yield bench


@pytest.fixture
def bench(one_bench) -> Iterator[TreatedBench]:
    """The same workbench for all, its print untreated again afterwards: a collection takes long to make."""
    yield one_bench
    one_bench.treatments.keep(one_bench.view.key, UNTREATED)


def darker(by: str = "0.20") -> dict[str, str]:
    return {"draft": "1", "density.here": "1", "density.on": "1", "density.way": "darker", "density.by": by}


def test_the_page_shows_both_and_is_reached_from_the_print(bench):
    page = bench.get(bench.here)
    assert page.status_code == 200
    assert f"/view/{bench.view.key}.jpg" in page.text
    assert f'href="{bench.here}"' in bench.get("/print/B1-0001").text
    assert "Nothing is done to it" in page.text


def test_what_is_tried_is_shown_and_nowhere_kept(bench):
    address = bench.here + "/seen.jpg?draft=1&density.here=1&density.on=1&density.way=darker&density.by=0.2"
    tried = bench.get(address)
    untreated = bench.get(f"{bench.here}/seen.jpg")
    assert tried.headers["cache-control"] == "no-store"
    assert mean(tried) < mean(untreated) - 5
    assert bench.view.treatment == UNTREATED
    assert not list(bench.collection.views_root.rglob("*.????????????????????????????????.jpg"))


def mean(answer) -> float:
    grey = Image.open(io.BytesIO(answer.content)).convert("L")
    return sum(value * count for value, count in enumerate(grey.histogram())) / (grey.width * grey.height)


def test_kept_it_is_served_where_the_print_is_shown_and_undone_like_all_else(bench):
    answer = bench.post(bench.here, **darker())
    act = answer.url.params["done"]
    assert bench.view.treatment.sentences == ("mid-tones darker by a density of 0.20",)
    treated = f"/view/{bench.view.key}/{bench.view.treatment.key}.jpg"
    print_ = bench.get("/print/B1-0001").text
    assert treated in print_
    assert f'href="/view/{bench.view.key}.jpg"' in print_  # untreated is always within reach
    assert bench.get(treated).status_code == 200
    assert bench.get(f"/view/{bench.view.key}/{'0' * 32}.jpg").status_code == 404
    assert f"/thumb/{bench.view.key}/{bench.view.treatment.key}.jpg" in bench.get("/").text
    bench.post("/undo", act=act, then="/")
    assert bench.view.treatment == UNTREATED


def test_steps_are_added_switched_off_and_withdrawn_in_the_list(bench):
    page = bench.get(f"{bench.here}?with=neutral").text
    assert "paper border made neutral" in page
    off = {**darker(), "density.on": ""}
    del off["density.on"]
    bench.post(bench.here, **off)
    assert bench.view.treatment == Treatment.of([Step("density", {"by": 0.2}, on=False, who="archivist")])
    page = bench.get(f"{bench.here}?draft=1&density.here=1&without=density").text
    assert "Nothing is done to it" in page
    bench.post(bench.here, draft="1")
    assert bench.view.treatment == UNTREATED


def test_a_picked_place_tells_fading_and_a_light_one_is_refused_in_a_sentence(bench):
    page = bench.get(f"{bench.here}?draft=1&with=fading@pick&pick.x=50&pick.y=50").text
    assert 'name="fading.cyan"' in page
    fields = dict(re.findall(r'name="(fading\.[a-z.]+)" value="([^"]*)"', page))
    assert float(fields["fading.magenta"]) != float(fields["fading.cyan"])
    bench.post(bench.here, **(fields | {"draft": "1", "fading.on": "1"}))
    assert bench.view.treatment.step("fading").parameters["place"] == (0.5, 0.5)
    light = bench.get(f"{bench.here}?draft=1&with=fading@pick&pick.x=1&pick.y=1").text
    assert "that place is too light to tell. Pick a darker one." in light
    nowhere = bench.get(f"{bench.here}?draft=1&with=neutral@pick").text
    assert "No place is picked yet" in nowhere


def test_what_can_t_be_kept_changes_nothing_and_says_why(bench):
    answer = bench.post(bench.here, **darker("9"))
    assert answer.status_code == 422
    assert "must be a number from -0.4 to 0.4" in answer.text
    assert bench.view.treatment == UNTREATED


def test_marks_are_seen_taken_away_and_drawn(bench):
    marks = Treatment.of([Step("marks", {"strokes": [[0.1, 0.1, 0.2, 0.1, 0.01], [0.5, 0.5, 0.5, 0.5, 0.02]]})])
    bench.treatments.keep(bench.view.key, marks)
    page = bench.get(bench.here).text
    assert page.count('class="mark"') == 2
    more = "0.3 0.3 0.4 0.3 0.008"
    bench.post(
        bench.here, **{"draft": "1", "marks.here": "1", "marks.on": "1", "marks.less.1": "1", "marks.more": more}
    )
    strokes = bench.view.treatment.step("marks").parameters["strokes"]
    assert strokes == ((0.1, 0.1, 0.2, 0.1, 0.01), (0.3, 0.3, 0.4, 0.3, 0.008))


@pytest.mark.parametrize("more", ["x", "1 2 3", "nan nan nan nan nan", "0.1 0.1 0.2 0.2 0.01 7"])
def test_strokes_that_are_none_are_told_and_those_that_are_kept_stay_listed(bench, more):
    bench.treatments.keep(bench.view.key, Treatment.of([Step("marks", {"strokes": [[0.1, 0.1, 0.2, 0.1, 0.01]]})]))
    sent = {"draft": "1", "marks.here": "1", "marks.on": "1", "marks.more": more}
    page = bench.get(f"{bench.here}?{urlencode(sent)}")
    assert page.status_code == 200
    assert page.text.count('class="mark"') == 1
    assert 'class="told-here"' in page.text


def test_a_picture_that_a_step_names_is_read_once_while_another_step_is_moved(bench, monkeypatch):
    untreated = bench.treatments._opened(bench.view).pixels
    read = []

    def named(_collection, _view, steps):
        read.append([step.name for step in steps])
        return {"b" * 64: untreated}

    monkeypatch.setattr(treatment_desk, "pictures_named", named)
    for by in (0.11, 0.12, 0.13):
        steps = [Step("two lights", {"second": "b" * 64}), Step("density", {"by": by})]
        bench.treatments.seen(bench.view.key, Treatment.of(steps))
    assert read == [["two lights", "density"]]


def test_what_is_lost_at_the_ends_is_told(bench):
    gain = {"fading.cyan": "4", "fading.magenta": "4", "fading.yellow": "4"}
    begun = {"draft": "1", "fading.here": "1", "fading.on": "1", "fading.at.x": "50", "fading.at.y": "50"}
    told = bench.get(f"{bench.here}/told?{urlencode(begun | gain)}")
    assert "of the picture is driven beyond what can be shown" in told.text


def test_a_container_is_given_the_steps_of_tone(bench):
    bench.post(bench.here, **darker())
    code = bench.collection.catalogue.print("B1-0001").container
    answer = bench.post(f"{bench.here}/give", container=code)
    assert answer.url.params["left"] == "2"  # the other prints have no front yet


def test_many_prints_are_given_it_beside_all_else_and_undone_in_one(bench, monkeypatch):
    monkeypatch.setattr(treatment_desk, "AT_ONCE", 1)
    bench.treatments.keep(bench.view.key, Treatment.of([Step("neutral", {"shift": [0, 0.02, 0.1]})]))
    code, going = bench.collection.catalogue.print("B1-0001").container, threading.Event()
    asked = []

    def slowly(collection, prints, wishes, *, watch):
        asked.extend(one.accession for one in prints)
        watch(Progress("Treating", prints[0].accession, 1, 2))
        assert going.wait(60)
        return set_treatment(collection, bench.view.key, Treatment.of([Step("density", {"by": 0.3})]))

    monkeypatch.setattr(treatment_desk, "give", slowly)
    answer = bench.post(f"{bench.here}/give", container=code)
    until(lambda: asked and bench.treatments.giving.done)
    bench.post(f"{bench.here}/give", container=code)  # somebody who can't wait
    page = bench.get(str(answer.url)).text
    assert "Giving it to other prints: 1 of 2." in page
    assert 'class="answers give-others"' not in page
    going.set()
    until(lambda: bench.treatments.giving is None)
    assert asked == ["B1-0002", "B1-0003"]
    assert bench.view.treatment.sentences == ("mid-tones darker by a density of 0.30",)
    page = bench.get(str(answer.url)).text
    bench.post("/undo", act=re.search(r'name="act" value="(\d+)"', page)[1], then="/")
    assert [step.name for step in bench.view.treatment] == ["neutral"]


def test_a_proposal_is_asked_side_by_side_and_one_key_accepts_alone_or_with_a_neutral_dark(bench):
    bench.post("/treatments/look")
    until(lambda: bench.treatments.looking is None)
    (question,) = waiting_proposals(bench.collection)
    page = bench.get("/questions/one?kind=treatment").text
    assert f"/view/{bench.view.key}.jpg" in page
    assert f"/treatment/{bench.view.key}/proposed.jpg" in page
    assert re.search(r'value="one" data-key="1"', page)
    assert "The bare border is yellow by a density of" in page
    assert bench.get(f"/treatment/{bench.view.key}/proposed.jpg").status_code == 200
    assert bench.get(f"/treatment/{bench.view.key}/proposed-small.jpg").status_code == 200
    answer = bench.post("/questions/treat", key=question.key, treat="one", then="/questions")
    assert bench.view.treatment.sentences == ("paper border made neutral",)
    assert waiting_proposals(bench.collection) == []
    bench.post("/undo", act=answer.url.params["done"], then="/")
    (question,) = waiting_proposals(bench.collection)

    # What was done by hand since is shown with it, and stays when one changes the proposal first.
    by_hand = Treatment.of([Step("density", {"by": 0.2}), Step("detail", {"shadows": 0.1}, on=False)])
    proposed = bench.get(f"/treatment/{bench.view.key}/proposed.jpg")
    bench.treatments.keep(bench.view.key, by_hand)
    assert mean(bench.get(f"/treatment/{bench.view.key}/proposed.jpg")) < mean(proposed) - 5
    page = bench.get("/questions/one?kind=treatment").text
    (query,) = re.findall(r'href="/treatment/[0-9a-f]{32}\?([^"]*)" data-key="e"', page)
    bench.post(bench.here, said=html.unescape(query))
    assert [(step.name, step.on) for step in bench.view.treatment] == [
        ("neutral", True),
        ("density", True),
        ("detail", False),
    ]
    bench.treatments.keep(bench.view.key, UNTREATED)

    # Where colours have faded, a click on a neutral dark tells how far.
    assert "seem to have faded" in question.sentence
    dark = {"key": question.key, "treat": "dark", "then": "/questions"}
    assert "No place is picked yet" in bench.post("/questions/treat", **dark).text
    assert "too light to tell" in bench.post("/questions/treat", **dark, **{"pick.x": "1", "pick.y": "1"}).text
    assert bench.view.treatment == UNTREATED
    bench.post("/questions/treat", **dark, **{"pick.x": "50", "pick.y": "50"})
    assert [step.name for step in bench.view.treatment] == ["fading"]
    assert bench.view.treatment.steps[0].reason == "a place was shown that was a neutral dark"


def until(condition, most_s=60.0):
    ends = time.monotonic() + most_s
    while not condition():
        assert time.monotonic() < ends, "it does not end"
        time.sleep(0.01)
