"""What the workbench shows and does in its room of names and places."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from attrs import Factory, define, field

from solander.authorities.gazetteer.credit import GEONAMES_CREDIT
from solander.core.descriptions import DescribedPrint
from solander.core.first_words import FirstWords
from solander.tasks.collection import Collection
from solander.tasks.first_words_kept import first_words_of, were_asked
from solander.tasks.given_files import GivenFiles
from solander.tasks.people_told import PeopleTold
from solander.tasks.places_told import PlacesTold
from solander.tasks.show import Shown
from solander.tasks.sitting import Sitting
from solander.tasks.understood import Understanding
from solander.tasks.where_from import WhereFrom

__all__ = ["Names"]

USUAL_RADIUS_M = 30.0
"""A house with its garden: what a place is taken for whose size nobody has said (our choice)."""


@define
class Names:
    """People, places and first words of a collection for one workbench."""

    shown: Shown
    sitting: Sitting = field(default=Factory(lambda desk: Sitting(desk.shown.collection), takes_self=True))
    people: PeopleTold = field(init=False)
    places: PlacesTold = field(init=False)
    understanding: Understanding = field(init=False)
    given: GivenFiles = field(init=False)
    where_from: WhereFrom = field(init=False)
    usual_radius_m: float = USUAL_RADIUS_M

    def __attrs_post_init__(self) -> None:
        self.people, self.places = PeopleTold(self.shown), PlacesTold(self.shown)
        self.understanding = Understanding(self.shown.collection)
        self.given = GivenFiles(self.shown.collection)
        self.where_from = WhereFrom(self.sitting)

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
        return not (were_asked(catalogue) or catalogue.print_count() or catalogue.headings() or catalogue.places())

    def prints(self, numbers: Iterable[str]) -> Sequence[DescribedPrint]:
        """These prints with all that is known of them."""
        return self.shown.some(numbers)

    @property
    def credit(self) -> str:
        """Whose data helps to find places, in the words that its licence asks for."""
        return GEONAMES_CREDIT
