"""Every print with all that is known of it, in order of time: what pages and releases are made from."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Collection as Several
from collections.abc import Iterable, Mapping, Sequence

from attrs import evolve, field, frozen

from solander.authorities.gazetteer.names_then import words_of_place
from solander.core.chronology import reasons_of
from solander.core.chronology.guess import Guess
from solander.core.dates import Bounds, age_words, day_text, edtf_of_range, parse_edtf, range_words, words
from solander.core.descriptions import DescribedPrint, PersonShown, Reason, When
from solander.core.evidence.records import weaker
from solander.core.inscriptions.transcript import beside_each_other
from solander.core.negatives import OF_THE_PICTURE, of_one_negative
from solander.core.people import Person
from solander.core.places import Place, PlaceWords
from solander.core.prints import Print
from solander.core.questions import Question
from solander.core.sentence import Sentence
from solander.core.statements import About, Says, Statement, Sure
from solander.tasks.collection import Collection
from solander.tasks.put_in_order import Clash, Timeline, timeline

__all__ = ["Sayings", "as_said", "described", "described_on", "waits_by_subject"]

_DATES = (Says.EXPOSURE, Says.PRINTING)

_FEW_PLACES = 500
"""So many places are looked up by name; with more all are read."""

_SURENESS = (Sure.CERTAIN, Sure.LIKELY, Sure.GUESS)


def described(collection: Collection) -> list[DescribedPrint]:
    """All prints in order of time, each with its reasons."""
    return described_on(timeline(collection), collection)


def described_on(
    line: Timeline, collection: Collection, questions: Sequence[Question] | None = None
) -> list[DescribedPrint]:
    """The same, on an order that was worked out already; `questions` are those that wait, where they are known."""
    catalogue = collection.catalogue
    named = {said.value for said in line.statements if said.says is Says.PLACE}
    places = catalogue.places_named(named) if len(named) < _FEW_PLACES else catalogue.places()
    waiting = catalogue.questions() if questions is None else questions
    sayings = Sayings.of(line.statements, line.people, places, waiting)
    book = _Book(
        line,
        sayings,
        _beside_others(line.prints),
        {evidence.weight.thing for evidence in line.evidence.values() if evidence.weight},
    )
    by_accession = {print_.accession: print_ for print_ in line.prints}
    return [
        book.describe(by_accession[placed.thing], order, placed.range_90)
        for order, placed in enumerate(line.placed, start=1)
    ]


def _by_subject(statements: Iterable[Statement]) -> dict[tuple[About, str], list[Statement]]:
    found: dict[tuple[About, str], list[Statement]] = defaultdict(list)
    for said in statements:
        found[said.about, said.subject].append(said)
    return found


def _beside_others(prints: Sequence[Print]) -> set[str]:
    """The prints that lie in a container with others."""
    together = Counter(print_.container or "" for print_ in prints)
    return {print_.accession for print_ in prints if print_.container and together[print_.container] > 1}


def waits_by_subject(questions: Iterable[Question]) -> dict[str, list[str]]:
    """The sentences of the questions about each subject."""
    found: dict[str, list[str]] = defaultdict(list)
    for question in questions:
        found[question.subject].append(question.sentence)
    return found


@frozen
class Sayings:
    """All that is said of prints, and of their occasions, besides when they were taken."""

    said: Mapping[tuple[About, str], Sequence[Statement]]
    people: Mapping[str, Person]
    places: Mapping[str, Place]
    waiting: Mapping[str, Sequence[str]]
    others: Mapping[str, Sequence[str]] = field(factory=dict)
    """The other prints of each print's negative."""

    @classmethod
    def of(
        cls,
        statements: Iterable[Statement],
        people: Mapping[str, Person],
        places: Iterable[Place],
        questions: Iterable[Question],
    ) -> Sayings:
        """The same, ready to be looked up print by print."""
        by_name, said = {place.name: place for place in places}, list(statements)
        waiting = waits_by_subject(questions)
        return cls(_by_subject(said), people, by_name, waiting, of_one_negative(said))

    def of_print(self, accession: str) -> Sequence[Statement]:
        """What is said of the print itself, and of its picture where that was said of another print of it. Of
        what a slip tells once (occasion, caption), its own goes first."""
        own = self.said.get((About.PRINT, accession), ())
        if accession not in self.others:
            return own
        of_others = [
            said for other in self.others[accession] for said in self.said.get((About.PRINT, other), ())
            if said.says in OF_THE_PICTURE
        ]  # fmt: skip
        once = [said for said in of_others if said.says in (Says.OCCASION, Says.CAPTION)]
        return [*once, *own, *(said for said in of_others if said not in once)]

    def occasion(self, accession: str) -> str:
        """The occasion of a print, "" without one."""
        return _last(self.of_print(accession), Says.OCCASION)

    def of_print_and_occasion(self, accession: str) -> list[Statement]:
        """The same, then what is said of its occasion."""
        return [*self.of_print(accession), *self.said.get((About.OCCASION, self.occasion(accession)), ())]

    def describe(self, print_: Print, order: int, when: When, at: Bounds) -> DescribedPrint:
        """The print with all of it; `at` are the days on which it may have been taken, for ages."""
        statements = self.of_print(print_.accession)
        place = _best(self.of_print_and_occasion(print_.accession), Says.PLACE)
        there = self.places.get(place.value, Place(place.value)) if place else None
        return DescribedPrint(
            print=print_,
            order=order,
            when=when,
            people=self._everybody(statements, at),
            place=there,
            place_sure=weaker(place.sure, there.sure) if place and there else Sure.CERTAIN,
            place_words=words_of_place(there, when.edtf) if there else PlaceWords(),
            occasion=self.occasion(print_.accession),
            caption=_last(statements, Says.CAPTION),
            note=_joined(statements, Says.NOTE),
            transcription=beside_each_other(one.words for one in statements if one.says is Says.TRANSCRIPTION),
            statements=tuple(statements),
            waits=tuple(self.waiting.get(print_.accession, ())),
        )

    def _everybody(self, statements: Sequence[Statement], at: Bounds) -> tuple[PersonShown, ...]:
        """Everybody shown, once however many say so, as sure as the surest of them."""
        shown = [(said.sure, self._shown(said, at)) for said in statements if said.says is Says.PERSON]
        surest: dict[str, PersonShown] = {}
        for _, one in sorted(shown, key=lambda each: _SURENESS.index(each[0])):
            surest.setdefault(one.person.name, one)
        return tuple(surest[name] for name in dict.fromkeys(one.person.name for _, one in shown))

    def _shown(self, said: Statement, at: Bounds) -> PersonShown:
        person = self.people.get(said.value, Person(said.value))
        age = age_words(parse_edtf(person.born), at) if person.born else ""
        return PersonShown(person, said.sure, age)


