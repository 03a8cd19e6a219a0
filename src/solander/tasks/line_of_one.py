"""What is said of one print alone, put in order by itself: what is believed, what can't be true as well.

Only what is said of the print and of its occasion counts here, not what its neighbours tell; so it takes
milliseconds, whatever the size of the collection.
"""

from __future__ import annotations

from collections.abc import Collection as Several
from collections.abc import Sequence

from solander.core.statements import About, Says, Statement
from solander.tasks.collection import Collection
from solander.tasks.first_words_kept import first_words_of
from solander.tasks.put_in_order import Timeline, people_shown, timeline_of

__all__ = ["line_of_one", "said_of_one"]


def said_of_one(collection: Collection, accession: str) -> list[Statement]:
    """What is said of the print itself, then of the occasions that it is said to belong to."""
    catalogue = collection.catalogue
    own = [one for one in catalogue.statements(subject=accession) if one.about is About.PRINT]
    occasions = dict.fromkeys(one.value for one in own if one.says is Says.OCCASION)
    shared = catalogue.statements_about(occasions) if occasions else []
    return [*own, *(one for one in shared if one.about is About.OCCASION)]


def line_of_one(
    collection: Collection, accession: str, more: Sequence[Statement] = (), *, without: Several[str] = ()
) -> Timeline:
    """The print by itself; with `more` also what somebody is about to say, `without` the statements of these ids.

    Raises
    ------
    NotFound
        When there is no such print.
    """
    catalogue = collection.catalogue
    said = [one for one in said_of_one(collection, accession) if one.id not in without]
    statements = [*said, *more]
    people = people_shown(catalogue, statements)
    years = first_words_of(catalogue).years
    return timeline_of([catalogue.print(accession)], statements, people, years=years)
