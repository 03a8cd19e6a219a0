"""Erases all that a collection keeps of faces: boxes, measures, groups, and what history tells of them."""

from __future__ import annotations

from attrs import frozen

from solander.core.sentence import Sentence
from solander.core.statements import Says
from solander.tasks.collection import Collection
from solander.tasks.face_switch import switch_faces
from solander.tasks.name_faces import by_pointing
from solander.tasks.put_in_order import ask_about_contradictions

__all__ = ["Erased", "erase_faces"]


@frozen
class Erased:
    """How many faces were erased, how many names given by pointing at one were withdrawn, and where a second copy
    lies that still holds them (empty for none)."""

    faces: int
    names: int
    copy: str


def erase_faces(collection: Collection, *, names_too: bool = False, who: str = "archivist") -> Erased:
    """Switches faces off and erases them; it can't be undone.

    Names that a person gave stay as statements about the prints, unless `names_too`.

    Raises
    ------
    Trouble
        When another program has the collection open.
    """
    switch_faces(collection, on=False, who=who, lasting=True)
    withdrawn = _withdraw_names(collection, who) if names_too else 0
    erased = collection.catalogue.erase_faces()
    copy = collection.catalogue.setting("second_copy").split(" ", 3)[3:]
    return Erased(erased, withdrawn, copy[0] if copy else "")


def _withdraw_names(collection: Collection, who: str) -> int:
    pointed = [
        said
        for said in collection.catalogue.statements()
        if said.says is Says.PERSON and said.source.endswith(by_pointing(""))
    ]
    with collection.catalogue.act(who, Sentence("withdrew the names given by pointing at faces")) as act:
        with act.work() as work:
            for said in pointed:
                work.withdraw(said.id)
            work.commit()
        ask_about_contradictions(collection, act)
    return len(pointed)
