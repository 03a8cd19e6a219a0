"""The desk at which prints are arranged: occasions, containers, how far it is, what was done."""

from __future__ import annotations

from collections.abc import Sequence

from attrs import Factory, define, field, frozen

from solander.core.descriptions import DescribedPrint
from solander.core.errors import NotFound
from solander.core.sentence import Sentence
from solander.core.statements import Says, Statement, Sure
from solander.look.words import edtf_words
from solander.tasks.collection import Collection
from solander.tasks.containers import ContainerTold, container_told, containers_told, order_of
from solander.tasks.described_some import described_some
from solander.tasks.history import History
from solander.tasks.progress import Progressing
from solander.tasks.show import Shown
from solander.tasks.sitting import Sitting

__all__ = ["ArrangeDesk", "ContainerAlone", "OccasionAlone", "OccasionLine", "Occasions"]

OCCASIONS_ON_A_PAGE = 100
PRINTS_ON_A_PAGE = 120
"""Prints of an occasion or a container on one page: more than a film and an outing have (our choice)."""

_SURENESS = list(Sure)


@frozen
class OccasionLine:
    """An occasion as a line of the list: what is said of it best, and how many prints belong to it."""

    name: str
    prints: int
    said: Sequence[Statement]

    @property
    def date(self) -> str:
        """The surest date in words, empty where none is said."""
        best = self._best(Says.EXPOSURE) or self._best(Says.PRINTING)
        return edtf_words(best.value) if best else ""

    @property
    def date_sure(self) -> Sure:
        """How sure that is."""
        best = self._best(Says.EXPOSURE) or self._best(Says.PRINTING)
        return best.sure if best else Sure.CERTAIN

    @property
    def place(self) -> str:
        """The surest place, empty where none is said."""
        best = self._best(Says.PLACE)
        return best.value if best else ""

    @property
    def place_sure(self) -> Sure:
        """How sure that is."""
        best = self._best(Says.PLACE)
        return best.sure if best else Sure.CERTAIN

    def _best(self, says: Says) -> Statement | None:
        fitting = (one for one in self.said if one.says is says)
        return min(fitting, key=lambda one: _SURENESS.index(one.sure), default=None)


@frozen
class Occasions:
    """A page of occasions by name; `after` is where the next begins, empty where there is none."""

    lines: Sequence[OccasionLine]
    total: int
    after: str


@frozen
class OccasionAlone:
    """One occasion: `prints` are those on this page, in order of time, `all_prints` the numbers of all of them;
    `unsaid` is what was taken back, `formerly` what else it was called."""

    line: OccasionLine
    prints: Sequence[DescribedPrint]
    all_prints: Sequence[str]
    unsaid: Sequence[Statement]
    formerly: Sequence[str]
    others: Sequence[str]
    start: int


@frozen
class ContainerAlone:
    """One container: `prints` lie in it, on this page, in the order in which they are put back; the last
    `guests` of all came into it from another one."""

    told: ContainerTold
    prints: Sequence[DescribedPrint]
    total: int
    guests: int
    unsaid: Sequence[Statement]
    within: Sequence[ContainerTold]
    start: int


@define
class ArrangeDesk:
    """Arranging in one collection."""

    shown: Shown
    sitting: Sitting = field(default=Factory(lambda desk: Sitting(desk.shown.collection), takes_self=True))
    history: History = field(init=False)
    progress: Progressing = field(init=False)

    def __attrs_post_init__(self) -> None:
        self.history, self.progress = History(self.collection), Progressing(self.collection)

    @property
    def collection(self) -> Collection:
        """The collection itself."""
        return self.shown.collection

    def occasions(self, *, said: str = "", after: str = "") -> Occasions:
        """Occasions by name; those of which some word begins as was `said`."""
        counts = self.collection.catalogue.occasion_counts()
        sought = said.casefold().split()
        names = [name for name in counts if _begins(name, sought)]
        here = [name for name in names if name > after][: OCCASIONS_ON_A_PAGE + 1]
        shown = here[:OCCASIONS_ON_A_PAGE]
        lines = self._lines({name: counts[name] for name in shown})
        return Occasions(lines, len(names), shown[-1] if len(here) > len(shown) else "")

    def _lines(self, counts: dict[str, int]) -> list[OccasionLine]:
        said: dict[str, list[Statement]] = {name: [] for name in counts}
        for one in self.collection.catalogue.statements_about(counts):
            if one.about == "occasion":
                said[one.subject].append(one)
        return [OccasionLine(name, prints, said[name]) for name, prints in counts.items()]

    def occasion(self, name: str, *, start: int = 0) -> OccasionAlone:
        """One occasion with its prints from that place on.

        Raises
        ------
        NotFound
            When there is none of that name.
        """
        catalogue = self.collection.catalogue
        if not catalogue.has_occasion(name):
            raise NotFound(
                Sentence("There is no occasion “%(name)s”", name=name),
                "",
                Sentence("Look at the list of occasions"),
            )
        numbers = self.in_time([one.subject for one in catalogue.belongings(to=name)])
        every = catalogue.said_of_occasion(name, withdrawn=True)
        line = OccasionLine(name, len(numbers), [one for one in every if not one.withdrawn])
        return OccasionAlone(
            line,
            described_some(self.collection, numbers[start : start + PRINTS_ON_A_PAGE]),
            numbers,
            [one for one in every if one.withdrawn],
            catalogue.names_before(name),
            [other for other in catalogue.occasion_counts() if other != name],
            start,
        )

    def in_time(self, accessions: Sequence[str]) -> list[str]:
        """The prints in order of time, as far as it was worked out; new ones last."""
        standings = self.collection.catalogue.standings_of(accessions)
        last = max((one.rank for one in standings.values()), default=0) + 1
        ranks = {one: standings[one].rank if one in standings else last for one in accessions}
        return sorted(dict.fromkeys(accessions), key=lambda one: (ranks[one], one))

    def containers(self) -> list[ContainerTold]:
        """All containers."""
        return containers_told(self.collection)

    def container(self, code: str, *, start: int = 0) -> ContainerAlone:
        """One container with its prints from that place on, in the order in which they are put back.

        Raises
        ------
        NotFound
            When there is none of that code.
        """
        told = container_told(self.collection, code)
        order, guests = order_of(self.collection, code)
        numbers = [*order, *guests]
        every = self.collection.catalogue.said_of_container(code, withdrawn=True)
        within = set(told.within)
        return ContainerAlone(
            told,
            described_some(self.collection, numbers[start : start + PRINTS_ON_A_PAGE]),
            len(numbers),
            len(guests),
            [one for one in every if one.withdrawn],
            [one for one in self.containers() if one.code in within] if within else [],
            start,
        )


def _begins(name: str, sought: Sequence[str]) -> bool:
    words = name.casefold().split()
    return all(any(word.startswith(one) for word in words) for one in sought)
