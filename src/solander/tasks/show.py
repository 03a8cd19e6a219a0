"""What the workbench reads of a collection."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from attrs import define, evolve, field

from solander.core.chronology import Guesser
from solander.core.descriptions import DescribedPrint
from solander.core.prints import View
from solander.core.questions import Asks, Question
from solander.tasks.chronology import OrderTold, order_told
from solander.tasks.collection import Collection
from solander.tasks.described import waits_by_subject
from solander.tasks.prepare import remake_view, view_paths
from solander.tasks.redraw import Done
from solander.tasks.upright import turn_by_hand
from solander.tasks.worth_asking import WorthAsking

__all__ = ["Shown"]

_SAID_BY_PEOPLE = (Asks.CONTRADICTION, Asks.WHO, Asks.WORDS, Asks.INSCRIPTION)
_FIRST = (*_SAID_BY_PEOPLE, *(kind for kind in Asks if kind not in _SAID_BY_PEOPLE))
"""What people said comes before what pictures look like: it is fewer, and dates hang on it."""


@define
class Shown:
    """A collection as pages read it; worked out again only after something was written."""

    collection: Collection
    _told: OrderTold | None = field(default=None, init=False)
    _as_of: int = field(default=-1, init=False)
    _guesser: Guesser = field(factory=Guesser, init=False)

    @property
    def title(self) -> str:
        """The collection's name."""
        return self.collection.title

    @property
    def second_copy(self) -> bool:
        """Whether a second copy was made and found the same, and no capture came since."""
        copied = self.collection.catalogue.setting("second_copy").partition(" ")[0]
        return bool(copied) and int(copied) >= len(self.collection.catalogue.captures())

    @property
    def made_up(self) -> bool:
        """Whether all of it is invented."""
        return bool(self.collection.catalogue.setting("made_up"))

    def described(self) -> Sequence[DescribedPrint]:
        """All prints in order of time."""
        return self._order().prints

    def questions(self) -> Sequence[Question]:
        """What waits, kind by kind."""
        return sorted(self.collection.catalogue.questions(), key=lambda question: _FIRST.index(question.asks))

    def mends(self) -> Sequence[str]:
        """Which single claims, if they were withdrawn, would settle several contradictions."""
        return self._order().mends

    def worth_asking(self) -> Sequence[WorthAsking]:
        """What is best asked next, the most useful first."""
        return self._order().questions

    def turn(self, key: str, quarters: int) -> Done:
        """Turns a view by a person's word, in quarter turns clockwise from how it is shown."""
        as_of = self.collection.catalogue.last_change()
        done = turn_by_hand(self.collection, key, quarters)
        self._keep_order(done, as_of)
        return done

    def _keep_order(self, done: Done, as_of: int) -> None:
        """Takes over what an act changed in the pictures and questions of a container, so that the order of all
        prints, which no turn changes, is not worked out again; unless anybody else wrote in the meantime."""
        catalogue = self.collection.catalogue
        now = catalogue.last_change()
        if self._told is None or self._as_of != as_of or catalogue.acts_since(as_of) - {done.act}:
            return
        beside = {print_.accession: print_ for print_ in catalogue.prints_beside(done.accession)}
        waiting = waits_by_subject(catalogue.questions())
        prints = [
            evolve(one, print=beside[own], waits=tuple(waiting.get(own, ())))
            if (own := one.print.accession) in beside
            else one
            for one in self._told.prints
        ]
        self._told, self._as_of = evolve(self._told, prints=prints), now

    def _order(self) -> OrderTold:
        as_of = self.collection.catalogue.last_change()
        if self._told is None or as_of != self._as_of:
            self._told, self._as_of = order_told(self.collection, self._guesser), as_of
        return self._told

    def view_path(self, key: str) -> Path | None:
        """The JPEG of a view, made again when it was deleted; None where there is no such view."""
        return self._picture(key, 0)

    def thumb_path(self, key: str) -> Path | None:
        """The same in small."""
        return self._picture(key, 1)

    def _picture(self, key: str, size: int) -> Path | None:
        path = view_paths(self.collection.views_root, key)[size]
        if not path.is_file():
            view = self._view(key)
            if view is None:
                return None
            remake_view(self.collection.vault.path(view.capture), view, self.collection.views_root)
        return path

    def _view(self, key: str) -> View | None:
        views = (view for one in self.described() for view in one.print.views)
        return next((view for view in views if view.key == key), None)
