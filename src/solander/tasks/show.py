"""What the workbench reads of a collection."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from threading import RLock

from attrs import define, field

from solander.core.descriptions import DescribedPrint
from solander.core.errors import NotFound
from solander.core.prints import View
from solander.core.questions import Asks, Question
from solander.tasks.behind import Behind
from solander.tasks.collection import Collection
from solander.tasks.described_some import described_kept, described_some
from solander.tasks.first_order import lay_as_they_lie
from solander.tasks.meanwhile import Meanwhile, done_meanwhile
from solander.tasks.order_beside import order_kept_in
from solander.tasks.prepare import remake_view, view_paths
from solander.tasks.put_right import put_right
from solander.tasks.redraw import Done
from solander.tasks.standing import holds, keep_all
from solander.tasks.table import Table
from solander.tasks.treated import treated_files, treated_paths
from solander.tasks.upright import turn_by_hand
from solander.tasks.worth_asking import WorthAsking

__all__ = ["FEW", "Shown"]

FEW = 400
"""The order of so many prints is worked out while a page waits: 0.5 s (benchmarks/table.py). That of more is
worked out in a process of its own."""

_SAID_BY_PEOPLE = (Asks.CONTRADICTION, Asks.WHO, Asks.WORDS, Asks.INSCRIPTION)
_FIRST = (*_SAID_BY_PEOPLE, *(kind for kind in Asks if kind not in _SAID_BY_PEOPLE))
"""What people said comes before what pictures look like: it is fewer, and dates hang on it."""


@define
class Shown:
    """A collection as pages read it: no page waits for the order of many prints.

    Before a page is made, `settle` puts right what was changed since the last one, and has the rest worked out.
    """

    collection: Collection
    behind: Behind = field(init=False)
    table: Table = field(init=False)
    _settled: int = field(default=-1, init=False)
    _held: tuple[int, int, bool] = field(default=(-1, -1, False), init=False)
    _described: tuple[tuple[int, int], Sequence[DescribedPrint]] | None = field(default=None, init=False)
    _lock: RLock = field(factory=RLock, init=False)
    _kept_in: Collection | None = field(default=None, init=False)

    def __attrs_post_init__(self) -> None:
        self.behind, self.table = Behind(self.collection.root), Table(self.collection)

    @property
    def title(self) -> str:
        """The collection's name."""
        return self.collection.title

    @property
    def second_copy(self) -> bool:
        """Whether a second copy was made and found the same, and no capture came since."""
        copied = self.collection.catalogue.setting("second_copy").partition(" ")[0]
        return bool(copied) and int(copied) >= self.collection.catalogue.capture_count()

    @property
    def made_up(self) -> bool:
        """Whether all of it is invented."""
        return bool(self.collection.catalogue.setting("made_up"))

    @property
    def last_change(self) -> int:
        """The number of the last change; it grows with every one."""
        return self.collection.catalogue.last_change()

    def done_meanwhile(self, change: int, subjects: Iterable[str]) -> Sequence[Meanwhile]:
        """What anybody did to these things after that change, oldest first."""
        return done_meanwhile(self.collection, change, subjects)

    # -- the order -------------------------------------------------------------------------------------------

    def settle(self) -> None:
        """Puts right at once what was changed since the last time; what follows from it for others is worked out
        now where prints are few, else in a process of its own."""
        now = self.last_change
        if now == self._settled and (self.is_settled or self.behind.at_work):
            return
        with self._lock:
            if self.collection.catalogue.print_count() <= FEW:
                self._settle_few(self._order(now))
            else:
                self._settle_many(self._order(now), now)
            self._settled = now

    @contextmanager
    def undisturbed(self) -> Iterator[None]:
        """Nobody works the order out meanwhile; what was begun is begun anew with the next page."""
        with self._lock:
            self.behind.stop()
            yield

    def _order(self, now: int) -> Collection:
        """Where the order is to be worked in; nothing is written where it is kept as of the change `now`."""
        if self.collection.catalogue.standing_change() == now:
            return self.collection
        if self._kept_in is None:
            self._kept_in = order_kept_in(self.collection)
            if self._kept_in is not self.collection:
                self.behind = Behind(self._kept_in.root)
        return self._kept_in

    @property
    def is_settled(self) -> bool:
        """Whether the order of all prints is worked out as of the last change."""
        now, change = self.last_change, self.collection.catalogue.standing_change()
        if self._held[:2] != (now, change):
            self._held = now, change, holds(self.collection)
        return self._held[2]

    def _settle_few(self, order: Collection) -> None:
        change = order.catalogue.standing_change()
        if change < 0 or put_right(order, change).order:
            keep_all(order)

    def _settle_many(self, order: Collection, now: int) -> None:
        change = order.catalogue.standing_change()
        since = max(change, self._settled)
        if since < 0:
            lay_as_they_lie(order)
        elif now > self._settled:
            put_right(order, since)
        if not self.is_settled:
            self.behind.start()

    def described(self) -> Sequence[DescribedPrint]:
        """All prints in order of time, as far as it is worked out. All are read: with very many prints, ask for
        some of them (`tasks.described_some`)."""
        self.settle()
        with self._lock:
            state = self.last_change, self.collection.catalogue.standing_change()
            if self._described is None or self._described[0] != state:
                self._described = state, described_kept(self.collection)
            return self._described[1]

    @property
    def print_count(self) -> int:
        """How many prints there are."""
        return self.collection.catalogue.print_count()

    def some(self, accessions: Iterable[str]) -> list[DescribedPrint]:
        """These prints in the order given."""
        return described_some(self.collection, accessions)

    def mends(self) -> Sequence[str]:
        """Which single claims, if they were withdrawn, would settle several contradictions."""
        self.settle()
        return self.collection.catalogue.standing_whole().mends

    def worth_asking(self) -> Sequence[WorthAsking]:
        """What is best asked next, the most useful first."""
        self.settle()
        return [WorthAsking(*one) for one in self.collection.catalogue.standing_whole().asked]

    # -- what waits, and pictures ----------------------------------------------------------------------------

    def questions(self) -> Sequence[Question]:
        """What waits, kind by kind."""
        return sorted(self.collection.catalogue.questions(), key=lambda question: _FIRST.index(question.asks))

    @property
    def waiting(self) -> int:
        """How many questions wait."""
        return self.collection.catalogue.question_count()

    def turn(self, key: str, quarters: int) -> Done:
        """Turns a view by a person's word, in quarter turns clockwise from how it is shown."""
        return turn_by_hand(self.collection, key, quarters)

    def view_path(self, key: str) -> Path | None:
        """The JPEG of a view, made again when it was deleted; None where there is no such view."""
        return self._picture(key, 0)

    def thumb_path(self, key: str) -> Path | None:
        """The same in small."""
        return self._picture(key, 1)

    def treated_path(self, key: str, treatment: str, *, small: bool) -> Path | None:
        """The JPEG of a view, or the small one, as the treatment of that key leaves it; made when it isn't there;
        None where the view has no such treatment."""
        path = treated_files(self.collection.views_root, key, treatment)[small]
        if path.is_file():
            return path
        view = self._view(key)
        if view is None or view.treatment.key != treatment:
            return None
        return treated_paths(self.collection, view)[small]

    def _picture(self, key: str, size: int) -> Path | None:
        path = view_paths(self.collection.views_root, key)[size]
        if not path.is_file():
            view = self._view(key)
            if view is None:
                return None
            remake_view(self.collection.vault.path(view.capture), view, self.collection.views_root)
        return path

    def _view(self, key: str) -> View | None:
        try:
            return self.collection.catalogue.view(key)[1]
        except NotFound:
            return None
