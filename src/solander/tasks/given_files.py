"""Files given in the workbench: what each would change is shown first, and done when it is confirmed.

A tree of a hundred thousand people takes most of a minute: what takes long is done beside the pages.
"""

from __future__ import annotations

import atexit
import secrets
import shutil
import tempfile
import time
from concurrent.futures import Future
from pathlib import Path

from attrs import define, field, frozen

from solander.core.errors import CannotBegin, NotFound
from solander.core.sentence import Counted, Joined, Sentence
from solander.core.statements import Says
from solander.core.taking_in import Change
from solander.core.told import claim_words, name_of
from solander.tasks.beside import beside, when_done
from solander.tasks.collection import Collection
from solander.tasks.people import difference, take_in_people
from solander.tasks.take_in_places import PlacesDifference, place_difference, take_in_places

__all__ = ["FileInHand", "Given", "GivenFiles", "Line", "Taken"]

PEOPLE, PLACES = "people", "places"

_OF_PLACES = (".geojson", ".kml", ".kmz", ".gpx")
"""Endings of files that can only tell of places."""

_LINES = 60
"""So many of each kind are named; of more their number is told."""

Line = tuple[str, str]
"""Who or which place, and what changes."""


@frozen
class Given:
    """What taking a file in would do.

    `new`, `changed` are the first lines of each kind, `gone` who is in it no more, `set_aside` sentences about
    what is not taken; the numbers count all of a kind. `expecting` makes sure that what is done is what was shown.
    """

    new: tuple[Line, ...]
    changed: tuple[Line, ...]
    gone: tuple[str, ...]
    set_aside: tuple[str, ...]
    new_count: int
    changed_count: int
    as_before: int
    kin: int = 0
    expecting: str | PlacesDifference = ""

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
class FileInHand:
    """A file on its way: it is looked at, shown, and taken in when somebody says so."""

    token: str
    of: str
    path: Path
    _collection: Collection
    _looking: Future[Given] = field(init=False)
    _taking: Future[Taken] | None = field(default=None, init=False)
    _since: float = field(factory=time.monotonic, init=False)

    def __attrs_post_init__(self) -> None:
        self._looking = beside(self._look)

    @property
    def seconds(self) -> int:
        """Whole seconds since what is being done was begun."""
        return int(time.monotonic() - self._since)

    @property
    def given(self) -> Given | None:
        """What taking it in would change; None while that is looked for, which is waited for a little.

        Raises
        ------
        CannotBegin
            When it can't be read, or tells of nothing.
        """
        return when_done(self._looking)

    @property
    def is_confirmed(self) -> bool:
        """Whether somebody said that it is to be taken in."""
        return self._taking is not None

    @property
    def taken(self) -> Taken | None:
        """What was done with it; None while it is being done, or was not confirmed.

        Raises
        ------
        Trouble
            When the file or the collection has changed since it was looked at.
        """
        return when_done(self._taking) if self._taking else None

    def take_in(self) -> None:
        """Begins to take it in as it was shown; saying so twice does it once."""
        given = self._looking.result()
        if self._taking is None:
            self._since = time.monotonic()
            self._taking = beside(lambda: self._take(given.expecting))

    def _look(self) -> Given:
        return (
            _of_places(self._collection, self.path)
            if self.of == PLACES
            else _of_people(self._collection, self.path)
        )

    def _take(self, expecting: str | PlacesDifference) -> Taken:
        if isinstance(expecting, PlacesDifference):
            return Taken((), take_in_places(self._collection, self.path, expecting=expecting).act)
        done = take_in_people(self._collection, self.path, expecting=expecting)
        asked = Counted(
            "%(num)s question to answer: who of them is meant",
            "%(num)s questions to answer: who of them is meant",
            done.questions,
        )
        return Taken((*done.changed, *([asked] if done.questions else ())), done.act)


@define
class GivenFiles:
    """The files of one sitting; those that were sent are kept beside the system's other short-lived files."""

    collection: Collection
    _folder: Path | None = field(default=None, init=False)
    _in_hand: dict[str, FileInHand] = field(factory=dict, init=False)

    def send(self, name: str, content: bytes) -> Path:
        """Keeps a file that came with a form, under its own name.

        Raises
        ------
        CannotBegin
            When no file can have that name, or the disk is full.
        """
        if self._folder is None:
            self._folder = Path(tempfile.mkdtemp(prefix="solander-given-"))
            atexit.register(shutil.rmtree, self._folder, ignore_errors=True)
        place = self._folder / secrets.token_hex(4)
        path = place / (name if name not in ("", ".", "..") else "file")
        try:
            place.mkdir()
            path.write_bytes(content)
        except (OSError, ValueError) as error:
            raise CannotBegin(
                Sentence("The file was not taken"), str(error), Sentence("Say where it lies instead")
            ) from error
        return path

    def named(self, said: str) -> Path:
        """The file that lies where somebody says.

        Raises
        ------
        CannotBegin
            When there is none.
        """
        try:
            path = Path(said.strip().strip("\"'")).expanduser()
            there = path.is_file()
        except (OSError, RuntimeError, ValueError):  # no home of that name; letters that no name can have
            there = False
        if not there:
            raise CannotBegin(
                Sentence("%(said)s could not be read", said=said),
                Sentence("there is no such file"),
                Sentence("Check the name"),
            )
        return path

    def look(self, path: Path, of: str) -> FileInHand:
        """Begins to look what taking the file in would change; nothing is written."""
        of = PLACES if path.suffix.casefold() in _OF_PLACES or of == PLACES else PEOPLE
        token = secrets.token_hex(8)
        self._in_hand[token] = FileInHand(token, of, path, self.collection)
        return self._in_hand[token]

    def in_hand(self, token: str) -> FileInHand:
        """The file of that token.

        Raises
        ------
        NotFound
            When it was not given in this sitting.
        """
        if token not in self._in_hand:
            raise NotFound(
                Sentence("This file is not at hand any more"),
                Sentence("the workbench was closed since"),
                Sentence("Give it again"),
            )
        return self._in_hand[token]


def _of_people(collection: Collection, path: Path) -> Given:
    found = difference(collection, path)
    plan = found.plan
    return Given(
        tuple((one.heading, _told_of(one)) for one in plan.new[:_LINES]),
        tuple((one.heading, one.words) for one in plan.changed[:_LINES]),
        plan.gone,
        (*plan.set_aside, *plan.remarks),
        len(plan.new),
        len(plan.changed),
        found.as_before,
        len(plan.kin_new) + len(plan.kin_gone),
        found.mark,
    )


def _told_of(new: Change) -> str:
    """What is told of somebody new, in words; what tells nothing further is left out."""
    return Joined(
        (
            claim_words(one.says, one.value, one.words)
            for one in new.after.said
            if one.says is not Says.SEX and not (one.says is Says.NAME and name_of(one.value).text == new.heading)
        ),
        ", ",
    )


def _of_places(collection: Collection, path: Path) -> Given:
    found = place_difference(collection, path)
    return Given(
        tuple((one.after.name, one.after.what) for one in found.new[:_LINES]),
        tuple((one.after.name, one.words) for one in found.changed[:_LINES]),
        (),
        (*found.passed_over, *found.set_aside),
        len(found.new),
        len(found.changed),
        found.as_before,
        expecting=found,
    )
