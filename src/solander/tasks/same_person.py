"""Two of the people who may be one: asked about, never joined by a machine; a person's word joins them or not."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping

from attrs import evolve, frozen

from solander.catalogue.history import utc_now
from solander.catalogue.work import Work
from solander.core.ages import age_value, read_age_value
from solander.core.dates import words
from solander.core.errors import NotFound, Trouble
from solander.core.kin import Kin
from solander.core.people import Name, NameKind, Person, life_of
from solander.core.phrases.sought import words_of_name
from solander.core.questions import Asks, Question
from solander.core.sentence import Joined, Sentence
from solander.core.statements import Says, Statement
from solander.core.taking_in import Plan, list_key
from solander.core.told import Told, believed, by_hand, name_value, stated
from solander.tasks.ask import ask, question_key
from solander.tasks.collection import Collection
from solander.tasks.date import date_reader
from solander.tasks.first_words_kept import first_words_of, keep_first_words
from solander.tasks.identity import statement_identity
from solander.tasks.put_in_order import ask_about_contradictions
from solander.tasks.read_again import read_again

__all__ = ["MayBeOne", "ask_who_is_one", "asked_about", "join_people", "say_two_people"]

_MOST = 200
"""So many questions are raised by one file; the likeliest, for nobody answers thousands (our choice)."""
_PARTS = "\n"
"""Between two headings in the subject of a question; no heading holds it."""
_COMMON = 20
"""A name that more people bear says nothing by itself: then a date has to agree too (our choice)."""


@frozen
class MayBeOne:
    """Two headings, the one known before first, how likely they are one person, and why it may be."""

    known: str
    newcomer: str
    score: float
    reasons: tuple[str, ...]

    @property
    def sentence(self) -> str:
        """What is asked."""
        return Sentence(
            "%(one)s and %(other)s may be one person: %(why)s. Are they?",
            one=self.newcomer,
            other=self.known,
            why=Joined(self.reasons),
        )


def ask_who_is_one(collection: Collection, work: Work, plan: Plan) -> int:
    """Asks about newcomers who may be somebody whom others told of; gives how many questions were raised.

    What was answered before is not asked again.
    """
    before = {question.key for question in collection.catalogue.questions(settled=True)}
    raised = 0
    for pair in sorted(_pairs(collection, plan), key=lambda each: (-each.score, each.newcomer)):
        subject = f"{pair.newcomer}{_PARTS}{pair.known}"
        if raised < _MOST and question_key(Asks.SAME_PERSON, subject, pair.sentence) not in before:
            ask(work, Asks.SAME_PERSON, subject, pair.sentence)
            raised += 1
    return raised


def asked_about(question: Question) -> tuple[str, str]:
    """The two headings that a question is about: the newcomer, and the one who was known before."""
    newcomer, _, known = question.subject.partition(_PARTS)
    return newcomer, known


def _pairs(collection: Collection, plan: Plan) -> Iterator[MayBeOne]:
    """Newcomers with those known before who bear one of their names and may have lived the same life."""
    if not plan.new:
        return
    told = set(plan.headings.values())
    bearers: defaultdict[str, list[str]] = defaultdict(list)
    for name, heading in collection.catalogue.names_of_all():
        if heading not in told:
            bearers[name].append(heading)
    if not bearers:
        return
    found: dict[str, set[str]] = {}
    for change in plan.new:
        names = {" ".join(words_of_name(name)) for name in _full_names(change.after.person)}
        if known := {heading for name in names for heading in bearers.get(name, ())}:
            found[change.heading] = known
    people = {
        one.name: one for one in collection.catalogue.people_of(name for known in found.values() for name in known)
    }
    yield from _fitting(plan, found, people, {name: len(those) for name, those in bearers.items()})


def _fitting(
    plan: Plan, found: Mapping[str, Iterable[str]], people: Mapping[str, Person], bearers: Mapping[str, int]
) -> Iterator[MayBeOne]:
    for change in plan.new:
        for heading in sorted(found.get(change.heading, ())):
            if pair := may_be_one(change.after.person, people[heading], bearers):
                yield pair


def may_be_one(newcomer: Person, known: Person, bearers: Mapping[str, int]) -> MayBeOne | None:
    """Why two people may be one; None where a date speaks against it, or too little for it."""
    first, second = life_of(newcomer), life_of(known)
    births = _fit(first.born_from, first.born_to, second.born_from, second.born_to)
    deaths = _fit(first.died_from, first.died_to, second.died_from, second.died_to)
    if births is False or deaths is False or (newcomer.sex and known.sex and newcomer.sex != known.sex):
        return None
    theirs = {" ".join(words_of_name(name)) for name in _full_names(known)}
    shared = next(name for name in _full_names(newcomer) if " ".join(words_of_name(name)) in theirs)
    common = bearers.get(" ".join(words_of_name(shared)), 0)
    if common > _COMMON and not (births or deaths):
        return None
    reasons = [Sentence("both are called %(name)s", name=shared)]
    reasons += [Sentence("both born %(dates)s", dates=_dates(newcomer.born, known.born))] if births else []
    reasons += [Sentence("both died %(dates)s", dates=_dates(newcomer.died, known.died))] if deaths else []
    score = 1 / max(common, 1) + (births or 0) + (deaths or 0) + (len(shared.split()) > 1)
    return MayBeOne(known.name, newcomer.name, score, tuple(reasons))


def _full_names(person: Person) -> list[str]:
    """What somebody is called by that may tell them from others: of two words at least, unless there is no other.

    The years behind a heading are no part of the name.
    """
    plain = person.names[0].text if person.names else person.name
    names = list(dict.fromkeys((plain, person.name, *person.also_called)))
    return [name for name in names if len(words_of_name(name)) > 1] or [plain]


def _fit(
    one_from: int | None, one_to: int | None, two_from: int | None, two_to: int | None
) -> float | bool | None:
    """How well two spans of days fit: False where they can't be one day, None where one is not known, else up to
    2, the shorter they are the better."""
    if one_to is not None and two_from is not None and one_to < two_from:
        return False
    if two_to is not None and one_from is not None and two_to < one_from:
        return False
    if one_from is None or one_to is None or two_from is None or two_to is None:
        return None
    longest = max(one_to - one_from, two_to - two_from)
    return 2.0 if longest < 32 else 1.0 if longest < 800 else 0.3


def _dates(one: str, other: str) -> str:
    return words(one) if one == other else f"{words(one)} or {words(other)}"


def say_two_people(collection: Collection, question: Question, *, who: str = "archivist") -> int | None:
    """Settles that two people are not one; it is not asked again. Gives the act's number for undo."""
    newcomer, known = asked_about(question)
    with (
        collection.catalogue.act(
            who, Sentence("said that %(newcomer)s is not %(known)s", newcomer=newcomer, known=known)
        ) as act,
        act.work() as work,
    ):
        work.settle(question.key)
        work.commit()
    return act.number


