"""First words: what an empty collection asks, and what is understood of any words while they are typed."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fastapi import FastAPI, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from solander.core.dates import words as date_words
from solander.core.errors import NotFound
from solander.core.people import Person
from solander.core.places import Place
from solander.look.life_rule import life_years_words
from solander.look.map_figure import distance_words
from solander.look.words import joined
from solander.station.forms import Fields
from solander.tasks.date import date_reader
from solander.tasks.first_words import (
    FirstWordsRead,
    pass_over,
    read_first_words,
    say_first_words,
    years_said,
)
from solander.tasks.names import Names
from solander.tasks.understood import Understood, understand_person, understand_place

__all__ = ["add_first_words"]

Page = Callable[..., HTMLResponse]


def add_first_words(app: FastAPI, names: Names, page: Page, values: Callable[[str], dict[str, Any]]) -> None:
    """Adds the page of first words, and what is understood while one types."""

    def asked(said: FirstWordsRead, **more: Any) -> HTMLResponse:
        return page("first_words.html", **values("/first-words"), said=said, lines=_lines(said), **more)

    @app.get("/first-words", response_class=HTMLResponse)
    def first_words(done: int | None = None) -> Response:
        kept = names.first_words
        said = read_first_words(names.collection, kept.teller, "\n".join(kept.homes), kept.said)
        return asked(said, kept=not kept.is_empty, tried=False, done=done, words=names.done(done))

    @app.post("/first-words")
    def say(form: Fields) -> Response:
        if "pass" in form:
            names.noted(pass_over(names.collection))
            return RedirectResponse("/", 303)
        said = read_first_words(names.collection, *(form.get(name, "") for name in ("whose", "where", "years")))
        if "look" in form or said.years_not_understood:
            return asked(said, kept=False, tried=True, done=None, words="")
        act = names.noted(say_first_words(names.collection, said))
        return RedirectResponse("/first-words" + ("" if act is None else f"?done={act}"), 303)

    @app.get("/understood/{kind}", response_class=HTMLResponse)
    def understood(kind: str, said: str = "") -> Response:
        return page("understood.html", lines=_understood(names, kind, said[:_LONGEST]))


_LONGEST = 400
"""Letters of what is typed that are looked at: beyond, nobody types a name."""

Line = tuple[str, str]


def _understood(names: Names, kind: str, said: str) -> list[Line]:
    """What is understood, line by line, each with its reason."""
    if kind == "person":
        return [person_line(understand_person(names.collection, said))]
    if kind == "places":
        return [place_line(one) for one in read_first_words(names.collection, "", said, "").homes]
    if kind == "place":
        return [place_line(understand_place(names.collection, said))]
    if kind == "years":
        return [years_line(names, said)]
    if kind == "date":
        return [date_line(names, said)]
    raise NotFound("There is nothing at this address")


def person_line(one: Understood[Person]) -> Line:
    """A person as they were understood."""
    life = life_years_words(one.meant)
    others = joined([f"{other.name} ({life_years_words(other) or 'no dates'})" for other in one.others[:3]])
    told = f"{one.meant.name}, {life}" if life else one.meant.name
    return told, "new: will be added" if one.new else one.why + (f"; or {others}" if others else "")


def place_line(one: Understood[Place]) -> Line:
    """A place as it was understood."""
    place = one.meant
    where = ", ".join(filter(None, (place.region, place.country)))
    told = f"{place.name} ({where})" if where else place.name
    if one.new and not place.is_located:
        return told, "new: will be added; its page lets you say where it is"
    size = f", within {distance_words(place.radius_m)}" if place.radius_m else ""
    return told, one.why + size


def years_line(names: Names, said: str) -> Line:
    """The years of the whole collection."""
    read = read_first_words(names.collection, "", "", said)
    if years_said(names.collection, said) is None:
        return "Not understood as years", "write 1890 to 1975, the 1920s, or since 1904"
    return read.span_words[:1].upper() + read.span_words[1:], "about; no print is bound by it"


def date_line(names: Names, said: str) -> Line:
    """A date as it was understood, and what else it may mean."""
    found = date_reader(names.collection.catalogue)(said)
    if not found.readings:
        return "Not understood as a date", "write 5 March 1921, 1921, or about 1921"
    told, *others = dict.fromkeys(date_words(reading.edtf) for reading in found.readings)
    left = f"not understood: {' '.join(found.unused)}" if found.unused else ""
    return told, "; ".join(filter(None, (f"or {' or '.join(others[:3])}" if others else "", left)))


def _lines(said: FirstWordsRead) -> dict[str, list[Line]]:
    return {
        "whose": [person_line(said.teller)] if said.teller else [],
        "where": [place_line(one) for one in said.homes],
        "years": [(said.span_words[:1].upper() + said.span_words[1:], "about; no print is bound by it")]
        if said.span
        else [],
    }
