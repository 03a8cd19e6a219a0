"""People as far as dates and privacy need them: names, and when they lived."""

from __future__ import annotations

from functools import lru_cache

from attrs import frozen

from solander.core.dates import parse_edtf

__all__ = ["Life", "Person", "life_of"]


@frozen
class Person:
    """A person; `born` and `died` are EDTF values or empty when unknown."""

    name: str
    also_called: tuple[str, ...] = ()
    born: str = ""
    died: str = ""


@frozen
class Life:
    """The first and last possible days of birth and of death, as ordinals; None where nothing is known."""

    born_from: int | None
    born_to: int | None
    died_from: int | None
    died_to: int | None

    @property
    def is_bounded(self) -> bool:
        """Whether it says of any day that the person did not live then."""
        return self.born_from is not None or self.died_to is not None

    @property
    def ends_before_it_begins(self) -> bool:
        """Whether the last possible day of life lies before the first: one of the two dates is wrong."""
        return self.born_from is not None and self.died_to is not None and self.died_to < self.born_from


@lru_cache(maxsize=4096)
def life_of(person: Person) -> Life:
    """The days between which a person may have lived."""
    return Life(*_days(person.born), *_days(person.died))


def _days(edtf: str) -> tuple[int | None, int | None]:
    if not edtf:
        return None, None
    bounds = parse_edtf(edtf).bounds()
    return bounds.earliest, bounds.latest
