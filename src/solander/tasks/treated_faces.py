"""Where faces are in a treated picture: they are kept as places of the untreated view."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from solander.core.faces import Box, NamedFace
from solander.core.prints import View
from solander.imaging.treatment.treat import FRAMING, placed

__all__ = ["faces_in_treated"]


def faces_in_treated(faces: Iterable[NamedFace], view: View) -> tuple[NamedFace, ...]:
    """The faces of a view (boxes as it is shown untreated) as boxes of the treated picture; without those that its
    crop leaves out."""
    if not any(step.name in FRAMING for step in view.treatment.applied):
        return tuple(faces)
    moved = ((face, _moved(face.box, view)) for face in faces)
    return tuple(NamedFace(face.person, box) for face, box in moved if box is not None)


def _moved(box: Box, view: View) -> Box | None:
    """The upright box around where its corners come to lie."""
    left, top, right, bottom = box.left, box.top, box.left + box.width, box.top + box.height
    corners = np.array([(left, top), (right, top), (right, bottom), (left, bottom)])
    there = placed(corners, (view.width, view.height), view.treatment.applied)
    (x, y), (across, down) = there.min(axis=0).tolist(), np.ptp(there, axis=0).tolist()
    return Box(x, y, across, down).on_paper()
