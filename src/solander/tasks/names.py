"""What the workbench shows and does in its room of names and places."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from attrs import define, field

from solander.authorities.gazetteer.credit import GEONAMES_CREDIT
from solander.core.descriptions import DescribedPrint
from solander.core.errors import Trouble
from solander.core.first_words import FirstWords
from solander.look.map_figure import guess_year
from solander.tasks.collection import Collection
from solander.tasks.first_words_kept import first_words_of, were_asked
from solander.tasks.given_files import GivenFiles
from solander.tasks.people_told import PeopleTold
from solander.tasks.places_told import PlacesTold
from solander.tasks.show import Shown
from solander.tasks.understood import Understanding

__all__ = ["Names"]

USUAL_RADIUS_M = 30.0
"""A house with its garden: what a place is taken for whose size nobody has said (our choice)."""


@define
class Names:
    """People, places and first words of a collection for one workbench."""

    shown: Shown
    people: PeopleTold = field(init=False)
    places: PlacesTold = field(init=False)
    understanding: Understanding = field(init=False)
    given: GivenFiles = field(init=False)
    usual_radius_m: float = USUAL_RADIUS_M
    _acts: set[int] = field(factory=set, init=False)

    def __attrs_post_init__(self) -> None:
        self.people, self.places = PeopleTold(self.shown), PlacesTold(self.shown)
        self.understanding = Understanding(self.shown.collection)
        self.given = GivenFiles(self.shown.collection)

    @property
    def collection(self) -> Collection:
        """The collection itself."""
        return self.shown.collection

    @property
    def first_words(self) -> FirstWords:
        """What was said first of the collection."""
        return first_words_of(self.collection.catalogue)

    @property
    def knows_nothing(self) -> bool:
        """Whether the collection is empty and its first words were never asked."""
        catalogue = self.collection.catalogue
        return not (were_asked(catalogue) or catalogue.headings() or catalogue.places() or self.described())

    def described(self) -> Sequence[DescribedPrint]:
        """All prints in order of time."""
        return self.shown.described()

    @property
    def credit(self) -> str:
        """Whose data helps to find places, in the words that its licence asks for."""
        return GEONAMES_CREDIT

    def placeless(self, holds: Callable[[int | None], bool]) -> int:
        """How many prints have no place, of those whose year is held."""
        return sum(one.place is None and holds(guess_year(one)) for one in self.described())

    def noted(self, act: int | None) -> int | None:
        """Takes note of an act of this sitting, so that it can be taken back here."""
        if act is not None:
            self._acts.add(act)
        return act

    def done(self, act: int | None) -> str:
        """The sentence of an act that can still be taken back here; empty where it can't."""
        last = self.collection.catalogue.last_act()
        return last[1] if act in self._acts and last and last[0] == act else ""

    def undo(self, act: int) -> str:
        """Takes an act back that was done here and is still the last; gives its sentence.

        Raises
        ------
        Trouble
            When it was done elsewhere, or something else was done since.
        """
        if act not in self._acts:
            raise Trouble("Nothing was taken back", "it was not done in this sitting", "Look at it again")
        return self.collection.catalogue.undo("archivist", only=act)
