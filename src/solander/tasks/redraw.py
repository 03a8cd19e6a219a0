"""Draws the outline of a view anew, by a person: the picture is cut out again, all else of the print stays.

The view with the outline before is kept as superseded, so that undo brings it back to the letter.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from attrs import evolve, frozen

from solander.catalogue.store import Act
from solander.catalogue.work import Work
from solander.core.errors import Trouble
from solander.core.outlines import in_the_same_order, sound_outline
from solander.core.prints import Corners, Outline, View
from solander.core.questions import Asks
from solander.core.sentence import Sentence
from solander.imaging.decode import Unreadable, decode
from solander.imaging.fit import bows_beside
from solander.imaging.measure import UNDER_A_HAND
from solander.look.words import side_of
from solander.tasks.ask import ask, settle_others
from solander.tasks.carry_faces import carry_faces
from solander.tasks.carry_treatment import carry_treatment, with_what_is_off
from solander.tasks.collection import Collection
from solander.tasks.enter_print import ask_about_edge, capture_sentences
from solander.tasks.prepare import Rgb, cut_out

__all__ = [
    "Done",
    "ask_again_about_edges",
    "check_outline",
    "drawn_outline",
    "pixels_of",
    "redraw",
    "take_second",
]

DRAWN = 1.0
"""Confidence of an outline that a person drew: theirs, not a measure of the search."""

FINEST = 0.01
"""Pixels of the capture by which a page rounds: an outline that moved by less was accepted as it is."""


@frozen
class Done:
    """What a person did: the act's number for undo (None where nothing had to change), the print, and the key of
    the view that came of it."""

    act: int | None
    accession: str
    key: str


def check_outline(collection: Collection, key: str, *, who: str = "archivist") -> Done:
    """Accepts the outline of a view as it is; no pixel changes.

    Raises
    ------
    NotFound
        When no view in use has that key.
    """
    accession, view = collection.catalogue.view(key)
    checked = evolve(view, outline=evolve(view.outline, checked=True))
    with collection.catalogue.act(
        who, Sentence("checked the outline of %(side)s", side=side_of(view.side, accession))
    ) as act:
        return _put_in_place(collection, act, accession, view, checked)


def take_second(collection: Collection, key: str, *, who: str = "archivist") -> Done:
    """Takes the second-best outline of a view; what was the best is then the second, one step away.

    Raises
    ------
    NotFound
        When no view in use has that key.
    Trouble
        When the view has no second-best outline, or its capture can't be read.
    """
    accession, view = collection.catalogue.view(key)
    if view.outline.second is None:
        raise Trouble(
            Sentence("No other outline of %(side)s was found", side=side_of(view.side, accession)),
            "",
            Sentence("Draw it by hand where it is wrong"),
        )
    what = Sentence("took the second-best outline of %(side)s", side=side_of(view.side, accession))
    return _draw(collection, accession, view, view.outline.second, who=who, what=what)


def redraw(
    collection: Collection, key: str, corners: Sequence[Sequence[float]], *, who: str = "archivist"
) -> Done:
    """Cuts a view out again inside corners that a person set, in pixels of the capture.

    Description, statements, pairing, turn and number of the print stay; the question about the edge is settled.

    Raises
    ------
    NotFound
        When no view in use has that key.
    InvalidValue
        When the corners bound no print; see `core.outlines`. Nothing has changed then.
    Trouble
        When the same outline is another print's, or the capture can't be read.
    """
    accession, view = collection.catalogue.view(key)
    what = Sentence("redrew the outline of %(side)s", side=side_of(view.side, accession))
    return _draw(collection, accession, view, corners, who=who, what=what)


def pixels_of(collection: Collection, sha256: str, page: int) -> Rgb:
    """The pixels of a page of a capture.

    Raises
    ------
    Trouble
        When the capture is missing or can't be read.
    """
    path = collection.vault.path(sha256)
    try:
        return decode(path, page)
    except Unreadable as reason:
        capture = collection.catalogue.capture(sha256)
        name = capture.name if capture else path.name
        raise Trouble(Sentence("%(name)s could not be read", name=name), reason.why, reason.todo) from reason


def ask_again_about_edges(collection: Collection, work: Work, accession: str, views: Sequence[View]) -> None:
    """Asks about the edges that are not sure among the views that the print has now, and settles the others."""
    asked = {key for view in views for key in ask_about_edge(work, accession, view)}
    settle_others(collection, work, (Asks.OUTLINE,), asked=asked, about=lambda subject: subject == accession)


def _draw(
    collection: Collection, accession: str, view: View, corners: Sequence[Sequence[float]], *, who: str, what: str
) -> Done:
    rgb = pixels_of(collection, view.capture, view.page)
    drawn = in_the_same_order(sound_outline(corners, rgb.shape[1], rgb.shape[0]), view.outline.corners)
    if all(math.dist(*both) < FINEST for both in zip(drawn, view.outline.corners, strict=True)):
        return check_outline(collection, view.key, who=who)
    outline = drawn_outline(rgb, drawn, view, second=_before(view.outline))
    hand = view.condition is not None and UNDER_A_HAND in view.condition.faults
    cut = cut_out(rgb, evolve(view, outline=outline), collection.views_root, hand=hand)
    cut, treatment = carry_treatment(collection, view, cut)
    with collection.catalogue.act(who, with_what_is_off(what, treatment)) as act:
        return _put_in_place(collection, act, accession, view, cut)


def drawn_outline(rgb: Rgb, corners: Corners, known: View, *, second: Corners | None = None) -> Outline:
    """The outline that a person drew in the capture of a `known` view.

    Its sides bow as the paper's edges beside it do, except under a scanner's lid, where paper lies flat and its
    cut is what bows.
    """
    is_scanned = known.ppi is not None and known.stand is None
    bows = None if is_scanned else bows_beside(rgb, corners)
    return Outline(corners, DRAWN, checked=True, second=second, bows=bows)


def _before(outline: Outline) -> Corners | None:
    """The outline that was there, to go back to; where nothing had been found, the next best that there was."""
    return outline.corners if outline.confidence or outline.checked else outline.second


def _put_in_place(collection: Collection, act: Act, accession: str, old: View, new: View) -> Done:
    views = [new if view.key == old.key else view for view in collection.catalogue.print(accession).views]
    with act.work() as work:
        work.replace_view(accession, old, new)
        carry_faces(collection, work, old, new)
        ask_again_about_edges(collection, work, accession, views)
        _ask_again_about_capture(collection, work, accession, old, new)
        work.commit()
    return Done(act.number, accession, new.key)


def _ask_again_about_capture(collection: Collection, work: Work, accession: str, old: View, new: View) -> None:
    """Asks about faults that only the new outline shows and settles those that only the old one did; what both
    show stays as it is, asked or settled by a person."""
    before, now = capture_sentences(accession, old), capture_sentences(accession, new)
    for sentence in now:
        if sentence not in before:
            ask(work, Asks.CAPTURE_AGAIN, accession, sentence)
    gone = set(before) - set(now)
    for question in collection.catalogue.questions():
        if question.subject == accession and question.sentence in gone:
            work.settle(question.key)
