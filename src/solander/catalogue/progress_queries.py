"""How far a collection is: counted where it is kept, so that no print need be loaded."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import AbstractContextManager

from attrs import frozen
from sqlalchemy import Connection, func, select, text

from solander.catalogue.database import rows
from solander.catalogue.schema import questions, statements, views
from solander.core.prints import SURE_ENOUGH
from solander.core.statements import About, Says

__all__ = ["Counted", "ReadingProgress"]

_DESCRIBING = (
    Says.EXPOSURE,
    Says.PRINTING,
    Says.PLACE,
    Says.PERSON,
    Says.OCCASION,
    Says.CAPTION,
    Says.NOTE,
    Says.TRANSCRIPTION,
)

# A print takes date and place of its occasion too. What is told of a print is gathered once, then counted.
_COUNT = text("""
WITH dated_occasions AS (
  SELECT DISTINCT subject FROM statements
  WHERE about = 'occasion' AND says IN ('exposure', 'printing') AND withdrawn IS NULL),
placed_occasions AS (
  SELECT DISTINCT subject FROM statements WHERE about = 'occasion' AND says = 'place' AND withdrawn IS NULL),
told AS (
  SELECT subject,
    max(says IN ('exposure', 'printing') OR (says = 'occasion' AND value IN dated_occasions)) AS dated,
    max(says = 'place' OR (says = 'occasion' AND value IN placed_occasions)) AS placed,
    max(says = 'person') AS named,
    max(says IN ('caption', 'note', 'transcription')) AS worded
  FROM statements
  WHERE about = 'print' AND withdrawn IS NULL
    AND says IN ('exposure', 'printing', 'place', 'person', 'occasion', 'caption', 'note', 'transcription')
  GROUP BY subject)
SELECT coalesce(prints.container, '') AS code, count(*) AS prints,
  sum(coalesce(told.dated, 0)) AS dated, sum(coalesce(told.placed, 0)) AS placed,
  sum(coalesce(told.named, 0)) AS named,
  sum(coalesce(told.dated AND (told.placed OR told.named OR told.worded), 0)) AS described
FROM prints LEFT JOIN told ON told.subject = prints.accession
WHERE prints.back_of IS NULL AND prints.taken_out IS NULL
GROUP BY prints.container
""")


@frozen
class Counted:
    """Of the prints of one container: how many there are, have a date, a place, somebody named; `described` are
    those with a date and something else told: a place, a person, or words."""

    code: str
    prints: int
    dated: int
    placed: int
    named: int
    described: int


class ReadingProgress:
    """The part of a catalogue's reading half that counts what is done; each call sees one moment."""

    def _reading(self) -> AbstractContextManager[Connection]:
        raise NotImplementedError

    def counted(self) -> list[Counted]:
        """What is told of the prints of each container; those of none come under the empty code."""
        with self._reading() as connection:
            return [Counted(*row) for row in connection.execute(_COUNT).all()]

    def edges_unsure(self) -> int:
        """How many prints have an edge that is neither checked nor found for sure."""
        unsure = views.c.superseded.is_(None), views.c.checked.is_(False), views.c.confidence < SURE_ENOUGH
        with self._reading() as connection:
            return int(connection.scalar(select(func.count(views.c.accession.distinct())).where(*unsure)) or 0)

    def questions_waiting(self) -> int:
        """How many questions wait."""
        with self._reading() as connection:
            query = select(func.count()).select_from(questions).where(questions.c.settled.is_(None))
            return int(connection.scalar(query) or 0)

    def described_lately(self, among: int = 20_000) -> Iterator[tuple[str, str]]:
        """By hand: when something was said, and of which print, oldest first; of the newest `among` statements.

        What came from a slip file was written elsewhere and tells nothing of the pace here.
        """
        columns = statements.c.entered, statements.c.subject, statements.c.about, statements.c.says
        newest = select(*columns, statements.c.source).order_by(statements.c.entry.desc()).limit(among)
        with self._reading() as connection:
            found = rows(connection, newest)
        for row in reversed(found):
            by_hand = "slip file" not in row["source"]
            if row["about"] == About.PRINT and row["says"] in _DESCRIBING and by_hand:
                yield row["entered"], row["subject"]
