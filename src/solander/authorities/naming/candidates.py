"""Who may be meant by what was said, and who clearly is."""

from __future__ import annotations

from collections.abc import Sequence

from attrs import frozen

from solander.authorities.naming.lives import NOT_THEN
from solander.core.ages import Age
from solander.core.dates import Bounds
from solander.core.people import Person

__all__ = ["Candidate", "Seen", "understood"]

_CLEAR = 0.9
_LEAD = 0.05
_ALONE_CLEAR, _FAR_LEAD = 0.86, 0.2
"""A case is clear when somebody fits well and leads, or fits a little less and nobody else comes near."""


_RATHER = 0.03
"""By so much better must somebody's name fit who was not born or had died, that a person is asked (our choice)."""


@frozen
class Candidate:
    """Somebody who may be meant.

    `fit` is how well, 0 to about 1, and `score` the same with who stands nearer in the tree a little ahead;
    `reasons` say why in plain words. `others` go along: all of "the twins". It is `doubtful` when some word fits
    only by sound or as a misspelling: then a person is asked; `not_then` when the date is outside the life.
    """

    person: Person
    fit: float
    score: float
    reasons: tuple[str, ...] = ()
    others: tuple[Person, ...] = ()
    doubtful: bool = False
    not_then: bool = False

    @property
    def everybody(self) -> tuple[Person, ...]:
        """All who are meant, if this is."""
        return (self.person, *self.others)


@frozen
class Seen:
    """From where something is said: `by` is the heading of the one through whose eyes the tree is seen, `on` the
    date of the print, `age` what was said beside the name, `before` the headings of those named before, `lent` a
    family name that stands later in the phrase, in plain words."""

    by: str | None = None
    on: Bounds | None = None
    age: Age | None = None
    before: tuple[str, ...] = ()
    lent: tuple[str, ...] = ()


def understood(candidates: Sequence[Candidate]) -> Candidate | None:
    """The one who is meant, where one fits well and nobody else nearly as well; else None: that is a question."""
    if not candidates:
        return None
    best = max(candidates, key=lambda each: each.fit)
    if any(each.not_then and each.fit / NOT_THEN > best.fit + _RATHER for each in candidates):
        return None  # the name is rather that of somebody who can't be there: the name or the date is wrong
    lead = best.fit - max((each.fit for each in candidates if each is not best), default=0.0)
    clear = (best.fit >= _CLEAR and lead >= _LEAD) or (best.fit >= _ALONE_CLEAR and lead >= _FAR_LEAD)
    return best if clear and not best.doubtful else None
