"""Finds prints as one types: by every word that is said of them, by when they are of, and by what they still lack.

Words are found by the catalogue's index; what it found of a word is kept and completed by newer documents, so that
each further key costs little. Where all prints stand is held in columns (`find_rows`), in which choices are joined
and counted.
"""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Collection as Several
from collections.abc import Iterable, Sequence

import numpy as np
from attrs import define, field, frozen
from numpy.typing import NDArray

from solander.catalogue.search import expression, words_sought
from solander.core.standing import Arrangement
from solander.tasks.collection import Collection
from solander.tasks.find_rows import DocumentRows, Facet, Mask, Rows, read_rows
from solander.tasks.found_where import FoundPrint, found_prints
from solander.tasks.look_for_words import Known, TimeSought, known_now, time_in
from solander.tasks.nearest_words import NearestWords

__all__ = ["Facet", "Finder", "Found", "Unheard", "find", "ready_finder"]

_AT_HAND = 5_000
"""So many rows are read anew within a keystroke; more are read beside it, and what was read last answers."""

_KEPT_WORDS = 256
"""Answers of the index that are kept: 400 kB at most for a word that stands in 100,000 documents."""

LETTERS = "abcdefghijklmnopqrstuvwxyz0123456789"


@frozen
class Unheard:
    """A word that nothing has, with the nearest words that something has."""

    word: str
    nearest: tuple[str, ...]


@frozen
class Found:
    """A page of what was found: accession numbers in the order of the arrangement, of `total` in all.

    `counts` and `containers` say how many of the found prints a further choice would leave. `words` are those that
    were looked for, `time` is the time that was understood. `unheard` are the words that nothing has; empty with a
    `total` of 0 when each word is somewhere but no print has all. `more` is whether prints come after these.
    """

    prints: tuple[str, ...]
    total: int
    counts: dict[Facet, int]
    containers: dict[str, int]
    words: tuple[str, ...] = ()
    time: TimeSought | None = None
    unheard: tuple[Unheard, ...] = ()
    more: bool = False