@frozen
class _Book:
    """All that is known and was worked out, ready to be looked up print by print."""

    line: Timeline
    sayings: Sayings
    beside_others: Several[str]
    weighed: Several[str]

    def describe(self, print_: Print, order: int, guess: Guess | None) -> DescribedPrint:
        earliest, latest = self.line.solution.ranges[print_.accession]
        statements = self.sayings.of_print_and_occasion(print_.accession)
        when = self._when(print_.accession, statements, guess)
        return self.sayings.describe(print_, order, when, Bounds(earliest, latest))

    def _when(self, accession: str, statements: Sequence[Statement], guess: Guess | None) -> When:
        earliest, latest = self.line.solution.ranges[accession]
        stated = _best([said for said in statements if self._agrees(said, accession)], Says.EXPOSURE)
        printing = _best([said for said in statements if said.id in self.line.evidence], Says.PRINTING)
        edtf = stated.value if stated else edtf_of_range(earliest, latest)
        return When(
            edtf=edtf,
            words=words(edtf) if stated else range_words(earliest, latest),
            earliest=_text(earliest),
            latest=_text(latest),
            guess=day_text(guess.day) if guess else None,
            likely=(day_text(guess.first), day_text(guess.last)) if guess else None,
            likely_why=self._likely_why(accession),
            sure=stated.sure if stated else self._sure_of_range(accession) if edtf else Sure.GUESS,
            stated=stated is not None,
            reasons=self._reasons(accession),
            printing_edtf=printing.value if printing else "",
            contradicts=_left_out(self.line.clashes, accession),
            overruled=_left_out(self.line.overruled, accession),
        )

    def _likely_why(self, accession: str) -> str:
        """Rules of thumb stand among the reasons; what its neighbours in the box make likely does not."""
        weighed = accession in self.weighed
        return "as its neighbours are" if accession in self.beside_others and not weighed else ""

    def _agrees(self, said: Statement, accession: str) -> bool:
        """Whether a date was believed: it is among the evidence, its own or through the occasion."""
        if said.about is About.PRINT:
            return said.id in self.line.evidence
        return any(
            f"{member.id} {said.id}" in self.line.evidence
            for member in self.sayings.of_print(accession)
            if member.says is Says.OCCASION
        )

    def _reasons(self, accession: str) -> tuple[Reason, ...]:
        """What is said of the print itself, then what else bounds it, each once."""
        mine = [self.line.evidence[said.id].reason for said in self._own_dates(accession)]
        chain = reasons_of(accession, self.line.solution)
        bounding = [self.line.evidence[ident] for ident in (*chain.earliest, *chain.latest)]
        # What is always so joins two reasons and is none that anybody asked for: it comes last.
        bounding.sort(key=lambda evidence: evidence.rank < 0)
        told = [_told(evidence.reason, evidence.about, accession) for evidence in bounding]
        return tuple(dict.fromkeys([*mine, *told]))

    def _sure_of_range(self, accession: str) -> Sure:
        """A range that was worked out is as sure as the weakest of what bounds it, and never certain."""
        chain = reasons_of(accession, self.line.solution)
        bounding = (self.line.evidence[ident].reason.sure for ident in (*chain.earliest, *chain.latest))
        return max((Sure.LIKELY, *bounding), key=_SURENESS.index)

    def _own_dates(self, accession: str) -> list[Statement]:
        """The dates said of the print itself that were believed, in the order of belief."""
        said = [one for one in self.sayings.of_print(accession) if one.says in _DATES]
        believed = [one for one in said if one.id in self.line.evidence]
        return sorted(believed, key=lambda one: self.line.evidence[one.id].rank)


