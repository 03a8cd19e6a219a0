"""Terms to date expressions: which words belong together, and what they say.

Read from left to right; words that fit nowhere are passed over and reported as unused. What is told first or
last only ("3 or 4 July 1948", "between March and May 1950") is filled from the other side.
"""

from __future__ import annotations

from solander.core.phrases.corrections import Corrections
from solander.core.phrases.cursor import PASSED
from solander.core.phrases.parts import Expression, Link, Parts, filled
from solander.core.phrases.terms import STRANGE, Kind

__all__ = ["Reader"]

_RELATIONS = (Kind.BEFORE, Kind.AFTER, Kind.UNTIL, Kind.SINCE, Kind.BETWEEN)
_NUMBERS = (Kind.NUMBER, Kind.NUMBERS, Kind.SPOKEN, Kind.SHORT_YEAR)
_MOST_WORDS_OF_AN_EVENT = 2
_WINTER = 24


class Reader(Corrections):
    """Reads the date expressions of one phrase."""

    def expressions(self) -> list[Expression]:
        """All date expressions, in the order of the phrase, corrections already made."""
        # A phrase of nothing but "62" is meant as a date; beside other words it may be anything.
        found = self._scan(loose=not any(term.kind in STRANGE for term in self.terms))
        return self._joined(self._corrected(found))

    def _scan(self, *, loose: bool) -> list[Expression]:
        found: list[Expression] = []
        place = 0
        while place < len(self.terms):
            expression = self._correcting(found[-1], place) if found else None
            expression = expression or self._expression(place, loose)
            if expression is None:
                place += 1
                continue
            place = expression.last
            if self._is_denied(expression, found):
                self.denied |= expression.places
            else:
                found.append(expression)
        return found

    def _correcting(self, before: Expression, place: int) -> Expression | None:
        """What takes a date back may be told by less: "seventy-two, no, seventy-three"."""
        if not self._is_correction(before.last, place):
            return None
        expression = self._corrected_number(before, place) or self._expression(place, True)
        return expression if expression and self._may_correct(before, place, expression) else None

    # -- expressions -----------------------------------------------------------------------------------------

    def _expression(self, first: int, loose: bool) -> Expression | None:
        place, relation = first, None
        marks: set[str] = set()
        lab, week = False, 0
        while (kind := self._kind(place)) is not None:
            if self._relative(place) is not None:
                break
            if kind in _RELATIONS and relation is None:
                relation = kind
            elif kind is Kind.TO and relation is None and self._value(place) is Kind.UNTIL:
                relation = Kind.UNTIL
            elif kind is Kind.ABOUT or (kind is Kind.FEW and self._kind(place + 1) in _NUMBERS):
                marks.add("~")
            elif kind is Kind.OR_BEFORE and relation is None:
                relation = Kind.UNTIL
            elif kind is Kind.MAYBE and not self._doubts_a_word(place):
                marks.add("?")
            elif kind is Kind.LAB:
                lab = True
            elif kind is Kind.WEEK_OF:
                week = 6
            elif kind is Kind.WEEK_ENDING:
                week = -6
            elif not self._leads_to_a_date(place):
                break
            place += 1
        read = self._members(place, relation, loose)
        gaps: frozenset[int] = frozenset()
        if read is None and relation in (Kind.BEFORE, Kind.AFTER):
            dated = self._behind_what_happened(place)
            read, gaps = self._members(dated, relation, False), self._unread(place, dated)
        if read is None:
            return None
        members, link, last = read
        if link and any(self._kind(inner) is Kind.MAYBE for inner in range(place, last)):
            # "1950, or maybe 1951"
            marks.add("?")
        place = last
        relation, place = self._after(place, relation, marks)
        return Expression(members, link, relation, frozenset(marks), lab, week, first, place, gaps)

    def _behind_what_happened(self, place: int) -> int:
        """The place of 1931 in "before the fire of 1931"; the same place where nothing of that form stands."""
        ahead = place
        while self._kind(ahead) is Kind.WORD and ahead - place < _MOST_WORDS_OF_AN_EVENT:
            ahead += 1
        if ahead == place or self._kind(ahead) is not Kind.FILLER:
            return place
        return self._skip(ahead, Kind.FILLER)

    def _leads_to_a_date(self, place: int) -> bool:
        """Words that may stand before any date, and "years" before the number of one."""
        if self._unit(place) == "year" and self._kind(place) is not Kind.FILLER:
            is_decade = self._kind(place) is Kind.DECADE_WORD and self._told_decade(place) is not None
            return self._kind(place + 1) in _NUMBERS and not is_decade
        if self._kind(place) is Kind.TO:
            # "À Pâques", "a Natale"
            return self._value(place) is None
        return self._kind(place) in (*PASSED, Kind.DURING, Kind.WAS)

    def _doubts_a_word(self, place: int) -> bool:
        """Whether "?" stands behind a word that is no date: "Nan? 1952", "Ilfracombe (?), summer 1909"."""
        if self._value(place) != "?":
            return False
        before = place - 1
        while before > 0 and self._kind(before) is Kind.SEPARATOR:
            before -= 1
        return before >= 0 and self._kind(before) is Kind.WORD

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
        found = self._first_of_days(place) or self._date(place, loose) or self._bare(place)
        if found is None:
            return None
        parts, place = found
        members = [parts]
        link: Link = ""
        while (
            link != "range"
            and (more := self._linked(place, relation, before=members[-1], loose=loose)) is not None
        ):
            link, parts, place = more
            members.append(parts)
        whole = filled(members, link)
        if link == "range" and len(whole) == 2 and _is_one_winter(*whole):
            whole, link = whole[:1], ""
        return None if any(parts.is_bare for parts in whole) else (tuple(whole), link, place)

    def _first_of_days(self, place: int) -> tuple[Parts, int] | None:
        """The 14 of "14.-16. August 1949", which is no year."""
        if self._day_number(place) is None:
            return None
        ahead = self._skip(place + 1, Kind.SEPARATOR)
        after = self._skip(ahead + 1, *PASSED)
        if self._kind(ahead) not in (Kind.TO, Kind.EITHER, Kind.BOTH) or self._day_first(after) is None:
            return None
        return self._bare(place)

    def _linked(
        self, place: int, relation: Kind | None, *, before: Parts, loose: bool
    ) -> tuple[Link, Parts, int] | None:
        ahead = self._skip(place, Kind.SEPARATOR, Kind.WAS)
        kind = self._kind(ahead)
        link: Link
        closes = {Kind.BOTH: Kind.BETWEEN, Kind.BEFORE: Kind.SINCE}
        if kind in (Kind.TO, Kind.UNTIL) or (kind in closes and relation is closes[kind]):
            link = "range"
        elif kind in (Kind.EITHER, Kind.BOTH):
            link = "either"
        else:
            return None
        start = self._skip(ahead + 1, *PASSED, Kind.ABOUT, Kind.EITHER, Kind.BETWEEN, Kind.WAS, Kind.MAYBE)
        found = self._day_first(start)
        if found is None and before.day and self._day_number(start) is not None:
            found = self._bare(start)
        if found is None:
            found = self._date(start, loose or before.has_year) or self._bare(start)
        if found and kind is Kind.BOTH and relation is not Kind.BETWEEN and (found[0].number or 10) < 10:
            # "1952 and 3 children"
            return None
        return None if found is None else (link, *found)


def _is_one_winter(first: Parts, last: Parts) -> bool:
    """ "The winter of 1962 to 63"."""
    if first.season != _WINTER or first.year is None:
        return False
    return last == Parts(year=first.year + 1, short=last.short)
