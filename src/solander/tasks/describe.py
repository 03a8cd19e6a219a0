"""Turns a slip file into statements about prints and occasions; words that aren't understood become questions."""

from __future__ import annotations

from collections.abc import Collection as Several
from collections.abc import Iterable, Iterator, Mapping

from attrs import evolve

from solander.authorities.dating import facts_like, facts_near
from solander.catalogue.store import Act
from solander.catalogue.work import Work
from solander.core.dates import words
from solander.core.errors import CannotBegin, InvalidValue
from solander.core.occasions import Occasion
from solander.core.phrases import DatePhrase
from solander.core.prints import container_code
from solander.core.questions import Asks, Question
from solander.core.sentence import Sentence
from solander.core.statements import About, Says, Statement
from solander.intake.slips import SlipFile, SlipRow
from solander.tasks.ask import ask, settle_others
from solander.tasks.claims import (
    AS_EVIDENCE,
    KINDS_OF,
    Claim,
    at_most_likely,
    date_asked_sentence,
    fact_asked_sentence,
    how_sure,
    inscription_sentence,
    other_meanings,
    part_not_read_sentence,
    plain_claims,
    together,
    two_dates_sentence,
)
from solander.tasks.collection import Collection
from solander.tasks.date import date_reader
from solander.tasks.describe_people import NamesOnSlips, Told
from solander.tasks.identity import statement_identity
from solander.tasks.place_said import enter_place
from solander.tasks.places import PlaceReader, place_reader
from solander.tasks.proposed_inscriptions import is_read_by_machine
from solander.tasks.read_again import read_again

__all__ = ["apply_slips", "containers_by_file"]


def containers_by_file(slips: SlipFile | None) -> dict[str, str]:
    """The container that the slip file gives for each file; `scan.tif#2` counts for `scan.tif`.

    Raises
    ------
    CannotBegin
        When a container is not written as a code.
    """
    rows = slips.rows if slips else ()
    return {row.file.partition("#")[0]: _container(row) for row in rows if row.file and row.container}


def _container(row: SlipRow) -> str:
    try:
        return container_code(row.container)
    except InvalidValue as trouble:
        # Accession numbers are made from it: better nothing is taken in than under a wrong number.
        what = Sentence(
            "Nothing was taken in: line %(line)s of the slip file has “%(container)s” as container",
            line=row.line,
            container=row.container,
        )
        raise CannotBegin(what, trouble.why, trouble.todo) from trouble


def apply_slips(
    collection: Collection, act: Act, slips: SlipFile, *, name: str, arrived: Mapping[str, str]
) -> tuple[str, ...]:
    """Enters what a slip file says; gives a sentence for each row that no print was found for.

    `arrived` holds the checksum of each file of this take-in: names repeat from box to box, so a name among
    them means that file and no earlier one. Entering the same file twice changes nothing; a cell that was
    changed or emptied since withdraws what it said before. Where a row had to be set aside, an empty cell
    withdraws nothing, for what it said may stand in that row. A row that is gone withdraws nothing either, but
    is told.
    """
    before = date_reader(collection.catalogue)
    desk = _Desk(collection, name, arrived)
    notes = list(slips.warnings)
    of_occasions = [row for row in slips.rows if not row.file]
    of_prints = [row for row in slips.rows if row.file]
    # “The winter after the wedding” is read by when the wedding was, and that may hang on another occasion.
    while desk.learns():
        with act.work() as work:
            notes += desk.enter_all(work, of_occasions)
            work.commit()
    with act.work() as work:
        notes += desk.enter_all(work, of_prints)
        desk.finish(work, emptied=KINDS_OF.keys() & slips.columns if slips.whole else ())
        work.commit()
    if slips.whole:
        notes += desk.no_longer_told()
    notes += desk.places_not_looked_up()
    with act.work() as work:
        read_again(collection, work, before=before, now=date_reader(collection.catalogue))
        work.commit()
    return tuple(dict.fromkeys(notes))


_ROUNDS = 5
"""Occasions that are dated by other occasions are followed so far: longer chains are mistakes."""

_FILE, _OF_FILE = "slip file ", ", slip file "


def _file_of(source: str) -> str:
    """The slip file that a source names: "slip file box.csv", "Aunt Vera, slip file box.csv"; else nothing.

    The line is not named: it changes when a row is put in above, and the claim does not.
    """
    return source.removeprefix(_FILE) if source.startswith(_FILE) else source.partition(_OF_FILE)[2]


def _column_asked_about(question: Question) -> str:
    if is_read_by_machine(question):
        return ""  # no column answers what a machine read
    if question.asks is Asks.WHO or "” an age?" in question.sentence:
        return "people"
    return "evidence" if AS_EVIDENCE in question.sentence else "date"


