"""The lives of all people, laid out so that everybody is weighed at once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from solander.authorities.naming.lives import NOT_THEN
from solander.core.ages import Age
from solander.core.dates import Bounds
from solander.core.people import Life, Person, life_of

__all__ = ["LivesLaid", "Numbers"]

Numbers = NDArray[np.float64]

_YEAR = 365.2425
_SEXES = {"male": 1, "female": 2}


class LivesLaid:
    """Lives and sexes by the places of people; never changed: `with_people` gives another."""

    def __init__(self, people: Sequence[Person]) -> None:
        self.lives: list[Life] = [life_of.__wrapped__(person) for person in people]
        self._born_from = _days((life.born_from for life in self.lives), -np.inf)
        self._born_to = _days((life.born_to for life in self.lives), np.inf)
        self._died_to = _days((life.died_to for life in self.lives), np.inf)
        self._sex = np.array([_SEXES.get(person.sex, 0) for person in people], dtype=np.int8)

    def with_people(self, now: Mapping[int, Person], count: int) -> LivesLaid:
        """The same for `count` people, with those as they are `now`, by place; who is new stands last."""
        other = LivesLaid(())
        few = LivesLaid(tuple(now.values()))
        other.lives = [*self.lives, *[Life(None, None, None, None)] * (count - len(self.lives))]
        for place, life in zip(now, few.lives, strict=True):
            other.lives[place] = life
        places = list(now)
        for name in ("_born_from", "_born_to", "_died_to", "_sex"):
            laid = np.resize(getattr(self, name), count)
            laid[places] = getattr(few, name)
            setattr(other, name, laid)
        return other

    def born(self, place: int) -> float:
        """The first day on which somebody may have been born, for putting brothers and sisters in order."""
        return float(self._born_from[place])

    def of_sex(self, sex: str) -> Numbers:
        """1 for who is of that sex, a little less for who may be."""
        return np.where(self._sex == _SEXES[sex], 1.0, np.where(self._sex == 0, 0.97, 0.55))

    def living(self, on: Bounds | None, age: Age | None) -> Numbers:
        """The factor of `lives.life_then` for everybody at once, ages to about a year."""
        factor = np.ones(len(self.lives))
        if on is None:
            return factor
        earliest = -np.inf if on.earliest is None else float(on.earliest)
        latest = np.inf if on.latest is None else float(on.latest)
        if age is not None and np.isfinite(earliest) and np.isfinite(latest):
            with np.errstate(invalid="ignore"):
                youngest, oldest = (earliest - self._born_to) / _YEAR, (latest - self._born_from) / _YEAR
                apart = np.maximum(np.maximum(youngest - age.oldest - 1, age.youngest - oldest - 1), 0)
            known = np.isfinite(self._born_to) & np.isfinite(self._born_from)
            factor = np.where(known, np.maximum(1 - 0.03 * apart, NOT_THEN), factor)
        return np.where((self._born_from > latest) | (self._died_to < earliest), NOT_THEN, factor)


def _days(days: Iterable[int | None], missing: float) -> Numbers:
    return np.array([missing if day is None else day for day in days], dtype=np.float64)
