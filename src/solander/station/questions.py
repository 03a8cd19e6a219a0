"""The room of questions: all that waits, kind by kind, and one question at a time in large."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, Any
from urllib.parse import urlencode

from attrs import frozen
from fastapi import FastAPI, Query, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from solander.look.shown import PrintShown
from solander.station.forms import Fields, onward, own_address
from solander.station.laid import laid
from solander.station.questions_shown import Asked, asked_of, pictures_of
from solander.station.workbench import Page, Workbench
from solander.tasks.ask_inscriptions import take_inscription
from solander.tasks.described_some import described_some
from solander.tasks.meaning_asked import take_meaning
from solander.tasks.one_print import one_print
from solander.tasks.pair_sides import join_sides
from solander.tasks.print_desk import PrintDesk
from solander.tasks.queue import KINDS, Queue, Waiting
from solander.tasks.seen_twice import not_one_negative, one_negative
from solander.tasks.stand_choice import answer_which_picture
from solander.tasks.worth_asking import WorthAsking

__all__ = ["add_questions"]

LAID_SMALL = 4
"""Prints of an occasion that lie above a question about it: one row over its slip (looked at, not measured)."""

Inside = Annotated[str, Query(alias="in")]
"""The container that one keeps to, empty for all."""

_NAMES = {kind.name for kind in KINDS}


@frozen
class _Within:
    """What is asked about: one kind or all, in one container or all."""

    kind: str = ""
    container: str = ""

    def address(self, path: str = "/questions/one", **more: str) -> str:
        pairs = (("kind", self.kind), ("in", self.container), *more.items())
        said = urlencode([pair for pair in pairs if pair[1]])
        return f"{path}?{said}" if said else path


def add_questions(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the room; a workbench without a queue has none."""
    queue = bench.queue
    if queue is None:
        return
    _add_pages(app, bench, queue, page)
    _add_answers(app, queue)
    if bench.prints:
        _add_answers_of_words(app, bench.prints, queue)


def _add_pages(app: FastAPI, bench: Workbench, queue: Queue, page: Page) -> None:
    @app.get("/questions", response_class=HTMLResponse)
    def questions(within: Inside = "", done: int | None = None) -> Response:
        kinds = [(one, _Within(one.kind.name, within).address()) for one in queue.kinds(within)]
        told: dict[str, Any] = {"kinds": kinds, "pace": queue.pace("", within), "within": within}
        told |= {"all": _Within("", within).address(), "containers": _codes(queue), "faces": bench.faces}
        told |= {"mends": bench.collection.mends(), "asked": [] if within else _asked_next(bench, queue)}
        told |= {"done": done, "words": bench.done(done), "treatments": bench.treatments}
        told |= {"backs": len(bench.backs.waiting(within)) if bench.backs else 0}
        return page("questions.html", **bench.room("Questions"), **told)

    @app.get("/questions/one", response_class=HTMLResponse)
    def one(
        kind: str = "",
        within: Inside = "",
        at: str = "",
        was: str = "",
        done: int | None = None,
        undone: int | None = None,
    ) -> Response:
        here = _Within(kind if kind in _NAMES else "", within)
        words = bench.done(done)
        _note(queue, was or here.kind, done if words else None, undone)
        told = _one(bench, queue, here, at)
        return page("question.html", **bench.room("Questions"), **told, done=done, words=words)


def _one(bench: Workbench, queue: Queue, here: _Within, at: str) -> dict[str, Any]:
    """The question to ask next, with what is fetched for the one after it."""
    waiting = queue.following(here.kind, here.container, at=at)
    asked = _shown(bench, queue, waiting, here)
    if waiting and asked is None:  # it was answered meanwhile, or its address was kept for long
        waiting = queue.following(here.kind, here.container)
        asked = _shown(bench, queue, waiting, here)
    return {
        "asked": asked,
        **(asked.values if asked else {}),
        "then": _after(here, waiting),
        "undone_at": here.address,
        "kind": next((one for one in KINDS if one.name == here.kind), None),
        "within": here.container,
        "room_address": _Within("", here.container).address("/questions"),
        "pace": queue.pace(here.kind, here.container),
        "next_pictures": pictures_of(bench, queue, waiting[1]) if len(waiting) > 1 else [],
        "alone": len(waiting) < 2,
    }


