"""Proposals: asked once, given together where they are near each other, singly where one stands out."""

from __future__ import annotations

import pytest
from yellow_box import enter_prints, view_of

from solander.core.questions import Asks
from solander.core.treatments import UNTREATED, Step, Treatment
from solander.tasks import treatment_proposals
from solander.tasks.collection import Collection
from solander.tasks.prepare import view_paths
from solander.tasks.propose_treatment import Proposal
from solander.tasks.queue import KINDS, Queue
from solander.tasks.sitting import Sitting
from solander.tasks.treat import set_treatment
from solander.tasks.treatment_proposals import accept, alike, look_for_treatments, proposed_for, waiting_proposals


@pytest.fixture
def box(collection: Collection) -> Collection:
    """Five prints; see `yellow_box`."""
    enter_prints(collection)
    return collection


def look(box: Collection) -> list[str]:
    return [one.accession for one in look_for_treatments(box, box.catalogue.prints()).proposed]


def question(box: Collection, accession: str):
    return next(one for one in waiting_proposals(box) if one.subject == accession)


def test_prints_that_would_gain_are_asked_about_once_each_and_clean_ones_never(box: Collection) -> None:
    assert look(box) == ["B1-0001", "B1-0002", "B1-0003", "B2-0001"]
    sentences = [str(one.sentence) for one in waiting_proposals(box)]
    assert sentences[0] == "Shall B1-0001 be treated: yellow stain taken off, the tone kept?"
    assert len(sentences) == 4
    look(box)
    assert len(waiting_proposals(box)) == 4
    assert all(not view.treatment.steps for one in box.catalogue.prints() for view in one.views)


def test_what_was_measured_is_kept_beside_the_view_and_measured_again_when_it_is_gone(
    box: Collection, monkeypatch: pytest.MonkeyPatch
) -> None:
    look(box)
    before = proposed_for(box, "B1-0001")
    kept = next(box.views_root.rglob(f"{before.view.key}.proposal.json"))
    with monkeypatch.context() as patch:
        patch.setattr(treatment_proposals, "propose_treatment", None)  # nothing is measured again
        assert proposed_for(box, "B1-0001") == before
    kept.write_text("{", encoding="utf-8")
    assert proposed_for(box, "B1-0001") == before


def test_prints_near_each_other_are_given_theirs_together_and_undone_together(box: Collection) -> None:
    look(box)
    together = alike(box, question(box, "B1-0001"))
    assert [one.accession for one in together] == ["B1-0001", "B1-0002"]
    done = accept(box, together)
    assert done.prints == ("B1-0001", "B1-0002")
    assert [one.subject for one in waiting_proposals(box)] == ["B1-0003", "B2-0001"]
    # Each is given what was measured on it.
    stains = [
        box.catalogue.print(one).recto.treatment.step("yellowing").parameters["stain"] for one in done.prints
    ]
    assert stains[0] != stains[1]
    box.catalogue.undo("archivist", only=done.act)
    assert len(waiting_proposals(box)) == 4
    assert not box.catalogue.print("B1-0001").recto.treatment.steps


def test_one_that_stands_out_is_answered_alone(box: Collection) -> None:
    look(box)
    assert [one.accession for one in alike(box, question(box, "B1-0003"))] == ["B1-0003"]


def test_an_answer_is_not_asked_again(box: Collection) -> None:
    look(box)
    with box.catalogue.act("archivist", "left it") as act, act.work() as work:
        work.settle(question(box, "B1-0001").key)
        work.commit()
    for path in box.views_root.rglob("*.proposal.json"):
        path.unlink()
    look(box)
    assert "B1-0001" not in [one.subject for one in waiting_proposals(box)]


def test_the_queue_asks_them_under_their_kind(box: Collection) -> None:

    look(box)
    kind = next(one for one in KINDS if one.asks == (Asks.TREATMENT,))
    waiting = Queue(box, Sitting(box)).following(kind.name)
    assert [one.key for one in waiting] == [one.key for one in waiting_proposals(box)[:2]]


def test_what_changes_while_one_looks_is_neither_asked_about_nor_taken_back(box: Collection) -> None:
    prints = box.catalogue.prints()
    by_hand = Treatment.of([Step("density", {"by": 0.2})])
    set_treatment(box, box.catalogue.print("B1-0001").recto.key, by_hand)
    with box.catalogue.act("test", "took one out") as act, act.work() as work:
        work.take_out_view("B1-0003", box.catalogue.print("B1-0003").recto)
        work.commit()
    looked = look_for_treatments(box, prints)
    assert [one.accession for one in looked.proposed] == ["B1-0002", "B2-0001"]
    assert [one.subject for one in waiting_proposals(box)] == ["B1-0002", "B2-0001"]


def test_one_that_can_t_have_what_is_proposed_keeps_no_other_from_it(box: Collection) -> None:
    look(box)
    proposed = [proposed_for(box, one) for one in ("B1-0001", "B1-0002")]
    fading = Treatment.of([Step("fading", {"stain": [0, 0, 0.1], "gain": [1.5, 1, 1]})])
    set_treatment(box, view_of(1).key, fading)
    done = accept(box, proposed)
    assert done.prints == ("B1-0002",)
    assert [(one.accession, str(one.why)) for one in done.refused] == [
        ("B1-0001", "a print is either faded in colour or yellowed in monochrome")
    ]
    assert box.catalogue.print("B1-0001").recto.treatment == fading
    assert question(box, "B1-0001")


def test_what_was_done_since_it_was_proposed_stays(box: Collection) -> None:
    look(box)
    proposed = proposed_for(box, "B1-0001")
    set_treatment(box, view_of(1).key, Treatment.of([Step("density", {"by": 0.2})]))
    accept(box, [proposed])
    assert [step.name for step in box.catalogue.print("B1-0001").recto.treatment] == ["yellowing", "density"]


def test_prints_in_no_container_are_not_alike_in_their_container(collection: Collection) -> None:
    enter_prints(collection, container=None)
    look(collection)
    assert [one.accession for one in alike(collection, question(collection, "B1-0001"))] == ["B1-0001"]


def test_what_is_no_longer_proposed_does_not_wait_any_longer(
    box: Collection, monkeypatch: pytest.MonkeyPatch
) -> None:
    look(box)
    monkeypatch.setattr(treatment_proposals, "EDITION", 0)  # another edition that proposes nothing
    monkeypatch.setattr(treatment_proposals, "propose_treatment", lambda *_, **__: Proposal(UNTREATED, None))
    for path in view_paths(box.views_root, view_of(2).key):
        path.unlink()
    look(box)
    assert [one.subject for one in waiting_proposals(box)] == ["B1-0002"]  # it could not be looked at


def test_a_capture_that_is_gone_is_told_and_the_rest_goes_on(box: Collection) -> None:
    for path in view_paths(box.views_root, view_of(2).key):
        path.unlink()
    looked = look_for_treatments(box, box.catalogue.prints())
    assert [one.accession for one in looked.set_aside] == ["B1-0002"]
    assert [one.accession for one in looked.proposed] == ["B1-0001", "B1-0003", "B2-0001"]
