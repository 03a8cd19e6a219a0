"""The days of feasts, computed.

Easter by the rule of Meeus, Jones and Butcher for the Gregorian calendar (from memory; the tests compare it
with published dates). The rules of civil holidays are from memory.
"""

from __future__ import annotations

from collections.abc import Callable

from solander.core.days import day, month_length, weekday

__all__ = ["FEASTS", "easter", "feast_day"]

_MONDAY, _THURSDAY, _SATURDAY, _SUNDAY = 0, 3, 5, 6


def easter(year: int) -> int:
    """The ordinal of Western Easter Sunday."""
    a, (b, c) = year % 19, divmod(year, 100)
    d, e = divmod(b, 4)
    g = (8 * b + 13) // 25
    h = (19 * a + b - d - g + 15) % 30
    i, k = divmod(c, 4)
    moon = (32 + 2 * e + 2 * i - h - k) % 7
    m = (a + 11 * h + 22 * moon) // 451
    month, before = divmod(h + moon - 7 * m + 114, 31)
    return day(year, month, before + 1)


def orthodox_easter(year: int) -> int:
    """The ordinal of Orthodox Easter Sunday in the Gregorian calendar, 1900–2099 (rule of Meeus, from memory)."""
    d = (19 * (year % 19) + 15) % 30
    e = (2 * (year % 4) + 4 * (year % 7) - d + 34) % 7
    month, before = divmod(d + e + 114, 31)
    # Julian days follow 13 days later in these two centuries.
    return day(year, month, before + 1) + 13


def _nth(year: int, month: int, which: int, number: int) -> int:
    """The number-th weekday of a month; −1 is the last."""
    if number > 0:
        first = day(year, month, 1)
        return first + (which - weekday(first)) % 7 + 7 * (number - 1)
    last = day(year, month, month_length(year, month))
    return last - (weekday(last) - which) % 7 + 7 * (number + 1)


def _thanksgiving(year: int) -> int:
    if year < 1939:
        return _nth(year, 11, _THURSDAY, -1)
    return _nth(year, 11, _THURSDAY, 4 if year > 1941 else -2)


def _august_bank_holiday(year: int) -> int:
    if year < 1965:
        return _nth(year, 8, _MONDAY, 1)
    if year < 1971:
        return _nth(year, 8, _SATURDAY, -1) + 2
    return _nth(year, 8, _MONDAY, -1)


def _spring_bank_holiday(year: int) -> int:
    return easter(year) + 50 if year < 1965 else _nth(year, 5, _MONDAY, -1)


def _memorial_day(year: int) -> int:
    return day(year, 5, 30) if year < 1971 else _nth(year, 5, _MONDAY, -1)


def _swedish_midsummer(year: int) -> int:
    """24 June until 1952, since then the Saturday from 20 June on."""
    return day(year, 6, 24) if year < 1953 else day(year, 6, 20) + (_SATURDAY - weekday(day(year, 6, 20))) % 7


def _swedish_all_saints(year: int) -> int:
    """1 November until 1952, since then the Saturday from 31 October on."""
    first = day(year, 10, 31)
    return day(year, 11, 1) if year < 1953 else first + (_SATURDAY - weekday(first)) % 7


def _queens_day(year: int) -> int:
    return day(year, 8, 31) if year < 1949 else day(year, 4, 30)


def _french_mothers_day(year: int) -> int:
    """The last Sunday of May, or the first of June when that is Whitsun (law of 1950)."""
    last = _nth(year, 5, _SUNDAY, -1)
    return last + 7 if last == easter(year) + 49 else last


def _advent(year: int) -> int:
    """The fourth Sunday before Christmas Day."""
    before = day(year, 12, 24)
    return before - (weekday(before) - _SUNDAY) % 7 - 21


def _from_easter(days: int) -> Callable[[int], int]:
    return lambda year: easter(year) + days


