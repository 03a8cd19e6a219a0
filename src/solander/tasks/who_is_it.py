"""Who somebody is that was named in words: asked where it is not clear, answered by a person with one key."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from attrs import Factory, define, evolve, field, frozen

from solander.authorities.naming import Candidate, Mention, life_then, understood
from solander.catalogue.history import utc_now
from solander.catalogue.work import Work
from solander.core.ages import NamedWithAge, age_value, read_age_value
from solander.core.dates import Bounds, parse_edtf
from solander.core.errors import InvalidValue, NotFound
from solander.core.people import Person
from solander.core.questions import Asks, Question
from solander.core.sentence import Either, Listed, Sentence
from solander.core.statements import Says, Statement
from solander.tasks.ask import ask, question_key
from solander.tasks.claims import AT_THE_DESK
from solander.tasks.collection import Collection
from solander.tasks.identity import statement_identity
from solander.tasks.known_people import KnownPeople, candidate_words, known_people
from solander.tasks.put_in_order import ask_about_contradictions, people_by_name
from solander.tasks.same_person import asked_about
from solander.tasks.sitting import Sitting

__all__ = [
    "WhoAsked",
    "WhoDesk",
    "WhoDone",
    "ask_about_names",
    "ask_who_is_who",
    "mean_person",
    "speaker",
    "who_sentence",
]

CHOICES = 4
"""So many candidates are offered; each has a key of its own."""

AT_ONCE = 60
"""So many questions have their choices on one page: looking up more would keep it waiting (our choice)."""


@frozen
class WhoDone:
    """What a person answered: the act's number for undo, the print of the question, and how many prints follow."""

    act: int | None
    accession: str
    prints: int


@frozen
class WhoAsked:
    """A question about a name: as it was `said`, and who may be meant, the likeliest first."""

    question: Question
    said: str
    candidates: tuple[Candidate, ...]


def who_sentence(mention: Mention, subject: str) -> str:
    """What to ask about a name that is not clear."""
    choices = [candidate_words(each) for each in mention.candidates[:CHOICES]]
    if not choices:
        return Sentence(
            "“%(name)s” on the slip of %(print)s: nobody is known by that name. Who is it?",
            name=mention.name,
            print=subject,
        )
    return Sentence(
        "“%(name)s” on the slip of %(print)s: is it %(people)s?",
        name=mention.name,
        print=subject,
        people=Either(choices),
    )


@define
class WhoDesk:
    """The questions about names of one collection; the people are read anew only after something was written."""

    collection: Collection
    sitting: Sitting = field(default=Factory(lambda desk: Sitting(desk.collection), takes_self=True))
    _known: KnownPeople | None = field(default=None, init=False)
    _as_of: int = field(default=-1, init=False)

    def asked(self, dates: dict[str, Bounds] | None = None) -> dict[str, WhoAsked]:
        """What waits, the first `AT_ONCE`, by the key of the question; `dates` are those of the prints by
        accession number."""
        questions = [one for one in self.collection.catalogue.questions() if one.asks is Asks.WHO][:AT_ONCE]
        return {one.key: self.asked_about(one, (dates or {}).get(one.subject)) for one in questions}

    def asked_about(self, question: Question, on: Bounds | None = None) -> WhoAsked:
        """Who may be meant by the name that a question asks about; `on` is the date of its print."""
        said = _name_in(question)
        by = next((speaker(one.source) for one in _unclear(self.collection, question)), "")
        return WhoAsked(question, said, self.known.find(said, by=by, on=on)[:CHOICES])

    @property
    def known(self) -> KnownPeople:
        """The people who are known now."""
        now = self.collection.catalogue.last_change()
        if self._known is None or now != self._as_of:
            self._known, self._as_of = known_people(self.collection.catalogue), now
        return self._known

    def answer(self, key: str, headings: Sequence[str]) -> WhoDone:
        """Says who is meant; with no headings, somebody who is not known yet. One heading may be typed as people
        say it.

        Raises
        ------
        InvalidValue
            When what was typed does not tell who it is.
        """
        if len(headings) == 1 and headings[0] not in self.known.by_heading:
            found = understood(self.known.find(headings[0]))
            if found is None:
                raise InvalidValue(
                    Sentence("“%(headings)s” was not taken", headings=headings[0]),
                    Sentence("it is not clear who that is"),
                    Sentence("Type the name under which the person is listed"),
                )
            headings = [one.name for one in found.everybody]
        return self.sitting.kept(mean_person(self.collection, key, headings))


def mean_person(collection: Collection, key: str, headings: Sequence[str], *, who: str = "archivist") -> WhoDone:
    """Answers who is meant by the name that a question asks about; with no headings, somebody new of that name.

    The words stay as they were written. The same name by the same teller on other prints is answered with it,
    where those who are meant can be in them, and asked about where not. All of it is one act.

    Raises
    ------
    NotFound
        When nothing of that key waits, or nobody has one of the headings.
    InvalidValue
        When it is no question about a name.
    """
    question = _waiting(collection, key)
    known = {name: collection.catalogue.person(name) for name in headings}
    missing = [name for name, person in known.items() if person is None]
    if missing:
        raise NotFound(
            Sentence("Nobody is called “%(missing)s”", missing=missing[0]),
            "",
            Sentence("Choose one who was offered, or say it is another"),
        )
    said = _name_in(question)
    meant = list(headings) or [said]
    subjects, others = _subjects(collection, question, [person for person in known.values() if person])
    what = (
        Sentence("“%(said)s” is %(people)s", said=said, people=Listed(headings))
        if headings
        else Sentence("“%(said)s” is somebody not known before", said=said)
    )
    with collection.catalogue.act(who, what) as act:
        with act.work() as work:
            if not headings and collection.catalogue.person(said) is None:
                work.keep_person(Person(said))
            for subject in subjects:
                _restate(collection, work, subject, said, meant)
            for subject in others:
                ask(work, Asks.WHO, subject, who_sentence(Mention(said, NamedWithAge(said)), subject))
            for other in collection.catalogue.questions():
                if other.asks is Asks.WHO and other.subject in subjects and _name_in(other) == said:
                    work.settle(other.key)
            work.commit()
        ask_about_contradictions(collection, act)
    return WhoDone(act.number, question.subject, len(subjects))


