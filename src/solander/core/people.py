"""People as far as finding, dates and privacy need them: names, and when and where they lived."""

from __future__ import annotations

from enum import StrEnum
from functools import lru_cache

from attrs import frozen

from solander.core.dates import parse_edtf
from solander.core.errors import InvalidValue
from solander.core.sentence import Sentence

__all__ = ["Life", "Name", "NameKind", "Person", "check_life", "life_of"]


class NameKind(StrEnum):
    """What kind of name it is, as who gives it says; the kinds of the FamilySearch GEDCOM 7 specification that
    matter for finding somebody."""

    BIRTH = "birth"
    MARRIED = "married"
    NICKNAME = "nickname"
    OTHER_SCRIPT = "other-script"  # the same name in other letters, or as it sounds
    OTHER = "other"


@frozen
class Name:
    """A name as it is said, "Anna Weber"; `surname` is the part of it that its source marks as one."""

    text: str
    kind: NameKind = NameKind.OTHER
    surname: str = ""


@frozen
class Person:
    """A person; what of many statements about one is believed most.

    `name` is the heading: the one by which the collection speaks of this person and of nobody else. `also_called`
    are all other names as plain words, `names` those whose kind is known. `born` and `died` are EDTF values or
    empty when unknown, `born_at` and `died_at` places as they were written; `sex` is "female", "male" or empty.
    `known_as` are lasting keys in files from outside, so that taking one in again finds the same person.
    """

    name: str
    also_called: tuple[str, ...] = ()
    born: str = ""
    died: str = ""
    names: tuple[Name, ...] = ()
    sex: str = ""
    born_at: str = ""
    died_at: str = ""
    known_as: tuple[str, ...] = ()


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


def check_life(person: Person) -> None:
    """Refuses a person who died before being born, whoever tells the one and the other.

    Raises
    ------
    InvalidValue
        When the last possible day of life lies before the first.
    """
    if life_of(person).ends_before_it_begins:
        raise InvalidValue(
            Sentence("“%(person)s” has a life that ends before it begins", person=person.name),
            Sentence("%(born)s to %(died)s", born=person.born, died=person.died),
            Sentence("Correct one"),
        )


@lru_cache(maxsize=1 << 16)
def _days(edtf: str) -> tuple[int | None, int | None]:
    if not edtf:
        return None, None
    bounds = parse_edtf(edtf).bounds()
    return bounds.earliest, bounds.latest
