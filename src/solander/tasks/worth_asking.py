"""What is best asked next: the questions whose answers would narrow most dates, as a relative hears them."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from datetime import UTC, datetime
from itertools import pairwise

from attrs import evolve, frozen

from solander.core.ages import read_age_value
from solander.core.chronology import Difference
from solander.core.chronology.next_question import Asked, best_questions
from solander.core.chronology.question_words import (
    Facts,
    Hook,
    Sitter,
    gain_words,
    hook_of,
    prints_words,
    question_words,
)
from solander.core.dates import day, from_day, parse_edtf
from solander.core.descriptions import DescribedPrint
from solander.core.evidence import Evidence, occasion_thing
from solander.core.people import Person, life_of
from solander.core.prints import Print
from solander.core.sentence import Joined, Sentence
from solander.core.statements import Says, Sure
from solander.tasks.put_in_order import Timeline

__all__ = ["WorthAsking", "worth_asking"]

QUESTIONS = 5

_OF_A_PRINT = 0.8
"""How likely it is that somebody can date one picture, against an occasion of several (our choice, no source)."""

_NOTHING_TO_SEE = 0.5
"""The same factor for a picture of which nobody, no place, no occasion and no caption can be named, against one to
recognise somebody or something by (our choice, no source)."""

_ALONE = 0.1
"""And this besides where nothing is said that bounds it: such a print helps no other, and gains many years only
because nothing is known. Half a century of it then counts like two years of an occasion (our choice)."""

_SAME_HOOK = 2
"""Questions that may be remembered by one event, lest all five be (our choice)."""

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
        weights=_likely_known(described, line.evidence.values()),
        guesses={one.thing: (one.range_90.first, one.range_90.last) for one in line.placed if one.range_90},
    )
    desk = _Desk(line, described, members)
    return [desk.worded(each) for each in asked]


def _likely_known(described: Iterable[DescribedPrint], evidence: Iterable[Evidence]) -> dict[str, float]:
    """How likely it is that somebody knows, for each print."""
    # What is always so, a picture's being taken before it is printed, has a rank below nought.
    bound = {thing for one in evidence if one.rank >= 0 for thing in _bound_by(one)}
    return {
        one.print.accession: _OF_A_PRINT
        * (1 if _to_recognise(one) else _NOTHING_TO_SEE)
        * (1 if _to_recognise(one) or one.print.accession in bound else _ALONE)
        for one in described
    }


def _bound_by(evidence: Evidence) -> tuple[str, ...]:
    """The prints, and other things, that evidence ties or dates."""
    said = evidence.constraint
    return (said.a, evidence.about) if isinstance(said, Difference) else (evidence.about,)


def _to_recognise(one: DescribedPrint) -> bool:
    return bool(one.caption or one.occasion or one.place or _surely_shown(one))


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
        self._remembered = tuple(
            _remembered(name, [self._by_accession[each] for each in own]) for name, own in members.items()
        )
        self._used: Counter[str] = Counter()
        in_boxes = sorted(described, key=lambda one: (one.print.container or "", one.print.number))
        self._before = {
            after.print.accession: before
            for before, after in pairwise(in_boxes)
            if before.print.container and before.print.container == after.print.container
        }

    def worded(self, asked: Asked) -> WorthAsking:
        name = self._occasions.get(asked.thing)
        if name is not None:
            asked = self._as_of_its_prints(asked, name)
        facts = self._of_occasion(name) if name is not None else self._of_print(self._by_accession[asked.thing])
        if hook := hook_of(asked, facts):
            self._used[hook.words] += 1
        return WorthAsking(
            name or asked.thing,
            question_words(asked, facts),
            gain_words(asked, facts),
            round(asked.gain_years, 2),
            asked.prints,
        )

    def _as_of_its_prints(self, asked: Asked, name: str) -> Asked:
        """What people are told of an occasion is about its prints: when all can be, how many others it helps."""
        own = self._members[name]
        firsts, lasts = zip(*(self._ranges[accession] for accession in own), strict=True)
        first = max((each for each in firsts if each is not None), default=None)
        last = min((each for each in lasts if each is not None), default=None)
        days = asked.days if first is not None and last is not None and last < first else (first, last)
        return evolve(asked, days=days, narrowed=tuple(each for each in asked.narrowed if each not in own))

    def _of_occasion(self, name: str) -> Facts:
        prints = [self._by_accession[accession] for accession in self._members[name]]
        return Facts(
            occasion=name,
            where=_where([one.print for one in prints]),
            place=next((one.place.name for one in prints if one.place), ""),
            people=_sitters(prints),
            hooks=self._hooks(name, prints),
            probably=any(map(_is_guess, prints)),
        )

    def _of_print(self, one: DescribedPrint) -> Facts:
        before = self._before.get(one.print.accession)
        return Facts(
            accession=one.print.accession,
            occasion=one.occasion,
            caption=one.caption,
            place=one.place.name if one.place else "",
            where=_where_of_one(one.print),
            follows=_remembered_as(before) if before else "",
            people=_sitters([one]),
            hooks=self._hooks(one.occasion, [one]),
            probably=_is_guess(one),
        )

    def _hooks(self, occasion: str, prints: Sequence[DescribedPrint]) -> tuple[Hook, ...]:
        """The dated occasions that may be asked about beside another one or beside a print."""
        marks = _marks(prints)
        return tuple(
            Hook(each.words, each.year, each.year, near=not marks.isdisjoint(each.marks))
            for each in self._remembered
            if each.year is not None and each.name != occasion and self._used[each.words] < _SAME_HOOK
        )


@frozen
class _Remembered:
    """An occasion: people remember what came before and after it. `year` is None unless it is dated to the year;
    `marks` are its people, places and boxes."""

    name: str
    year: int | None
    marks: AbstractSet[tuple[str, str]]

    @property
    def words(self) -> str:
        return f"“{self.name}”"


def _remembered(name: str, prints: Sequence[DescribedPrint]) -> _Remembered:
    years = {_year(one.when.edtf) for one in prints if one.when.stated and one.when.sure is not Sure.GUESS}
    return _Remembered(name, years.pop() if len(years) == 1 else None, _marks(prints))


def _marks(prints: Iterable[DescribedPrint]) -> AbstractSet[tuple[str, str]]:
    return {mark for one in prints for mark in _marks_of(one)}


def _marks_of(one: DescribedPrint) -> Iterator[tuple[str, str]]:
    for person in _surely_shown(one):
        yield "person", person.name
    if one.place:
        yield "place", one.place.name
    if one.print.container:
        yield "box", one.print.container


def _remembered_as(one: DescribedPrint) -> str:
    """What one finds it again by: its caption where that goes with somebody or an occasion, or the occasion."""
    return (one.caption if one.occasion or _surely_shown(one) else "") or one.occasion


def _is_guess(one: DescribedPrint) -> bool:
    """Whether its years rest on a guess or a rule of thumb."""
    return bool(one.when.edtf) and one.when.sure is Sure.GUESS


def _where(prints: Sequence[Print]) -> str:
    """The containers and the numbers of prints: "B2/E5, prints 14 to 31"."""
    boxes: dict[str, list[int]] = defaultdict(list)
    for print_ in prints:
        boxes[print_.container or ""].append(print_.number)
    return Joined(Joined(filter(None, (box, prints_words(numbers))), ", ") for box, numbers in boxes.items())


def _where_of_one(print_: Print) -> str:
    if not print_.container:
        return ""
    return Sentence("%(container)s, number %(number)s", container=print_.container, number=print_.number)


def _surely_shown(one: DescribedPrint) -> list[Person]:
    return [shown.person for shown in one.people if shown.sure is not Sure.GUESS]


def _sitters(prints: Sequence[DescribedPrint]) -> tuple[Sitter, ...]:
    """Who is shown for sure, with the year of birth where it is known to the year and may be asked by."""
    shown = {person for one in prints for person in _surely_shown(one)}
    told = {read_age_value(said.value)[0] for one in prints for said in one.statements if said.says is Says.AGE}
    return tuple(
        Sitter(person.name, None if told & {person.name, *person.also_called} else _born(person))
        for person in sorted(shown, key=lambda person: person.name)
    )


def _born(person: Person) -> tuple[int, int] | None:
    """The first and last day of birth, where that is known to the year."""
    life = life_of(person)
    if life.born_from is None or life.born_to is None or _differ(life.born_from, life.born_to):
        return None
    return life.born_from, life.born_to


def _year(edtf: str) -> int | None:
    bounds = parse_edtf(edtf).bounds() if edtf else None
    if bounds is None or bounds.earliest is None or bounds.latest is None:
        return None
    return None if _differ(bounds.earliest, bounds.latest) else from_day(bounds.earliest)[0]


def _differ(first: int, last: int) -> bool:
    """Whether two days are of different years."""
    return from_day(first)[0] != from_day(last)[0]
