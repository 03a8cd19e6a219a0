"""The room of questions: what waits for a person, and what relatives are best asked next."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from attrs import frozen
from fastapi import FastAPI, Response
from fastapi.responses import HTMLResponse

from solander.core.descriptions import DescribedPrint
from solander.core.questions import Asks, Question
from solander.look.shown import PrintShown
from solander.station.laid import laid, laid_one
from solander.station.one_person import pairs_waiting
from solander.station.outlines import edges_waiting
from solander.station.which import which_waits
from solander.station.who import who_waits
from solander.station.workbench import Page, Reading, Workbench
from solander.tasks.worth_asking import WorthAsking

__all__ = ["add_questions"]

LAID_SMALL = 4
"""Prints of an occasion that lie above a question about it: one row over its slip (looked at, not measured)."""


def add_questions(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the page of all that waits."""

    @app.get("/questions", response_class=HTMLResponse)
    def questions(done: int | None = None) -> Response:
        edges, numbers = edges_waiting(bench.outlines)
        described, faces = bench.collection.described(), bench.faces
        told: dict[str, Any] = {"done": done, "words": bench.done(done), "who": who_waits(bench.who, described)}
        told |= {"which": which_waits(bench.names), "pairs": pairs_waiting(bench.names)}
        told |= {"faces": faces, "unnamed": len(faces.waiting()) if faces else 0}
        told |= {"edges": edges, "all_edges": len(numbers)}
        return page("questions.html", **bench.room("Questions"), **_questions(bench.collection, numbers), **told)


def _questions(collection: Reading, on_the_desk: Sequence[str]) -> dict[str, Any]:
    """What waits, gathered by what it is about, in the order of the first question of each; the edges of prints
    that lie `on_the_desk` are asked about there."""
    described = collection.described()
    by_number = {one.print.accession: one for one in described}
    about: dict[str, list[Question]] = {}
    for question in collection.questions():
        if question.asks is Asks.OUTLINE and question.subject in on_the_desk:
            continue
        about.setdefault(question.subject, []).append(question)
    subjects = [
        (subject, laid_one(by_number[subject]) if subject in by_number else None, questions)
        for subject, questions in about.items()
    ]
    return {
        "subjects": subjects,
        "mends": collection.mends(),
        "asked": [_asked(question, described) for question in collection.worth_asking()],
    }


@frozen
class _Asked:
    """A question for relatives with what it is about: one print, or the first of an occasion and how many more."""

    question: WorthAsking
    shown: PrintShown | None
    pile: tuple[PrintShown, ...]
    more: int


def _asked(question: WorthAsking, described: Sequence[DescribedPrint]) -> _Asked:
    found = next((one for one in described if one.print.accession == question.subject), None)
    if found is not None:
        return _Asked(question, laid_one(found), (), 0)
    members = [one for one in described if one.occasion == question.subject]
    pile = tuple(laid(members[:LAID_SMALL]))
    return _Asked(question, None, pile, len(members) - len(pile))