def _shown(bench: Workbench, queue: Queue, waiting: Sequence[Waiting], here: _Within) -> Asked | None:
    return asked_of(bench, queue, waiting[0], _after(here, waiting)) if waiting else None


def _after(here: _Within, waiting: Sequence[Waiting]) -> str:
    """Where an answer leads: to the next, which takes note of what kind was answered."""
    return here.address(was=waiting[0].kind) if waiting else here.address()


def _note(queue: Queue, kind: str, done: int | None, undone: int | None) -> None:
    if done is not None:
        queue.note_answer(done, kind)
    if undone is not None:
        queue.note_undone(undone)


def _add_answers(app: FastAPI, queue: Queue) -> None:
    @app.post("/questions/later")
    def later(form: Fields) -> Response:
        queue.leave(form.get("later", ""))
        return RedirectResponse(own_address(form.get("then", "")), 303)

    @app.post("/questions/settle")
    def settle(form: Fields) -> Response:
        return onward(form, queue.settle(form.get("key", "")))

    @app.post("/questions/pair")
    def pair(form: Fields) -> Response:
        act = join_sides(queue.collection, form.get("key", ""), form.get("front", ""))
        return onward(form, queue.sitting.noted(act))

    @app.post("/questions/one-print")
    def twice(form: Fields) -> Response:
        act = one_print(queue.collection, form.get("key", ""), form.get("keep", ""))
        return onward(form, queue.sitting.noted(act))

    @app.post("/questions/one-negative")
    def of_one_negative(form: Fields) -> Response:
        act = one_negative(queue.collection, form.get("key", ""))
        return onward(form, queue.sitting.noted(act))

    @app.post("/print/{accession}/not-one-negative")
    def no_negative(accession: str, form: Fields) -> Response:
        act = not_one_negative(queue.collection, accession, form.get("other", ""))
        return onward(form, queue.sitting.noted(act))

    @app.post("/questions/which-picture")
    def which_picture(form: Fields) -> Response:
        act = answer_which_picture(queue.collection, form.get("key", ""), keep_new=form.get("keep") == "new")
        return onward(form, queue.sitting.noted(act))


def _add_answers_of_words(app: FastAPI, desk: PrintDesk, queue: Queue) -> None:
    """Answers that become statements; where the same was said before, the question is settled alone."""

    @app.post("/questions/inscription")
    def inscription(form: Fields) -> Response:
        key = form.get("key", "")
        act = take_inscription(desk, key)
        return onward(form, queue.settle(key) if act is None else act)

    @app.post("/questions/means")
    def means(form: Fields) -> Response:
        key = form.get("key", "")
        act = take_meaning(desk, key, form.get("means", ""))
        return onward(form, queue.settle(key) if act is None else act)


def _codes(queue: Queue) -> Sequence[str]:
    return [container.code for container in queue.collection.catalogue.containers()]


@frozen
class _Asked:
    """A question for relatives with what it is about: one print, or the first of an occasion and how many more."""

    question: WorthAsking
    shown: PrintShown | None
    pile: tuple[PrintShown, ...]
    more: int


def _asked_next(bench: Workbench, queue: Queue) -> list[_Asked]:
    return [_asked(queue, question) for question in bench.collection.worth_asking()]


def _asked(queue: Queue, question: WorthAsking) -> _Asked:
    own = laid(described_some(queue.collection, [question.subject]))
    if own:
        return _Asked(question, own[0], (), 0)
    members = [one.accession for one in queue.collection.catalogue.standings_of_occasion(question.subject)]
    pile = tuple(laid(described_some(queue.collection, members[:LAID_SMALL])))
    return _Asked(question, None, pile, len(members) - len(pile))
