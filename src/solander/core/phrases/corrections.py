"""How the dates of one phrase belong together: taken back, denied, or told in two goes.

"Seventy-two, no, seventy-three" is the latter; "not 1948" is no date; "nineteen forty-four it was, in the June"
and "Palm Sunday, St Jude's, 1953" are one date each, whose parts stand apart.
"""

from __future__ import annotations

from attrs import evolve

from solander.core.phrases.cursor import PASSED
from solander.core.phrases.parts import Expression, Parts, completed
from solander.core.phrases.relatives import RelativeDates
from solander.core.phrases.terms import Kind

__all__ = ["Corrections"]

_CHATTER = 6
"""Words that may stand between "no," and what is meant: "no, hang on, let me think, thirty-nine"."""

_APART = 5
"""Words that may stand between a day and its year: "Palm Sunday, St Jude's, 1953"."""

_ENDS = (None, Kind.SEPARATOR, Kind.WAS, Kind.MAYBE, Kind.CORRECTION)
_BETWEEN_PARTS = (
    *(Kind.WORD, Kind.OWN, Kind.BOTH, Kind.SEPARATOR, Kind.FILLER),
    *(Kind.STREETS, Kind.STREET, Kind.TO, Kind.DURING),
)


class Corrections(RelativeDates):
    """Puts together what was said of one date, and leaves out what was taken back."""

    # -- taken back ------------------------------------------------------------------------------------------

    def _is_correction(self, first: int, last: int) -> bool:
        """Whether what stands between two dates takes the first of them back."""
        kinds = self._between(first, last)
        if Kind.CORRECTION not in kinds:
            return False
        return self._chatter(kinds) == 0 or (self._chatter(kinds) <= _CHATTER and _stands_alone(kinds))

    def _between(self, first: int, last: int) -> list[Kind | None]:
        """The kinds of some terms; a date that is denied is as good as a "no"."""
        return [Kind.CORRECTION if place in self.denied else self._kind(place) for place in range(first, last)]

    def _chatter(self, kinds: list[Kind | None]) -> int:
        quiet = (*PASSED, Kind.WAS, Kind.CORRECTION, Kind.MAYBE, Kind.ABOUT)
        return sum(kind not in quiet for kind in kinds)

    def _may_correct(self, before: Expression, place: int, expression: Expression) -> bool:
        """After chatter only what ends a clause: "no, there were forty of us" corrects nothing."""
        if self._chatter(self._between(before.last, place)) == 0:
            return True
        told_in_full = any(parts.has_year and not parts.short for parts in expression.members)
        return told_in_full or self._kind(expression.last) in _ENDS

    def _corrected_number(self, before: Expression, place: int) -> Expression | None:
        """A number that corrects only the day, or the end of a year: "3 September 1937, no, the fourth",
        "nineteen fourteen, no, fifteen"."""
        said, number = before.only, self._day_number(place)
        after = self._kind(self._skip(place + 1))
        if said is None or number is None or after in (Kind.MONTH, Kind.UNIT, Kind.WORD):
            return None
        if said.day:
            members = (evolve(said, day=number),)
        elif said.year is not None and number < 20 and self._kind(place + 1) in _ENDS:
            tens = 10 if number < 10 else 100
            members = (evolve(said, year=said.year // tens * tens + number),)
        else:
            return None
        return Expression(members, "", None, before.marks, False, 0, place, place + 1)

    def _corrected(self, found: list[Expression]) -> list[Expression]:
        """Without what was taken back: "seventy-two, no, seventy-three" is the latter."""
        kept: list[Expression] = []
        for expression in found:
            if kept and self._is_correction(kept[-1].last, expression.first):
                expression = self._amended(kept.pop(), expression)
            kept.append(expression)
        return kept

    def _amended(self, before: Expression, after: Expression) -> Expression:
        """The later word counts; a lone year corrects only the year of what was said before, and a date without
        a year keeps it."""
        gaps = before.gaps | after.gaps | self._unread(before.last, after.first)
        whole = evolve(after, first=before.first, marks=before.marks | after.marks, gaps=gaps)
        said, now = before.members[-1], after.members[0]
        single = len(before.members) == len(after.members) == 1
        if single and _is_only_year(now) and (said.month or said.season or said.feast):
            return evolve(whole, members=(evolve(said, year=now.year, short=now.short),))
        if len(after.members) == 1 and not now.has_year:
            return evolve(whole, members=(completed(now, said),))
        return whole

    def _unread(self, first: int, last: int) -> frozenset[int]:
        strange = (Kind.WORD, Kind.OWN, Kind.UNIT, Kind.STREETS, Kind.STREET, Kind.NEAREST, Kind.BOTH)
        return frozenset(place for place in range(first, last) if self._kind(place) in strange)

    # -- denied ----------------------------------------------------------------------------------------------

    def _is_denied(self, expression: Expression, found: list[Expression]) -> bool:
        """ "Not forty-eight"; a word that is "no" as well as "not" takes back rather than denies."""
        back = expression.first
        while self._kind(back - 1) in (Kind.FILLER, Kind.WAS) and back > 0:
            back -= 1
        kind = self._kind(back - 1) if back else None
        if kind is Kind.NOT:
            return True
        return kind is Kind.CORRECTION and self._value(back - 1) == "not" and not found

    # -- told in two goes ------------------------------------------------------------------------------------

    def _joined(self, found: list[Expression]) -> list[Expression]:
        kept: list[Expression] = []
        for expression in found:
            if kept and (whole := self._one_date(kept[-1], expression)) is not None:
                kept[-1] = whole
            else:
                kept.append(expression)
        return kept

    def _one_date(self, first: Expression, second: Expression) -> Expression | None:
        a, b = first.only, second.only
        if a is None or b is None or first.link != "" or second.link != "":
            return None
        if _is_only_year(a) and _is_within_a_year(b) and self._leads_on(first.last, second):
            return _whole(first, second, evolve(b, year=a.year, short=a.short))
        if _is_within_a_year(a) and _is_only_year(b) and self._waits_for_its_year(first, second):
            whole = _whole(first, second, evolve(a, year=b.year, short=b.short))
            return evolve(whole, gaps=whole.gaps | self._unread(first.last, second.first))
        return None

    def _leads_on(self, first: int, second: Expression) -> bool:
        """ "Nineteen forty-four it was, in the June"; May may be somebody's name."""
        kinds = self._between(first, second.first)
        if not all(kind in (*PASSED, Kind.WAS, Kind.DURING) for kind in kinds):
            return False
        if second.members[0].day is None and self._kind(second.last) in (Kind.WORD, Kind.OWN, Kind.BOTH):
            return False
        return Kind.WAS in self._between(first, second.last) or Kind.FILLER in self._between(first, second.last)

    def _waits_for_its_year(self, first: Expression, second: Expression) -> bool:
        """A feast, a season or a day, some words, then a year."""
        kinds = self._between(first.last, second.first)
        if all(kind in (*PASSED, Kind.WAS, Kind.DURING) for kind in kinds):
            return True
        parts = first.members[0]
        aside = Kind.SEPARATOR in (self._kind(first.last), self._kind(first.last - 1))
        begun = first.first == 0 or self._kind(first.first - 1) not in (Kind.WORD, Kind.OWN)
        told = parts.day is not None or (aside and begun and parts.month is None)
        words = sum(kind not in PASSED for kind in kinds)
        return told and words <= _APART and all(kind in _BETWEEN_PARTS for kind in kinds)


def _whole(first: Expression, second: Expression, parts: Parts) -> Expression:
    marks = first.marks | second.marks
    return evolve(second, members=(parts,), marks=marks, first=first.first, gaps=first.gaps | second.gaps)


def _is_only_year(parts: Parts) -> bool:
    return parts.year is not None and parts == Parts(year=parts.year, short=parts.short)


def _is_within_a_year(parts: Parts) -> bool:
    return not parts.has_year and bool(parts.month or parts.season or parts.feast) and not parts.options


def _stands_alone(kinds: list[Kind | None]) -> bool:
    """Whether "no" is a clause of its own: "…, no, hang on, …"."""
    places = [place for place, kind in enumerate(kinds) if kind is Kind.CORRECTION]
    return any(
        kinds[place + 1 : place + 2] == [Kind.SEPARATOR] and (place == 0 or kinds[place - 1] is Kind.SEPARATOR)
        for place in places
    )
