"""Places in the room of names and places: their list, each place's own page, the map, and laying a circle."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from attrs import define, evolve, field
from fastapi import FastAPI, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from markupsafe import Markup

from solander.core.errors import Trouble
from solander.core.sentence import Sentence
from solander.look.map_figure import (
    PlaceOnMap,
    Years,
    map_data,
    years_rule,
)
from solander.station.forms import Fields
from solander.station.laid import laid
from solander.station.place_lines import PlaceLine, WorldLine, on_map, place_address
from solander.station.workbench import Page
from solander.tasks.keep_places import (
    add_name,
    lay_circle,
    new_place,
    position_in,
    remove_name,
)
from solander.tasks.names import Names
from solander.tasks.places import mean_place
from solander.tasks.places_told import LINES_ON_A_PAGE, PlaceTold

__all__ = ["PRINTS_ON_A_PAGE", "add_places"]

PRINTS_ON_A_PAGE = 60
"""Prints laid in small on the page of a place or a person; the map and the Table have the others."""

_OF_THE_WORLD = 6
"""So many places of the world are offered for a name."""

Values = Callable[[str], dict[str, Any]]


def add_places(app: FastAPI, names: Names, page: Page, values: Values) -> None:
    """Adds the pages of places; `values` gives what every page of the room shows."""
    _add_lists(app, names, page, values)
    _add_place(app, names, page, values)
    _add_answers(app, names)


def _add_lists(app: FastAPI, names: Names, page: Page, values: Values) -> None:
    @app.get("/places", response_class=HTMLResponse)
    def places(said: str = "", after: str = "", done: int | None = None) -> Response:
        found = names.places.page(said=said, after=after)
        lines = [PlaceLine(told) for told in found.lines]
        own = {line.name for line in lines}
        world = [WorldLine(one) for one in names.understanding.candidates(said) if one.own is None] if said else []
        told = {"said": said, "lines": lines, "found": found, "world": world[:_OF_THE_WORLD], "own": own}
        told["credit_words"] = names.credit
        return page("places.html", **values("/places"), **told, done=done, words=names.sitting.done(done))

    whole = WholeMap(names)

    @app.get("/map", response_class=HTMLResponse)
    def whole_map(request: Request, after: int = 0) -> Response:
        first, last = (request.query_params.get(end, "") for end in ("from", "to"))
        told = whole.told(years_in(first, last), max(after, 0))
        return page("map_room.html", **values("/map"), **told, asked={"from": first, "to": last})


def years_in(first: str, last: str) -> Years:
    """The years that two fields hold; what is no year is left open."""
    return Years(*(int(said) if said.strip().isdecimal() else None for said in (first, last)))


@define
class WholeMap:
    """The map of all places with prints: laid out again only when they were gathered anew."""

    names: Names
    _of: Sequence[PlaceTold] | None = field(default=None, init=False)
    _lines: list[PlaceLine] = field(factory=list, init=False)
    _laid_out: list[PlaceOnMap] = field(factory=list, init=False)
    _data: Markup = field(factory=Markup, init=False)
    _placeless: Mapping[int | None, int] = field(factory=dict, init=False)

    def told(self, chosen: Years, after: int) -> dict[str, Any]:
        """All that lies on the map; its table, a page of it, tells apart which places have no position."""
        self._lay_out()
        lines = [evolve(line, chosen=chosen) for line in self._lines]
        lines = lines if chosen.is_all else [line for line in lines if line.counted]
        end = after + LINES_ON_A_PAGE
        return {
            "data": self._data,
            "rule": years_rule(self._laid_out, chosen),
            "lines": lines[after:end],
            "is_located": any(line.row is not None for line in lines),
            "total": len(lines),
            "after": end if end < len(lines) else None,
            "placeless": sum(count for year, count in self._placeless.items() if chosen.holds(year)),
            "credit_words": self.names.credit,
        }

    def _lay_out(self) -> None:
        places = self.names.places.all()
        if places is self._of:
            return
        shown = [told for told in places if told.prints or told.home]
        located = [(told, at) for told in shown if (at := on_map(told))]
        nowhere = [PlaceLine(told) for told in shown if on_map(told) is None]
        self._lines = [*(PlaceLine(told, row) for row, (told, _) in enumerate(located)), *nowhere]
        self._laid_out = [one for _, one in located]
        self._data = map_data(self._laid_out)
        self._placeless = self.names.places.placeless
        self._of = places


def _add_place(app: FastAPI, names: Names, page: Page, values: Values) -> None:
    @app.get("/place/{name:path}/where", response_class=HTMLResponse)
    def where(name: str, near: str = "", done: int | None = None) -> Response:
        words = names.sitting.done(done)
        return page("place_where.html", **values("/places"), **_where(names, name, near), done=done, words=words)

    @app.post("/place/{name:path}/ask", response_class=HTMLResponse)
    def ask(name: str, form: Fields) -> Response:
        words = form.get("words", "").strip() or name
        told = {**_where(names, name, ""), "words_asked": words, "answers": names.where_from.ask(words)}
        return page("place_where.html", **values("/places"), **told, done=None, words="")

    @app.get("/place/{name:path}", response_class=HTMLResponse)
    def place(name: str, done: int | None = None) -> Response:
        told = names.places.place(name)
        at = on_map(told)
        shown = laid(names.prints(told.prints[:PRINTS_ON_A_PAGE]))
        return page(
            "place.html",
            **values("/places"),
            line=PlaceLine(told),
            data=map_data([at]) if at else "",
            shown=shown,
            more=len(told.prints) - len(shown),
            credit_words=names.credit,
            done=done,
            words=names.sitting.done(done),
        )


def _where(names: Names, name: str, near: str) -> dict[str, Any]:
    """The circle as it is, else one around the town that it lies near, as somebody says."""
    told = names.places.place(name)
    others = [at for one in names.places.all() if one is not told and (at := on_map(one))]
    place = told.place
    latitude, longitude, radius = place.latitude, place.longitude, place.radius_m
    town = next(iter(names.understanding.candidates(near)), None) if near.strip() else None
    if town is not None:
        latitude, longitude, radius = town.latitude, town.longitude, radius or names.usual_radius_m
    return {
        "line": PlaceLine(told),
        "data": map_data(others),
        "latitude": latitude,
        "longitude": longitude,
        "radius": radius or names.usual_radius_m,
        "near": near,
        "town": WorldLine(town) if town else None,
        "around": max(town.radius_m, 2000.0) if town else None,
        "service": names.where_from.service,
        "words_asked": "",
        "answers": None,
    }


def _add_answers(app: FastAPI, names: Names) -> None:
    def back(name: str, act: int | None) -> Response:
        return RedirectResponse(
            place_address(name) + ("" if act is None else f"?done={names.sitting.noted(act)}"), 303
        )

    @app.post("/places/new")
    def new(form: Fields) -> Response:
        name = " ".join(form.get("name", "").split())
        act = names.sitting.noted(new_place(names.collection, name))
        return RedirectResponse(f"{place_address(name)}/where?done={act}", 303)

    @app.post("/places/take")
    def take(form: Fields) -> Response:
        name = " ".join((form.get("name") or form.get("called", "")).split())
        return back(name, mean_place(names.collection, name, form.get("known_as", "")))

    @app.post("/place/{name:path}/where")
    def lay(name: str, form: Fields) -> Response:
        position = form.get("position", "").strip() or f"{form.get('latitude')}, {form.get('longitude')}"
        latitude, longitude, said = position_in(position)
        radius = said or metres_in(form.get("radius", ""))
        return back(name, lay_circle(names.collection, name, (latitude, longitude), radius))

    @app.post("/place/{name:path}/address")
    def address(name: str, form: Fields) -> Response:
        chosen = form.get("number", "")
        number = int(chosen) if chosen.isdecimal() else 0
        return back(name, names.where_from.take(name, form.get("words", ""), number))

    @app.post("/place/{name:path}/call")
    def call(name: str, form: Fields) -> Response:
        return back(name, add_name(names.collection, name, form.get("called", ""), form.get("years", "")))

    @app.post("/place/{name:path}/uncall")
    def uncall(name: str, form: Fields) -> Response:
        return back(name, remove_name(names.collection, name, form.get("called", "")))


def metres_in(said: str) -> float:
    """A radius in metres: "30", "30 m", "1,5 km".

    Raises
    ------
    Trouble
        When it is no length.
    """
    number, unit = said.strip().casefold().removesuffix("m").strip(), 1.0
    if number.endswith("k"):
        number, unit = number.removesuffix("k").strip(), 1000.0
    try:
        return float(number.replace(",", ".")) * unit
    except ValueError as error:
        raise Trouble(
            Sentence("“%(said)s” is no radius", said=said), "", Sentence("Write 30 m or 1.5 km, for instance")
        ) from error
