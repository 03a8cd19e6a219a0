"""Enters a print under the next number of its container, and asks what is not sure of its views."""

from __future__ import annotations

from solander.catalogue.work import Work
from solander.core.prints import Container, Print, Side, View, accession_number
from solander.core.questions import Asks
from solander.tasks.ask import ask

__all__ = ["ask_about_view", "ask_for_front", "enter_print"]


def enter_print(work: Work, view: View, container: str | None) -> str:
    """The accession number of a new print with that view; a back by itself is asked about."""
    if container:
        work.add_container(Container(container))
    number = work.next_number(container)
    accession = accession_number(container, number)
    work.add_print(Print(accession, container, number, (view,)))
    if view.side is Side.VERSO:
        ask_for_front(work, accession)
    return accession


def ask_for_front(work: Work, accession: str) -> str:
    """Asks for the front of a back, and gives the question's key."""
    sentence = f"{accession} is a back without its front: which print does it belong to?"
    return ask(work, Asks.PAIR, accession, sentence)


def ask_about_view(work: Work, accession: str, view: View) -> set[str]:
    """Asks what is not sure of a view: its edge, its capture; gives the questions' keys."""
    side = "back" if view.side is Side.VERSO else "front"
    asked = set()
    if not view.outline.is_sure:
        missing = f"No edge of a print was found for the {side} of {accession}: where is it?"
        doubtful = f"Is the {side} of {accession} cut out at the paper's edge?"
        sentence = doubtful if view.outline.confidence else missing
        asked.add(ask(work, Asks.OUTLINE, accession, sentence))
    for fault in view.condition.faults if view.condition else ():
        sentence = f"The {side} of {accession} is {fault}: capture it again?"
        asked.add(ask(work, Asks.CAPTURE_AGAIN, accession, sentence))
    return asked
