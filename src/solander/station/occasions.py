"""Occasions: their list, and each one's page, where it is named, dated and placed once for all its prints."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from urllib.parse import quote, urlencode

from attrs import frozen
from fastapi import FastAPI, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from solander.core.errors import InvalidValue
from solander.core.language import _
from solander.core.sentence import Sentence
from solander.core.statements import Says, Statement, Sure
from solander.look.ruler import bar_of, span_of
from solander.look.words import says_words
from solander.station.arrange import occasion_address, prints_in
from solander.station.forms import Fields, Form
from solander.station.laid import laid, laid_one, print_address
from solander.station.workbench import NAMES_ROOM, Page, Workbench
from solander.tasks.arrange_desk import PRINTS_ON_A_PAGE, ArrangeDesk, OccasionAlone, OccasionLine
from solander.tasks.described_some import described_one
from solander.tasks.occasions import (
    join_occasions,
    make_occasion,
    rename_occasion,
    say_of_occasion,
    take_back_of_occasion,
)
from solander.tasks.print_desk import PrintDesk
from solander.tasks.typed import Field, Typed

__all__ = ["add_occasions"]

_LONGEST = 400
"""Letters of what is typed that are looked at: beyond, nobody types names."""


def add_occasions(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the pages of occasions."""
    desk = bench.arranging
    if desk is None:
        return
    _add_pages(app, bench, page, desk)
    _add_answers(app, desk)
    if bench.prints is not None:
        _add_naming(app, bench, page, desk, bench.prints)


def _values(bench: Workbench) -> dict[str, Any]:
    return {**bench.room(NAMES_ROOM), "within": "/occasions"}


def _add_pages(app: FastAPI, bench: Workbench, page: Page, desk: ArrangeDesk) -> None:
    @app.get("/occasions", response_class=HTMLResponse)
    def occasions(said: str = "", after: str = "", done: int | None = None) -> Response:
        found = desk.occasions(said=said, after=after)
        told = {
            "said": said,
            "found": found,
            "after": after,
            "address": occasion_address,
            "sure_words": sure_words,
        }
        return page("occasions.html", **_values(bench), **told, done=done, words=bench.done(done))

    @app.get("/occasion/{name:path}", response_class=HTMLResponse)
    def occasion(name: str, start: int = 0, done: int | None = None) -> Response:
        now = desk.collection.catalogue.occasion_now(name)
        if now != name and not desk.collection.catalogue.has_occasion(name):
            return RedirectResponse(occasion_address(now), 303)
        alone = desk.occasion(name, start=max(0, start))
        shown = _occasion(alone, can_name=bench.prints is not None)
        return page("occasion.html", **_values(bench), **shown, done=done, words=bench.done(done))


def _occasion(alone: OccasionAlone, *, can_name: bool) -> dict[str, Any]:
    bars = [bar_of(one) for one in alone.prints]
    reached = alone.start + len(alone.prints)
    return {
        "alone": alone,
        "line": alone.line,
        "href": occasion_address(alone.line.name),
        "shown": laid(alone.prints),
        "span": span_of(bars),
        "said": [SaidOf(one) for one in alone.line.said if one.says is not Says.OCCASION],
        "unsaid": [SaidOf(one) for one in alone.unsaid if one.says is not Says.OCCASION],
        "sure_words": sure_words,
        "reached": reached,
        "earlier": max(0, alone.start - PRINTS_ON_A_PAGE) if alone.start else None,
        "later": reached if reached < len(alone.all_prints) else None,
        "can_name": can_name,
        "sureness": [sure.value for sure in Sure],
    }


def sure_words(words: str, sure: Sure) -> str:
    """What is said, with the word for how sure where it is not certain."""
    told = {Sure.CERTAIN: "", Sure.LIKELY: _("likely"), Sure.GUESS: _("a guess")}[sure]
    return f"{words}, {told}" if told else words


@frozen
class SaidOf:
    """One thing that is said of an occasion, as a line."""

    said: Statement

    @property
    def what(self) -> str:
        """ "taken", "place"."""
        return says_words(self.said)

    @property
    def words(self) -> str:
        """What was understood, in words."""
        return OccasionLine("", 0, [self.said]).date or self.said.value or self.said.words

    @property
    def written(self) -> str:
        """What was written, where that is something else."""
        return "" if self.said.words.casefold() == self.words.casefold() else self.said.words


