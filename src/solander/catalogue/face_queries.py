"""What the catalogue tells of faces."""

from __future__ import annotations

from contextlib import AbstractContextManager

from sqlalchemy import Connection, select

from solander.catalogue.database import rows
from solander.catalogue.face_rows import face_of
from solander.catalogue.records import storable
from solander.catalogue.schema import face_measures, faces, faces_looked, prints, views
from solander.core.errors import NotFound
from solander.core.faces import Face
from solander.core.sentence import Sentence

__all__ = ["ReadingFaces"]

_IN_USE = views.c.superseded.is_(None)


class ReadingFaces:
    """The part of a catalogue that reads faces; those of views that gave way to others are left out."""

    def _reading(self) -> AbstractContextManager[Connection]:
        raise NotImplementedError

    def faces(self, *, view: str | None = None) -> list[Face]:
        """The faces in views in use, or those of one view, in the order in which the views were entered."""
        query = select(faces).join(views, faces.c.view == views.c.key).where(_IN_USE)
        if view is not None:
            query = query.where(faces.c.view == storable(view))
        with self._reading() as connection:
            return [face_of(row) for row in rows(connection, query.order_by(views.c.sequence, faces.c.key))]

    def face(self, key: str) -> Face:
        """The face of that key.

        Raises
        ------
        NotFound
            When there is none in a view in use.
        """
        query = select(faces).join(views, faces.c.view == views.c.key).where(_IN_USE, faces.c.key == storable(key))
        with self._reading() as connection:
            found = rows(connection, query)
        if not found:
            raise NotFound(
                Sentence("This face is no longer there"),
                Sentence("it was taken away since"),
                Sentence("Go back to the questions"),
            )
        return face_of(found[0])

    def prints_of_faces(self) -> dict[str, tuple[str, str | None]]:
        """The accession number and the container of the print behind each view that has faces."""
        listed = prints.c.back_of.is_(None), prints.c.taken_out.is_(None)
        seen = select(faces.c.view, prints.c.accession, prints.c.container).distinct()
        query = seen.join_from(faces, views, faces.c.view == views.c.key).join(
            prints, views.c.accession == prints.c.accession
        )
        with self._reading() as connection:
            found = connection.execute(query.where(_IN_USE, *listed))
            return {view: (accession, container) for view, accession, container in found}

    def face_measures(self) -> dict[str, bytes]:
        """The measure of each face that has one: 128 float32, little-endian, by the face's key."""
        with self._reading() as connection:
            found = rows(connection, select(face_measures))
        return {row["face"]: row["measure"] for row in found}

    def looked_at_for_faces(self) -> set[str]:
        """The keys of the views that were looked at as they are now."""
        with self._reading() as connection:
            return {row["view"] for row in rows(connection, select(faces_looked))}
