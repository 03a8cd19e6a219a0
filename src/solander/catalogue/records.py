"""Records of the core as rows, and rows as records: the one place that knows both."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from attrs import asdict

from solander.core.occasions import Occasion
from solander.core.places import Place, PlaceName
from solander.core.prints import Capture, Condition, Container, Corners, Outline, Print, Side, Stand, View
from solander.core.questions import Asks, Question
from solander.core.sentence import kept, read_kept
from solander.core.stand_profile import light_of
from solander.core.statements import About, Says, Statement, Sure
from solander.core.treatments import UNTREATED, Treatment, read_treatment
from solander.core.upright import Upright

__all__ = [
    "Row",
    "base_name",
    "capture_of",
    "capture_row",
    "condition_json",
    "container_of",
    "container_row",
    "occasion_of",
    "occasion_row",
    "place_of",
    "place_row",
    "print_of",
    "print_row",
    "question_of",
    "question_row",
    "statement_of",
    "statement_row",
    "storable",
    "treatment_json",
    "view_of",
    "view_row",
]

Row = Mapping[str, Any]


def storable(text: str) -> str:
    """Text as the database can keep it: bytes of a file name that are not UTF-8 are written as escapes."""
    return text.encode("utf-8", "backslashreplace").decode("utf-8")


def base_name(name: str) -> str:
    """The last part of a file name, case folded."""
    return name.replace("\\", "/").rpartition("/")[2].casefold()


def container_row(container: Container) -> dict[str, Any]:
    """The row of a container."""
    captures = list(container.captures) or None
    return {"code": container.code, "parent": container.parent, "title": container.title, "captures": captures}


def container_of(row: Row) -> Container:
    """The container of a row."""
    return Container(row["code"], row["title"], tuple(row["captures"] or ()))


def capture_row(capture: Capture) -> dict[str, Any]:
    """The row of a capture."""
    return asdict(capture)


def capture_of(row: Row) -> Capture:
    """The capture of a row."""
    return Capture(**row)


def print_row(print_: Print) -> dict[str, Any]:
    """The row of a print, without its views."""
    return {
        "accession": print_.accession,
        "container": print_.container,
        "number": print_.number,
        "back_of": None,
        "taken_out": None,
    }


def print_of(row: Row, views: tuple[View, ...]) -> Print:
    """The print of a row, with its views."""
    return Print(row["accession"], row["container"], row["number"], views)


def view_row(accession: str, view: View, *, sequence: int) -> dict[str, Any]:
    """The row of a view that is in use; `sequence` is its place among all views."""
    return {
        "key": view.key,
        "accession": accession,
        "sequence": sequence,
        "superseded": None,
        "side": view.side.value,
        "capture": view.capture,
        "page": view.page,
        "corners": _corners_json(view.outline.corners),
        "second": view.outline.second and _corners_json(view.outline.second),
        "confidence": view.outline.confidence,
        "checked": view.outline.checked,
        "turn": view.turn,
        "width": view.width,
        "height": view.height,
        "ppi": view.ppi,
        "condition": condition_json(view.condition),
        "upright": view.upright.value if view.upright else None,
        "bows": view.outline.bows and list(view.outline.bows),
        "stand": _stand_json(view.stand),
        "treatment": treatment_json(view.treatment),
    }


def view_of(row: Row) -> View:
    """The view of a row."""
    outline = Outline(
        _corners_of(row["corners"]),
        row["confidence"],
        row["checked"],
        second=row["second"] and _corners_of(row["second"]),
        bows=row["bows"] and tuple(row["bows"]),
    )
    return View(
        capture=row["capture"],
        page=row["page"],
        outline=outline,
        side=Side(row["side"]),
        width=row["width"],
        height=row["height"],
        turn=row["turn"],
        upright=Upright(row["upright"]) if row["upright"] else None,
        ppi=row["ppi"],
        condition=_condition_of(row["condition"]),
        stand=_stand_of(row["stand"]),
        treatment=_treatment_of(row["treatment"]),
    )


def _corners_json(corners: Corners) -> list[list[float]]:
    return [list(corner) for corner in corners]


def _corners_of(kept: list[list[float]]) -> Corners:
    first, second, third, fourth = ((x, y) for x, y in kept)
    return first, second, third, fourth


def _stand_json(stand: Stand | None) -> dict[str, Any] | None:
    if stand is None:
        return None
    row = {**asdict(stand), "lens": list(stand.lens), "plane": stand.plane and list(stand.plane)}
    light = row.pop("light")
    return {**row, "light": json.loads(json.dumps(light))} if light else row


def _stand_of(kept: dict[str, Any] | None) -> Stand | None:
    if kept is None:
        return None
    plane = kept["plane"] and tuple(kept["plane"])
    light = light_of(kept.get("light"))
    return Stand(**{**kept, "lens": tuple(kept["lens"]), "plane": plane, "light": light})


def condition_json(condition: Condition | None) -> dict[str, Any] | None:
    """A condition as it is kept in the row of its view."""
    return None if condition is None else condition.as_kept()


def _condition_of(kept: dict[str, Any] | None) -> Condition | None:
    return None if kept is None else Condition.of_kept(kept)


def treatment_json(treatment: Treatment) -> dict[str, Any] | None:
    """A treatment as it is kept in the row of its view; None when it has no step."""
    return treatment.as_json() if treatment.steps else None


def _treatment_of(kept: dict[str, Any] | None) -> Treatment:
    return UNTREATED if kept is None else read_treatment(kept)


def statement_row(statement: Statement) -> dict[str, Any]:
    """The row of a statement, without its place in the order of entry."""
    return _words(asdict(statement))


def statement_of(row: Row) -> Statement:
    """The statement of a row."""
    # Column by column: going through all columns of a row takes twice as long, and there are very many rows.
    return Statement(
        row["id"],
        _ABOUT[row["about"]],
        row["subject"],
        _SAYS[row["says"]],
        row["value"],
        row["words"],
        _SURE[row["sure"]],
        row["source"],
        row["entered"],
        row["withdrawn"],
    )


_ABOUT = {each.value: each for each in About}
_SAYS = {each.value: each for each in Says}
_SURE = {each.value: each for each in Sure}


def question_row(question: Question) -> dict[str, Any]:
    """The row of a question, without its place in the queue."""
    return {**_words(asdict(question)), "sentence": kept(question.sentence)}


def question_of(row: Row) -> Question:
    """The question of a row."""
    values = {name: value for name, value in row.items() if name != "entry"}
    return Question(**{**values, "asks": Asks(values["asks"]), "sentence": read_kept(values["sentence"])})


def occasion_row(occasion: Occasion) -> dict[str, Any]:
    """The row of an occasion."""
    return asdict(occasion)


def occasion_of(row: Row) -> Occasion:
    """The occasion of a row."""
    return Occasion(**row)


def place_row(place: Place) -> dict[str, Any]:
    """The row of a place."""
    return _words(
        {**asdict(place), "known_as": list(place.known_as), "names": [asdict(one) for one in place.names]}
    )


def place_of(row: Row) -> Place:
    """The place of a row."""
    names = tuple(PlaceName(**name) for name in row["names"])
    return Place(**{**row, "names": names, "known_as": tuple(row["known_as"]), "sure": Sure(row["sure"])})


def _words(row: dict[str, Any]) -> dict[str, Any]:
    # Choices are kept as their plain words, so that history reads without this program.
    return {name: str(value) if isinstance(value, str) else value for name, value in row.items()}
