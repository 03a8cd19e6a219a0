"""Files given in the workbench: what each would change is shown first, and done when it is confirmed."""

from __future__ import annotations

import secrets
import tempfile
from pathlib import Path

from attrs import define, field, frozen

from solander.core.errors import CannotBegin, NotFound
from solander.tasks.collection import Collection
from solander.tasks.people import difference, take_in_people
from solander.tasks.take_in_places import place_difference, take_in_places

__all__ = ["Given", "GivenFiles", "Line", "Taken"]

PEOPLE, PLACES = "people", "places"

_OF_PLACES = (".geojson", ".kml", ".kmz", ".gpx")
"""Endings of files that can only tell of places."""

_LINES = 60
"""So many of each kind are named; of more their number is told."""

Line = tuple[str, str]
"""Who or which place, and what changes."""


@frozen
class Given:
    """A file that waits for a word: what taking it in would do.

    `new`, `changed` are the first lines of each kind, `gone` who is in it no more, `set_aside` sentences about
    what is not taken; the numbers count all of a kind.
    """

    token: str
    of: str
    path: Path
    new: tuple[Line, ...]
    changed: tuple[Line, ...]
    gone: tuple[str, ...]
    set_aside: tuple[str, ...]
    new_count: int
    changed_count: int
    as_before: int
    kin: int = 0
    mark: str = ""

    @property
    def changes_nothing(self) -> bool:
        """Whether all of it is known already."""
        return not (self.new_count or self.changed_count or self.kin)


@frozen
class Taken:
    """What was done with a file: sentences, and the act's number for undo."""

    sentences: tuple[str, ...]
    act: int | None


@define
class GivenFiles:
    """The files of one sitting; those that were sent are kept beside the system's other short-lived files."""

    collection: Collection
    _folder: tempfile.TemporaryDirectory[str] | None = field(default=None, init=False)
    _given: dict[str, Given] = field(factory=dict, init=False)

    def send(self, name: str, content: bytes) -> Path:
        """Keeps a file that came with a form, under its own name."""
        if self._folder is None:
            self._folder = tempfile.TemporaryDirectory(prefix="solander-given-")
        place = Path(self._folder.name) / secrets.token_hex(4)
        place.mkdir()
        path = place / (name if name not in ("", ".", "..") else "file")
        path.write_bytes(content)
        return path

    def look(self, path: Path, of: str) -> Given:
        """What taking the file in would change; nothing is written.

        Raises
        ------
        CannotBegin
            When it can't be read, or tells of nothing.
        """
        if not path.is_file():
            raise CannotBegin(f"{path} could not be read", "there is no such file", "Check the name")
        token = secrets.token_hex(8)
        of = PLACES if path.suffix.casefold() in _OF_PLACES else of
        given = self._of_places(token, path) if of == PLACES else self._of_people(token, path)
        self._given[token] = given
        return given

    def _of_people(self, token: str, path: Path) -> Given:
        found = difference(self.collection, path)
        plan = found.plan
        return Given(
            token,
            PEOPLE,
            path,
            tuple((one.heading, ", ".join(one.came)) for one in plan.new[:_LINES]),
            tuple((one.heading, one.words) for one in plan.changed[:_LINES]),
            plan.gone,
            (*plan.set_aside, *plan.remarks),
            len(plan.new),
            len(plan.changed),
            found.as_before,
            len(plan.kin_new) + len(plan.kin_gone),
            found.mark,
        )

    def _of_places(self, token: str, path: Path) -> Given:
        found = place_difference(self.collection, path)
        return Given(
            token,
            PLACES,
            path,
            tuple((one.after.name, one.after.what) for one in found.new[:_LINES]),
            tuple((one.after.name, one.words) for one in found.changed[:_LINES]),
            (),
            (*found.passed_over, *found.set_aside),
            len(found.new),
            len(found.changed),
            found.as_before,
        )

    def given(self, token: str) -> Given:
        """The file of that token.

        Raises
        ------
        NotFound
            When it was not given in this sitting.
        """
        if token not in self._given:
            raise NotFound("This file is not at hand any more", "the workbench was closed since", "Give it again")
        return self._given[token]

    def take_in(self, token: str) -> Taken:
        """Takes the file in as it was shown.

        Raises
        ------
        Trouble
            When the file or the collection has changed since.
        """
        given = self.given(token)
        if given.of == PEOPLE:
            done = take_in_people(self.collection, given.path, expecting=given.mark)
            asked = f"{done.questions} questions were raised" if done.questions else ""
            return Taken((*done.changed, *([asked] if asked else [])), done.act)
        take_in_places(self.collection, given.path)
        last = self.collection.catalogue.last_act()
        return Taken((), last[0] if last else None)
