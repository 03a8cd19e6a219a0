"""Where all prints stand, in columns held in memory, so that any choice of them is counted at once.

100,000 rows take 12 MB and are read in less than half a second; they are read anew when the standings change.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from enum import StrEnum
from typing import Any

import numpy as np
from attrs import define, field, frozen
from numpy.typing import NDArray

from solander.catalogue.store import Catalogue
from solander.core.dates import Bounds
from solander.core.standing import Arrangement, shelf_of

__all__ = ["Facet", "Rows", "read_rows"]

Ints = NDArray[np.int64]
Mask = NDArray[np.bool_]

_OPEN_DAYS = 1 << 40
"""Stands for a day that is not known, beyond all calendars."""

CLOSE_DAYS = 731
"""A print is found by a time when it is known to two years, or to twice the time that is sought, whichever is
longer: what is known less closely would be found by every time (our choice)."""


class Facet(StrEnum):
    """What is still to be done with a print, or what it has; the names are the columns of its standing."""

    UNDATED = "undated"
    NOBODY = "nobody"
    UNSURE = "unsure"
    AGAIN = "again"
    CONTRADICTS = "contradicts"
    BACK = "has_back"


@frozen(eq=False)
class Rows:
    """One row a print.

    `codes` are the containers that have prints, as they stand on a shelf, and `container` the index among them, −1
    without one. `places` are the places of the rows in each arrangement, from 0.
    """

    accessions: Sequence[str]
    row_of: Mapping[str, int]
    facets: Mapping[Facet, Mask]
    earliest: Ints
    latest: Ints
    codes: Sequence[str]
    container: Ints
    places: Mapping[Arrangement, Ints]

    def in_containers(self, codes: Sequence[str]) -> Mask:
        """The rows that lie in any of these containers or in what lies in them."""
        inside = [any(code == outer or code.startswith(f"{outer}/") for outer in codes) for code in self.codes]
        return np.append(np.array(inside, bool), False)[self.container]  # the last is for −1

    def of_time(self, time: Bounds) -> Mask:
        """The rows that may be of that time and whose own time is known closely enough."""
        first = -_OPEN_DAYS if time.earliest is None else time.earliest
        last = _OPEN_DAYS if time.latest is None else time.latest
        known = (self.earliest > -_OPEN_DAYS) | (self.latest < _OPEN_DAYS)
        close = self.latest - self.earliest <= max(CLOSE_DAYS, 2 * (last - first))
        return known & close & (self.earliest <= last) & (self.latest >= first)

    def by_container(self, chosen: Mask) -> dict[str, int]:
        """How many of the chosen rows lie in each container, and in all that lies in it."""
        counted = np.bincount(self.container[chosen] + 1, minlength=len(self.codes) + 1)[1:]
        found: dict[str, int] = {}
        for at in np.flatnonzero(counted):
            parts = self.codes[int(at)].split("/")
            for depth in range(1, len(parts) + 1):
                outer = "/".join(parts[:depth])
                found[outer] = found.get(outer, 0) + int(counted[at])
        return found


@define
class DocumentRows:
    """Which row each search document belongs to; `upto` is the last one that is known."""

    rows: Rows
    _row: NDArray[np.int32] = field(factory=lambda: np.zeros(0, np.int32))
    upto: int = 0

    def complete(self, catalogue: Catalogue) -> None:
        """Takes in the documents that were written since."""
        newer = catalogue.document_numbers(after=self.upto)
        if not newer:
            return
        last = max(number for number, _ in newer)
        longer = np.full(last + 1, -1, np.int32)
        longer[: len(self._row)] = self._row
        for number, accession in newer:
            longer[number] = self.rows.row_of.get(accession, -1)
        self._row, self.upto = longer, last

    def mask(self, documents: NDArray[np.int32]) -> Mask:
        """The rows of these documents, which rise; those that are gone, or newer than `upto`, have none."""
        known = documents[: np.searchsorted(documents, self.upto, side="right")]
        chosen = np.zeros(len(self.rows.accessions) + 1, bool)
        chosen[self._row[known]] = True
        return chosen[:-1]


def read_rows(catalogue: Catalogue) -> Rows:
    """The columns as they stand now."""
    found = catalogue.standing_columns(
        "accession", "container", "number", "rank", "occasion_rank", "earliest", "latest", *Facet
    )
    columns: list[Any] = list(zip(*found, strict=True)) or [()] * (7 + len(Facet))
    accessions, containers, number, rank, occasion_rank, earliest, latest = columns[:7]
    codes = sorted({code for code in containers if code}, key=shelf_of)
    at = {code: index for index, code in enumerate(codes)}
    container = _ints([at.get(code, -1) for code in containers])
    keys = {
        Arrangement.TIME: (_ints(rank),),
        Arrangement.CONTAINER: (_ints(number), container),
        Arrangement.OCCASION: (_ints(rank), _ints(occasion_rank)),
    }
    return Rows(
        accessions=accessions,
        row_of={accession: row for row, accession in enumerate(accessions)},
        facets={facet: np.array(column, bool) for facet, column in zip(Facet, columns[7:], strict=True)},
        earliest=_ints([-_OPEN_DAYS if day is None else day for day in earliest]),
        latest=_ints([_OPEN_DAYS if day is None else day for day in latest]),
        codes=codes,
        container=container,
        places={arrangement: _places(keys[arrangement], len(accessions)) for arrangement in Arrangement},
    )


def _ints(values: Sequence[int]) -> Ints:
    return np.array(values, np.int64)


def _places(keys: tuple[Ints, ...], count: int) -> Ints:
    """The place of each row when rows are sorted by the keys, the last first, then as they are."""
    places = np.empty(count, np.int64)
    places[np.lexsort((np.arange(count), *keys))] = np.arange(count)
    return places