def join_people(collection: Collection, keep: str, other: str, *, who: str = "archivist") -> int | None:
    """Joins two people who are one: all names, all that is said, all kin and prints go to the heading `keep`.

    Nothing is lost: undo parts them again. Gives the act's number.

    Raises
    ------
    NotFound
        When one of them is not known.
    Trouble
        When they are one already.
    """
    catalogue = collection.catalogue
    kept, gone = catalogue.person(keep), catalogue.person(other)
    if kept is None or gone is None:
        raise NotFound(
            Sentence("%(what)s is not known", what=other if gone is None else keep),
            "",
            Sentence("Look at the list of people again"),
        )
    if keep == other:
        raise Trouble(
            Sentence("Nobody was joined"), Sentence("they are one person already"), Sentence("Choose two people")
        )
    said = {one.name: _all_said(collection, one) for one in (kept, gone)}
    joined, all_said = _joined(kept, gone, [*said[keep], *said[other]])
    before = date_reader(catalogue)
    with catalogue.act(who, Sentence("joined %(other)s to %(keep)s", other=other, keep=keep)) as act:
        with act.work() as work:
            work.keep_person(joined, all_said)
            _move_kin(collection, work, keep, other)
            _restate(collection, work, keep, other)
            _follow(collection, work, keep, other)
            read_again(collection, work, before=before, now=before.knowing([joined], formerly=[kept, gone]))
            work.remove_person(other)
            work.commit()
        ask_about_contradictions(collection, act)  # one life is narrower than two
    return act.number


def _follow(collection: Collection, work: Work, keep: str, other: str) -> None:
    """Faces, first words and questions go with the one who stays."""
    for face in collection.catalogue.faces():
        if face.person == other:
            work.keep_face(evolve(face, person=keep))
    said = first_words_of(collection.catalogue)
    if said.teller == other:
        keep_first_words(work, evolve(said, teller=keep))
    for question in collection.catalogue.questions():
        if question.asks is Asks.SAME_PERSON and other in asked_about(question):
            work.settle(question.key)


def _all_said(collection: Collection, person: Person) -> list[Statement]:
    said = collection.catalogue.said_of_person(person.name, withdrawn=True)
    return [*by_hand(person, said), *said]


def _joined(kept: Person, gone: Person, said: list[Statement]) -> tuple[Person, list[Statement]]:
    """The one person with all that is said of both, and the heading that goes among the names."""
    said = [evolve(one, subject=kept.name) for one in said]
    if gone.name not in (kept.name, *kept.also_called):
        called = Told(Says.NAME, name_value(Name(gone.name, NameKind.OTHER)), gone.name)
        said.append(stated(called, kept.name, "archivist", utc_now()))
    keys = [*kept.known_as, *gone.known_as]
    keys += [list_key(one.name) for one in (kept, gone) if not one.known_as]
    return believed(kept.name, said, known_as=dict.fromkeys(keys)), said


def _move_kin(collection: Collection, work: Work, keep: str, other: str) -> None:
    old = [one for one in collection.catalogue.kin([other]) if other in (one.person, one.other)]
    work.withdraw_kin(*old)
    moved = (
        evolve(
            one,
            person=keep if one.person == other else one.person,
            other=keep if one.other == other else one.other,
        )
        for one in old
    )
    new = (one if one.how != "partner" else _ordered(one) for one in moved if one.person != one.other)
    work.keep_kin(*dict.fromkeys(new))


def _ordered(kin: Kin) -> Kin:
    return Kin.partners(kin.person, kin.other, source=kin.source, sure=kin.sure)


def _restate(collection: Collection, work: Work, keep: str, other: str) -> None:
    """What was said of prints about the one, said about the other; the words stay."""
    said = collection.catalogue.statements(withdrawn=True)
    taken = {one.id for one in said}
    for one in said:
        if one.withdrawn is not None or one.says not in (Says.PERSON, Says.AGE):
            continue
        name, age = (one.value, None) if one.says is Says.PERSON else read_age_value(one.value)
        if name == other:
            work.withdraw(one.id)
            new = evolve(one, value=keep if age is None else age_value(keep, age), entered=utc_now())
            work.state(evolve(new, id=statement_identity(new, taken=taken)))