def _add_answers(app: FastAPI, desk: ArrangeDesk) -> None:
    collection = desk.collection

    def back(name: str, act: int | None) -> Response:
        done = f"?done={desk.sitting.noted(act)}" if act is not None else ""
        return RedirectResponse(occasion_address(name) + done, 303)

    @app.post("/occasions/new")
    def new(form: Fields) -> Response:
        name, told = form.get("name", ""), {part: form.get(part, "") for part in ("date", "place")}
        made = make_occasion(collection, name, prints_in(form), **told, sure=_sure(form), source=_by(form))
        return back(made.occasion, made.act)

    @app.post("/occasion/{name:path}/say")
    def say(name: str, form: Fields) -> Response:
        told = {part: form.get(part, "") for part in ("date", "place")}
        return back(name, say_of_occasion(collection, name, **told, sure=_sure(form), source=_by(form)).act)

    @app.post("/occasion/{name:path}/call")
    def call(name: str, form: Fields) -> Response:
        called = rename_occasion(collection, name, form.get("called", ""), source=_by(form))
        return back(called.occasion, called.act)

    @app.post("/occasion/{name:path}/join")
    def join(name: str, form: Fields) -> Response:
        other = " ".join(form.get("other", "").split())
        return back(name, join_occasions(collection, name, other, source=_by(form)).act)

    @app.post("/occasion/{name:path}/withdraw")
    def withdraw(name: str, form: Fields) -> Response:
        return back(name, take_back_of_occasion(collection, name, form.get("id", "")).act)


def _sure(form: Form) -> Sure | None:
    """How sure, where it is said apart; else the words tell it."""
    said = form.get("sure", "")
    if said and said not in {one.value for one in Sure}:
        raise InvalidValue(
            Sentence("“%(said)s” is not how sure somebody is", said=said), "", Sentence("Choose one of the three")
        )
    return Sure(said) if said else None


def _by(form: Mapping[str, str]) -> str:
    return " ".join(form.get("source", "").split())


def _add_naming(app: FastAPI, bench: Workbench, page: Page, desk: ArrangeDesk, prints: PrintDesk) -> None:
    """Adds the page on which one goes through an occasion print by print: who is on it, and a caption."""

    @app.get("/occasion-by-print/{name:path}", response_class=HTMLResponse)
    def one_by_one(name: str, at: str = "", done: int | None = None) -> Response:
        alone = desk.occasion(name)
        numbers = list(alone.all_prints)
        if not numbers:
            return RedirectResponse(occasion_address(name), 303)
        here = numbers.index(at) if at in numbers else 0
        values = {
            "line": alone.line,
            "href": occasion_address(name),
            "address": by_print_address(name),
            "shown": laid_one(described_one(desk.collection, numbers[here])),
            "here": here + 1,
            "total": len(numbers),
            "before": numbers[here - 1] if here else "",
            "after": numbers[here + 1] if here + 1 < len(numbers) else "",
            "print_address": print_address,
        }
        return page("occasion_by_print.html", **_values(bench), **values, done=done, words=bench.done(done))

    @app.get("/understood/people/{accession}", response_class=HTMLResponse)
    def understood(accession: str, said: str = "") -> Response:
        looked = prints.look(Typed(accession, Field.PEOPLE, said[:_LONGEST]))
        lines = [(line.words, line.why) for line in looked.meant.lines]
        return page("understood.html", lines=lines or ([(looked.meant.trouble, "")] if said.strip() else []))

    @app.post("/occasion-by-print/{name:path}")
    def say(name: str, form: Fields) -> Response:
        accession = form.get("at", "")
        parts = ((part, form.get(part.value, "").strip()) for part in (Field.PEOPLE, Field.CAPTION))
        typed = [Typed(accession, part, words) for part, words in parts if words]
        act = prints.say(*typed).act if typed else None
        onward = form.get("after", "")
        told = {**({"at": onward} if onward else {}), **({} if act is None else {"done": str(act)})}
        to = by_print_address(name) if onward else occasion_address(name)
        return RedirectResponse(to + (f"?{urlencode(told)}" if told else ""), 303)


def by_print_address(name: str) -> str:
    """The address of the page that goes through an occasion print by print."""
    return f"/occasion-by-print/{quote(name, safe='')}"
