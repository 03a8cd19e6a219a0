"""The rules for dates as they are said, and what was said of them in the digits that a person would type."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import cache

from solander.reading.speech.grammar import Any, Maybe, Row, Rule
from solander.reading.speech.table import Counting, Table

__all__ = ["Spoken", "date_rule", "in_digits", "number_rule"]

Spoken = Callable[[str], Rule]
"""A rule for words parted by `|`: said one by one, or as one."""


def date_rule(table: Table, word: Spoken, phrase: Spoken) -> Rule:
    """Everything that may be said of a date.

    A month or a season without a year tells no date, and is so short that it is heard in any noise: it needs one.
    """
    year, short = _years(table, word)
    of, article = Maybe(word(table.of)), Maybe(word(table.article))
    months, early = word("|".join(table.months)), Maybe(word(table.early))
    day, whole = Row((article, word("|".join(table.counting.days)))), Row((of, year))
    leads = (Maybe(word(table.decade_leads)),) if table.decade_leads else ()
    decade = Row((article, early, *leads, word(table.decades)))
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
    return Any((word(table.counting.units), _two_digits(table.counting, word)))


def _two_digits(counting: Counting, word: Spoken) -> Rule:
    """10 to 99."""
    tens, teens = word(counting.tens), word(counting.teens)
    if not counting.joint:
        return Any((teens, Row((tens, Maybe(word(counting.units))))))
    return Any((teens, tens, Row((word(counting.joined_units), word(counting.joint), tens))))


def _years(table: Table, word: Spoken) -> tuple[Rule, Rule]:
    """A year, and its last two digits alone."""
    counting = table.counting
    two, units = _two_digits(counting, word), word(counting.units)
    small = Row((word(counting.zero), units)) if counting.zero else units
    ways: list[Rule] = [Row((word(counting.centuries), Any((two, small)))), word(counting.round_years)]
    if counting.later:
        ways.append(Row((word(counting.later), Any((units, word(counting.teens))))))
    if counting.later_teens:
        ways.append(Row((word(counting.later_teens), word(counting.teens))))
    return Any(tuple(ways)), two


# -- in digits ------------------------------------------------------------------------------------------------


def in_digits(words: Sequence[str], table: Table) -> str:
    """Words of a date with its numbers in digits: "summer nineteen fifty eight" is "summer 1958"."""
    said, found, at = list(words), [], 0
    numbers = _spoken_numbers(table)
    while at < len(said):
        for length in range(min(6, len(said) - at), 0, -1):
            if (number := numbers.get("".join(said[at : at + length]))) is not None:
                found.append(number)
                at += length
                break
        else:
            found.append(said[at])
            at += 1
    return " ".join(found)


@cache
def _spoken_numbers(table: Table) -> Mapping[str, str]:
    """Numbers as they are said, without spaces, to digits: years, days, the last two digits of a year, decades of
    a century."""
    language, endings = table.dates, table.counting.day_endings
    found = {key: str(number) for key, number in _keys(language.numbers)}
    found |= {key: f"{number}{endings[number - 1]}" for key, number in _keys(language.ordinals) if number <= 31}
    decades = {each: first for first, each in language.decades.items() if first > 100}
    return found | {key: f"{first}s" for key, first in _keys(decades)}


def _keys(told: Mapping[str, int]) -> Iterable[tuple[str, int]]:
    for said, number in told.items():
        for way in said.split("|"):
            yield way.replace("-", "").replace(" ", ""), number
