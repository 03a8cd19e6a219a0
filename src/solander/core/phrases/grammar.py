"""Terms to date expressions: which words belong together, and what they say.

Read from left to right; words that fit nowhere are passed over and reported as unused. What is told first or
last only ("3 or 4 July 1948", "between March and May 1950") is filled from the other side.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from attrs import evolve

from solander.core.phrases.parts import Expression, Link, Parts, amended, filled
from solander.core.phrases.terms import Kind, Term

__all__ = ["Reader"]

_RELATIONS = (Kind.BEFORE, Kind.AFTER, Kind.UNTIL, Kind.SINCE, Kind.BETWEEN)
_PASSED = (Kind.SEPARATOR, Kind.FILLER)
_WINTER = 24
_FIRST_YEAR_OF_PHOTOGRAPHS = 1826


class Reader:
    """Reads the date expressions of one phrase.

    Parameters
    ----------
    terms
        What the words mean.
    era
        Gives the full year of a year told by two digits.
    last_year
        No later year is taken for one.
    day_first
        Whether 3/7/48 is July; None reads both.
    """

    def __init__(
        self, terms: Sequence[Term], *, era: Callable[[int], int], last_year: int, day_first: bool | None
    ) -> None:
        self.terms = terms
        self.era = era
        self.last_year = last_year
        self.day_first = day_first

    def expressions(self) -> list[Expression]:
        """All date expressions, in the order of the phrase, corrections already made."""
        # A phrase of nothing but "62" is meant as a date; beside other words it may be anything.
        found = self._scan(loose=not any(term.kind is Kind.WORD for term in self.terms))
        return self._corrected(found)

    def _scan(self, *, loose: bool) -> list[Expression]:
        found: list[Expression] = []
        place = 0
        while place < len(self.terms):
            corrects = bool(found) and self._is_correction(found[-1].last, place)
            expression = self._expression(place, loose or corrects)
            if expression is None:
                place += 1
            else:
                found.append(expression)
                place = expression.last
        return found

    def _corrected(self, found: list[Expression]) -> list[Expression]:
        """Without what was taken back: "seventy-two, no, seventy-three" is the latter."""
        kept: list[Expression] = []
        for expression in found:
            if kept and self._is_correction(kept[-1].last, expression.first):
                expression = amended(kept.pop(), expression)
            kept.append(expression)
        return kept

    def _is_correction(self, first: int, last: int) -> bool:
        kinds = [self._kind(place) for place in range(first, last)]
        return Kind.CORRECTION in kinds and all(kind in (*_PASSED, Kind.CORRECTION) for kind in kinds)

    # -- moving about ----------------------------------------------------------------------------------------

    def _kind(self, place: int) -> Kind | None:
        return self.terms[place].kind if place < len(self.terms) else None

    def _value(self, place: int) -> Any:
        return self.terms[place].value

    def _skip(self, place: int, *kinds: Kind) -> int:
        while self._kind(place) in (kinds or _PASSED):
            place += 1
        return place

    # -- expressions -----------------------------------------------------------------------------------------

    def _expression(self, first: int, loose: bool) -> Expression | None:
        place, relation = first, None
        marks: set[str] = set()
        lab, week = False, 0
        while (kind := self._kind(place)) is not None:
            if kind in _RELATIONS and relation is None:
                relation = kind
            elif kind is Kind.TO and relation is None and self._value(place) is None:
                relation = Kind.UNTIL
            elif kind is Kind.ABOUT:
                marks.add("~")
            elif kind is Kind.MAYBE and not self._doubts_a_word(place):
                marks.add("?")
            elif kind is Kind.LAB:
                lab = True
            elif kind is Kind.WEEK_OF:
                week = 6
            elif kind is Kind.WEEK_ENDING:
                week = -6
            elif kind not in (*_PASSED, Kind.DURING):
                break
            place += 1
        read = self._members(place, relation, loose)
        if read is None:
            return None
        members, link, place = read
        relation, place = self._after(place, relation, marks)
        return Expression(members, link, relation, frozenset(marks), lab, week, first, place)

    def _doubts_a_word(self, place: int) -> bool:
        """Whether "?" stands behind a word that is no date: "Nan? 1952"."""
        return self._value(place) == "?" and place > 0 and self._kind(place - 1) is Kind.WORD

    def _after(self, place: int, relation: Kind | None, marks: set[str]) -> tuple[Kind | None, int]:
        """What may follow a date: doubt, "or so", "or earlier"."""
        while True:
            ahead = self._skip(place, Kind.SEPARATOR)
            kind = self._kind(ahead)
            if kind is Kind.MAYBE and not self._date_follows(ahead + 1):
                marks.add("?")
            elif kind is Kind.ABOUT_AFTER or (kind is Kind.ABOUT and not self._date_follows(ahead + 1)):
                marks.add("~")
            elif kind is Kind.OR_AFTER and relation is Kind.SINCE:
                pass
            elif kind in (Kind.OR_BEFORE, Kind.OR_AFTER) and relation is None:
                relation = Kind.UNTIL if kind is Kind.OR_BEFORE else Kind.SINCE
            else:
                return relation, self._past_fillers(place)
            place = ahead + 1

    def _past_fillers(self, place: int) -> int:
        """Behind "year" in "1930 года", unless what comes next belongs to something else."""
        ahead = self._skip(place)
        return ahead if ahead == len(self.terms) or self._kind(ahead) is not Kind.WORD else place

    def _date_follows(self, place: int) -> bool:
        return self._date(self._skip(place), True) is not None

    def _members(
        self, place: int, relation: Kind | None, loose: bool
    ) -> tuple[tuple[Parts, ...], Link, int] | None:
        found = self._date(place, loose) or self._bare(place)
        if found is None:
            return None
        parts, place = found
        members = [parts]
        link: Link = ""
        while link != "range" and (more := self._linked(place, relation, members[-1], loose)) is not None:
            link, parts, place = more
            members.append(parts)
        whole = filled(members, link)
        if link == "range" and _is_one_winter(*whole):
            whole, link = whole[:1], ""
        return None if any(parts.is_bare for parts in whole) else (tuple(whole), link, place)

    def _linked(
        self, place: int, relation: Kind | None, before: Parts, loose: bool
    ) -> tuple[Link, Parts, int] | None:
        ahead = self._skip(place, Kind.SEPARATOR)
        kind = self._kind(ahead)
        link: Link
        closes = {Kind.BOTH: Kind.BETWEEN, Kind.BEFORE: Kind.SINCE}
        if kind in (Kind.TO, Kind.UNTIL) or (kind in closes and relation is closes[kind]):
            link = "range"
        elif kind in (Kind.EITHER, Kind.BOTH):
            link = "either"
        else:
            return None
        start = self._skip(ahead + 1, *_PASSED, Kind.ABOUT, Kind.EITHER, Kind.BETWEEN)
        found = self._day_first(start)
        if found is None and before.day and self._day_number(start) is not None:
            found = self._bare(start)
        found = found or self._date(start, loose or before.has_year) or self._bare(start)
        return None if found is None else (link, *found)

    def _bare(self, place: int) -> tuple[Parts, int] | None:
        """A number that only its neighbour makes a date: the 3 in "3 or 4 July"."""
        kind = self._kind(place)
        if kind is Kind.NUMBER and len(self._value(place)) <= 2:
            number = int(self._value(place))
        elif kind in (Kind.ORDINAL, Kind.SPOKEN) and self._value(place) < 100:
            number = self._value(place)
        else:
            return None
        return self._named(place, Parts(number=number))

    # -- single dates ----------------------------------------------------------------------------------------

    def _date(self, place: int, loose: bool) -> tuple[Parts, int] | None:
        match self._kind(place):
            case Kind.NUMBERS:
                return self._from_numbers(place)
            case Kind.PART:
                return self._part(place)
            case Kind.FEAST:
                return self._named(place, Parts(feast=self._value(place)))
            case Kind.SEASON:
                return self._named(place, Parts(season=self._value(place)))
            case Kind.EVENT:
                return Parts(spans=self._value(place)), place + 1
            case Kind.DECADE:
                return Parts(decade=self._decade(self._value(place))), place + 1
            case Kind.DECADE_WORD:
                return self._told_decade(place)
            case Kind.MONTH:
                return self._month_first(place)
            case Kind.NUMBER | Kind.ORDINAL | Kind.SPOKEN | Kind.SHORT_YEAR:
                return self._day_first(place) or self._century(place) or self._year_first(place, loose)
        return None

    def _decade(self, said: int) -> int:
        return self.era(said) if said < 100 else said

    def _told_decade(self, place: int) -> tuple[Parts, int] | None:
        """ "années 50"."""
        ahead = self._skip(place + 1)
        digits = self._value(ahead) if self._kind(ahead) in (Kind.NUMBER, Kind.SHORT_YEAR) else ""
        if digits[-1:] == "0" and len(digits) in (2, 4):
            return Parts(decade=self._decade(int(digits))), ahead + 1
        if self._kind(ahead) is Kind.DECADE:
            return Parts(decade=self._decade(self._value(ahead))), ahead + 1
        return None

    def _century(self, place: int) -> tuple[Parts, int] | None:
        number = self._day_number(place, most=21)
        ahead = self._skip(place + 1, Kind.SEPARATOR)
        if number is None or number < 15 or self._kind(ahead) is not Kind.CENTURY:
            return None
        return Parts(century=(number - 1) * 100), ahead + 1

    def _part(self, place: int) -> tuple[Parts, int] | None:
        found = self._date(self._skip(place + 1, *_PASSED, Kind.TO), True)
        if found is None:
            return None
        parts, after = found
        return (evolve(parts, part=self._value(place)), after) if not parts.options else found

    def _named(self, place: int, parts: Parts) -> tuple[Parts, int]:
        """A season or feast and its year."""
        found = self._year(self._skip(place + 1, *_PASSED, Kind.DURING), loose=True)
        if found is None:
            return parts, place + 1
        year, short, after = found
        return evolve(parts, year=year, short=short), after

    def _year(self, place: int, *, loose: bool) -> tuple[int, bool, int] | None:
        """A year, whether it was told by two digits, and the next place."""
        kind = self._kind(place)
        if kind is Kind.NUMBER:
            return self._year_in_digits(self._value(place), place, loose)
        if kind is Kind.SHORT_YEAR:
            return self.era(int(self._value(place))), True, place + 1
        if kind is Kind.SPOKEN and self._value(place) >= 1000:
            return self._value(place), False, place + 1
        if kind is Kind.SPOKEN and loose and self._value(place) >= 20:
            return self.era(self._value(place)), True, place + 1
        if kind is Kind.NUMBERS:
            return self._across_new_year(place)
        return None

    def _year_in_digits(self, digits: str, place: int, loose: bool) -> tuple[int, bool, int] | None:
        if len(digits) == 4 and _FIRST_YEAR_OF_PHOTOGRAPHS <= int(digits) <= self.last_year:
            return int(digits), False, place + 1
        if len(digits) == 2 and loose:
            return self.era(int(digits)), True, place + 1
        return None

    def _across_new_year(self, place: int) -> tuple[int, bool, int] | None:
        """ "winter 1962-63", "Silvester 62/63": the first of two years that follow each other."""
        numbers, _ = self._value(place)
        if (
            len(numbers) != 2
            or (int(numbers[0]) + 1) % 100 != int(numbers[1]) % 100
            or len(numbers[1]) not in (2, 4)
        ):
            return None
        found = self._year_in_digits(numbers[0], place, True)
        return None if found is None or len(numbers[1]) > len(numbers[0]) else found

    def _year_first(self, place: int, loose: bool) -> tuple[Parts, int] | None:
        found = self._year(place, loose=loose)
        if found is None:
            return None
        year, short, after = found
        ahead = self._skip(after)
        kind = self._kind(ahead)
        if short and kind is Kind.MONTH:
            # "65 JUN"; but "32 July 1950" has a day that is none.
            month, after = self._month_first(ahead)
            return None if month != Parts(month=month.month) else (evolve(month, year=year, short=True), after)
        if kind in (Kind.SEASON, Kind.FEAST, Kind.MONTH) and not short:
            more = self._date(ahead, True)
            if more and not more[0].has_year:
                return evolve(more[0], year=year), more[1]
        return Parts(year=year, short=short), after

    def _day_number(self, place: int, *, most: int = 31) -> int | None:
        kind = self._kind(place)
        if kind is Kind.NUMBER and len(self._value(place)) <= 2 and 1 <= int(self._value(place)) <= most:
            return int(self._value(place))
        if kind in (Kind.ORDINAL, Kind.SPOKEN) and 1 <= self._value(place) <= most:
            return int(self._value(place))
        return None

    def _day_first(self, place: int) -> tuple[Parts, int] | None:
        """ "14th of August 1949"."""
        number = self._day_number(place)
        ahead = self._skip(place + 1)
        if number is not None and number <= 5 and self._kind(ahead) is Kind.WEEK_OF:
            return self._week_of_month(number, self._skip(ahead + 1))
        if number is None or self._kind(ahead) is not Kind.MONTH:
            return None
        return self._named(ahead, Parts(day=number, month=self._value(ahead)))

    def _week_of_month(self, week: int, place: int) -> tuple[Parts, int] | None:
        if self._kind(place) is not Kind.MONTH:
            return None
        found, after = self._named(place, Parts(month=self._value(place), week=week))
        return None if found.year is None else (found, after)

    def _month_first(self, place: int) -> tuple[Parts, int]:
        """ "Aug 14th 1949", "Aug 1949", "August"."""
        month = Parts(month=self._value(place))
        ahead = self._skip(place + 1)
        number = self._day_number(ahead)
        if number is None:
            return self._named(place, month)
        dated = evolve(month, day=number)
        full, after = self._named(ahead, dated)
        if full.year is not None:
            return full, after
        linked = self._kind(self._skip(ahead + 1)) in (Kind.EITHER, Kind.TO, Kind.BOTH, Kind.UNTIL)
        if self._kind(ahead) is Kind.NUMBER and len(self._value(ahead)) == 2 and not linked:
            # "AUG 12" is the day or the year.
            return Parts(options=(dated, evolve(month, year=self.era(number), short=True))), ahead + 1
        return dated, ahead + 1

    # -- numbers parted by signs -----------------------------------------------------------------------------

    def _from_numbers(self, place: int) -> tuple[Parts, int] | None:
        numbers, sign = self._value(place)
        month = self._skip(place + 1)
        if len(numbers) == 2 and self._kind(month) is Kind.MONTH:
            return self._days_of_month(numbers, month)
        parts = self._three(numbers, sign) if len(numbers) == 3 else self._two(numbers, sign)
        return None if parts is None else (parts, place + 1)

    def _days_of_month(self, numbers: tuple[str, ...], place: int) -> tuple[Parts, int] | None:
        """ "3-4 July 1950"."""
        first, last = (int(number) for number in numbers)
        found, after = self._named(place, Parts(month=self._value(place)))
        if found.year is None or not 1 <= first < last <= 31:
            return None
        month = f"{found.year:04d}-{found.month:02d}"
        return Parts(spans=((f"{month}-{first:02d}", f"{month}-{last:02d}"),)), after

    def _three(self, numbers: tuple[str, ...], sign: str) -> Parts | None:
        if len(numbers[0]) == 4:
            return self._full(numbers[0], numbers[1], numbers[2])
        first_is_day = self._full(numbers[2], numbers[1], numbers[0])
        first_is_month = self._full(numbers[2], numbers[0], numbers[1])
        day_first = True if sign == "." and self.day_first is None else self.day_first
        if first_is_day is None or first_is_month is None or first_is_day == first_is_month:
            return first_is_day or first_is_month
        if day_first is None:
            return Parts(options=(first_is_month, first_is_day))
        return first_is_day if day_first else first_is_month

    def _full(self, year: str, month: str, day: str) -> Parts | None:
        found = self._year_in_digits(year, 0, True)
        if found is None or not 1 <= int(month) <= 12 or not 1 <= int(day) <= 31 or len(month) > 2:
            return None
        return Parts(year=found[0], short=found[1], month=int(month), day=int(day))

    def _two(self, numbers: tuple[str, ...], sign: str) -> Parts | None:
        first, second = numbers
        if len(first) == 4 and len(second) == 2:
            return self._year_and_two(first, second, sign)
        if len(first) == 4 and len(second) == 4:
            return self._years(first, second)
        if len(second) == 4 and len(first) <= 2:
            return self._month_of(second, first)
        if len(first) == 2 and len(second) == 2 and int(first) > 12 and int(second) > int(first):
            return self._years(first, second)
        if len(second) == 2 and sign in "/-" and int(second) > 31:
            return self._month_of(second, first)
        if sign == "." and 1 <= int(first) <= 31 and 1 <= int(second) <= 12:
            return Parts(day=int(first), month=int(second))
        return None

    def _year_and_two(self, first: str, second: str, sign: str) -> Parts | None:
        month = self._month_of(first, second)
        years = self._years(first, first[:2] + second)
        if month and years and sign != ".":
            return Parts(options=(month, years))
        return month or years

    def _month_of(self, year: str, month: str) -> Parts | None:
        found = self._year_in_digits(year, 0, True)
        if found is None or not 1 <= int(month) <= 12:
            return None
        return Parts(year=found[0], short=found[1], month=int(month))

    def _years(self, first: str, last: str) -> Parts | None:
        found = [self._year_in_digits(digits, 0, True) for digits in (first, last)]
        if found[0] is None or found[1] is None or found[0][0] >= found[1][0]:
            return None
        return Parts(spans=((f"{found[0][0]:04d}", f"{found[1][0]:04d}"),))


def _is_one_winter(first: Parts, last: Parts) -> bool:
    """ "The winter of 1962 to 63"."""
    if first.season != _WINTER or first.year is None:
        return False
    return last == Parts(year=first.year + 1, short=last.short)