@define
class Finder:
    """Finds in one collection; kept for a workbench, it answers each keystroke from what it holds."""

    collection: Collection
    _rows: DocumentRows | None = field(default=None, init=False)
    _as_of: tuple[int, int] = field(default=(-1, -1), init=False)
    _known: Known | None = field(default=None, init=False)
    _known_as_of: int = field(default=-1, init=False)
    _matching: OrderedDict[str, tuple[int, NDArray[np.int32]]] = field(factory=OrderedDict, init=False)
    _nearest: NearestWords = field(factory=NearestWords, init=False)
    _reading: threading.Thread | None = field(default=None, init=False)
    _one_at_a_time: threading.RLock = field(factory=threading.RLock, init=False)

    def find(
        self,
        sought: str = "",
        facets: Several[Facet] = (),
        arrangement: Arrangement = Arrangement.TIME,
        *,
        container: str = "",
        after: str = "",
        limit: int = 60,
    ) -> Found:
        """The prints that hold every word of `sought`, or are of the time that it says, and have all facets.

        Any text is allowed; none finds all prints. `after` is the last print of the page before.
        """
        with self._one_at_a_time:
            here = self._standing()
            words = words_sought(sought)
            time = time_in(" ".join(words), words, self._knowing().dates) if words else None
            chosen, unheard = self._chosen(here, words, time)
            for facet in facets:
                chosen &= here.rows.facets[facet]
            if container:
                chosen &= here.rows.in_containers([container])
            total = int(np.count_nonzero(chosen))
            prints, more = _page(here.rows, chosen, arrangement, after=after, limit=limit)
        return Found(
            prints,
            total,
            {facet: int(np.count_nonzero(column & chosen)) for facet, column in here.rows.facets.items()},
            here.rows.by_container(chosen),
            tuple(words),
            time,
            tuple(unheard) if not total else (),
            more,
        )

    @property
    def is_ready(self) -> bool:
        """Whether where prints stand was read, so that an answer need not wait for it."""
        return self._rows is not None

    def told(self, found: Found) -> list[FoundPrint]:
        """The prints of a page of what was found, with all that is known of them and where the words stand."""
        return found_prints(self.collection, self._knowing(), found.prints, found.words)

    def make_ready(self) -> None:
        """Reads what the first keystrokes need: where prints stand, and what begins with each letter."""
        with self._one_at_a_time:
            self._standing()
            self._knowing().dates("1")  # its tables are read with the first phrase
            self._nearest.to("ready", self.collection.catalogue)
        for letter in LETTERS:
            with self._one_at_a_time:
                self._documents(expression(letter))

    def settle(self) -> None:
        """Waits until what is read beside the pages is read."""
        reading = self._reading
        if reading is not None:
            reading.join()

    def _chosen(
        self, here: DocumentRows, words: Sequence[str], time: TimeSought | None
    ) -> tuple[Mask, list[Unheard]]:
        having = {word: self._having(here, word) for word in words}
        chosen = _all_of(here, having.values())
        if time is not None:
            of_time = here.rows.of_time(time.bounds)
            chosen |= of_time & _all_of(here, (having[word] for word in time.rest))
        said = time.rest if time is not None else words
        unheard = [word for word in said if not having[word].any()]
        if chosen.any() or not unheard:
            return chosen, []
        return chosen, [Unheard(word, self._nearest.to(word, self.collection.catalogue)) for word in unheard]

    def _having(self, here: DocumentRows, word: str) -> Mask:
        """The rows that have a word: said of them, as a name of their place, or of their container."""
        known = self._knowing()
        having = here.mask(self._documents(expression(word)))
        for matching in known.places_called(word):
            having |= here.mask(self._documents(matching))
        containers = known.containers_called(word)
        return having | here.rows.in_containers(containers) if containers else having

    def _documents(self, matching: str) -> NDArray[np.int32]:
        """The documents that an expression finds; those that were found before are not looked for again."""
        upto, known = self._matching.pop(matching, (0, np.zeros(0, np.int32)))
        last = self.collection.catalogue.last_document()
        if last > upto:
            newer = self.collection.catalogue.documents_matching(matching, after=upto)
            known = np.concatenate([known, np.array(newer, np.int32)])
        self._matching[matching] = last, known
        if len(self._matching) > _KEPT_WORDS:
            self._matching.popitem(last=False)
        return known

    def _standing(self) -> DocumentRows:
        now = self.collection.catalogue.last_change(), self.collection.catalogue.standing_change()
        if self._rows is None or (now != self._as_of and len(self._rows.rows.accessions) <= _AT_HAND):
            self._read_rows(now)
        elif now != self._as_of and (self._reading is None or not self._reading.is_alive()):
            self._reading = threading.Thread(target=self._read_rows, args=(now,), daemon=True)
            self._reading.start()
        assert self._rows is not None
        self._rows.complete(self.collection.catalogue)
        return self._rows

    def _read_rows(self, now: tuple[int, int]) -> None:
        fresh = DocumentRows(read_rows(self.collection.catalogue))
        fresh.complete(self.collection.catalogue)
        self._rows, self._as_of = fresh, now

    def _knowing(self) -> Known:
        now = self.collection.catalogue.last_change("places", "containers", "people", "settings")
        if self._known is None or now != self._known_as_of:
            self._known, self._known_as_of = known_now(self.collection), now
        return self._known


def ready_finder(collection: Collection) -> Finder:
    """A finder that makes itself ready beside everything else."""
    finder = Finder(collection)
    threading.Thread(target=finder.make_ready, daemon=True).start()
    return finder


def find(
    collection: Collection,
    sought: str = "",
    facets: Several[Facet] = (),
    arrangement: Arrangement = Arrangement.TIME,
    *,
    after: str = "",
    limit: int = 60,
) -> Found:
    """Finds once; who finds more than once keeps a `Finder`."""
    return Finder(collection).find(sought, facets, arrangement, after=after, limit=limit)


def _all_of(here: DocumentRows, masks: Iterable[Mask]) -> Mask:
    chosen = np.ones(len(here.rows.accessions), bool)
    for mask in masks:
        chosen &= mask
    return chosen


def _page(
    rows: Rows, chosen: Mask, arrangement: Arrangement, *, after: str, limit: int
) -> tuple[tuple[str, ...], bool]:
    """The first `limit` of the chosen rows that come after a print, and whether there are more."""
    places = rows.places[arrangement]
    left = np.flatnonzero(chosen)
    if after in rows.row_of:
        left = left[places[left] > places[rows.row_of[after]]]
    more = len(left) > limit
    if more:
        left = left[np.argpartition(places[left], limit)[:limit]]
    left = left[np.argsort(places[left])]
    return tuple(rows.accessions[int(row)] for row in left), more
