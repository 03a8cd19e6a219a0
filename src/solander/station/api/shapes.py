"""What the interface for programs takes and gives.

Everything is told as it stands in the collection: dates as EDTF, days as `YYYY-MM-DD`, moments as RFC 3339 in UTC.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Annotated, Any

from annotated_types import Ge, Le
from pydantic import BaseModel, BeforeValidator, ConfigDict, StringConstraints

from solander.core.descriptions import DescribedPrint
from solander.core.language import told
from solander.core.questions import Asks
from solander.core.questions import Question as Waiting
from solander.core.statements import Says, Sure
from solander.core.statements import Statement as Claim
from solander.tasks.typed import Field as Part

__all__ = [
    "Act",
    "Container",
    "Count",
    "Done",
    "Fault",
    "Found",
    "History",
    "Name",
    "NewOccasion",
    "Number",
    "Occasion",
    "People",
    "Person",
    "Picture",
    "Place",
    "Places",
    "Print",
    "PrintLine",
    "Question",
    "Saying",
    "SayingOfOccasion",
    "Standing",
    "Statement",
    "Words",
]

_LARGEST = 2**53 - 1
"""The largest whole number that JSON carries everywhere (RFC 8259, section 6)."""

Number = Annotated[int, Ge(0), Le(_LARGEST)]
Count = Annotated[int, Ge(1), Le(200)]
Words = Annotated[str, StringConstraints(max_length=20_000)]
Name = Annotated[str, StringConstraints(max_length=400)]


Said = Annotated[str, BeforeValidator(told)]
"""A sentence in the language that the request asks for (`Accept-Language`)."""


class Shape(BaseModel):
    """What it has in common: nothing that is sent and not known is passed over."""

    model_config = ConfigDict(extra="forbid")


class Other(Shape):
    """What somebody else did meanwhile."""

    at: str
    who: str
    sentence: Said


class Fault(Shape):
    """What went wrong: one sentence, and its parts; with what `others` did where that is the reason."""

    error: str
    what: str
    why: str
    todo: str
    others: list[Other] = []


class Standing(Shape):
    """The collection as it stands. `settled` is false while the order of prints is worked out anew."""

    title: str
    last_change: int
    prints: int
    questions: int
    second_copy: bool
    settled: bool


class Statement(Shape):
    """One claim about a print, or about its occasion: `words` were said, `value` was understood."""

    id: str
    subject: str
    says: Says
    value: str
    words: str
    sure: Sure
    source: str
    entered: str

    @classmethod
    def of(cls, claim: Claim) -> Statement:
        """The claim as it is told."""
        told = {name: getattr(claim, name) for name in cls.model_fields}
        return cls(**told)


class Reason(Shape):
    """What speaks for a date, and who says so."""

    sentence: Said
    source: Said
    sure: Sure


class PersonShown(Shape):
    """Somebody on a print, with the age then where it is known."""

    name: str
    sure: Sure
    age: Said


class Picture(Shape):
    """One picture of a print, with the addresses of the whole of it and of a small one."""

    key: str
    side: str
    large: str
    small: str
    edge_checked: bool


class PrintLine(Shape):
    """A print as its slip tells it."""

    accession: str
    container: str | None
    edtf: str
    date: str
    earliest: str | None
    latest: str | None
    sure: Sure
    place: str | None
    people: list[PersonShown]
    occasion: str
    caption: str
    waits: list[Said]

    @classmethod
    def of(cls, one: DescribedPrint) -> PrintLine:
        """The print as it is told."""
        return cls(**_line(one))


class Print(PrintLine):
    """A print with all that is known of it; `before` and `after` are the prints beside it in time."""

    note: str
    transcription: str
    reasons: list[Reason]
    contradicts: list[Said]
    statements: list[Statement]
    pictures: list[Picture]
    before: str | None
    after: str | None

    @classmethod
    def whole(cls, one: DescribedPrint, before: DescribedPrint | None, after: DescribedPrint | None) -> Print:
        """The print as it is told, among its neighbours."""
        return cls(
            **_line(one),
            note=one.note,
            transcription=one.transcription,
            reasons=[Reason(sentence=r.sentence, source=r.source, sure=r.sure) for r in one.when.reasons],
            contradicts=list(one.when.contradicts),
            statements=[Statement.of(said) for said in one.statements],
            pictures=_pictures(one),
            before=before.print.accession if before else None,
            after=after.print.accession if after else None,
        )


def _line(one: DescribedPrint) -> dict[str, Any]:
    when = one.when
    people = [PersonShown(name=p.person.name, sure=p.sure, age=p.age) for p in one.people]
    return {
        "accession": one.print.accession,
        "container": one.print.container,
        "edtf": when.edtf,
        "date": when.words,
        "earliest": when.earliest,
        "latest": when.latest,
        "sure": when.sure,
        "place": one.place.name if one.place else None,
        "people": people,
        "occasion": one.occasion,
        "caption": one.caption,
        "waits": list(one.waits),
    }


def _pictures(one: DescribedPrint) -> list[Picture]:
    return [
        Picture(
            key=view.key,
            side=view.side,
            large=f"/view/{view.key}.jpg",
            small=f"/thumb/{view.key}.jpg",
            edge_checked=view.outline.checked,
        )
        for view in one.print.views
    ]


class Found(Shape):
    """A page of prints that were found, of `total` in all; `next` is what `after` must be for the following page.
    `lack` says how many of those found lack something, `containers` how many lie in each."""

    prints: list[PrintLine]
    total: int
    next: str | None
    lack: dict[str, int]
    containers: dict[str, int]
    unheard: list[str]


class Saying(Shape):
    """Words about one part of a print, as a person would type them; `by` is who says so, empty for the archivist.
    Without `instead` what the same source said before stands beside it."""

    part: Part
    words: Words
    sure: Sure | None = None
    by: Name = ""
    of_paper: bool = False
    instead: bool = True


class Done(Shape):
    """What was done: the number of the act, by which it can be taken back (null where nothing changed), its
    sentence, and the number of the last change after it."""

    act: int | None
    sentence: Said
    last_change: int


class Occasion(Shape):
    """An occasion: what is said of it best, and its prints in order of time where it is asked for alone."""

    name: str
    date: str
    place: str
    prints: int
    accessions: list[str] | None = None
    statements: list[Statement]


class NewOccasion(Shape):
    """An occasion to be made of these prints, with when and where in words."""

    name: Name
    accessions: list[Name] = []
    date: Words = ""
    place: Words = ""
    sure: Sure | None = None
    by: Name = ""


class SayingOfOccasion(Shape):
    """When and where an occasion was, in words."""

    date: Words = ""
    place: Words = ""
    sure: Sure | None = None
    by: Name = ""


class Container(Shape):
    """A container: the paper that lies in it, and where it is now."""

    code: str
    title: str
    prints: int
    all_prints: int
    waits: int
    kept_at: str
    put_back: str


class Person(Shape):
    """Somebody: the heading, other names, born and died as EDTF, on how many prints."""

    name: str
    also_called: list[str]
    born: str
    died: str
    prints: int
    accessions: list[str] | None = None
    statements: list[Statement] = []


class People(Shape):
    """A page of people; `next` is what `after` must be for the following one."""

    people: list[Person]
    total: int
    next: str | None


class Place(Shape):
    """A place of the collection, with the circle in which it lies."""

    name: str
    country: str
    latitude: float | None
    longitude: float | None
    radius_m: float | None
    also_called: list[str]
    prints: int
    accessions: list[str] | None = None


class Places(Shape):
    """A page of places; `next` is what `after` must be for the following one."""

    places: list[Place]
    total: int
    next: str | None


class Question(Shape):
    """Something that waits for a person."""

    key: str
    asks: Asks
    subject: str
    sentence: Said
    raised: str

    @classmethod
    def all_of(cls, waiting: Iterable[Waiting]) -> list[Question]:
        """The questions as they are told."""
        return [cls(**{name: getattr(one, name) for name in cls.model_fields}) for one in waiting]


class Act(Shape):
    """Something that was done, and whether it stands: `undone_by` is the act that took it back."""

    number: int
    at: str
    who: str
    sentence: Said
    changes: int
    undoes: int | None
    undone_by: int | None


class History(Shape):
    """A page of what was done, the newest first; `next` is what `before` must be for the following one."""

    acts: list[Act]
    next: int | None
