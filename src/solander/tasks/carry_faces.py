"""Keeps faces where they are when a print is cut out anew: from the old outline to the new one."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from attrs import evolve

from solander.catalogue.work import Work
from solander.core.faces import Box, Face, Point
from solander.core.prints import View
from solander.imaging.in_view import InView
from solander.tasks.collection import Collection
from solander.tasks.stand import lens_of

__all__ = ["carry_faces", "in_view"]


def carry_faces(collection: Collection, work: Work, old: View, new: View) -> None:
    """Gives the faces of a view the boxes that they have in the view which takes its place.

    A face that lies outside the new outline is taken away; what was said of the print stays said.
    """
    faces = collection.catalogue.faces(view=old.key) if new.key != old.key else []
    capture = collection.catalogue.capture(old.capture)
    if not faces or capture is None:
        return
    frame = capture.width, capture.height
    for face in faces:
        box = _bounds(_carried(_corners(face.box), old, new, frame)).on_paper()
        if box is None:
            work.remove_face(face.key)
        else:
            points = _carried(face.points, old, new, frame) if face.points else ()
            work.keep_face(_moved(face, new, box, points))


def _moved(face: Face, view: View, box: Box, points: tuple[Point, ...]) -> Face:
    return evolve(face, view=view.key, box=box, points=points)


def _carried(points: Sequence[Point], old: View, new: View, frame: tuple[int, int]) -> tuple[Point, ...]:
    before, after = in_view(old, frame), in_view(new, frame)
    on_paper = after.shares(before.seen(np.array(points)))
    return tuple((float(x), float(y)) for x, y in on_paper)


def in_view(view: View, frame: tuple[int, int]) -> InView:
    """The print of a view as its capture of `frame` (width, height) shows it, as it lay."""
    focal = view.stand.focal if view.stand else None
    return InView(view.outline.corners, frame, lens=lens_of(view.stand), bows=view.outline.bows, focal=focal)


def _corners(box: Box) -> list[Point]:
    right, bottom = box.left + box.width, box.top + box.height
    return [(box.left, box.top), (right, box.top), (right, bottom), (box.left, bottom)]


def _bounds(points: Sequence[Point]) -> Box:
    across, down = zip(*points, strict=True)
    return Box(min(across), min(down), max(across) - min(across), max(down) - min(down))
