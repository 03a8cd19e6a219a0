"""The rules for dates as they are said, and what was said of them in the digits that a person would type."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import cache

from solander.core.phrases.language import Language
from solander.reading.speech.grammar import Any, Maybe, Row, Rule
from solander.reading.speech.table import Table

__all__ = ["Spoken", "date_rule", "in_digits", "number_rule"]

Spoken = Callable[[str], Rule]
"""A leaf, or several, for a word or words parted by `|`."""

_UNITS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


def date_rule(table: Table, word: Spoken) -> Rule:
    """Everything that may be said of a date."""
    year, short = _years(table, word)
    of = Maybe(word(table.of))
    month, season = word("|".join(table.months)), word("|".join(table.seasons))
    day = Row((Maybe(word(table.day_article)), _day(table, word)))
    whole = Row((of, year))
    decade = Row((Maybe(word(table.decade_article)), Maybe(word(table.early)), _decades(table, word)))
    simple = Any(
        (
            year,
            Row((month, Maybe(Any((whole, short))))),
            Row((day, of, month, Maybe(whole))),
            Row((month, day, Maybe(year))),
            Row((Maybe(word(table.early)), season, Maybe(Any((whole, short))))),
            Row((word(table.feasts), Maybe(whole))),
            Row((word(table.early), year)),
            decade,
        )
    )
    war = word(table.events)
    between = Row((word(table.between), year, word(table.and_), Any((year, short))))
    led = Row((word("|".join((table.about, table.before, table.after))), Any((year, decade, war))))
    return Any(
        (simple, led, between, Row((Maybe(word(table.during)), war)), Row((word(table.before), season, year)))
    )


def number_rule(table: Table, word: Spoken) -> Rule:
    """Whole numbers from 1 to 99 as containers bear them."""
    units, teens, tens = _parts_of_numbers()
    return Any((word(units), word(teens), Row((word(tens), Maybe(word(units))))))


def _years(table: Table, word: Spoken) -> tuple[Rule, Rule]:
    """A year, and its last two digits alone."""
    units, teens, tens = _parts_of_numbers()
    two = Any((word(teens), Row((word(tens), Maybe(word(units))))))
    rest = Any((two, Row((word(table.zero), word(units))), word("hundred")))
    thousand = Row(
        (word("two"), word("thousand"), Maybe(Row((Maybe(word(table.and_)), Any((word(units), word(teens)))))))
    )
    return Any((Row((word("eighteen|nineteen"), rest)), Row((word("twenty"), word(teens))), thousand)), two


def _decades(table: Table, word: Spoken) -> Rule:
    names = [each.split("|")[0] for first, each in table.dates.decades.items() if first < 100]
    return Row((Maybe(word("eighteen|nineteen")), word("|".join(names))))


def _day(table: Table, word: Spoken) -> Rule:
    names = [each.split("|")[-1] for each, day in table.dates.ordinals.items() if day <= 31 and " " not in each]
    firsts = [each for each, day in table.dates.ordinals.items() if day < 10]
    single = [each for each in names if "-" not in each]
    return Any((word("|".join(single)), Row((word("twenty|thirty"), word("|".join(firsts))))))


def _parts_of_numbers() -> tuple[str, str, str]:
    return (
        "|".join(_UNITS),
        "ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen",
        "twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety",
    )


# -- in digits ------------------------------------------------------------------------------------------------


def in_digits(words: Sequence[str], language: Language) -> str:
    """Words of a date with its numbers in digits: "summer nineteen fifty eight" is "summer 1958"."""
    said, found, at = list(words), [], 0
    numbers = _spoken_numbers(language)
    while at < len(said):
        for length in range(min(6, len(said) - at), 0, -1):
            if (number := numbers.get(tuple(said[at : at + length]))) is not None:
                found.append(number)
                at += length
                break
        else:
            found.append(said[at])
            at += 1
    return " ".join(found)


@cache
def _spoken_numbers(language: Language) -> Mapping[tuple[str, ...], str]:
    """Runs of words to digits: years, days, the last two digits of a year, decades of a century."""
    found = {key: str(number) for key, number in _keys(language.numbers)}
    found |= {key: f"{number}{_ending(number)}" for key, number in _keys(language.ordinals)}
    decades = ((each, first) for first, each in language.decades.items() if first > 100)
    return found | {key: f"{first}s" for key, first in _keys(dict(decades))}


def _keys(told: Mapping[str, int]) -> Iterable[tuple[tuple[str, ...], int]]:
    for said, number in told.items():
        for way in said.split("|"):
            yield tuple(way.replace("-", " ").split()), number


def _ending(day: int) -> str:
    return "th" if 10 < day < 20 else {1: "st", 2: "nd", 3: "rd"}.get(day % 10, "th")
