"""What was done: every act in words, what it changed, and taking back those that nothing later stands upon."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from attrs import define, frozen

from solander.catalogue.history_queries import ActKept
from solander.core.errors import NotFound
from solander.core.sentence import Sentence
from solander.tasks.change_words import ChangeShown, shown
from solander.tasks.collection import Collection

__all__ = ["ActAlone", "ActKept", "History", "HistoryPage"]

ACTS_ON_A_PAGE = 60
CHANGES_ON_A_PAGE = 100

LOOKED_AHEAD = 2000
"""Of an act with more changes it is found out only when it is tried whether it can be taken back: the question
alone would keep the page waiting (our choice)."""


@frozen
class HistoryPage:
    """Acts, the newest first; `earlier` is where the next page begins, None where there is none."""

    acts: Sequence[ActKept]
    earlier: int | None
    done_by: Mapping[str, int]
    """How many acts each has done who did anything."""


@frozen
class ActAlone:
    """One act with its changes; `further` is where those begin that are not on this page, and `why_not` tells what
    stands in the way of taking it back, empty where nothing is known to."""

    act: ActKept
    changes: Sequence[ChangeShown]
    further: int | None
    why_not: str
    undone: ActKept | None
    undoes: ActKept | None


@define
class History:
    """What was done in a collection."""

    collection: Collection
    who: str = "archivist"

    def page(self, *, before: int | None = None, who: str = "", about: str = "") -> HistoryPage:
        """A page of acts; of somebody, or about a print by its accession number."""
        catalogue = self.collection.catalogue
        found = catalogue.acts_kept(before=before, who=who, about=about, limit=ACTS_ON_A_PAGE + 1)
        acts = found[:ACTS_ON_A_PAGE]
        return HistoryPage(acts, acts[-1].number if len(found) > len(acts) else None, catalogue.act_counts())

    def act(self, number: int, *, after: int = 0) -> ActAlone:
        """One act, with its changes after the one of that number.

        Raises
        ------
        NotFound
            When there is no such act.
        """
        catalogue = self.collection.catalogue
        act = catalogue.act_kept(number)
        if act is None:
            raise NotFound(Sentence("Nothing was done under this number"), "", Sentence("Look at what was done"))
        found = catalogue.changes_of(number, after=after, limit=CHANGES_ON_A_PAGE + 1)
        changes = found[:CHANGES_ON_A_PAGE]
        undone = catalogue.act_kept(act.undone_by) if act.undone_by else None
        return ActAlone(
            act,
            [shown(one.change) for one in changes],
            changes[-1].number if len(found) > len(changes) else None,
            catalogue.why_not_back(number) if act.stands and act.changes <= LOOKED_AHEAD else "",
            undone,
            catalogue.act_kept(act.undoes) if act.undoes else None,
        )

    def take_back(self, number: int) -> str:
        """Takes an act back while what was done since stands; gives its sentence.

        Raises
        ------
        Trouble
            When it can't be, with what stands in the way.
        """
        return self.collection.catalogue.take_back(self.who, number)
