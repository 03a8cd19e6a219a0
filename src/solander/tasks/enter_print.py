"""Enters a print under the next number of its container, and asks what is not sure of its views."""

from __future__ import annotations

from solander.catalogue.work import Work
from solander.core.language import marked
from solander.core.prints import Container, Print, Side, View, accession_number
from solander.core.questions import Asks
from solander.core.sentence import Capital, Sentence
from solander.imaging.condition_limits import GLARE, SHAKEN, TOO_BRIGHT, TOO_DARK, UNEVEN
from solander.imaging.measure import NOT_SHARP, UNDER_A_HAND
from solander.look.words import side_of
from solander.tasks.ask import ask

__all__ = [
    "ask_about_edge",
    "ask_about_view",
    "ask_for_front",
    "capture_sentences",
    "edge_sentence",
    "enter_print",
]


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
    sentence = Sentence(
        "%(accession)s is a back without its front: which print does it belong to?", accession=accession
    )
    return ask(work, Asks.PAIR, accession, sentence)


def ask_about_view(work: Work, accession: str, view: View) -> None:
    """Asks what is not sure of a view: its edge, its capture."""
    ask_about_edge(work, accession, view)
    for sentence in capture_sentences(accession, view):
        ask(work, Asks.CAPTURE_AGAIN, accession, sentence)


def ask_about_edge(work: Work, accession: str, view: View) -> set[str]:
    """Asks about an outline that is not sure; gives the question's key, nothing for one that is."""
    if view.outline.is_sure:
        return set()
    return {ask(work, Asks.OUTLINE, accession, edge_sentence(accession, view))}


def edge_sentence(accession: str, view: View) -> str:
    """What is asked about an outline that is not sure."""
    message = (
        marked("No edge of a print was found for %(side)s: where is it?")
        if view.outline.confidence == 0
        else marked("Is %(side)s cut out at the paper's edge?")
    )
    return Sentence(message, side=side_of(view.side, accession))


def capture_sentences(accession: str, view: View) -> list[str]:
    """What is asked about a view's capture: about the foremost of its faults, for one capture mends all."""
    found = view.condition.faults if view.condition else ()
    side = Capital(side_of(view.side, accession))
    sentences: list[str] = [Sentence(message, side=side) for fault, message in _FAULTY.items() if fault in found]
    return sentences[:1]


_FAULTY = {
    UNDER_A_HAND: marked("%(side)s is partly under a hand: capture it again?"),
    SHAKEN: marked("%(side)s moved while it was captured: capture it again?"),
    NOT_SHARP: marked("%(side)s is not sharp: capture it again?"),
    GLARE: marked("%(side)s has a lamp mirrored in it: move the lamp aside, and capture it again?"),
    TOO_BRIGHT: marked("%(side)s is too bright in places: capture it again with less light?"),
    TOO_DARK: marked("%(side)s is too dark in places: capture it again with more light?"),
    UNEVEN: marked("%(side)s has much less light at one edge: move the lamp, and capture it again?"),
}
"""The faults that are asked about, the foremost first. A tilted camera is put straight in the view, and dust is
told on its page: neither is worth a question of its own."""
