"""What is best asked next: the questions whose answers would narrow most dates, as a relative hears them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, datetime
from itertools import pairwise

from attrs import evolve, frozen

from solander.core.chronology.next_question import Asked, best_questions
from solander.core.chronology.question_words import Facts, Hook, gain_words, prints_words, question_words
from solander.core.dates import day, from_day, parse_edtf
from solander.core.descriptions import DescribedPrint
from solander.core.evidence import occasion_thing
from solander.core.prints import Print
from solander.core.statements import Sure
from solander.tasks.put_in_order import Timeline

__all__ = ["WorthAsking", "worth_asking"]

QUESTIONS = 5

_OF_A_PRINT = 0.8
"""How likely it is that somebody can date one picture, against an occasion of several (our choice, no source)."""


_MARGIN_DAYS = 12 * 365
_FIRST_YEAR = 1901
"""Where nothing at all is dated, the twentieth century and what came after it."""


@frozen
class WorthAsking:
    """A question for a relative: `subject` is an accession number or the name of an occasion; `sentence` asks,
    `gain` says what an answer would bring, `gain_years` in years over all prints, `prints` how many it narrows."""

    subject: str
    sentence: str
    gain: str
    gain_years: float
    prints: int


def worth_asking(line: Timeline, described: Sequence[DescribedPrint]) -> list[WorthAsking]:
    """The most useful questions, the best first; none when every date is known to the year."""
    members = _members(described)
    known = line.solution.ranges
    groups = {occasion_thing(name): found for name, found in members.items() if occasion_thing(name) in known}
    accessions = [one.print.accession for one in described]
    asked = best_questions(
        line.solution,
        [evidence.constraint for evidence in line.evidence.values()],
        askable=[*groups, *accessions],
        counted=accessions,
        era=_era(line),
        count=QUESTIONS,
        groups=groups,
        weights=dict.fromkeys(accessions, _OF_A_PRINT),
        guesses={one.thing: (one.range_90.first, one.range_90.last) for one in line.placed if one.range_90},
    )
    desk = _Desk(line, described, members)
    return [desk.worded(each) for each in asked]


def _members(described: Iterable[DescribedPrint]) -> dict[str, list[str]]:
    members: dict[str, list[str]] = defaultdict(list)
    for one in described:
        if one.occasion:
            members[one.occasion].append(one.print.accession)
    return members


def _era(line: Timeline) -> tuple[int, int]:
    """The years of the collection and some more: an open range counts from there, or to there.

    Wider, and the prints of which nothing is known would be all that is asked about.
    """
    guesses = [placed.guess for placed in line.placed if placed.guess is not None]
    today = datetime.now(UTC).date().toordinal()
    first, last = (min(guesses), max(guesses)) if guesses else (day(_FIRST_YEAR, 1, 1), today)
    return first - _MARGIN_DAYS, max(first, min(last + _MARGIN_DAYS, today))


class _Desk:
    """Puts questions into words from what is known of the prints."""

    def __init__(
        self, line: Timeline, described: Sequence[DescribedPrint], members: Mapping[str, Sequence[str]]
    ) -> None:
        self._ranges = line.solution.ranges
        self._by_accession = {one.print.accession: one for one in described}
        self._members = members
        self._occasions = {occasion_thing(name): name for name in members}
        self._hooks = tuple(_hooks(described))
        in_boxes = sorted(described, key=lambda one: (one.print.container or "", one.print.number))
        self._before = {
            after.print.accession: before
            for before, after in pairwise(in_boxes)
            if before.print.container == after.print.container
        }

    def worded(self, asked: Asked) -> WorthAsking:
        name = self._occasions.get(asked.thing)
        if name is not None:
            asked = self._as_of_its_prints(asked, name)
        facts = self._of_occasion(name) if name is not None else self._of_print(self._by_accession[asked.thing])
        return WorthAsking(
            name or asked.thing,
            question_words(asked, facts),
            gain_words(asked),
            round(asked.gain_years, 2),
            asked.prints,
        )

    def _as_of_its_prints(self, asked: Asked, name: str) -> Asked:
        """What people are told of an occasion is about its prints: their years, and how many others it helps."""
        own = self._members[name]
        firsts, lasts = zip(*(self._ranges[accession] for accession in own), strict=True)
        years = (
            None if None in firsts else from_day(min(firsts))[0],
            None if None in lasts else from_day(max(lasts))[0],
        )
        return evolve(asked, years=years, narrowed=tuple(each for each in asked.narrowed if each not in own))

    def _of_occasion(self, name: str) -> Facts:
        prints = [self._by_accession[accession] for accession in self._members[name]]
        return Facts(
            occasion=name,
            where=_where([one.print for one in prints]),
            place=next((one.place.name for one in prints if one.place), ""),
            people=_people(prints),
            hooks=tuple(hook for hook in self._hooks if name not in hook.words),
        )

    def _of_print(self, one: DescribedPrint) -> Facts:
        before = self._before.get(one.print.accession)
        return Facts(
            accession=one.print.accession,
            occasion=one.occasion,
            caption=one.caption,
            place=one.place.name if one.place else "",
            follows=before.caption if before else "",
            people=_people([one]),
            hooks=self._hooks,
        )


def _where(prints: Sequence[Print]) -> str:
    """The containers and the numbers of prints: "B2/E5, prints 14 to 31"."""
    boxes: dict[str, list[int]] = defaultdict(list)
    for print_ in prints:
        boxes[print_.container or ""].append(print_.number)
    return "; ".join(", ".join(filter(None, (box, prints_words(numbers)))) for box, numbers in boxes.items())


def _people(prints: Iterable[DescribedPrint]) -> tuple[tuple[str, int | None], ...]:
    """Who is shown for sure, with the year of birth where it is known to the year."""
    shown = {shown.person for one in prints for shown in one.people if shown.sure is not Sure.GUESS}
    return tuple((person.name, _year(person.born)) for person in sorted(shown, key=lambda person: person.name))


def _year(edtf: str) -> int | None:
    bounds = parse_edtf(edtf).bounds() if edtf else None
    if bounds is None or bounds.earliest is None or bounds.latest is None:
        return None
    first, last = from_day(bounds.earliest)[0], from_day(bounds.latest)[0]
    return first if first == last else None


def _hooks(described: Iterable[DescribedPrint]) -> Iterable[Hook]:
    """The occasions that are dated to the year: people remember what came before and after them."""
    years = {one.occasion: _year(one.when.edtf) for one in described if one.occasion and one.when.stated}
    for name, year in years.items():
        if year is not None:
            yield Hook(f"“{name}”", year, year)
