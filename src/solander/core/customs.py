"""How the people of a collection write dates: what decides where a phrase could be read in several ways."""

from __future__ import annotations

from attrs import field, frozen, validators

from solander.core.errors import InvalidValue
from solander.core.phrases.languages import LANGUAGES
from solander.core.sentence import Sentence

__all__ = ["Customs"]

_FIRST_YEARS = (1800, 2001)
"""Two-digit years lie in the hundred years from the first year; paper photographs begin after 1826."""


def _known_language(_: object, __: object, value: str | None) -> None:
    if value is not None and value not in LANGUAGES:
        raise InvalidValue(
            Sentence("There is no table of dates for the language “%(value)s”", value=value),
            todo=Sentence("Choose one of %(languages)s", languages=", ".join(LANGUAGES)),
        )


def _year_of_photographs(_: object, __: object, value: int) -> None:
    least, most = _FIRST_YEARS
    if not least <= value <= most:
        raise InvalidValue(
            Sentence("%(value)s can't be the first year of the collection", value=value),
            Sentence(
                "two-digit years are read as the hundred years from it, and it must lie in %(least)s to %(most)s",
                least=least,
                most=most,
            ),
            Sentence("Give the year before which no picture was taken, for instance 1901"),
        )


@frozen
class Customs:
    """What decides where a date could be read in several ways.

    `language` is a two-letter code of `LANGUAGES`, or None: told by the words. `first_year` begins the hundred
    years in which years told by two digits lie. `day_first` says whether 3/7/48 is in July; None keeps both
    days where the language does not tell. `southern` reads seasons as south of the equator does.
    """

    language: str | None = field(default=None, validator=_known_language)
    first_year: int = field(default=1901, validator=[validators.instance_of(int), _year_of_photographs])
    day_first: bool | None = None
    southern: bool = False