def ask_who_is_who(collection: Collection, *, who: str = "archivist") -> int:
    """Asks about names on prints by what is known of people now, as an act of its own; gives how many."""
    with collection.catalogue.act(who, Sentence("asked who is who")) as act, act.work() as work:
        count = ask_about_names(collection, work)
        work.commit()
    return count


def ask_about_names(collection: Collection, work: Work) -> int:
    """Asks about every name on prints that stands for nobody in the trees and lists, where somebody there may be
    meant; gives how many. What was answered is not asked again, unless others come into question since."""
    statements = [one for one in collection.catalogue.statements() if one.says is Says.PERSON]
    if not statements:
        return 0
    listed = known_people(collection.catalogue).listed()
    told = {*people_by_name(listed.by_heading.values()), *_asked_to_be_one(collection)}
    answered = {one.key for one in collection.catalogue.questions(settled=True) if one.settled}
    asked: set[str] = set()
    for said in statements if listed.has_a_list else ():
        if said.value in told:
            continue
        mention = Mention(said.value, NamedWithAge(said.value), listed.find(said.value, by=speaker(said.source)))
        sentence = who_sentence(mention, said.subject)
        if mention.candidates and question_key(Asks.WHO, said.subject, sentence) not in answered:
            asked.add(ask(work, Asks.WHO, said.subject, sentence))
    return len(asked)


def _asked_to_be_one(collection: Collection) -> set[str]:
    """The headings of whom it is asked already whether they are somebody else of the people."""
    waiting = collection.catalogue.questions()
    return {name for one in waiting if one.asks is Asks.SAME_PERSON for name in asked_about(one)}


def _waiting(collection: Collection, key: str) -> Question:
    found = next((one for one in collection.catalogue.questions() if one.key == key), None)
    if found is None:
        raise NotFound(
            Sentence("This question waits no more"),
            Sentence("it was answered, or what it asked about has changed"),
        )
    if found.asks is not Asks.WHO:
        raise InvalidValue(
            Sentence("Nothing was answered"),
            Sentence("it is no question about a name"),
            Sentence("Look at it again"),
        )
    return found


def _name_in(question: Question) -> str:
    """The name that a question asks about: the words in its first quotation marks."""
    return question.sentence.partition("“")[2].partition("” on the slip of ")[0]


def speaker(source: str) -> str:
    """Who says it: "Aunt Vera" of "Aunt Vera, slip file box.csv" and of "Aunt Vera"; empty where only a file or
    whoever sits at the workbench does."""
    speaker, _, _ = source.partition(", slip file ")
    return "" if speaker.startswith("slip file ") or speaker.split(",")[0] == AT_THE_DESK else speaker


def _unclear(collection: Collection, question: Question) -> list[Statement]:
    """The statements that the question is about."""
    said = _name_in(question)
    statements = collection.catalogue.statements(subject=question.subject)
    return [one for one in statements if one.says is Says.PERSON and one.value == said]


def _subjects(collection: Collection, question: Question, meant: Sequence[Person]) -> tuple[list[str], list[str]]:
    """The print of the question with all others of which the same teller says the same name and in which those who
    are meant can be; and those of which this is said and in which they can't, unless it is asked there already."""
    said, speakers = _name_in(question), {speaker(one.source) for one in _unclear(collection, question)}
    dates: dict[str, str] = {}
    found, others = {question.subject: None}, dict[str, None]()
    statements = collection.catalogue.statements()
    for one in statements:
        if one.says is Says.EXPOSURE:
            dates.setdefault(one.subject, one.value)
    for one in statements:
        if one.says is Says.PERSON and one.value == said and speaker(one.source) in speakers:
            on = parse_edtf(dates[one.subject]).bounds() if one.subject in dates else None
            impossible = any(life_then(person, on).impossible for person in meant)
            (others if impossible else found)[one.subject] = None
    asked = {one.subject for one in collection.catalogue.questions() if _name_in(one) == said}
    return list(found), [subject for subject in others if subject not in found and subject not in asked]


def _restate(collection: Collection, work: Work, subject: str, said: str, meant: Sequence[str]) -> None:
    """Says of the people meant what was said of the name; one who stays under that name is not said again."""
    known = {one.id for one in collection.catalogue.statements(subject=subject, withdrawn=True)}
    for old in collection.catalogue.statements(subject=subject):
        restated = [one for one in _for_each(old, said, meant) if one.value != old.value]
        if restated:
            work.withdraw(old.id)
        for one in restated:
            work.state(evolve(one, id=statement_identity(one, taken=known), entered=utc_now()))


def _for_each(old: Statement, said: str, meant: Iterable[str]) -> Iterator[Statement]:
    """The statement of each person in the place of the name."""
    if old.says is Says.PERSON and old.value == said:
        yield from (evolve(old, value=name) for name in meant)
    elif old.says is Says.AGE:
        name, age = read_age_value(old.value)
        if name == said:
            yield from (evolve(old, value=age_value(each, age)) for each in meant)
