"""Who is meant by the names on slips: understood where it is clear, else asked, always kept as written."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property

from attrs import frozen

from solander.authorities.naming import Mention, life_then
from solander.catalogue.work import Work
from solander.core.ages import NamedWithAge, age_value, read_name_and_age
from solander.core.dates import parse_edtf
from solander.core.people import Person
from solander.core.questions import Asks
from solander.core.sentence import Sentence
from solander.core.statements import Says, Statement, Sure
from solander.tasks.ask import ask
from solander.tasks.claims import Claim, how_sure
from solander.tasks.collection import Collection
from solander.tasks.known_people import KnownPeople, known_people
from solander.tasks.put_in_order import people_by_name
from solander.tasks.stand_ins import who_stands_in
from solander.tasks.who_is_it import speaker, who_sentence

__all__ = ["NamesOnSlips", "Told"]


@frozen
class Told:
    """Where a name stands: the print or occasion, who says it (empty: nobody in particular), the source of the
    statement, and the date as EDTF, empty where there is none."""

    subject: str
    by: str
    source: str
    on: str = ""


class NamesOnSlips:
    """Reads the cells of people; `entered` are the statements of the collection by id, `asked` takes the keys of
    the questions that came up."""

    def __init__(self, collection: Collection, entered: Mapping[str, Statement], asked: set[str]) -> None:
        self._collection, self._entered, self._asked = collection, entered, asked
        self._unknown: dict[tuple[str, str], str] = {}
        called = people_by_name(collection.catalogue.people())
        self._headings_of = {name: person.name for name, person in called.items()}

    @cached_property
    def _known(self) -> KnownPeople:
        return known_people(self._collection.catalogue)

    def claims(self, work: Work, cell: str, told: Told) -> Iterator[Claim]:
        """What a cell says of who is shown and how old."""
        for mention in self._mentions(cell, told):
            yield from self._person(work, mention, told)

    def _mentions(self, cell: str, told: Told) -> Sequence[Mention]:
        """Who is named in a cell. What is known as a name is one person, without an age; where nobody is known but
        by such cells, a cell is one person as well."""
        if how_sure(cell)[0] in self._headings_of:
            return (Mention(cell, NamedWithAge(cell)),)
        if not self._known.has_a_list:
            return (Mention(cell, read_name_and_age(cell)),)
        on = parse_edtf(told.on).bounds() if told.on else None
        return self._known.read(cell, by=told.by, on=on)

    def _person(self, work: Work, mention: Mention, told: Told) -> Iterator[Claim]:
        name, sure = how_sure(mention.told.name)
        if not name:
            return  # a lone question mark names nobody
        age = mention.told.age
        for heading in self._headings(work, mention, told):
            yield Claim(Says.PERSON, heading, mention.said, sure)
            if age is not None:
                age_sure = Sure.GUESS if sure is Sure.GUESS else mention.told.sure
                yield Claim(Says.AGE, age_value(heading, age), mention.said, age_sure)
        if mention.told.not_understood:
            no_age = mention.told.not_understood
            sentence = Sentence(
                "“%(said)s” on the slip of %(subject)s: is “%(no_age)s” an age?",
                said=mention.said,
                subject=told.subject,
                no_age=no_age,
            )
            self._asked.add(ask(work, Asks.WORDS, told.subject, sentence))

    def _headings(self, work: Work, mention: Mention, told: Told) -> Sequence[str]:
        """The headings of who is meant. Where that is not clear it is the name as it was said, and a question.

        What was understood or answered once holds as long as the words stay, and where the same teller says the
        same on another print of their time.
        """
        if heading := self._headings_of.get(mention.name):
            return [heading]
        if stand_in := who_stands_in(self._collection.catalogue, mention.name):
            return [stand_in]
        if before := self._before(mention.said, told):
            return before
        if elsewhere := self._elsewhere(mention, told):
            return [elsewhere]
        if best := mention.understood:
            return [one.name for one in best.everybody]
        if self._known.has_a_list:
            self._ask_who(work, mention, told)
        else:
            work.keep_person(Person(mention.name))
            self._headings_of[mention.name] = mention.name
        return [mention.name]

    def _ask_who(self, work: Work, mention: Mention, told: Told) -> None:
        """Asks who is meant; about a name that nobody is known by once for each teller, on the first print."""
        key = (told.by.casefold(), mention.name.casefold())
        first = self._unknown.setdefault(key, told.subject)
        if mention.candidates or first == told.subject:
            self._asked.add(ask(work, Asks.WHO, told.subject, who_sentence(mention, told.subject)))

    def _elsewhere(self, mention: Mention, told: Told) -> str:
        """The one whom this teller meant by the same name on other prints, when they can be in this one."""
        meant = self._meant.get((told.by.casefold(), mention.name.casefold()), {})
        heading = next(iter(meant)) if len(meant) == 1 else ""
        person = self._known.by_heading.get(heading)
        on = parse_edtf(told.on).bounds() if told.on else None
        return heading if person and not life_then(person, on).impossible else ""

    @cached_property
    def _meant(self) -> Mapping[tuple[str, str], Mapping[str, None]]:
        """Whom each teller meant by a name that is none of theirs in the list of people."""
        found: defaultdict[tuple[str, str], dict[str, None]] = defaultdict(dict)
        for one in self._entered.values():
            if one.says is Says.PERSON and not one.withdrawn and one.value in self._known.by_heading:
                name = how_sure(read_name_and_age(one.words).name)[0]
                if name != one.value:
                    found[speaker(one.source).casefold(), name.casefold()][one.value] = None
        return found

    def _before(self, said: str, told: Told) -> list[str]:
        """Whom these words of the same source on the same print were taken for before."""
        return [
            one.value
            for one in self._entered.values()
            if (one.subject, one.says, one.words, one.source) == (told.subject, Says.PERSON, said, told.source)
            and not one.withdrawn
            and one.value in self._known.by_heading
        ]
