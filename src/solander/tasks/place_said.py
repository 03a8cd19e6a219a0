"""Enters a place that was named: kept as it was written, understood where that can be done without guessing."""

from __future__ import annotations

from solander.catalogue.work import Work
from solander.core.errors import InvalidValue
from solander.core.places import Place
from solander.core.questions import Asks
from solander.tasks.ask import ask
from solander.tasks.places import PlaceReader, question_about, taken_for

__all__ = ["enter_place"]


def enter_place(work: Work, name: str, read: PlaceReader, *, on: str = "") -> str:
    """Keeps a new place of that name; `on` is the EDTF date of what it is said of.

    Where the name may be several places, or is misspelt, it keeps no position and a question waits; gives the
    question's key, or nothing.
    """
    if read.gazetteer is None:
        work.keep_place(Place(name))
        return ""
    try:
        found = read(name, on=on or None)
    except InvalidValue:  # no word in it: there is nothing to look up
        found = ()
    work.keep_place(taken := taken_for(name, found) or Place(name))
    question = "" if taken.is_located else question_about(name, found)
    return ask(work, Asks.PLACE, name, question) if question else ""
