"""What is told of known people and occasions, as days.

An age counts from the birthday: "when Nan was six" lasts from six years after the first day on which she may
be born to the eve of the seventh birthday after the last. Common practice, no source: "about" widens an age by
one (year, month …) at both ends. Words for ages mean, in years: baby 0–1, toddler 1–3, little 1–9, child 0–12,
at school 5–17, and are approximate; a teenager is 13–19 and "her twenties" are 20–29, exactly.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import date

from attrs import evolve, frozen

from solander.core.birthdays import years_later
from solander.core.dates import parse_edtf
from solander.core.days import day, from_day, month_length
from solander.core.errors import InvalidValue
from solander.core.people import Person
from solander.core.phrases.lexicon import Lexicon
from solander.core.phrases.names import Named, Names
from solander.core.phrases.parts import Parts, Stretch
from solander.core.phrases.sentences import Said, sentences_in
from solander.core.phrases.terms import Kind, Term
from solander.core.phrases.tokens import Token

__all__ = ["MEANINGS", "Known"]

_EXACT_AGES = ("13-19",)
_DATE_WORDS = (Kind.MONTH, Kind.SEASON, Kind.FEAST, Kind.FILLER, Kind.NUMBER, Kind.NUMBERS, Kind.SEPARATOR)


@frozen
class Known:
    """The people and occasions whose names may stand in one phrase."""

    people: Names[Person]
    occasions: Names[str]
    today: date

    @classmethod
    def of(
        cls, people: Mapping[str, Person], events: Mapping[str, str], *, tokens: list[Token], today: date
    ) -> Known:
        """Those that the words of the phrase may mean."""
        named = ((name, who) for called, who in people.items() for name in (called, who.name, *who.also_called))
        return cls(Names.in_phrase(named, tokens), Names.in_phrase(events.items(), tokens), today)

    def __bool__(self) -> bool:
        return bool(self.people.candidates or self.occasions.candidates)

    def terms(self, tokens: list[Token], lexicon: Lexicon) -> dict[int, Term]:
        """What is said of lives and occasions, by the place where it begins."""
        if not self:
            return {}
        lives = sentences_in(tokens, lexicon, self.people.places(tokens, lexicon.language))
        found = {place: term for place, said in lives if (term := self._life(place, said)) is not None}
        for place, names in self.occasions.places(tokens, lexicon.language).items():
            if place not in found and (term := _occasion(tokens, place, names, lexicon=lexicon)) is not None:
                found[place] = term
        return found

    def _life(self, place: int, said: Said) -> Term | None:
        parts = _chosen(_meant(said, self.today))
        return None if parts is None else Term(Kind.LIFE, parts, place, said.last)


def _occasion(tokens: list[Token], place: int, names: Iterable[Named[str]], *, lexicon: Lexicon) -> Term | None:
    usual = lexicon.term(tokens, place)
    for named in names:
        parts = _chosen(_dated(edtf) for edtf in named.bearers)
        if parts and named.last >= usual.last and _is_a_name(tokens[place : named.last], lexicon):
            return Term(Kind.NAMED, parts, place, named.last)
    return None


def _is_a_name(tokens: list[Token], lexicon: Lexicon) -> bool:
    """An occasion called "Christmas" or "Summer 1950" is not told apart from the feast or the season."""
    return any(term.kind not in _DATE_WORDS for term in lexicon.terms(tokens))


def _chosen(meant: Iterable[Parts | None]) -> Parts | None:
    """One meaning, or several to choose from where a name has several bearers."""
    found = tuple(dict.fromkeys(parts for parts in meant if parts is not None))
    return found[0] if len(found) == 1 else Parts(options=found) if found else None


def _dated(edtf: str) -> Parts | None:
    """An occasion; one that lasts (an interval) lasts for all of its days."""
    span = _span(edtf)
    if span is None:
        return None
    first, last = span
    stretch = Stretch(first, last, first, last) if "/" in edtf else _moment(first, last)
    return Parts(stretch=stretch, approximate="~" in edtf or "%" in edtf)


def _span(edtf: str) -> tuple[int, int] | None:
    """The first and last day of a value; None where it is empty, open, or none."""
    try:
        bounds = parse_edtf(edtf).bounds()
    except InvalidValue:
        return None
    return None if bounds.earliest is None or bounds.latest is None else (bounds.earliest, bounds.latest)


def _moment(first: int, last: int) -> Stretch:
    """One day out of many."""
    return Stretch(first, last, last, first)


# -- lives ---------------------------------------------------------------------------------------------------


def _meant(said: Said, today: date) -> Iterator[Parts | None]:
    for person in said.people:
        parts = MEANINGS.get(said.meaning, _stage)(said, person)
        yield parts if said.meaning in ("death", "death year") else _lived(parts, person, today)


def _lived(parts: Parts | None, person: Person, today: date) -> Parts | None:
    """Within the life: nobody grows older after death or today; nothing where no day is left."""
    if parts is None or parts.stretch is None:
        return None
    died = _span(person.died)
    end = min(today.toordinal(), died[1] if died else today.toordinal())
    stretch = parts.stretch
    if stretch.first > end:
        return None
    return evolve(parts, stretch=evolve(stretch, last=min(stretch.last, end), begun=min(stretch.begun, end)))


def _age(said: Said, person: Person) -> Parts | None:
    return _aged(person, said.least - said.about, said.most + said.about, unit=said.unit, about=said.about)


def _about_age(said: Said, person: Person) -> Parts | None:
    """Where the order of the words says about: "лет шесть"."""
    return _age(evolve(said, about=True), person)


def _aged(person: Person, least: int, most: int, *, unit: str, about: bool) -> Parts | None:
    born = _span(person.born)
    if born is None:
        return None
    later = _LATER[unit]
    start, begun = later(born[0], max(least, 0)), later(born[1], max(least, 0))
    ended, end = later(born[0], most + 1) - 1, later(born[1], most + 1) - 1
    return Parts(stretch=Stretch(start, end, begun, ended), approximate=about)


def _months_later(ordinal: int, months: int) -> int:
    year, month, day_of_month = from_day(ordinal)
    over, month = divmod(month - 1 + months, 12)
    return day(year + over, month + 1, min(day_of_month, month_length(year + over, month + 1)))


_LATER: dict[str, Callable[[int, int], int]] = {
    "year": years_later,
    "month": _months_later,
    "week": lambda ordinal, weeks: ordinal + 7 * weeks,
    "day": lambda ordinal, days: ordinal + days,
}


def _stage(said: Said, person: Person) -> Parts | None:
    """ "Little", "a teenager": the two ages are the meaning."""
    least, most = said.meaning.split("-")
    return _aged(person, int(least), int(most), unit="year", about=said.meaning not in _EXACT_AGES)


def _birthday(said: Said, person: Person) -> Parts | None:
    born = _span(person.born)
    if born is None:
        return None
    stretch = _moment(years_later(born[0], said.least), years_later(born[1], said.least))
    return Parts(stretch=stretch, approximate=said.about)


def _birthday_in(said: Said, person: Person) -> Parts | None:
    """ "Ingrid's birthday 1952"."""
    born = _span(person.born)
    if born is None or from_day(born[0])[0] != from_day(born[1])[0]:
        return None
    years = said.least - from_day(born[0])[0]
    return None if years < 0 else Parts(stretch=_moment(years_later(born[0], years), years_later(born[1], years)))


def _at(edtf: str) -> Parts | None:
    span = _span(edtf)
    return None if span is None else Parts(stretch=_moment(*span))


def _in_the_year_of(edtf: str) -> Parts | None:
    span = _span(edtf)
    if span is None:
        return None
    first, last = (from_day(ordinal)[0] for ordinal in span)
    start, end = day(first, 1, 1), day(last, 12, 31)
    return Parts(stretch=Stretch(start, end, day(last, 1, 1), day(first, 12, 31)))


def _birthday_year(said: Said, person: Person) -> Parts | None:
    """ "The year Nan turned ten"."""
    birthday = _birthday(said, person)
    if birthday is None or birthday.stretch is None:
        return None
    first, last = (from_day(ordinal)[0] for ordinal in (birthday.stretch.first, birthday.stretch.last))
    return Parts(stretch=Stretch(day(first, 1, 1), day(last, 12, 31), day(last, 1, 1), day(first, 12, 31)))


MEANINGS: dict[str, Callable[[Said, Person], Parts | None]] = {
    "age": _age,
    "about age": _about_age,
    "tens": _age,
    "birthday": _birthday,
    "birthday year": _birthday_year,
    "birthday in": _birthday_in,
    "birth": lambda said, person: _at(person.born),
    "birth year": lambda said, person: _in_the_year_of(person.born),
    "death": lambda said, person: _at(person.died),
    "death year": lambda said, person: _in_the_year_of(person.died),
}
"""What the sentences of a language's table may mean; any other key is two ages (`13-19`)."""