FEASTS: dict[str, Callable[[int], int] | tuple[int, int]] = {
    "shrove thursday": _from_easter(-52),
    "shrove sunday": _from_easter(-49),
    "shrove monday": _from_easter(-48),
    "shrove tuesday": _from_easter(-47),
    "ash wednesday": _from_easter(-46),
    "mothering sunday": _from_easter(-21),
    "palm sunday": _from_easter(-7),
    "maundy thursday": _from_easter(-3),
    "good friday": _from_easter(-2),
    "easter eve": _from_easter(-1),
    "easter": easter,
    "easter monday": _from_easter(1),
    "great prayer day": _from_easter(26),
    "ascension": _from_easter(39),
    "whitsun": _from_easter(49),
    "whit monday": _from_easter(50),
    "whit tuesday": _from_easter(51),
    "trinity": _from_easter(56),
    "corpus christi": _from_easter(60),
    "orthodox easter": orthodox_easter,
    "orthodox trinity": lambda year: orthodox_easter(year) + 49,
    "palm sunday ru": lambda year: orthodox_easter(year) - 7,
    "maslenitsa": lambda year: orthodox_easter(year) - 49,
    "advent": _advent,
    "second advent": lambda year: _advent(year) + 7,
    "third advent": lambda year: _advent(year) + 14,
    "fourth advent": lambda year: _advent(year) + 21,
    "sunday of the dead": lambda year: _advent(year) - 7,
    "day of mourning": lambda year: _advent(year) - 14,
    "day of repentance": lambda year: _advent(year) - 11,
    "harvest": lambda year: _nth(year, 10, _SUNDAY, 1),
    "mothers day fr": _french_mothers_day,
    "mothers day scandinavia": lambda year: _nth(year, 5, _SUNDAY, -1),
    "thanksgiving": _thanksgiving,
    "august bank holiday": _august_bank_holiday,
    "spring bank holiday": _spring_bank_holiday,
    "memorial day": _memorial_day,
    "labor day": lambda year: _nth(year, 9, _MONDAY, 1),
    "fathers day": lambda year: _nth(year, 6, _SUNDAY, 3),
    "german unity": lambda year: day(year, 6, 17) if year < 1990 else day(year, 10, 3),
    "columbus day": lambda year: day(year, 10, 12) if year < 1971 else _nth(year, 10, _MONDAY, 2),
    "mothers day": lambda year: _nth(year, 5, _SUNDAY, 2),
    "swedish midsummer": _swedish_midsummer,
    "all saints sv": _swedish_all_saints,
    "swedish midsummer eve": lambda year: _swedish_midsummer(year) - 1,
    "queens day": _queens_day,
    "new year": (1, 1),
    "epiphany": (1, 6),
    "burns": (1, 25),
    "christmas ru": (1, 7),
    "old new year": (1, 14),
    "epiphany ru": (1, 19),
    "defender": (2, 23),
    "candlemas": (2, 2),
    "valentine": (2, 14),
    "david": (3, 1),
    "women": (3, 8),
    "patrick": (3, 17),
    "joseph": (3, 19),
    "april fool": (4, 1),
    "george": (4, 23),
    "liberation it": (4, 25),
    "anzac": (4, 25),
    "walpurgis": (4, 30),
    "labour day": (5, 1),
    "constitution pl": (5, 3),
    "liberation nl": (5, 5),
    "victory": (5, 8),
    "victory ru": (5, 9),
    "constitution no": (5, 17),
    "empire day": (5, 24),
    "mothers day pl": (5, 26),
    "constitution dk": (6, 5),
    "sweden": (6, 6),
    "portugal": (6, 10),
    "anthony": (6, 13),
    "midsummer eve": (6, 23),
    "midsummer": (6, 24),
    "peter": (6, 29),
    "dominion day": (7, 1),
    "independence us": (7, 4),
    "bastille": (7, 14),
    "lammas": (8, 1),
    "assumption": (8, 15),
    "spain": (10, 12),
    "michaelmas": (9, 29),
    "halloween": (10, 31),
    "all saints": (11, 1),
    "all souls": (11, 2),
    "bonfire": (11, 5),
    "october ru": (11, 7),
    "armistice": (11, 11),
    "independence pl": (11, 11),
    "martinmas": (11, 11),
    "nicholas eve": (12, 5),
    "nicholas": (12, 6),
    "immaculate": (12, 8),
    "lucia": (12, 13),
    "christmas eve": (12, 24),
    "christmas": (12, 25),
    "boxing day": (12, 26),
    "new years eve": (12, 31),
}
"""Fixed feasts as (month, day), moving ones as a function of the year that gives the ordinal."""


def feast_day(name: str, year: int) -> int:
    """The ordinal of a feast in a year."""
    rule = FEASTS[name]
    return day(year, *rule) if isinstance(rule, tuple) else rule(year)
