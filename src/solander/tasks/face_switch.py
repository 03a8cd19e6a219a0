"""The one switch of a collection: whether its faces are looked for and kept. Off until a person says yes."""

from __future__ import annotations

from solander.catalogue.history import utc_now
from solander.core.errors import CannotBegin
from solander.core.sentence import Sentence
from solander.tasks.collection import Collection

__all__ = ["CONSENT", "NOT_ON", "are_faces_on", "refuse_without_yes", "switch_faces"]

_SETTING = "faces"

CONSENT = (
    Sentence(
        "Faces are looked for on this computer alone. No picture, no face and no measurement is sent anywhere, "
        "and nobody is named by a machine: it shows which faces look alike, and you say who they are."
    ),
    Sentence(
        "So that like faces can be found, each face is measured, and the measurement is kept in this collection. "
        "In many places such measurements are specially protected, and you may need the consent of those who "
        "live: the European Union’s GDPR (Article 9) and the Illinois Biometric Information Privacy Act are "
        "examples. For a family’s own use the rules are often milder; for an archive, a society or a business "
        "they seldom are. Ask where you live."
    ),
    Sentence(
        "You can switch it off at any time, and erase everything that was measured and found. Names that you gave "
        "stay with the prints."
    ),
)
"""What a person reads before they say yes; a paragraph each. No legal advice, and it says so by asking to ask."""

NOT_ON = (
    Sentence("No faces were looked for"),
    Sentence("this collection has not been given leave to keep faces"),
    Sentence("Read what it means and say yes: solander faces COLLECTION --on"),
)
"""What happened, why, what to do."""


def are_faces_on(collection: Collection) -> bool:
    """Whether a person said yes to keeping faces in this collection."""
    return collection.catalogue.setting(_SETTING).startswith("on ")


def refuse_without_yes(collection: Collection) -> None:
    """Does nothing where the switch is on.

    Raises
    ------
    CannotBegin
        Where it is off.
    """
    if not are_faces_on(collection):
        raise CannotBegin(*NOT_ON)


def switch_faces(collection: Collection, *, on: bool, who: str = "archivist", lasting: bool = False) -> int | None:
    """Says yes or no for a collection; off keeps what there is out of sight and looks for no more.

    A `lasting` word is not taken back by undo. Gives the number of the act.

    The setting tells when and by whom, so that it can be shown later that somebody was asked.
    """
    word = "on" if on else "off"
    with collection.catalogue.act(who, Sentence("switched faces %(word)s", word=word)) as act, act.work() as work:
        work.set(_SETTING, f"{word} {utc_now()} {who}", lasting=lasting)
        work.commit()
    return act.number
