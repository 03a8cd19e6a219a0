"""What was done in one sitting at the workbench, and how it is taken back there."""

from __future__ import annotations

from typing import Protocol, TypeVar

from attrs import define, field

from solander.core.errors import Trouble
from solander.core.sentence import Sentence
from solander.tasks.collection import Collection

__all__ = ["Sitting"]


class _Answer(Protocol):
    """What a task gave back: the number of the act by which it changed something, None where nothing changed."""

    @property
    def act(self) -> int | None: ...


_Given = TypeVar("_Given", bound=_Answer)


@define
class Sitting:
    """The acts that were done at one workbench since it was opened; all its desks share one.

    Only these are taken back there, and only the last of all: what another program or another person did in
    between is never taken back unseen.
    """

    collection: Collection
    _acts: set[int] = field(factory=set, init=False)

    def noted(self, act: int | None) -> int | None:
        """Takes note of an act by its number, so that it can be taken back; gives the number."""
        if act is not None:
            self._acts.add(act)
        return act

    def kept(self, given: _Given) -> _Given:
        """The same for what a task gave back."""
        self.noted(given.act)
        return given

    def done(self, act: int | None) -> str:
        """The sentence of an act that can still be taken back here; empty where it can't."""
        last = self.collection.catalogue.last_act() if act in self._acts else None
        return last[1] if last and last[0] == act else ""

    def undo(self, act: int) -> str:
        """Takes an act back that was done here and is still the last; gives its sentence.

        Raises
        ------
        Trouble
            When it was done elsewhere, or something else was done since.
        """
        if act not in self._acts:
            raise Trouble(
                Sentence("Nothing was taken back"),
                Sentence("it was not done in this sitting"),
                Sentence("Look at it again"),
            )
        return self.collection.catalogue.undo("archivist", only=act)
