"""The desk of one print: what its page shows, what is understood while one types, and the acts."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from attrs import Factory, define, evolve, field, frozen

from solander.core.dates import Bounds, Days, parse_edtf
from solander.core.days import day_of_text
from solander.core.descriptions import DescribedPrint, When
from solander.core.errors import InvalidValue, NotFound
from solander.core.sentence import Joined, Sentence
from solander.core.standing import Arrangement
from solander.core.statements import Says, Statement, Sure
from solander.tasks.claims import Claim
from solander.tasks.collection import Collection
from solander.tasks.described_some import described_one
from solander.tasks.line_of_one import line_of_one, said_of_one
from solander.tasks.meant import meant_of
from solander.tasks.put_in_order import Timeline, days_words
from solander.tasks.say import SaidDone, said_before, say, statements_of, take_back
from solander.tasks.seen_on_print import WhereToLook, facts_to_see
from solander.tasks.show import Shown
from solander.tasks.sitting import Sitting
from solander.tasks.typed import Field, Meant, Typed
from solander.tasks.understood import Understanding
from solander.tasks.voices import Voice, voices_of
from solander.tasks.who_is_it import speaker

__all__ = ["Beside", "Clashing", "Looked", "PrintDesk", "PrintTold", "beside_among"]

_NAMED_BEFORE = 5
"""So many who said something lately are offered, each with a key of its own."""

_LATELY = 400
"""So many of the newest statements are looked through for who made them (our choice)."""


@frozen
class Clashing:
    """What can't all be true: each reason as a sentence with its source and, where it can be taken back on this
    page, the id of its statement; `left_out` is the one believed least, `apart` how far apart they are."""

    reasons: tuple[tuple[str, str, str], ...]
    left_out: tuple[str, str, str]
    apart: str


@frozen
class PrintTold:
    """One print with what is said of it by whom; `before` and `after` are the prints beside it in time, `years`
    the first and last year of the collection."""

    described: DescribedPrint
    voices: dict[Field, list[Voice]]
    clashes: tuple[Clashing, ...]
    before: DescribedPrint | None
    after: DescribedPrint | None
    total: int
    years: tuple[int, int] | None
    in_box: tuple[str, str] = ("", "")
    """The numbers of the prints before and after it in its container, and beyond its ends in the next ones: that
    order stays while prints are described."""

    @property
    def at(self) -> Bounds:
        """The days that are possible for it."""
        return bounds_of(self.described)


@frozen
class Looked:
    """What would be kept of words, seen before it is: `against` says what it can't be true with and which of the
    two would be left out; `instead` is what the same person said before and would be withdrawn. `when` is what is
    believed of the date until now, `years` the first and last year of the collection."""

    meant: Meant
    when: When
    years: tuple[int, int] | None = None
    against: str = ""
    instead: tuple[Statement, ...] = ()
    nothing_new: bool = False


def bounds_of(described: DescribedPrint) -> Bounds:
    """The days that are possible for a print."""
    earliest, latest = described.when.earliest, described.when.latest
    return Bounds(day_of_text(earliest) if earliest else None, day_of_text(latest) if latest else None)


def meet(one: Bounds, other: Bounds) -> bool:
    """Whether two ranges have a day in common; open ends reach everywhere."""
    starts = [day for day in (one.earliest, other.earliest) if day is not None]
    ends = [day for day in (one.latest, other.latest) if day is not None]
    return not starts or not ends or max(starts) <= min(ends)


@define
class PrintDesk:
    """One print at a time of one collection."""

    shown: Shown
    sitting: Sitting = field(default=Factory(lambda desk: Sitting(desk.shown.collection), takes_self=True))
    understanding: Understanding = field(init=False)

    def __attrs_post_init__(self) -> None:
        self.understanding = Understanding(self.shown.collection)

    def told(self, accession: str) -> PrintTold:
        """All that the page of a print shows.

        Raises
        ------
        NotFound
            When no print is listed under that number.
        """
        collection = self.shown.collection
        collection.catalogue.print(accession)
        line = line_of_one(collection, accession)
        voices = voices_of(line, said_of_one(collection, accession))
        here = _beside(self.shown, accession)
        return PrintTold(
            here.described,
            voices,
            tuple(_clashes(line, voices)),
            here.before,
            here.after,
            here.total,
            here.years,
            self.in_box(accession),
        )

    def in_box(self, accession: str) -> tuple[str, str]:
        """The numbers of the prints before and after one as they lie in their containers; empty at the ends."""
        catalogue = self.shown.collection.catalogue
        before = catalogue.standings(Arrangement.CONTAINER, before=accession, limit=1)
        after = catalogue.standings(Arrangement.CONTAINER, after=accession, limit=1)
        return before[0].accession if before else "", after[0].accession if after else ""

    def last_or_first(self, last: str) -> str:
        """The print of that number where it is still there, else the first in time; empty where there is none."""
        self.shown.settle()
        catalogue = self.shown.collection.catalogue
        first = [one.accession for one in catalogue.standings(limit=1)]
        return last if last and catalogue.prints_of([last]) else next(iter(first), "")

    def look(self, typed: Typed) -> Looked:
        """What would be kept of what was typed; nothing is written."""
        collection = self.shown.collection
        described = self._described(typed.accession)
        meant = meant_of(self.understanding, evolve(typed, on=bounds_of(described)))
        looked = Looked(meant, described.when, _years(collection))
        if not meant.claims:
            return looked
        new = statements_of(collection, meant)
        instead = tuple(said_before(collection, meant)) if new else ()
        against = self._against(typed.accession, new, instead) or self._otherwise_beside(meant, described)
        return evolve(looked, against=against, instead=instead, nothing_new=not new)

    def _described(self, accession: str) -> DescribedPrint:
        """The print as it is believed now: when it may be from tells between people and gives their ages."""
        self.shown.settle()
        return described_one(self.shown.collection, accession)

    def _against(self, accession: str, new: Sequence[Statement], instead: Iterable[Statement]) -> str:
        """What the new statements can't be true with, and which side would be left out; empty where all agrees."""
        gone = {one.id for one in instead}
        collection = self.shown.collection
        now = line_of_one(collection, accession, without=gone)
        then = line_of_one(collection, accession, new, without=gone)
        known = {clash.left_out.constraint.id for clash in now.clashes}
        mine = {one.id for one in new}
        for clash in then.clashes:
            if clash.left_out.constraint.id in known:
                continue
            others = Joined(dict.fromkeys(one.reason.sentence for one in clash.conflict if one.rank >= 0))
            if clash.left_out.constraint.id.split()[0] in mine:
                return Sentence(
                    "This can’t be true together with: %(others)s. "
                    "It would stand beside that and not be believed.",
                    others=others,
                )
            return Sentence(
                "This would be believed, and then this can’t be true: %(claim)s.",
                claim=clash.left_out.reason.sentence,
            )
        return ""

    def _otherwise_beside(self, meant: Meant, described: DescribedPrint) -> str:
        """What other prints tell, where a date is outside of it and within what is said of this print."""
        if not meant.edtf:
            return ""
        accession, said = described.print.accession, parse_edtf(meant.edtf).bounds()
        alone = Bounds(*line_of_one(self.shown.collection, accession).solution.ranges[accession])
        believed = bounds_of(described)
        if meet(said, believed) or not meet(said, alone):
            return ""
        return Sentence(
            "Other prints tell that it is %(days)s. Where it can’t be both, it is asked about.",
            days=Days(believed.earliest, believed.latest),
        )

    def say(self, *typed: Typed, instead: bool = True) -> SaidDone:
        """Keeps what was typed about one print, in one act."""
        on = bounds_of(self._described(typed[0].accession))
        meant = [meant_of(self.understanding, evolve(one, on=on)) for one in typed]
        return self.keep(*(map(self._with_free_reading, meant) if instead else meant), instead=instead)

    def _with_free_reading(self, meant: Meant) -> Meant:
        """What is written on a back, with what the same person wrote beside it in their own words: none of that
        was typed here, and it goes with the earlier one if it isn't carried over."""
        if meant.typed.field is not Field.TRANSCRIPTION:
            return meant
        before = said_before(self.shown.collection, meant)
        free = next((one.value for one in reversed(before) if one.value != one.words), "")
        return evolve(meant, claims=tuple(evolve(one, value=free) for one in meant.claims)) if free else meant

    def keep(self, *meant: Meant, instead: bool = True) -> SaidDone:
        """Keeps what was understood."""
        return self.sitting.kept(say(self.shown.collection, *meant, instead=instead))

    def take_back(self, accession: str, ident: str) -> SaidDone:
        """Says that something is not so any more."""
        return self.sitting.kept(take_back(self.shown.collection, accession, ident))

    def facts(self, accession: str) -> list[WhereToLook]:
        """What may be seen on the print, by where one looks."""
        collection = self.shown.collection
        line = line_of_one(collection, accession)
        statements = collection.catalogue.statements(subject=accession)
        said = [one.value for one in statements if one.says is Says.EVIDENCE]
        return facts_to_see(line, accession, bounds_of(self._described(accession)), said)

    def say_facts(self, typed: Typed, idents: Sequence[str]) -> SaidDone:
        """Keeps facts that were chosen by what one sees."""
        facts = {one.fact.id: one.fact for where in self.facts(typed.accession) for one in where.facts}
        unknown = [ident for ident in idents if ident not in facts]
        if unknown or not idents:
            why = (
                Sentence("nothing is known as “%(unknown)s”", unknown=unknown[0])
                if unknown
                else Sentence("nothing was chosen")
            )
            raise InvalidValue(Sentence("Nothing was kept"), why, Sentence("Choose what you see on the print"))
        words = [facts[ident].named for ident in idents]
        sure = typed.surely(Sure.CERTAIN)
        claims = tuple(Claim(Says.EVIDENCE, *each, sure) for each in zip(idents, words, strict=True))
        typed = evolve(typed, field=Field.EVIDENCE, words="; ".join(words))
        return self.sitting.kept(say(self.shown.collection, Meant(typed, claims)))

    def named_before(self) -> list[str]:
        """Who said something lately, the newest first, whoever sits here left out."""
        sources = self.shown.collection.catalogue.sources_lately(_LATELY)
        named = dict.fromkeys(name for source in sources if (name := speaker(source)))
        return list(named)[:_NAMED_BEFORE]


