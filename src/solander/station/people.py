"""People in the room of names and places: their list, and each person's own page."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any
from urllib.parse import quote

from attrs import frozen
from fastapi import FastAPI, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from markupsafe import Markup

from solander.core.errors import InvalidValue
from solander.core.kin import Family
from solander.core.language import _, marked
from solander.core.people import NameKind
from solander.core.sentence import Sentence
from solander.core.statements import Says, Statement, Sure
from solander.core.told import name_of
from solander.look.kin_words import kin_groups, kin_line
from solander.look.life_rule import life_rule, life_years_words
from solander.look.map_figure import years_words
from solander.look.ruler import bar_named
from solander.look.words import edtf_words
from solander.station.forms import Fields
from solander.station.laid import laid
from solander.station.places import PRINTS_ON_A_PAGE
from solander.station.workbench import Page
from solander.tasks.alike import say_two
from solander.tasks.keep_people import new_person, say_date, say_name, withdraw_said
from solander.tasks.names import Names
from solander.tasks.people_told import PersonAlone, PersonTold
from solander.tasks.same_person import join_people

__all__ = ["PersonLine", "add_people", "person_address"]

Values = Callable[[str], dict[str, Any]]

_KIND_WORDS = {
    NameKind.BIRTH: marked("name at birth"),
    NameKind.MARRIED: marked("name by marriage"),
    NameKind.NICKNAME: marked("nickname"),
    NameKind.OTHER_SCRIPT: marked("in other letters"),
    NameKind.OTHER: marked("another name"),
}
_SAYS_WORDS = {
    Says.NAME: marked("name"),
    Says.SEX: marked("sex"),
    Says.BORN: marked("born"),
    Says.BORN_AT: marked("born at"),
    Says.DIED: marked("died"),
    Says.DIED_AT: marked("died at"),
}


def person_address(name: str) -> str:
    """The address of a person's page."""
    return f"/person/{quote(name, safe='')}"


@frozen
class PersonLine:
    """A person as a line of the list."""

    told: PersonTold
    family: Family
    reasons: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """The heading."""
        return self.told.person.name

    @property
    def href(self) -> str:
        """The address of the person's page."""
        return person_address(self.name)

    @property
    def life(self) -> str:
        """ "1904–1978"."""
        return life_years_words(self.told.person)

    @property
    def called(self) -> str:
        """What else the person is called."""
        person = self.told.person
        names = dict.fromkeys((*person.also_called, *(name.text for name in person.names)))
        return ", ".join(name for name in names if name != person.name)

    @property
    def years(self) -> str:
        """Between which years the prints lie."""
        return years_words(self.told.years)

    @property
    def kin(self) -> str:
        """The nearest kin, in words."""
        return kin_line(self.told.person, self.family)


@frozen
class SaidLine:
    """One thing that is said of a person: what, and who says so."""

    said: Statement

    @property
    def what(self) -> str:
        """ "born", "nickname"."""
        if self.said.says is Says.NAME:
            kind = self.said.value.partition("|")[0]
            return _(_KIND_WORDS[NameKind(kind)]) if kind in list(NameKind) else _("name")
        return _(_SAYS_WORDS.get(self.said.says, str(self.said.says)))

    @property
    def words(self) -> str:
        """What was understood, as people write it; what was not understood as it was written."""
        if self.said.says is Says.NAME:
            return name_of(self.said.value).text
        if self.said.says in (Says.BORN, Says.DIED) and self.said.value:
            return edtf_words(self.said.value)
        return self.said.value or f"“{self.said.words}”"

    @property
    def written(self) -> str:
        """What was written, where that is another date than the words show: "BEF 1910"."""
        dated = self.said.says in (Says.BORN, Says.DIED) and self.said.value
        written = self.said.words if dated else ""
        return "" if written.casefold() in (self.words.casefold(), self.said.value.casefold()) else written


