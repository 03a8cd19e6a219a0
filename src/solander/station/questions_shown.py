"""How one question is shown, kind by kind: a template, and the values that it needs besides its print.

A kind that is registered here under its name is answered in its own way; any other is told in its sentence, and
its print is one key away.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from attrs import field, frozen

from solander.core.dates import Bounds
from solander.core.errors import NotFound
from solander.core.language import _
from solander.core.questions import Question
from solander.look.shown import PrintShown
from solander.station.laid import laid, laid_one, picture_address
from solander.station.outlines import EdgeShown
from solander.station.treatment_asked import proposed_address, treatment_asked
from solander.station.workbench import Workbench
from solander.tasks.ask_inscriptions import proposal_asked
from solander.tasks.better_copy import better_of
from solander.tasks.condition_told import capture_told
from solander.tasks.described_some import described_some
from solander.tasks.meaning_asked import meaning_asked
from solander.tasks.pair_sides import fronts_for
from solander.tasks.queue import Queue, Waiting
from solander.tasks.same_person import asked_about
from solander.tasks.seen_twice import prints_asked_about
from solander.tasks.stand_choice import again_of
from solander.tasks.which_place import place_asked

__all__ = ["Asked", "asked_of", "pictures_of"]

Values = dict[str, Any]


@frozen
class Asked:
    """A question as it is shown: what it is, in which template, with its print, and what the template needs."""

    waiting: Waiting
    template: str
    sentence: str
    subject: str = ""
    shown: PrintShown | None = None
    values: Values = field(factory=dict)


def asked_of(bench: Workbench, queue: Queue, waiting: Waiting, then: str) -> Asked | None:
    """How one that waits is shown; None when it was answered meanwhile. Answers lead to the address `then`."""
    try:
        if waiting.kind == "outline" and bench.outlines and len(waiting.key) == _VIEW_KEY:
            edge = EdgeShown(bench.outlines.edge(waiting.key), then)
            return Asked(
                waiting, "asked_outline.html", edge.edge.sentence, edge.edge.accession, None, {"edge": edge}
            )
        if waiting.kind == "face":
            return _face(bench, queue, waiting)
    except NotFound:
        return None
    question = queue.collection.catalogue.question(waiting.key)
    if question is None:
        return None
    described = described_some(queue.collection, [question.subject])
    shown = laid_one(described[0]) if described else None
    template, values = _SHOWN.get(waiting.kind, _plain)(bench, queue, question, shown)
    return Asked(waiting, template, question.sentence, question.subject, shown, values)


_VIEW_KEY = 32

Shows = Callable[[Workbench, Queue, Question, PrintShown | None], tuple[str, Values]]


def _face(bench: Workbench, queue: Queue, waiting: Waiting) -> Asked | None:
    catalogue = queue.collection.catalogue
    face = catalogue.face(waiting.key)
    if bench.faces is None or not face.is_asked_about:
        return None
    accession, _ = catalogue.view(face.view)
    shown = laid(described_some(queue.collection, [accession]))
    return Asked(waiting, "asked_face.html", "", accession, shown[0] if shown else None)


def _plain(bench: Workbench, queue: Queue, question: Question, shown: PrintShown | None) -> tuple[str, Values]:
    return "asked_plain.html", {"meaning": None, "faults": ()}


def _who(bench: Workbench, queue: Queue, question: Question, shown: PrintShown | None) -> tuple[str, Values]:
    if bench.who is None:
        return _plain(bench, queue, question, shown)
    standing = queue.collection.catalogue.standings_of([question.subject]).get(question.subject)
    on = Bounds(standing.earliest, standing.latest) if standing else None
    return "asked_who.html", {"who": bench.who.asked_about(question, on)}


def _place(bench: Workbench, queue: Queue, question: Question, shown: PrintShown | None) -> tuple[str, Values]:
    if bench.names is None:
        return _plain(bench, queue, question, shown)
    return "asked_place.html", {"which": place_asked(question, bench.names.understanding.candidates)}


def _same(bench: Workbench, queue: Queue, question: Question, shown: PrintShown | None) -> tuple[str, Values]:
    newcomer, known = asked_about(question)
    return "asked_same.html", {"pair": (known, newcomer)}


def _upright(bench: Workbench, queue: Queue, question: Question, shown: PrintShown | None) -> tuple[str, Values]:
    if shown is None or shown.top is None:
        return _plain(bench, queue, question, shown)
    return "asked_upright.html", {}


def _pair(bench: Workbench, queue: Queue, question: Question, shown: PrintShown | None) -> tuple[str, Values]:
    fronts = fronts_for(queue.collection, question.subject)
    numbers = [one.accession for one in fronts]
    return "asked_pair.html", {"fronts": laid(described_some(queue.collection, numbers))}


def _twice(bench: Workbench, queue: Queue, question: Question, shown: PrintShown | None) -> tuple[str, Values]:
    twice = laid(described_some(queue.collection, prints_asked_about(question)))
    if len(twice) < 2:
        return _plain(bench, queue, question, shown)
    better = better_of(queue.collection, *(one.described.print for one in twice))
    # A sentence that speaks of one negative has that for its first answer, any other the two ways of one print.
    return "asked_twice.html", {"twice": twice, "better": better, "negative": "negative" in str(question.sentence)}


def _which_picture(
    bench: Workbench, queue: Queue, question: Question, shown: PrintShown | None
) -> tuple[str, Values]:
    again = again_of(queue.collection, question.subject)
    if again is None or shown is None:
        return _plain(bench, queue, question, shown)
    named = (("old", again.old, _("The first picture"), again.old_faults),
             ("new", again.new, _("The new picture"), again.new_faults))  # fmt: skip
    two = [
        {"keep": keep, "key": key, "called": called, "faults": " ".join(one.words for one in faults)}
        for keep, key, called, faults in named
    ]
    return "asked_which_picture.html", {"two": two}


def _words(bench: Workbench, queue: Queue, question: Question, shown: PrintShown | None) -> tuple[str, Values]:
    meaning = meaning_asked(bench.prints, question) if bench.prints and shown else None
    return "asked_plain.html", {"meaning": meaning, "faults": ()}


def _inscription(
    bench: Workbench, queue: Queue, question: Question, shown: PrintShown | None
) -> tuple[str, Values]:
    proposal = proposal_asked(queue.collection, question) if bench.prints and shown else None
    if proposal is None:
        return _words(bench, queue, question, shown)
    crop = f"/legible/{proposal.view.key}/as-taken/{proposal.number}.jpg" if bench.backs else ""
    return "asked_inscription.html", {"proposal": proposal, "crop": crop}


def _again(bench: Workbench, queue: Queue, question: Question, shown: PrintShown | None) -> tuple[str, Values]:
    views = shown.described.print.views if shown else ()
    faults = dict.fromkeys(fault.words for view in views for fault in capture_told(view))
    return "asked_plain.html", {"meaning": None, "faults": list(faults)}


def _treatment(bench: Workbench, queue: Queue, question: Question, shown: PrintShown | None) -> tuple[str, Values]:
    told = treatment_asked(bench.treatments, question) if bench.treatments and shown else None
    return ("asked_treatment.html", told) if told else _plain(bench, queue, question, shown)


_SHOWN: Mapping[str, Shows] = {
    "capture-again": _again,
    "words": _words,
    "inscription": _inscription,
    "duplicate": _twice,
    "which-picture": _which_picture,
    "who": _who,
    "place": _place,
    "same-person": _same,
    "treatment": _treatment,
    "upright": _upright,
    "pair": _pair,
}


def pictures_of(bench: Workbench, queue: Queue, waiting: Waiting) -> list[str]:
    """The addresses of the pictures of a question, so that they come while the one before is answered."""
    catalogue = queue.collection.catalogue
    if waiting.kind == "outline" and len(waiting.key) == _VIEW_KEY:
        try:
            _, view = catalogue.view(waiting.key)
        except NotFound:
            return []
        return [f"/capture/{view.capture}/{view.page}/large.jpg", f"/view/{view.key}.jpg"]
    question = catalogue.question(waiting.key)
    prints = catalogue.prints_of([question.subject]) if question else []
    views = [view for one in prints for view in (one.recto, one.verso) if view is not None]
    if waiting.kind == "treatment":
        return [address for view in views[:1] for address in (f"/view/{view.key}.jpg", proposed_address(view))]
    return [picture_address(view) for view in views]
