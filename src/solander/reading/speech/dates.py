"""The rules for dates as they are said, and what was said of them in the digits that a person would type."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import cache

from solander.core.phrases.language import Language
from solander.reading.speech.grammar import Any, Maybe, Row, Rule
from solander.reading.speech.table import Table

__all__ = ["Spoken", "date_rule", "in_digits", "number_rule"]

Spoken = Callable[[str], Rule]
"""A rule for words parted by `|`: said one by one, or as one."""

_UNITS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


def date_rule(table: Table, word: Spoken, phrase: Spoken) -> Rule:
    """Everything that may be said of a date.

    A month or a season without a year tells no date, and is so short that it is heard in any noise: it needs one.
    """
    year, short = _years(table, word)
    of, article = Maybe(word(table.of)), Maybe(word(table.article))
    months, early = word("|".join(table.months)), Maybe(word(table.early))
    day, whole = Row((article, _day(table, word))), Row((of, year))
    decade = Row((article, early, _decades(table, word)))
    simple = (
        Row((early, year)),
        Row((months, Any((whole, short)))),
        Row((day, of, months, whole)),
        Row((months, day, year)),
        Row((early, word("|".join(table.seasons)), Any((whole, short)))),
        Row((word(table.feasts), whole)),
        decade,
    )
    event = phrase(table.events)
    lead = word("|".join((table.about, table.before, table.after)))
    between = Row((word(table.between), year, word(table.and_), Any((year, short))))
    return Any(
        (*simple, Row((lead, Any((year, decade, event)))), between, Row((Maybe(word(table.during)), event)))
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