def add_people(app: FastAPI, names: Names, page: Page, values: Values) -> None:
    """Adds the pages of people; `values` gives what every page of the room shows."""

    @app.get("/people", response_class=HTMLResponse)
    def people(said: str = "", after: str = "", everybody: bool = False, done: int | None = None) -> Response:
        found = names.people.page(said=said, after=after, everybody=everybody)
        if not found.shown and not said:
            everybody, found = True, names.people.page(after=after, everybody=True)
        family = names.people.family
        lines = [PersonLine(told, family) for told in found.lines]
        if said.strip():
            lines = _found(names, said, lines)
        told = {"said": said, "lines": lines, "found": found, "everybody": everybody}
        return page("people.html", **values("/people"), **told, done=done, words=names.sitting.done(done))

    @app.get("/person/{name:path}", response_class=HTMLResponse)
    def person(name: str, done: int | None = None) -> Response:
        shown = _person(names, names.people.alone(name, most=PRINTS_ON_A_PAGE))
        return page("person.html", **values("/people"), **shown, done=done, words=names.sitting.done(done))

    _add_answers(app, names)


def _found(names: Names, said: str, others: list[PersonLine]) -> list[PersonLine]:
    """Who may be meant, with reasons, the likeliest first; then whoever else is called so."""
    family = names.people.family
    meant = [
        PersonLine(told, family, one.reasons)
        for one in names.understanding.people.find(said)
        if (told := names.people.find(one.person.name)) is not None
    ]
    named = {line.name for line in meant}
    return [*meant, *(line for line in others if line.name not in named)]


def _person(names: Names, alone: PersonAlone) -> dict[str, Any]:
    told, family = alone.told, names.people.family
    shown = laid(alone.prints)
    rule: Markup = life_rule(told.person, [bar_named(number, when) for number, when in alone.whens])
    return {
        "line": PersonLine(told, family),
        "rule": rule,
        "shown": shown,
        "more": len(told.prints) - len(shown),
        "ages": _ages(alone),
        "kin": kin_groups(told.person, family),
        "said": [SaidLine(one) for one in alone.said if one.withdrawn is None],
        "unsaid": [SaidLine(one) for one in alone.said if one.withdrawn is not None],
        "alike": [(one, person_address(one.other.name), life_years_words(one.other)) for one in alone.alike],
        "kinds": [(str(kind), _(words)) for kind, words in _KIND_WORDS.items()],
        "address": person_address,
        "teller": names.first_words.teller,
    }


def _ages(alone: PersonAlone) -> dict[str, str]:
    """The age in each print, where it is known."""
    return {
        one.print.accession: shown.age
        for one in alone.prints
        for shown in one.people
        if shown.person.name == alone.told.person.name and shown.age
    }


def _add_answers(app: FastAPI, names: Names) -> None:
    def back(name: str, act: int | None) -> Response:
        return RedirectResponse(
            person_address(name) + ("" if act is None else f"?done={names.sitting.noted(act)}"), 303
        )

    @app.post("/people/new")
    def new(form: Fields) -> Response:
        name = " ".join(form.get("name", "").split())
        return back(name, new_person(names.collection, name))

    @app.post("/person/{name:path}/call")
    def call(name: str, form: Fields) -> Response:
        kind, sure, source = _kind(form.get("kind", "")), _sure(form), form.get("source", "").strip()
        act = say_name(names.collection, name, form.get("called", ""), kind, sure=sure, source=source)
        return back(name, act)

    @app.post("/person/{name:path}/date")
    def date(name: str, form: Fields) -> Response:
        says = Says.DIED if form.get("says") == "died" else Says.BORN
        said, source = form.get("date", "").strip(), form.get("source", "").strip()
        return back(name, say_date(names.collection, name, says, said, sure=_sure(form), source=source))

    @app.post("/person/{name:path}/join")
    def join(name: str, form: Fields) -> Response:
        return back(name, join_people(names.collection, name, form.get("other", "")))

    @app.post("/person/{name:path}/two")
    def two(name: str, form: Fields) -> Response:
        return back(name, say_two(names.collection, name, form.get("other", "")))

    @app.post("/person/{name:path}/withdraw")
    def withdraw(name: str, form: Fields) -> Response:
        return back(name, withdraw_said(names.collection, name, form.get("id", "")))


def _kind(said: str) -> NameKind:
    return NameKind(said) if said in list(NameKind) else NameKind.OTHER


def _sure(form: Fields) -> Sure:
    said = form.get("sure", Sure.CERTAIN)
    if said not in list(Sure):
        raise InvalidValue(
            Sentence("“%(said)s” is not how sure somebody is", said=said), "", Sentence("Choose one of the three")
        )
    return Sure(said)
