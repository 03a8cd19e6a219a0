"""Faces as rows, and rows as faces."""

from __future__ import annotations

from typing import Any

from solander.catalogue.records import Row
from solander.core.faces import Aside, Box, Face

__all__ = ["face_of", "face_row"]


def face_row(face: Face) -> dict[str, Any]:
    """The row of a face; its measure is kept apart and never enters history."""
    return {
        "key": face.key,
        "view": face.view,
        **box_columns(face.box),
        "points": [list(point) for point in face.points] or None,
        "score": face.score,
        "group_number": face.group,
        "person": face.person,
        "aside": face.aside.value if face.aside else None,
        "by": face.by,
    }


def box_columns(box: Box) -> dict[str, float]:
    """The columns that hold a box."""
    return {"left": box.left, "top": box.top, "width": box.width, "height": box.height}


def face_of(row: Row) -> Face:
    """The face of a row."""
    return Face(
        key=row["key"],
        view=row["view"],
        box=Box(row["left"], row["top"], row["width"], row["height"]),
        points=tuple((x, y) for x, y in row["points"] or ()),
        score=row["score"],
        group=row["group_number"],
        person=row["person"],
        aside=Aside(row["aside"]) if row["aside"] else None,
        by=row["by"],
    )
