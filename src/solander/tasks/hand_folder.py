"""The folder with a recogniser of handwriting that the backs of a collection are read with, where there is one."""

from __future__ import annotations

from pathlib import Path

from solander.core.sentence import Sentence
from solander.reading.inscriptions.handwriting import handwriting_reader
from solander.tasks.claims import AT_THE_DESK
from solander.tasks.collection import Collection

__all__ = ["hand_folder", "use_hand"]

_SETTING = "handwriting"


def hand_folder(collection: Collection) -> Path | None:
    """The folder that the collection goes by; None where none was named."""
    kept = collection.catalogue.setting(_SETTING, "")
    return Path(kept) if kept else None


def use_hand(collection: Collection, folder: Path | None, *, who: str = AT_THE_DESK) -> int | None:
    """Reads this collection with the recogniser in a folder from now on, or with None without one; the act's
    number.

    Raises
    ------
    CannotBegin
        When a file of it is missing or can't be used.
    """
    if folder is not None:
        folder = folder.resolve()
        handwriting_reader(folder)
    sentence = (
        Sentence("reads handwriting with the recogniser in %(folder)s", folder=folder)
        if folder
        else Sentence("reads handwriting without a recogniser of its own")
    )
    with collection.catalogue.act(who, sentence) as act, act.work() as work:
        work.set(_SETTING, str(folder or ""))
        work.commit()
    return act.number
