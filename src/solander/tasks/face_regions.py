"""Which faces a released file may tell: those that a person named for sure, and whom its audience may know of."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime

from solander.core.descriptions import DescribedPrint
from solander.core.faces import Face, NamedFace, from_left
from solander.core.living import counts_as_living
from solander.core.prints import View
from solander.core.statements import Sure
from solander.tasks.collection import Collection
from solander.tasks.face_switch import are_faces_on

__all__ = ["faces_by_view", "told_faces"]


def faces_by_view(collection: Collection) -> Mapping[str, Sequence[Face]]:
    """The named faces by the keys of their views; none where faces are switched off."""
    found: defaultdict[str, list[Face]] = defaultdict(list)
    for face in collection.catalogue.faces() if are_faces_on(collection) else ():
        if face.person:
            found[face.view].append(face)
    return found


def told_faces(
    faces: Mapping[str, Sequence[Face]],
    described: DescribedPrint,
    view: View,
    *,
    audience: str,
    today: date | None = None,
) -> tuple[NamedFace, ...]:
    """The faces of a view for an audience, from the left.

    A guess is left out: a region can't say that it is one. For the public everybody is left out who counts as
    living.
    """
    day = today or datetime.now(UTC).date()
    shown = {one.person.name: one for one in described.people if one.sure is not Sure.GUESS}
    if audience == "public":
        shown = {name: one for name, one in shown.items() if not counts_as_living(one.person, day)}
    theirs = [face for face in faces.get(view.key, ()) if face.person in shown]
    placed = sorted(theirs, key=lambda face: from_left(face, theirs, turn=view.turn))
    return tuple(NamedFace(face.person, face.box.turned(view.turn)) for face in placed)