class _Desk:
    """Where slips are entered: knows what is known already, so that nothing is said twice."""

    def __init__(self, collection: Collection, name: str, arrived: Mapping[str, str]) -> None:
        self.collection, self._name, self._arrived = collection, name, arrived
        catalogue = collection.catalogue
        self._read_date = date_reader(catalogue)
        self._places = {place.name for place in catalogue.places()}
        self._entered = {said.id: said for said in catalogue.statements(withdrawn=True)}
        self._withdrawn = {said.id for said in self._entered.values() if said.withdrawn}
        self._place_reader: PlaceReader | None = None
        self._rounds = 0
        self._said_now: set[str] = set()
        self._kinds_now: set[tuple[str, Says]] = set()
        self._asked: set[str] = set()
        self._names_on_slips = NamesOnSlips(collection, self._entered, self._asked)
        self._spoken_of: set[tuple[About, str]] = set()
        self._inscriptions: dict[str, str] = {}

    def learns(self) -> bool:
        """Reads dates from here on by what is known now; whether that is more than before, within reason."""
        before, self._read_date = self._read_date, date_reader(self.collection.catalogue)
        self._rounds += 1
        learned = self._rounds == 1 or (self._rounds <= _ROUNDS and self._read_date != before)
        if learned:
            # What was said and asked by less is said and asked anew.
            for said_in_vain in (self._said_now, self._kinds_now, self._asked):
                said_in_vain.clear()
        return learned

    def enter_all(self, work: Work, rows: Iterable[SlipRow]) -> Iterator[str]:
        """Enters rows; gives a sentence for each that no print was found for."""
        for row in rows:
            subjects = self.subjects(row)
            if not subjects:
                where = {"slips": self._name, "line": row.line}
                yield (
                    Sentence("%(slips)s, line %(line)s: no print came from “%(file)s”.", file=row.file, **where)
                    if row.file
                    else Sentence("%(slips)s, line %(line)s: it names no file that a print came from.", **where)
                )
            for about, subject in subjects:
                self.enter(work, row, about, subject)

    def subjects(self, row: SlipRow) -> list[tuple[About, str]]:
        """What the row speaks about: the prints that came from its file, or, without a file, its occasion."""
        if not row.file:
            return [(About.OCCASION, self._occasion(row))] if row.occasion else []
        return [(About.PRINT, accession) for accession in self._accessions(row.file)]

    def _accessions(self, file: str) -> list[str]:
        catalogue = self.collection.catalogue
        whole = [view for sha256 in self._captures(file) for view in catalogue.views_of_capture(sha256)]
        if whole:
            return list(dict.fromkeys(accession for accession, _ in whole))
        name, _, number = file.rpartition("#")
        if not (name and number.isdigit()):
            return []
        views = [view for sha256 in self._captures(name) for view in catalogue.views_of_capture(sha256)]
        return [accession for accession, _ in views[int(number) - 1 : int(number)]]

    def _captures(self, name: str) -> list[str]:
        """The captures of that name: this take-in's own, else earlier ones."""
        now = self._arrived.get(name)
        return [now] if now else self.collection.catalogue.arrived_as(name)

    def enter(self, work: Work, row: SlipRow, about: About, subject: str) -> None:
        """Enters every cell of a row about one subject."""
        self._spoken_of.add((about, subject))
        if row.occasion:
            work.keep_occasion(Occasion(self._occasion(row)))
        claims = [
            *self._dates(work, row, subject),
            *self._places_and_people(work, row, subject),
            *(self._of_now(claim) for claim in plain_claims(row, about)),
        ]
        if about is About.PRINT:
            claims += self._evidence(work, row, subject)
        source = self._source(row)
        for claim in claims:
            self._state(work, claim.about(about, subject, source))
        if row.transcription:
            self._inscriptions[subject] = row.transcription

    def finish(self, work: Work, *, emptied: Several[str]) -> None:
        """Withdraws what the file said before and says no more, in the `emptied` columns also what it now leaves
        open; asks about dates on backs of undated prints, and no more about what a correction answered."""
        open_now = {says for column in emptied for says in KINDS_OF[column]}
        for said in self._entered.values():
            again = any((said.subject, kind) in self._kinds_now for kind in together(said.says))
            left_open = (said.about, said.subject) in self._spoken_of and said.says in open_now
            mine = _file_of(said.source) == self._name and said.id not in self._said_now and not said.withdrawn
            if mine and (again or left_open):
                work.withdraw(said.id)
        for subject, written in self._inscriptions.items():
            if not self._kinds_now & {(subject, Says.EXPOSURE), (subject, Says.PRINTING)}:
                self._ask_about_inscription(work, subject, written)
        self._settle_answered(work, emptied)

    def no_longer_told(self) -> Iterator[str]:
        """A sentence for each print of this take-in whose row the file had before and has no more.

        A row that is gone withdraws nothing: it may have been moved to another file, or lost by mistake.
        """
        mine = {
            said.subject
            for said in self._entered.values()
            if said.about is About.PRINT and not said.withdrawn and _file_of(said.source) == self._name
        }
        for name, sha256 in sorted(self._arrived.items()):
            for accession, _ in self.collection.catalogue.views_of_capture(sha256):
                if accession in mine and (About.PRINT, accession) not in self._spoken_of:
                    yield Sentence(
                        "%(slips)s has no row for %(name)s any more; what it said of %(print)s was kept. "
                        "To take it back, give the row again with empty cells.",
                        slips=self._name,
                        name=name,
                        print=accession,
                    )

    def _settle_answered(self, work: Work, columns: Several[str]) -> None:
        """Asks no more about words that were corrected; those of a column that this file lacks still wait."""
        waiting = {
            question.key
            for question in self.collection.catalogue.questions()
            if _column_asked_about(question) not in columns
        }
        subjects = {subject for _, subject in self._spoken_of}
        settle_others(
            self.collection,
            work,
            {Asks.WORDS, Asks.WHO, Asks.INSCRIPTION},
            asked=self._asked | waiting,
            about=subjects.__contains__,
        )

    def _dates(self, work: Work, row: SlipRow, subject: str) -> Iterator[Claim]:
        if not row.date:
            return
        understood = self._read_date(row.date)
        if understood.readings:
            yield self._dated(work, row.date, understood, subject)
        if not understood.readings:
            # Kept with the print: it may be understood one day, when more is known of people and occasions.
            yield Claim(Says.UNREAD_DATE, "", row.date)
            self._asked.add(ask(work, Asks.WORDS, subject, date_asked_sentence(row.date, subject)))
        elif understood.unused:
            left = " ".join(understood.unused)
            self._asked.add(ask(work, Asks.WORDS, subject, part_not_read_sentence(row.date, subject, left)))

    def _dated(self, work: Work, said: str, understood: DatePhrase, subject: str) -> Claim:
        """The first reading; likely at most when words were left over or it may mean something else, which is
        asked about."""
        reading = understood.readings[0]
        others = other_meanings(understood)
        if others:
            sentence = two_dates_sentence(said, subject, (words(reading.edtf), *others))
            self._asked.add(ask(work, Asks.WORDS, subject, sentence))
        sure = at_most_likely(reading.sure) if others or understood.unused else reading.sure
        says = Says.PRINTING if reading.bounds == "printing" else Says.EXPOSURE
        return Claim(says, reading.edtf, said, sure)

    def _places_and_people(self, work: Work, row: SlipRow, subject: str) -> Iterator[Claim]:
        if row.place:
            name, sure = how_sure(row.place)
            if name not in self._places:
                enter_place(work, name, self._read_place(), on=self._day_told(row))
                self._places.add(name)
            yield Claim(Says.PLACE, name, row.place, sure)
        told = Told(subject, row.source, self._source(row), self._day_told(row))
        for cell in row.people:
            yield from self._names_on_slips.claims(work, cell, told)

    def _day_told(self, row: SlipRow) -> str:
        """The date of a row as EDTF, or that of its occasion, which tells between names of other times."""
        readings = self._read_date(row.date).readings if row.date else ()
        return readings[0].edtf if readings else self._read_date.events.get(self._occasion(row), "")

    def _of_now(self, claim: Claim) -> Claim:
        """The claim that a print belongs to an occasion, in its words, by the name that the occasion has now."""
        if claim.says is not Says.OCCASION:
            return claim
        return evolve(claim, value=self.collection.catalogue.occasion_now(claim.value))

    def _occasion(self, row: SlipRow) -> str:
        """What the occasion of a row is called now: it may have been renamed or joined to another."""
        return self.collection.catalogue.occasion_now(row.occasion)

    def _source(self, row: SlipRow) -> str:
        return f"{row.source}{_OF_FILE}{self._name}" if row.source else f"{_FILE}{self._name}"

    def _read_place(self) -> PlaceReader:
        """Made when the first place comes that is not known: the gazetteer may have to be made for it."""
        if self._place_reader is None:
            self._place_reader = place_reader(self.collection.catalogue)
        return self._place_reader

    def places_not_looked_up(self) -> Iterator[str]:
        """A sentence where new places were named and no gazetteer is there."""
        if self._place_reader is not None and self._place_reader.gazetteer is None:
            yield Sentence(
                "Places were kept as they are written and not looked up. %(why)s", why=self._place_reader.why_none
            )

    def _evidence(self, work: Work, row: SlipRow, subject: str) -> Iterator[Claim]:
        """The facts that were seen on a print; words that mean none, or more than one, are asked about."""
        for said in row.evidence:
            told, sure = how_sure(said)
            facts = facts_like(told)
            if len(facts) == 1:
                yield Claim(Says.EVIDENCE, facts[0].id, said, sure)
            elif told:
                near = facts or facts_near(told)
                self._asked.add(ask(work, Asks.WORDS, subject, fact_asked_sentence(said, subject, near)))

    def _state(self, work: Work, said: Statement) -> None:
        said = evolve(said, id=statement_identity(said, taken=self._withdrawn))
        self._said_now.add(said.id)
        self._kinds_now.add((said.subject, said.says))
        if said.id not in self._entered:
            work.state(said)
            self._entered[said.id] = said

    def _ask_about_inscription(self, work: Work, subject: str, written: str) -> None:
        understood = self._read_date(written)
        if understood.readings:
            sentence = inscription_sentence(written, subject, understood.readings[0])
            self._asked.add(ask(work, Asks.INSCRIPTION, subject, sentence))
