"""Turns a slip file into statements about prints and occasions; words that aren't understood become questions."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from datetime import UTC, date, datetime

from attrs import frozen

from solander.catalogue.history import utc_now
from solander.catalogue.store import Act
from solander.catalogue.work import Work
from solander.core.dates import words
from solander.core.errors import CannotBegin, InvalidValue
from solander.core.occasions import Occasion
from solander.core.people import Person
from solander.core.phrases import Reading, read_date
from solander.core.places import Place
from solander.core.prints import container_code
from solander.core.questions import Asks
from solander.core.statements import About, Says, Statement, Sure
from solander.intake.slips import SlipFile, SlipRow
from solander.tasks.ask import ask, settle_others
from solander.tasks.collection import Collection

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
        what = f"Nothing was taken in: line {row.line} of the slip file has “{row.container}” as container"
        raise CannotBegin(what, trouble.why, trouble.todo) from trouble


def apply_slips(
    collection: Collection, act: Act, slips: SlipFile, *, name: str, arrived: Mapping[str, str]
) -> tuple[str, ...]:
    """Enters what a slip file says; gives a sentence for each row that no print was found for.

    `arrived` holds the checksum of each file of this take-in: names repeat from box to box, so a name among
    them means that file and no earlier one. Entering the same file twice changes nothing; a cell that was
    changed or emptied since withdraws what it said before. Where a row had to be set aside, an empty cell
    withdraws nothing, for what it said may stand in that row.
    """
    desk = _Desk(collection, f"slip file {name}", datetime.now(UTC).date(), arrived)
    notes = list(slips.warnings)
    with act.work() as work:
        for row in slips.rows:
            subjects = desk.subjects(row)
            if not subjects:
                notes.append(f"{name}, line {row.line}: no print came from “{row.file or 'no file'}”.")
            for about, subject in subjects:
                desk.enter(work, row, about, subject)
        desk.finish(work, emptied=_KINDS_OF.keys() & slips.columns if slips.whole else ())
        work.commit()
    return tuple(notes)


_KINDS_OF = {
    "date": (Says.EXPOSURE, Says.PRINTING),
    "place": (Says.PLACE,),
    "people": (Says.PERSON,),
    "occasion": (Says.OCCASION,),
    "caption": (Says.CAPTION,),
    "note": (Says.NOTE,),
    "transcription": (Says.TRANSCRIPTION,),
    "order": (Says.ORDER,),
}
"""What each column of a slip file tells."""


@frozen
class _Claim:
    says: Says
    value: str
    words: str
    sure: Sure = Sure.CERTAIN


class _Desk:
    """Where slips are entered: knows what is known already, so that nothing is said twice."""

    def __init__(self, collection: Collection, source: str, today: date, arrived: Mapping[str, str]) -> None:
        self.collection, self.source, self.today, self._arrived = collection, source, today, arrived
        catalogue = collection.catalogue
        self._people = {name for person in catalogue.people() for name in (person.name, *person.also_called)}
        self._places = {place.name for place in catalogue.places()}
        self._entered = {said.id: said for said in catalogue.statements(withdrawn=True)}
        self._said_now: set[str] = set()
        self._kinds_now: set[tuple[str, Says]] = set()
        self._asked: set[str] = set()
        self._spoken_of: set[tuple[About, str]] = set()
        self._inscriptions: dict[str, str] = {}

    def subjects(self, row: SlipRow) -> list[tuple[About, str]]:
        """What the row speaks about: the prints that came from its file, or, without a file, its occasion."""
        if not row.file:
            return [(About.OCCASION, row.occasion)] if row.occasion else []
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
            work.keep_occasion(Occasion(row.occasion))
        for claim in (*self._dates(work, row, subject), *self._places_and_people(work, row), *_plain(row, about)):
            self._state(work, about, subject, claim)
        if row.transcription:
            self._inscriptions[subject] = row.transcription

    def finish(self, work: Work, *, emptied: Iterable[str]) -> None:
        """Withdraws what the file said before and says no more, in the `emptied` columns also what it now leaves
        open; asks about dates on backs of undated prints, and no more about what a correction answered."""
        open_now = {says for column in emptied for says in _KINDS_OF[column]}
        for said in self._entered.values():
            again = (said.subject, said.says) in self._kinds_now
            left_open = (said.about, said.subject) in self._spoken_of and said.says in open_now
            mine = said.source == self.source and said.id not in self._said_now and not said.withdrawn
            if mine and (again or left_open):
                work.withdraw(said.id)
        for subject, written in self._inscriptions.items():
            if not self._kinds_now & {(subject, Says.EXPOSURE), (subject, Says.PRINTING)}:
                self._ask_about_inscription(work, subject, written)
        subjects = {subject for _, subject in self._spoken_of}
        about_dates = {Asks.WORDS, Asks.INSCRIPTION} if "date" in emptied else set()
        settle_others(self.collection, work, about_dates, asked=self._asked, about=subjects.__contains__)

    def _dates(self, work: Work, row: SlipRow, subject: str) -> Iterator[_Claim]:
        if not row.date:
            return
        understood = read_date(row.date, today=self.today)
        if understood.readings:
            yield _dated(understood.readings[0], row.date)
        if not understood.readings:
            sentence = f"“{row.date}” on the slip of {subject} was not understood: when was it?"
            self._asked.add(ask(work, Asks.WORDS, subject, sentence))
        elif understood.unused:
            left = " ".join(understood.unused)
            sentence = f"In “{row.date}” on the slip of {subject} “{left}” was not understood."
            self._asked.add(ask(work, Asks.WORDS, subject, sentence))

    def _places_and_people(self, work: Work, row: SlipRow) -> Iterator[_Claim]:
        if row.place:
            name, sure = _how_sure(row.place)
            if name not in self._places:
                work.keep_place(Place(name))
                self._places.add(name)
            yield _Claim(Says.PLACE, name, row.place, sure)
        for said in row.people:
            name, sure = _how_sure(said)
            if not name:
                continue  # a lone question mark names nobody
            if name not in self._people:
                work.keep_person(Person(name))
                self._people.add(name)
            yield _Claim(Says.PERSON, name, said, sure)

    def _state(self, work: Work, about: About, subject: str, claim: _Claim) -> None:
        said = Statement(
            id=self._free_identity(_identity(about, subject, claim, self.source)),
            about=about,
            subject=subject,
            says=claim.says,
            value=claim.value,
            words=claim.words,
            sure=claim.sure,
            source=self.source,
            entered=utc_now(),
        )
        self._said_now.add(said.id)
        self._kinds_now.add((subject, claim.says))
        if said.id not in self._entered:
            work.state(said)
            self._entered[said.id] = said

    def _free_identity(self, identity: str) -> str:
        """The same claim made again after it was withdrawn is a new statement: what is withdrawn stays so."""
        said = self._entered.get(identity)
        if said is None or not said.withdrawn:
            return identity
        return self._free_identity(hashlib.sha256(f"{identity}\nagain".encode()).hexdigest()[:16])

    def _ask_about_inscription(self, work: Work, subject: str, written: str) -> None:
        understood = read_date(written, today=self.today)
        if understood.readings:
            date = words(understood.readings[0].edtf)
            made = "was the paper made" if understood.readings[0].bounds == "printing" else "was it taken"
            sentence = f"On the back of {subject} stands “{written}”: {made} then ({date})?"
            self._asked.add(ask(work, Asks.INSCRIPTION, subject, sentence))


def _dated(reading: Reading, said: str) -> _Claim:
    says = Says.PRINTING if reading.bounds == "printing" else Says.EXPOSURE
    return _Claim(says, reading.edtf, said, reading.sure)


def _how_sure(said: str) -> tuple[str, Sure]:
    """The name without its question mark, and how sure that makes it."""
    name = said.rstrip(" ?").strip()
    return name, Sure.CERTAIN if name == said.strip() else Sure.GUESS


def _plain(row: SlipRow, about: About) -> Iterator[_Claim]:
    if about is About.PRINT and row.occasion:
        yield _Claim(Says.OCCASION, row.occasion, row.occasion)
    for says, written in (
        (Says.CAPTION, row.caption),
        (Says.NOTE, row.note),
        (Says.TRANSCRIPTION, row.transcription),
        (Says.ORDER, str(row.order) if row.order is not None else ""),
    ):
        if written:
            yield _Claim(says, written, written)


def _identity(about: About, subject: str, claim: _Claim, source: str) -> str:
    told = "\n".join((about, subject, claim.says, claim.value, claim.words, source))
    return hashlib.sha256(told.encode()).hexdigest()[:16]
