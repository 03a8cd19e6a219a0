"""First words: what an empty collection asks, and what is understood of any words while they are typed."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fastapi import FastAPI, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from solander.core.dates import Bounds
from solander.core.errors import NotFound
from solander.core.language import _
from solander.core.people import Person
from solander.core.phrases import DatePhrase
from solander.core.places import Place
from solander.core.sentence import Sentence
from solander.look.life_rule import life_years_words
from solander.look.map_figure import distance_words
from solander.look.words import days_words, edtf_words, joined
from solander.station.forms import Fields
from solander.station.workbench import Page
from solander.tasks.first_words import FirstWordsRead, homes_in, pass_over, read_first_words, say_first_words
from solander.tasks.names import Names
from solander.tasks.understood import Understood

__all__ = ["add_first_words"]


def add_first_words(app: FastAPI, names: Names, page: Page, values: Callable[[str], dict[str, Any]]) -> None:
    """Adds the page of first words, and what is understood while one types."""

    def asked(said: FirstWordsRead, **more: Any) -> HTMLResponse:
        told = {"said": said, "lines": _lines(said), "nobody": not names.understanding.people.by_heading}
        return page("first_words.html", **values("/first-words"), **told, **more)

    @app.get("/first-words", response_class=HTMLResponse)
    def first_words(done: int | None = None) -> Response:
        kept = names.first_words
        said = read_first_words(names.understanding, kept.teller, "\n".join(kept.homes), kept.said)
        return asked(said, kept=not kept.is_empty, tried=False, done=done, words=names.sitting.done(done))

    @app.post("/first-words")
    def say(form: Fields) -> Response:
        if "pass" in form:
            names.sitting.noted(pass_over(names.collection))
            return RedirectResponse("/", 303)
        said = read_first_words(names.understanding, *(form.get(name, "") for name in ("whose", "where", "years")))
        if "look" in form or said.years_not_understood:
            return asked(said, kept=False, tried=True, done=None, words="")
        act = names.sitting.noted(say_first_words(names.understanding, said))
        return RedirectResponse("/first-words" + ("" if act is None else f"?done={act}"), 303)

    @app.get("/understood/{kind}", response_class=HTMLResponse)
    def understood(kind: str, said: str = "") -> Response:
        return page("understood.html", lines=_understood(names, kind, said[:_LONGEST]))


_LONGEST = 400
"""Letters of what is typed that are looked at: beyond, nobody types a name."""

Line = tuple[str, str]


def _understood(names: Names, kind: str, said: str) -> list[Line]:
    """What is understood, line by line, each with its reason."""
    understanding = names.understanding
    if kind == "person":
        return [person_line(understanding.person(said))]
    if kind == "places":
        return [place_line(understanding.place(home)) for home in homes_in(said)]
    if kind == "years":
        return [years_line(understanding.years(said))]
    if kind == "date":
        return [date_line(understanding.date(said))]
    raise NotFound(Sentence("There is nothing at this address"))


def person_line(one: Understood[Person]) -> Line:
    """A person as they were understood."""
    life = life_years_words(one.meant)
    told = f"{one.meant.name}, {life}" if life else one.meant.name
    why = _("new: will be added") if one.new else joined(one.reasons)
    return told, "; ".join(filter(None, (why, _perhaps(one.others))))


def place_line(one: Understood[Place]) -> Line:
    """A place as it was understood."""
    place = one.meant
    name = f"{place.name}: {one.told}" if one.told and one.told != place.name else place.name
    if not place.is_located:
        why = _("where it is will be asked") if one.others else _("new: its page lets you say where it is")
        return name, "; ".join(filter(None, (why if one.new else "", _perhaps(one.others))))
    size = _("within %(distance)s", distance=distance_words(place.radius_m)) if place.radius_m else ""
    return name, "; ".join(filter(None, (joined(one.reasons), size)))


def _perhaps(others: tuple[str, ...]) -> str:
    if not others:
        return ""
    return _("perhaps %(others)s", others=_(" or ").join(others))


def years_line(span: Bounds | None) -> Line:
    """The years of the whole collection."""
    if span is None:
        return _("Not understood as years"), _("write 1890 to 1975, the 1920s, or since 1904")
    told = days_words(span.earliest, span.latest)
    return told[:1].upper() + told[1:], _("about; no print is bound by it")


def date_line(found: DatePhrase) -> Line:
    """A date as it was understood, and what else it may mean."""
    if not found.readings:
        return _("Not understood as a date"), _("write 5 March 1921, 1921, or about 1921")
    told, *others = dict.fromkeys(edtf_words(reading.edtf) for reading in found.readings)
    left = _("not understood: %(words)s", words=" ".join(found.unused)) if found.unused else ""
    return told, "; ".join(
        filter(None, (_("or %(others)s", others=_(" or ").join(others[:3])) if others else "", left))
    )


def _lines(said: FirstWordsRead) -> dict[str, list[Line]]:
    return {
        "whose": [person_line(said.teller)] if said.teller else [],
        "where": [place_line(one) for one in said.homes],
        "years": [years_line(said.span)] if said.span else [],
    }
