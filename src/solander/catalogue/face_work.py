"""Writing faces inside a unit of work.

Measures are kept beside the faces and never enter history: they can be taken again from the view, and a measure
that is to be gone must be gone everywhere.
"""

from __future__ import annotations

from collections.abc import Mapping

from sqlalchemy import Connection, delete, insert, select

from solander.catalogue.face_rows import face_row
from solander.catalogue.history import Recorder
from solander.catalogue.schema import face_measures, faces, faces_looked, settings
from solander.core.faces import Face

__all__ = ["LAST_GROUP", "FacesWork"]

LAST_GROUP = "last_face_group"
"""The setting that holds the highest number a group ever had."""


class FacesWork:
    """The part of a unit of work that writes faces."""

    _connection: Connection
    recorder: Recorder

    def set(self, key: str, value: str, *, lasting: bool = False) -> None:
        """Sets what the collection goes by."""
        raise NotImplementedError

    def keep_face(self, face: Face) -> None:
        """Enters a face, or what is now known of the one of that key."""
        self.recorder.keep(faces, face_row(face))

    def remove_face(self, key: str) -> None:
        """Takes a face away; its measure goes with it."""
        self.recorder.delete(faces, key)

    def keep_measures(self, measures: Mapping[str, bytes]) -> None:
        """Keeps the measures of faces by their keys, in the place of those before."""
        self.drop_measures(*measures)
        if measures:
            kept = [{"face": key, "measure": measure} for key, measure in measures.items()]
            self._connection.execute(insert(face_measures), kept)

    def drop_measures(self, *keys: str) -> None:
        """Forgets the measures of faces."""
        for key in keys:
            self._connection.execute(delete(face_measures).where(face_measures.c.face == key))

    def looked_for_faces(self, view: str) -> None:
        """Notes that a view was looked at for faces as it is now."""
        self.recorder.keep(faces_looked, {"view": view})

    def next_face_group(self) -> int:
        """A number for a new group of faces, never given before; undo does not give it back."""
        known = self.recorder.row(settings, LAST_GROUP)
        number = 1 + int(known["value"] if known else 0)
        self.set(LAST_GROUP, str(number), lasting=True)
        return number

    def _faces_follow(self, old: str, new: str) -> None:
        """The faces of a view that gave way to another are the other's."""
        for key in list(self._connection.scalars(select(faces.c.key).where(faces.c.view == old))):
            self.recorder.update(faces, key, {"view": new})
