"""Who is meant by people who were typed together: parted, each understood by themselves, with their age then."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from attrs import frozen

from solander.authorities.naming import Candidate, Mention
from solander.core.ages import NamedWithAge, age_value
from solander.core.dates import Bounds, age_words, parse_edtf
from solander.core.language import _, told
from solander.core.people import Person
from solander.core.questions import Asks
from solander.core.statements import Says, Sure
from solander.tasks.claims import Claim, how_sure, no_age_sentence
from solander.tasks.known_people import KnownPeople, candidate_words
from solander.tasks.stand_ins import who_stands_in
from solander.tasks.typed import Choice, Line, Meant, Option, Typed
from solander.tasks.understood import Understanding
from solander.tasks.who_is_it import CHOICES, who_sentence

__all__ = ["SOMEBODY_NEW", "people_meant"]

SOMEBODY_NEW = "new"
"""The answer to “who is it” that it is nobody who is known: the name is taken as it was typed."""

_NOBODY_IN_PARTICULAR = frozenset(
    (
        *("a", "an", "the", "some", "another", "two", "three", "four", "five", "several", "unknown"),
        *("der", "die", "das", "ein", "eine", "einer", "zwei", "drei", "unbekannt"),
        *("un", "une", "des", "deux", "trois", "inconnu"),
    )
)
"""Words with which somebody is told of and not named: “a neighbour”, “the twins” (from memory)."""


_BY_NAME = ("is named so", "is called")
"""How reasons begin where the very name is theirs: that needs no telling."""


@frozen
class _Who:
    """One of those who were typed: whom the name was taken for, and how that shows."""

    headings: tuple[str, ...]
    why: str = ""
    choice: Choice | None = None
    is_new: bool = False
    ask: str = ""


def people_meant(understanding: Understanding, typed: Typed) -> Meant:
    """Everybody who is named in the words, in their order."""
    reader = _People(understanding, typed)
    found = [each for each in reader.everybody() if each is not None]
    if not found:
        return Meant(typed, trouble=_("Nobody is named in this"))
    claims = [claim for mention, who in found for claim in _claims(typed, mention, who)]
    return Meant(
        typed,
        tuple(claims),
        tuple(line for mention, who in found for line in reader.lines(mention, who)),
        tuple(who.choice for _, who in found if who.choice),
        tuple((Asks.WHO, who.ask) for _, who in found if who.ask) + tuple(_not_ages(typed, found)),
        people=tuple(who.headings[0] for _, who in found if who.is_new),
    )


class _People:
    """Reads people by what is known of them in one collection."""

    def __init__(self, understanding: Understanding, typed: Typed) -> None:
        self._known: KnownPeople = understanding.people
        self._catalogue, self._typed = understanding.collection.catalogue, typed

    def everybody(self) -> Iterator[tuple[Mention, _Who] | None]:
        """Each who is named, with whom the name was taken for."""
        for place, mention in enumerate(self._mentions()):
            yield (mention, self._who(place, mention)) if how_sure(mention.told.name)[0] else None

    def _mentions(self) -> Sequence[Mention]:
        """What is known as one name is one person, whatever stands in it."""
        said = self._typed.words
        if how_sure(said)[0] in self._known.by_heading:
            return (Mention(said, NamedWithAge(said)),)
        return self._known.read(said, by=self._typed.by, on=self._typed.on)

    def _who(self, place: int, mention: Mention) -> _Who:
        name, chosen = mention.name, self._typed.chosen.get(f"means-{place}", "")
        if name in self._known.by_heading:
            return _Who((name,))
        if stand_in := who_stands_in(self._catalogue, name):
            return _Who((stand_in,))
        choice = _choice(place, mention, chosen)
        if chosen in self._known.by_heading:
            return _Who((chosen,), choice=choice)
        best = mention.understood
        if best and chosen != SOMEBODY_NEW:
            return _Who(tuple(one.name for one in best.everybody), _why(best), choice)
        if name.split()[0].casefold() in _NOBODY_IN_PARTICULAR:
            return _Who((name,), _("kept as you say it: nobody in particular"), choice)
        if mention.candidates and chosen != SOMEBODY_NEW:
            # Nobody is made while it is asked whether it is one of those who are known.
            return _Who(
                (name,), _("which of them is asked, unless you choose"), choice, ask=self._question(mention)
            )
        return _Who((name,), _("new: will be entered under this name"), choice, is_new=True)

    def _question(self, mention: Mention) -> str:
        return who_sentence(mention, self._typed.accession)

    def lines(self, mention: Mention, who: _Who) -> Iterator[Line]:
        """A line for each person: the name with the age then, how sure, and why it is them."""
        sure = self._typed.surely(how_sure(mention.told.name)[1])
        for heading in who.headings:
            person = self._known.by_heading.get(heading, Person(heading))
            age = _age(person, self._typed.on)
            said = f"“{mention.name}”" if heading != mention.name else ""
            yield Line(f"{heading} ({age})" if age else heading, ", ".join(filter(None, (said, who.why))), sure)


def _why(best: Candidate) -> str:
    """Why it is them; that a name is theirs needs no telling, and the age stands beside it."""
    reasons = (one for one in best.reasons if not one.startswith(_BY_NAME))
    return ", ".join(told(one) for one in reasons if not one.endswith(" then"))


def _choice(place: int, mention: Mention, chosen: str) -> Choice | None:
    """Who else may be meant; None where nobody comes near, or the name is clearly somebody's."""
    if not mention.candidates:
        return None
    options = [
        Option(one.person.name, candidate_words(one)) for one in mention.candidates[:CHOICES] if not one.others
    ]
    best = mention.understood
    if best and best.reasons and best.reasons[0].startswith(_BY_NAME):
        return None  # the very name is theirs alone
    taken = chosen or (best.person.name if best else "")
    return Choice(
        f"means-{place}",
        mention.name,
        (*options, Option(SOMEBODY_NEW, _("somebody else: %(name)s", name=mention.name))),
        taken,
    )


def _age(person: Person, on: Bounds | None) -> str:
    return age_words(parse_edtf(person.born), on) if person.born and on else ""


def _claims(typed: Typed, mention: Mention, who: _Who) -> Iterator[Claim]:
    sure = typed.surely(how_sure(mention.told.name)[1])
    for heading in who.headings:
        yield Claim(Says.PERSON, heading, mention.said, sure)
        if mention.told.age is not None:
            age_sure = Sure.GUESS if sure is Sure.GUESS else mention.told.sure
            yield Claim(Says.AGE, age_value(heading, mention.told.age), mention.said, age_sure)


def _not_ages(typed: Typed, found: Sequence[tuple[Mention, _Who]]) -> Iterator[tuple[Asks, str]]:
    for mention, _who in found:
        if mention.told.not_understood:
            yield Asks.WORDS, no_age_sentence(mention.said, typed.accession, mention.told.not_understood)
