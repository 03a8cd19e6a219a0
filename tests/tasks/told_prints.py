"""Prints and what is said of them, straight through the catalogue: no picture is made."""

from __future__ import annotations

import hashlib
from collections.abc import Collection as Several
from itertools import count

from solander.core.prints import Capture, Outline, Print, Side, View, accession_number
from solander.core.statements import About, Says, Statement, Sure
from solander.tasks.collection import Collection

_numbers = count(1)
_AT = "2026-03-01T10:00:00.000Z"


def take_in(collection: Collection, container: str | None, prints: int, *, backs: Several[int] = ()) -> list[str]:
    """Enters prints with a front each, and a back where `backs` has their number; their accession numbers."""
    with collection.catalogue.act("test", "took in") as act, act.work() as work:
        first = work.next_number(container)
        numbers = range(first, first + prints)
        for number in numbers:
            sides = [Side.RECTO, *([Side.VERSO] if number in backs else [])]
            views = tuple(_view(f"{container} {number} {side}", side) for side in sides)
            for view in views:
                work.keep_capture(Capture(view.capture, f"{number}.jpg", "image/jpeg", 9, 400, 300, dpi=300.0))
            work.add_print(Print(accession_number(container, number), container, number, views))
        work.commit()
    return [accession_number(container, number) for number in numbers]


def _view(name: str, side: Side) -> View:
    sha256 = hashlib.sha256(name.encode()).hexdigest()
    outline = Outline(((0.0, 0.0), (90.0, 0.0), (90.0, 60.0), (0.0, 60.0)), 0.97)
    return View(sha256, 0, outline, side, 90, 60)


def say(
    collection: Collection,
    subject: str,
    says: Says,
    value: str,
    *,
    about: About = About.PRINT,
    sure: Sure = Sure.CERTAIN,
) -> str:
    """States something, in an act of its own; the statement's id."""
    ident = f"said {next(_numbers)}"
    said = Statement(ident, about, subject, says, value, value, sure, "test", _AT)
    with collection.catalogue.act("test", f"said {value}") as act, act.work() as work:
        work.state(said)
        work.commit()
    return ident