def _left_out(clashes: Iterable[Clash], accession: str) -> tuple[str, ...]:
    return tuple(clash.left_out.reason.sentence for clash in clashes if clash.left_out.about == accession)


def _told(reason: Reason, about: str, accession: str) -> Reason:
    """The reason, naming the print that it speaks of where that is another one."""
    if about == accession or about in reason.sentence:
        return reason
    return evolve(reason, sentence=Sentence("%(print)s: %(sentence)s", print=about, sentence=reason.sentence))


def _best(statements: Sequence[Statement], says: Says) -> Statement | None:
    """The surest statement of that kind; of equally sure ones the first, which speaks of the print itself."""
    fitting = [said for said in statements if said.says is says]
    return min(fitting, key=lambda said: _SURENESS.index(said.sure), default=None)


def as_said(statements: Sequence[Statement]) -> When:
    """The date as it is said most surely, where nothing was worked out yet."""
    said = _best(statements, Says.EXPOSURE)
    if said is None:
        return When("", "", None, None, None, Sure.GUESS, stated=False)
    days = parse_edtf(said.value).bounds()
    told = words(said.value)
    return When(said.value, told, _text(days.earliest), _text(days.latest), None, said.sure, stated=True)


def _last(statements: Iterable[Statement], says: Says) -> str:
    return next((said.value for said in reversed(list(statements)) if said.says is says), "")


def _joined(statements: Iterable[Statement], says: Says) -> str:
    return "\n".join(said.value for said in statements if said.says is says)


def _text(ordinal: int | None) -> str | None:
    return None if ordinal is None else day_text(ordinal)
