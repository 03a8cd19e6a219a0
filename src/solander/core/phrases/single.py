"""Terms to single dates: a day, a month, a season, a feast, a decade and what else is told in one go."""

from __future__ import annotations

from attrs import evolve

from solander.core.days import day, month_length, weekday
from solander.core.phrases.cursor import PASSED, Cursor
from solander.core.phrases.figures import in_figures
from solander.core.phrases.parts import LAST, Parts
from solander.core.phrases.terms import Kind

__all__ = ["SingleDates"]


class SingleDates(Cursor):
    """Reads the date that begins at a place, when there is one."""

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
            case Kind.NEAREST:
                return self._last_week(place)
            case Kind.PART:
                return self._part(place)
            case Kind.FEAST:
                return self._named(place, Parts(feast=self._value(place)))
            case Kind.SEASON:
                season, part = self._value(place)
                return self._named(place, Parts(season=season, part=part))
            case Kind.EVENT:
                return self._event(place)
            case Kind.ABOUT_YEAR:
                found = self.years.in_digits(self._value(place), loose=False)
                return None if found is None else (Parts(year=found[0], approximate=True), place + 1)
            case Kind.HUNDREDS:
                return Parts(century=self._value(place)), place + 1
            case Kind.LIFE:
                return self._value(place), place + 1
            case Kind.NAMED if place == 0 or self._kind(place - 1) not in (Kind.WORD, Kind.OWN):
                # "Ida's wedding" and "her wedding" may be another than the known one.
                return self._value(place), place + 1
            case Kind.DECADE if not self._is_age(place):
                return self._worded_decade(place)
            case Kind.DECADE_WORD:
                return self._told_decade(place)
            case Kind.CENTURY:
                return self._numbered_century(place)
            case Kind.MONTH:
                return self._month_first(place)
            case Kind.NUMBER | Kind.ORDINAL | Kind.SPOKEN | Kind.SHORT_YEAR:
                return self._day_first(place) or self._century(place) or self._year_first(place, loose)
        return None

    def _decade(self, said: int) -> int:
        return self.years.era(said) if said < 100 else said

    def _told_decade(self, place: int) -> tuple[Parts, int] | None:
        """ "années 50"."""
        ahead = self._skip(place + 1)
        digits = self._value(ahead) if self._kind(ahead) in (Kind.NUMBER, Kind.SHORT_YEAR) else ""
        if digits[-1:] == "0" and len(digits) in (2, 4):
            return Parts(decade=self._decade(int(digits))), ahead + 1
        if self._kind(ahead) is Kind.SPOKEN and self._value(ahead) in range(20, 100, 10):
            return Parts(decade=self._decade(self._value(ahead))), ahead + 1
        if self._kind(ahead) is Kind.DECADE:
            return Parts(decade=self._decade(self._value(ahead))), ahead + 1
        return None

    def _event(self, place: int) -> tuple[Parts, int] | None:
        """ "The war", also with its year; what stands before it may make it another war."""
        spans = self._value(place)
        if len(spans) > 1 and place > 0 and self._kind(place - 1) is Kind.WORD:
            return None
        found = self._year(self._skip(place + 1), loose=False)
        if found is not None and (event := self._in_year(place, found[0])) is not None:
            return event, found[2]
        return Parts(spans=spans), place + 1

    def _in_year(self, place: int, year: int) -> Parts | None:
        """ "The coronation, 1937", "the 1935 jubilee"."""
        meant = tuple(
            span for span in self._value(place) if (span[0] or "0")[:4] <= f"{year:04d}" <= (span[1] or "9999")[:4]
        )
        return Parts(spans=meant, year=year) if meant and all(all(span) for span in meant) else None

    def _is_a_name(self, first: int, month: int) -> bool:
        """ "1952. May and Joan": a month apart from the year with a word right behind it."""
        apart = any(self._kind(place) is Kind.SEPARATOR for place in range(first, month))
        return apart and self._kind(month) is Kind.MONTH and self._kind(month + 1) in (Kind.WORD, Kind.BOTH)

    def _worded_decade(self, place: int) -> tuple[Parts, int]:
        """ "1950s", "50er Jahre"; "the 1800s" are the hundred years rather than the ten."""
        after = place + 2 if self._unit(place + 1) == "year" else place + 1
        decade = Parts(decade=self._decade(self._value(place)))
        if self._value(place) % 100 == 0 and 1000 < self._value(place) < 1900:
            return Parts(options=(Parts(century=self._value(place)), decade)), after
        return decade, after

    def _is_age(self, place: int) -> bool:
        """Whether it is "her twenties"."""
        return self._value(place) < 100 and place > 0 and self._kind(place - 1) is Kind.OWN

    def _numbered_century(self, place: int) -> tuple[Parts, int] | None:
        """ "siglo XIX"."""
        number = self._day_number(place + 1, most=21)
        return (Parts(century=(number - 1) * 100), place + 2) if number and number >= 15 else None

    def _century(self, place: int) -> tuple[Parts, int] | None:
        number = self._day_number(place, most=21)
        ahead = self._skip(place + 1, Kind.SEPARATOR)
        if number is None or number < 15 or self._kind(ahead) is not Kind.CENTURY:
            return None
        return Parts(century=(number - 1) * 100), ahead + 1

    def _part(self, place: int) -> tuple[Parts, int] | None:
        ahead = self._skip(place + 1, *PASSED, Kind.TO)
        last = None
        if self._kind(ahead) in (Kind.EITHER, Kind.PART):
            # "early to mid", "early or mid"
            ahead = self._skip(ahead, Kind.EITHER, *PASSED)
            last = self._value(ahead) if self._kind(ahead) is Kind.PART else None
            ahead = self._skip(ahead + 1, *PASSED, Kind.TO)
        found = None if self._kind(ahead) is Kind.PART else self._date(ahead, True)
        if found is None:
            return None
        parts, after = found
        return (evolve(parts, part=self._value(place), to_part=last), after) if not parts.options else found

    def _named(self, place: int, parts: Parts) -> tuple[Parts, int]:
        """A season or feast and its year."""
        found = self._year(self._skip(place + 1, *PASSED, Kind.DURING), loose=True)
        if found is None:
            return parts, place + 1
        year, short, after = found
        return evolve(parts, year=year, short=short), after

    def _year(self, place: int, *, loose: bool) -> tuple[int, bool, int] | None:
        """A year, whether it was told by two digits, and the next place."""
        kind = self._kind(place)
        if kind is Kind.TO and self._value(place) == "-" and self.language.dash_years:
            return self._dashed(place + 1)
        if kind is Kind.NUMBER:
            return self._year_in_digits(self._value(place), place, loose)
        if kind is Kind.SHORT_YEAR:
            return self.years.era(int(self._value(place))), True, place + 1
        if kind is Kind.SPOKEN and self._value(place) >= 1000:
            return self._value(place), False, place + 1
        if kind is Kind.SPOKEN and loose and self._value(place) >= 20 and not self._counts(place):
            return self.years.era(self._value(place)), True, place + 1
        if kind is Kind.NUMBERS:
            return self._across_new_year(place)
        return None

    def _dashed(self, place: int) -> tuple[int, bool, int] | None:
        """ "Sommaren -58"."""
        if self._kind(place) is not Kind.NUMBER or self._kind(self._skip(place + 1)) is Kind.MONTH:
            return None
        return self._year_in_digits(self._value(place), place, len(self._value(place)) == 2)

    def _year_in_digits(self, digits: str, place: int, loose: bool) -> tuple[int, bool, int] | None:
        found = self.years.in_digits(digits, loose=loose)
        return None if found is None or (found[1] and self._counts(place)) else (*found, place + 1)

    def _counts(self, place: int) -> bool:
        """Whether a number of years is told ("62 years"), and no year."""
        after = self._kind(place + 1)
        if after is Kind.FILLER and self.language.year_follows:
            return False
        return self._unit(place + 1) is not None

    def _across_new_year(self, place: int) -> tuple[int, bool, int] | None:
        """ "winter 1962-63", "Silvester 62/63": the first of two years that follow each other."""
        numbers, _ = self._value(place)
        if len(numbers) == 2 and len(numbers[0]) == 4 and not numbers[1].isdigit():
            # "28 ottobre 1934-XII": the twelfth year of an era.
            return self._year_in_digits(numbers[0], place, False)
        if len(numbers) != 2 or not all(number.isdigit() for number in numbers):
            return None
        if not f"{int(numbers[0]) + 1:02d}".endswith(numbers[1]):
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
        if kind in (Kind.SEASON, Kind.FEAST, Kind.MONTH) and not short and not self._is_a_name(after, ahead):
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
        if number is not None and number <= 5 and self._is_week(ahead):
            return self._week_of_month(number, self._skip(ahead + 1))
        if number is not None and self._kind(place) is Kind.ORDINAL and self._kind(ahead) is Kind.ORDINAL:
            return self._two_ordinals(number, ahead)
        if number is None or self._kind(ahead) is not Kind.MONTH:
            return None
        return self._named(ahead, Parts(day=number, month=self._value(ahead)))

    def _two_ordinals(self, day: int, place: int) -> tuple[Parts, int] | None:
        """ "Zwölfter fünfter sechsunddreißig"."""
        month = self._day_number(place, most=12)
        found = None if month is None else self._named(place, Parts(day=day, month=month))
        return None if found is None or found[0].year is None else found

    def _last_week(self, place: int) -> tuple[Parts, int] | None:
        """ "The last week of August 1938"."""
        if not self._is_week(place + 1):
            return None
        return self._week_of_month(LAST, self._skip(place + 2))

    def _is_week(self, place: int) -> bool:
        """ "Week of", and "wk" before a month."""
        if self._kind(place) is Kind.WEEK_OF:
            return True
        return self._unit(place) == "week" and self._kind(self._skip(place + 1)) is Kind.MONTH

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
        if self._kind(ahead) is Kind.NUMBERS and (dated := self._day_and_year(month, ahead)) is not None:
            return dated, ahead + 1
        if number is None:
            return self._days_behind(place, ahead) or self._named(place, month)
        dated = evolve(month, day=number)
        full, after = self._named(ahead, dated)
        if full.year is not None:
            return full, after
        linked = self._kind(self._skip(ahead + 1)) in (Kind.EITHER, Kind.TO, Kind.BOTH, Kind.UNTIL)
        if self._kind(ahead) is Kind.NUMBER and len(self._value(ahead)) == 2 and not linked:
            # "AUG 12" is the day or the year.
            return Parts(options=(dated, evolve(month, year=self.years.era(number), short=True))), ahead + 1
        return dated, ahead + 1

    def _days_behind(self, month: int, place: int) -> tuple[Parts, int] | None:
        """ "Aug 3-10 1935"."""
        if self._kind(place) is not Kind.NUMBERS:
            return None
        numbers, sign = self._value(place)
        if len(numbers) != 2 or sign not in "-–" or not all(each.isdigit() and len(each) <= 2 for each in numbers):
            return None
        year = self._year(self._skip(place + 1), loose=False)
        if year is None or not 1 <= int(numbers[0]) < int(numbers[1]) <= 31:
            return None
        whole = f"{year[0]:04d}-{self._value(month):02d}"
        return Parts(spans=((f"{whole}-{int(numbers[0]):02d}", f"{whole}-{int(numbers[1]):02d}"),)), year[2]

    def _day_and_year(self, month: Parts, place: int) -> Parts | None:
        """ "Aug. 23/54"."""
        numbers, _ = self._value(place)
        if len(numbers) != 2 or not all(number.isdigit() for number in numbers) or int(numbers[1]) <= 31:
            return None
        found = self.years.in_digits(numbers[1])
        if found is None or not 1 <= int(numbers[0]) <= 31:
            return None
        return evolve(month, day=int(numbers[0]), year=found[0], short=found[1])

    def _from_numbers(self, place: int) -> tuple[Parts, int] | None:
        numbers, sign = self._value(place)
        month = self._skip(place + 1)
        if len(numbers) == 2 and self._kind(month) is Kind.MONTH and "".join(numbers).isdigit():
            return self._days_of_month(numbers, month)
        if len(numbers) == 2 and (year := self._year(place + 1, loose=False)) is not None:
            # "14/8 1949"
            numbers, after = (*numbers, f"{year[0]:04d}"), year[2]
            parts = in_figures(numbers, sign, years=self.years, day_first=self.day_first)
            return None if parts is None or not (parts.day or parts.options) else (parts, after)
        parts = in_figures(numbers, sign, years=self.years, day_first=self.day_first)
        return None if parts is None else (self._on_weekday(parts, place), place + 1)

    def _on_weekday(self, parts: Parts, place: int) -> Parts:
        """The order of day and month that the weekday beside it leaves: "Sun. 4/8/29"."""
        before = place - 1
        while before > 0 and self._kind(before) in (Kind.SEPARATOR, Kind.FILLER):
            before -= 1
        beside = [near for near in (before, self._skip(place + 1, Kind.SEPARATOR)) if near >= 0]
        told = {self._value(near) for near in beside if self._kind(near) is Kind.WEEKDAY}
        fitting = [option for option in parts.options if _weekday_of(option) in told]
        return fitting[0] if len(fitting) == 1 else parts

    def _days_of_month(self, numbers: tuple[str, ...], place: int) -> tuple[Parts, int] | None:
        """ "3-4 July 1950"."""
        first, last = (int(number) for number in numbers)
        found, after = self._named(place, Parts(month=self._value(place)))
        if found.year is None or not 1 <= first < last <= 31:
            return None
        month = f"{found.year:04d}-{found.month:02d}"
        return Parts(spans=((f"{month}-{first:02d}", f"{month}-{last:02d}"),)), after


def _weekday_of(parts: Parts) -> int | None:
    """Monday 0; None where there is no such day."""
    if not (parts.year and parts.month and parts.day) or parts.day > month_length(parts.year, parts.month):
        return None
    return weekday(day(parts.year, parts.month, parts.day))
