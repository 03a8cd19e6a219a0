"""Dates in figures: 3/7/48, 1948-07, 12.VII.1936, 1948-52."""

from __future__ import annotations

from collections.abc import Callable

from attrs import frozen

from solander.core.phrases.parts import Parts
from solander.core.phrases.tokens import MONTHS_IN_ROMAN

__all__ = ["Years", "in_figures"]

_FIRST_YEAR_OF_PHOTOGRAPHS = 1826


@frozen
class Years:
    """What is taken for a year: `era` completes two digits, no year lies after `last`."""

    era: Callable[[int], int]
    last: int

    def in_digits(self, digits: str, *, loose: bool = True) -> tuple[int, bool] | None:
        """A year and whether two digits told it, which counts only when `loose`."""
        if len(digits) == 4 and _FIRST_YEAR_OF_PHOTOGRAPHS <= int(digits) <= self.last:
            return int(digits), False
        if len(digits) == 2 and loose:
            return self.era(int(digits)), True
        return None


def in_figures(numbers: tuple[str, ...], sign: str, *, years: Years, day_first: bool | None) -> Parts | None:
    """The date that two or three numbers tell; `sign` parts them.

    `day_first` None reads 3/7/48 both ways, as options. A month in Roman figures leaves no doubt.
    """
    digits = tuple(str(MONTHS_IN_ROMAN.get(number.upper(), number)) for number in numbers)
    if not all(number.isdigit() for number in digits):
        return None
    if digits != numbers:
        return _with_roman_month(numbers, digits, years)
    return _three(digits, sign, years, day_first) if len(digits) == 3 else _two(digits, sign, years)


def _with_roman_month(numbers: tuple[str, ...], digits: tuple[str, ...], years: Years) -> Parts | None:
    place = next(place for place, number in enumerate(numbers) if not number.isdigit())
    if len(digits) == 3 and place == 1:
        turn = 1 if len(digits[0]) == 4 else -1
        return _full(years, *digits[::turn])
    if place == 0 and len(digits) == 2:
        return _month_of(digits[1], digits[0], years)
    if place == 1 and len(digits[0]) == 4:
        return _month_of(digits[0], digits[1], years)
    if place == 1 and 1 <= int(digits[0]) <= 31 and len(digits[0]) <= 2:
        return Parts(day=int(digits[0]), month=int(digits[1]))
    return None


def _three(numbers: tuple[str, ...], sign: str, years: Years, day_first: bool | None) -> Parts | None:
    if len(numbers[0]) == 4:
        return _without_day(numbers, years) or _full(years, *numbers)
    first_is_day = _full(years, numbers[2], numbers[1], numbers[0])
    first_is_month = _full(years, numbers[2], numbers[0], numbers[1])
    day_first = True if sign == "." and day_first is None else day_first
    if first_is_day is None or first_is_month is None or first_is_day == first_is_month:
        return first_is_day or first_is_month
    if day_first is None:
        return Parts(options=(first_is_month, first_is_day))
    return first_is_day if day_first else first_is_month


def _without_day(numbers: tuple[str, ...], years: Years) -> Parts | None:
    """ "1938-06-00", as forms and databases write a day that is not known."""
    year, month, day = numbers
    if int(day) != 0:
        return None
    if int(month) != 0:
        return _month_of(year, month, years)
    found = years.in_digits(year)
    return None if found is None else Parts(year=found[0])


def _full(years: Years, year: str, month: str, day: str) -> Parts | None:
    found = years.in_digits(year)
    if found is None or not 1 <= int(month) <= 12 or not 1 <= int(day) <= 31 or len(month) > 2:
        return None
    return Parts(year=found[0], short=found[1], month=int(month), day=int(day))


def _two(numbers: tuple[str, ...], sign: str, years: Years) -> Parts | None:
    first, second = numbers
    if len(first) == 4 and len(second) == 2:
        return _year_and_two(first, second, sign, years)
    if len(first) == 4 and len(second) == 1 and sign in "/-–":
        return _year_and_two(first, f"{first[2]}{second}", sign, years)
    if len(first) == 4 and len(second) == 4:
        return _from_to(first, second, years)
    if len(second) == 4 and len(first) <= 2:
        return _month_of(second, first, years)
    if len(first) == 2 and len(second) == 2 and sign != "." and int(second) > int(first) > 12:
        return _from_to(first, second, years)
    if len(second) == 2 and sign in "/-" and int(second) > 31:
        return _month_of(second, first, years)
    if sign == "." and 1 <= int(first) <= 31 and 1 <= int(second) <= 12:
        return Parts(day=int(first), month=int(second))
    return None


def _year_and_two(first: str, second: str, sign: str, years: Years) -> Parts | None:
    month = _month_of(first, second, years)
    both = _from_to(first, first[:2] + second, years)
    if month and both and sign != ".":
        return Parts(options=(month, both))
    return month or both


def _month_of(year: str, month: str, years: Years) -> Parts | None:
    found = years.in_digits(year)
    if found is None or not 1 <= int(month) <= 12:
        return None
    return Parts(year=found[0], short=found[1], month=int(month))


def _from_to(first: str, last: str, years: Years) -> Parts | None:
    found = [years.in_digits(digits) for digits in (first, last)]
    if found[0] is None or found[1] is None or found[0][0] >= found[1][0]:
        return None
    return Parts(spans=((f"{found[0][0]:04d}", f"{found[1][0]:04d}"),))
