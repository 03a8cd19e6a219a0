"""Terms to dates that are told by another: "two years after the war", "the Christmas before Nils was born"."""

from __future__ import annotations

from solander.core.phrases.parts import LAST, Parts, Relative
from solander.core.phrases.single import SingleDates
from solander.core.phrases.terms import Kind

__all__ = ["RelativeDates"]

_RETURNING = (Kind.SEASON, Kind.FEAST, Kind.MONTH)
_DATED = (Kind.LIFE, Kind.NAMED, Kind.EVENT)
_Found = tuple[Parts, int]


class RelativeDates(SingleDates):
    """Reads single dates and those told by their place beside one."""

    def _date(self, place: int, loose: bool) -> _Found | None:
        return self._relative(place) or super()._date(place, loose)

    def _relative(self, place: int) -> _Found | None:
        """The relative date that begins at a place."""
        match self._kind(place):
            case Kind.JUST:
                return self._beside(place + 1, unit="just")
            case Kind.WEEKDAY:
                return self._beside(place + 1, unit="week")
            case Kind.SEASON | Kind.FEAST | Kind.MONTH:
                return self._returning(place, 0)
            case Kind.NEAREST:
                return self._returning(place + 1, LAST) or self._duration(place + 1, 0, 0)
            case Kind.ORDINAL:
                return self._returning(self._skip(place + 1, Kind.FILLER), self._value(place))
        return self._counted(place)

    def _returning(self, place: int, number: int) -> _Found | None:
        """The number-th, or the last, of what comes every year; 0 where nothing is counted."""
        if self._kind(place) not in _RETURNING:
            return None
        what, after = super()._date(place, False) or (Parts(year=0), place)
        if what.has_year or what.options:
            return None
        count = max(number, 1)
        return self._beside(after, what=what, least=count, most=count) or self._within(after, what, number)

    def _counted(self, place: int) -> _Found | None:
        """ "two years", "a few years", "two or three years", "the year"."""
        if self._kind(place) is Kind.FEW:
            least, most = self._value(place)
            return self._duration(place + 1, least, most)
        if self._kind(place) is Kind.NUMBERS:
            numbers, _ = self._value(place)
            if len(numbers) == 2 and all(len(number) <= 2 and number.isdigit() for number in numbers):
                return self._duration(place + 1, *sorted(int(number) for number in numbers))
            return None
        number = self._day_number(place, most=99)
        if number is None:
            return None if self._tells_many(place) else self._duration(place, 0, 0)
        if self._kind(place + 1) in (Kind.EITHER, Kind.TO):
            more = self._day_number(place + 2, most=99)
            return None if more is None else self._duration(place + 3, *sorted((number, more)))
        return self._duration(place + 1, number, number)

    def _tells_many(self, place: int) -> bool:
        """Whether it is "years" without their number."""
        return self._unit(place) is None or str(self._value(place)).endswith("s")

    def _duration(self, place: int, least: int, most: int) -> _Found | None:
        unit = self._unit(place)
        return None if unit is None else self._beside(place + 1, unit=unit, least=least, most=most)

    def _beside(
        self, place: int, *, what: Parts | None = None, unit: str = "", least: int = 0, most: int = 0
    ) -> _Found | None:
        toward = self._kind(ahead := self._skip(place, Kind.FILLER))
        if toward not in (Kind.BEFORE, Kind.AFTER):
            return None
        found = super()._date(self._skip(ahead + 1, Kind.FILLER), True)
        if found is None or not found[0].has_year:
            return None
        anchor, after = found
        return Parts(relative=Relative(anchor, toward, what, unit, least, most)), after

    def _within(self, place: int, what: Parts, number: int) -> _Found | None:
        """ "the summer when Nan was six", "the first Christmas of the war"."""
        ahead = self._skip(place, Kind.FILLER, Kind.DURING, Kind.SEPARATOR)
        if self._kind(ahead) not in _DATED:
            return None
        found = super()._date(ahead, False)
        if found is None:
            return None
        return Parts(relative=Relative(found[0], Kind.DURING, what, least=number, most=number)), found[1]
