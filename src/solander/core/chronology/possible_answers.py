"""What a relative may answer when asked in which year a thing was, and how likely each year is.

A year is what people can say of a picture they know ("that was '34, the year we moved"); seldom less, and a day
hardly ever (our choice, no source). Every day that is possible counts alike, so a year counts by its possible
days.
"""

from __future__ import annotations

import numpy as np
from attrs import evolve, frozen

from solander.core.chronology.pushes import Days, Flags, Numbers
from solander.core.days import day, from_day

__all__ = ["Answers", "Calendar", "Stretches", "answers_to", "calendar_of"]


@frozen
class Calendar:
    """The first days of the years of an era, and of the year after it."""

    starts: Days

    @property
    def first(self) -> float:
        """The first day of the era."""
        return float(self.starts[0])

    @property
    def last(self) -> float:
        """The last day of the era."""
        return float(self.starts[-1]) - 1

    def whole_years(self, first: Days, last: Days) -> tuple[Days, Days]:
        """Stretches made to begin and end with a year; −inf and inf where they leave the era."""
        begins = np.concatenate([[-np.inf], self.starts])
        ends = np.concatenate([self.starts - 1, [np.inf]])
        return (
            begins[np.searchsorted(self.starts, first, side="right")],
            ends[np.searchsorted(self.starts, last, side="right")],
        )


def calendar_of(first: int, last: int) -> Calendar:
    """The years from that of day `first` to that of day `last`."""
    years = range(from_day(first)[0], from_day(last)[0] + 2)
    return Calendar(np.array([day(year, 1, 1) for year in years], dtype=np.float64))


@frozen
class Answers:
    """Possible answers, in order of question and time: the days that remain, and the share of each (0 to 1).

    The answers to question `q` are those from `starts[q]` to `starts[q + 1]`; there are none where no year of
    the era is possible.
    """

    starts: Numbers
    first: Days
    last: Days
    share: Days

    def question(self) -> Numbers:
        """The number of the question that each answers."""
        return np.repeat(np.arange(len(self.starts) - 1), np.diff(self.starts))

    def mirrored(self) -> Answers:
        """The same with time running backwards."""
        question = self.question()
        order = self.starts[question] + self.starts[question + 1] - 1 - np.arange(len(question))
        return Answers(self.starts, -self.last[order], -self.first[order], self.share[order])

    def in_whole_years(self, questions: Flags, years: Calendar) -> Answers:
        """The same where the answers to the flagged questions leave their whole years."""
        flagged = questions[self.question()]
        first, last = years.whole_years(self.first, self.last)
        return evolve(self, first=np.where(flagged, first, self.first), last=np.where(flagged, last, self.last))

    def latest(self) -> Days:
        """The largest first day among the answers to each question; −inf where there are none."""
        found = np.full(len(self.starts) - 1, -np.inf)
        some = self.starts[1:] > self.starts[:-1]
        found[some] = self.first[self.starts[1:][some] - 1]
        return found


@frozen
class Stretches:
    """Days that the things in question may be of, ends included, ±inf where open; several for one question
    where its range has holes."""

    question: Numbers
    first: Days
    last: Days


def answers_to(stretches: Stretches, *, questions: int, years: Calendar) -> Answers:
    """The years that each thing may be of."""
    question, first, last = _seen(stretches, years)
    begin = np.maximum(np.searchsorted(years.starts, first, side="right") - 1, 0)
    counts = np.minimum(np.searchsorted(years.starts, last, side="right") - 1, len(years.starts) - 2) - begin + 1
    piece = np.repeat(np.arange(len(question)), counts)
    year = np.arange(len(piece)) + (begin - np.cumsum(counts) + counts)[piece]
    parts = Stretches(
        question[piece] * len(years.starts) + year,
        np.maximum(first[piece], years.starts[year]),
        np.minimum(last[piece], years.starts[year + 1] - 1),
    )
    return _one_a_year(parts, questions=questions, span=len(years.starts))


def _seen(stretches: Stretches, years: Calendar) -> tuple[Numbers, Days, Days]:
    """The stretches that reach into the years, in order of question and time."""
    seen = np.flatnonzero((stretches.last >= years.first) & (stretches.first <= years.last))
    order = seen[np.lexsort((stretches.first[seen], stretches.question[seen]))]
    return stretches.question[order], stretches.first[order], stretches.last[order]


def _one_a_year(parts: Stretches, *, questions: int, span: int) -> Answers:
    """Joins neighbouring parts of one question and year; here `question` is question times span plus year."""
    heads = np.flatnonzero(np.diff(parts.question, prepend=-1))
    owner = parts.question[heads] // span
    days = parts.last - parts.first + 1
    days = np.add.reduceat(days, heads) if len(heads) else days
    whole = np.bincount(owner, weights=days, minlength=questions)
    return Answers(
        np.concatenate([[0], np.cumsum(np.bincount(owner, minlength=questions))]),
        parts.first[heads],
        parts.last[np.append(heads[1:], len(parts.last))[: len(heads)] - 1],
        days / whole[owner],
    )