@frozen
class Beside:
    """A print with those beside it in time, how many there are, and the first and last year of all."""

    described: DescribedPrint
    before: DescribedPrint | None
    after: DescribedPrint | None
    total: int
    years: tuple[int, int] | None


def _beside(shown: Shown, accession: str) -> Beside:
    """From what was worked out and kept, so that no page waits for the order of all prints."""
    shown.settle()
    collection = shown.collection
    catalogue = collection.catalogue
    beside = [catalogue.standings(after=accession, limit=1), catalogue.standings(before=accession, limit=1)]
    after, before = (described_one(collection, one[0].accession) if one else None for one in beside)
    described = described_one(collection, accession)
    return Beside(described, before, after, catalogue.standing_count(), _years(collection))


def _years(collection: Collection) -> tuple[int, int] | None:
    counts = collection.catalogue.standing_years()
    return (min(counts), max(counts)) if counts else None


def beside_among(described: Sequence[DescribedPrint], accession: str) -> Beside:
    """The place of a print among all prints in order of time.

    Raises
    ------
    NotFound
        When it is not among them.
    """
    place = next((i for i, one in enumerate(described) if one.print.accession == accession), None)
    if place is None:
        raise NotFound(
            Sentence("No print has the number “%(accession)s”", accession=accession),
            todo=Sentence("Look for it on the table"),
        )
    years = [int(one.when.guess.rsplit("-", 2)[0]) for one in described if one.when.guess]
    return Beside(
        described[place],
        described[place - 1] if place else None,
        described[place + 1] if place + 1 < len(described) else None,
        len(described),
        (min(years), max(years)) if years else None,
    )


def _clashes(line: Timeline, voices: dict[Field, list[Voice]]) -> Iterable[Clashing]:
    """What of this print can't all be true, each with the few reasons that cause it."""
    own = {voice.ident for views in voices.values() for voice in views if voice.ident and voice.own}
    for clash in line.clashes:
        told = []
        for one in (*clash.conflict, clash.left_out):
            if one.rank >= 0 or one is clash.left_out:
                ident = one.constraint.id.split()[0]
                told.append((one.reason.sentence, one.reason.source, ident if ident in own else ""))
        yield Clashing(tuple(dict.fromkeys(told)), told[-1], days_words(clash.gap_days))
