"""The next question as a relative hears it: one or a few plain sentences, at most 200 characters.

People date pictures by what they remember beside them: how old a child was, before or after the war, before or
after the move (common practice in families, no source). Such hooks are offered only from facts passed in.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from attrs import field, frozen

from solander.core.chronology.next_question import Asked
from solander.core.days import from_day
from solander.core.language import Told, marked
from solander.core.sentence import Counted, Joined, Listed, Number, Sentence

__all__ = ["LONGEST", "Facts", "Hook", "Sitter", "gain_words", "hook_of", "prints_words", "question_words"]

LONGEST = 200
"""Characters of a question: two lines on a printed sheet (our choice)."""

_LONG, _MIDDLING, _SHORT = 48, 40, 24
"""Characters that a name may have in its place, so that the longest question still fits."""

_GROWN_UP, _OLDEST = 16, 30
"""Who may have been younger than the first is asked about by age, for a child's face tells the year within a
few; two ages are offered unless one is above the second (our choice, no source)."""

Years = tuple[int | None, int | None]


def _one_line(text: str) -> str:
    return text if isinstance(text, Told) else " ".join(text.split())


def _tidy(text: str) -> str:
    return text if isinstance(text, Told) else _one_line(text).strip("“”\"' ")


@frozen
class Sitter:
    """Somebody who is shown; `born` are the first and the last day on which they may have been born, None where
    that is unknown or their age in the picture is told already."""

    name: str = field(converter=_tidy)
    born: tuple[int, int] | None = None


@frozen
class Hook:
    """Something that people remember by: `words` as it stands after "before or after" ("the war", "the move to
    Lindenhof"), and the years in which it was. `near` to what is asked about: of the same people, of the same
    place, or in the same box."""

    words: str = field(converter=_one_line)
    first_year: int
    last_year: int
    near: bool = False


def _named(people: Iterable[Sitter]) -> tuple[Sitter, ...]:
    return tuple(person for person in people if person.name)


@frozen
class Facts:
    """What is known of the thing that is asked about; empty where unknown.

    `occasion` alone (without `accession`) is an occasion as a whole. `where` says where the prints lie, "box B2,
    prints 14 to 31"; `follows` names what comes before it in the album; `people` are those shown; `hooks` what
    the family remembers; `probably` marks years that rest on a guess or a rule of thumb.
    """

    accession: str = field(default="", converter=_tidy)
    occasion: str = field(default="", converter=_tidy)
    caption: str = field(default="", converter=_tidy)
    place: str = field(default="", converter=_tidy)
    where: str = field(default="", converter=_tidy)
    follows: str = field(default="", converter=_tidy)
    people: tuple[Sitter, ...] = field(default=(), converter=_named)
    hooks: tuple[Hook, ...] = ()
    probably: bool = False

    @property
    def is_occasion(self) -> bool:
        """Whether it is asked about an occasion as a whole."""
        return bool(self.occasion) and not self.accession


def question_words(asked: Asked, facts: Facts) -> str:
    """The question, then as much as there is room for: the years it may be, a hook to remember by, and what
    knowing it would do for other pictures."""
    # In order of worth; told in the order of a conversation.
    more = {2: _years_words(asked.years, facts), 1: _hook_words(asked, facts), 3: _others_words(asked.others)}
    parts: dict[int, str] = {0: _question(facts, asked.years)}
    for place in (1, 2, 3):
        wished = {**parts, place: more[place]}
        if more[place] and len(" ".join(wished.values())) <= LONGEST:
            parts = wished
    return Joined((parts[place] for place in sorted(parts, key=(0, 2, 1, 3).index)), " ")


def gain_words(asked: Asked, facts: Facts) -> str:
    """What knowing it would bring: "would date this picture and help with 17 more: 63 years less doubt in all"."""
    own = asked.prints - asked.others
    if not facts.is_occasion:
        dates: str = Sentence("would date this picture")
    elif own > 1:
        dates = Sentence("would date its %(prints)s prints", prints=Number(own))
    else:
        dates = Sentence("would date its print")
    message = _GAIN[bool(asked.others), asked.prints > 1]
    return Sentence(message, dates=dates, others=Number(asked.others), doubt=_doubt(asked.gain_years))


_GAIN = {
    (False, False): marked("%(dates)s: %(doubt)s less doubt"),
    (False, True): marked("%(dates)s: %(doubt)s less doubt in all"),
    (True, False): marked("%(dates)s and help with %(others)s more: %(doubt)s less doubt"),
    (True, True): marked("%(dates)s and help with %(others)s more: %(doubt)s less doubt in all"),
}
"""By whether it helps others, and whether it is of several."""


def _doubt(years: float) -> str:
    if years >= 1.5:
        return Counted("%(num)s year", "%(num)s years", round(years))
    return Counted("%(num)s month", "%(num)s months", round(years * 12))


def prints_words(numbers: Sequence[int]) -> str:
    """Numbers of prints as people say them: "print 4", "prints 14 to 31", "18 prints between 3 and 91"."""
    found = sorted(set(numbers))
    if not found:
        return ""
    if len(found) == 1:
        return Sentence("print %(number)s", number=found[0])
    if len(found) == found[-1] - found[0] + 1 > 2:
        return Sentence("prints %(first)s to %(last)s", first=found[0], last=found[-1])
    if len(found) <= 3:
        return Sentence("prints %(numbers)s", numbers=Listed(map(str, found)))
    return Sentence(
        "%(count)s prints between %(first)s and %(last)s", count=len(found), first=found[0], last=found[-1]
    )


# -- what is asked about -------------------------------------------------------------------------------------


def _question(facts: Facts, years: Years) -> Sentence:
    if facts.is_occasion:
        return Sentence(
            "Who remembers in which year “%(occasion)s”%(where)s was?",
            occasion=_cut(facts.occasion, _LONG),
            where=_bracketed(facts.where, _LONG),
        )
    shows_place = facts.people and facts.place and not (facts.caption or facts.occasion)
    marks = [_cut(facts.place, _SHORT), facts.accession] if shows_place else [facts.accession]
    return Sentence(
        "Who remembers in which year %(picture)s%(marks)s was taken?",
        picture=_picture(facts, years),
        marks=_bracketed(", ".join(mark for mark in marks if mark), _MIDDLING),
    )


def _picture(facts: Facts, years: Years) -> str:
    """What is to be seen, else where it lies."""
    if facts.caption:
        return f"“{_cut(facts.caption, _LONG)}”"
    people = Listed(_cut(person.name, _SHORT) for person in facts.people[:2])
    if facts.occasion:
        message = _AT_AN_OCCASION[bool(people)]
        return Sentence(message, people=people, occasion=_cut(facts.occasion, _MIDDLING))
    if people:
        return Sentence("the picture of %(people)s", people=people)
    if facts.place:
        return Sentence("the picture from %(place)s", place=_cut(facts.place, _SHORT))
    return _where_it_lies(facts, years)


_AT_AN_OCCASION = (
    marked("the picture at “%(occasion)s”"),
    marked("the picture of %(people)s at “%(occasion)s”"),
)
"""By whether people are shown."""


def _where_it_lies(facts: Facts, years: Years) -> str:
    undated = years == (None, None)
    if facts.follows:
        return Sentence(_FOLLOWS[undated], picture=_cut(facts.follows, _MIDDLING))
    if facts.where:
        return Sentence(_LIES_IN[undated], where=_cut(facts.where, _MIDDLING))
    return Sentence("the undated picture") if undated else Sentence("the picture")


_FOLLOWS = (
    marked("the picture that lies after “%(picture)s”"),
    marked("the undated picture that lies after “%(picture)s”"),
)
_LIES_IN = (marked("the picture in %(where)s"), marked("the undated picture in %(where)s"))
"""By whether nothing tells when."""


def _cut(text: str, most: int) -> str:
    """The text, cut at a word when it is longer than `most` characters."""
    if len(text) <= most:
        return text
    cut = text[: most - 1]
    return (cut.rpartition(" ")[0] or cut).rstrip(",;:.–- ") + "…"


def _bracketed(text: str, most: int) -> str:
    return Joined((" (", _cut(text, most), ")"), "") if text else ""


# -- what is known, and what may help ------------------------------------------------------------------------


def _years_words(years: Years, facts: Facts) -> str:
    first, last = years
    if first is None and last is None:
        return Sentence("So far nothing tells when.")
    if first is None:
        message = _AT_THE_LATEST
    elif last is None:
        message = _AT_THE_EARLIEST
    elif last - first > 1:
        message = _BETWEEN
    else:
        message = _ONE_OF_TWO if last > first else _ONE
    return Sentence(message[facts.probably], first=first, last=last)


_AT_THE_LATEST = (marked("It was %(last)s at the latest."), marked("It was probably %(last)s at the latest."))
_AT_THE_EARLIEST = (
    marked("It was %(first)s at the earliest."),
    marked("It was probably %(first)s at the earliest."),
)
_BETWEEN = (
    marked("It may be any year from %(first)s to %(last)s."),
    marked("It was probably between %(first)s and %(last)s."),
)
_ONE_OF_TWO = (marked("It was %(first)s or %(last)s."), marked("It was probably %(first)s or %(last)s."))
_ONE = (marked("It was %(first)s."), marked("It was probably %(first)s."))
"""By whether it rests on a guess or a rule of thumb."""


def _hook_words(asked: Asked, facts: Facts) -> str:
    hook = hook_of(asked, facts)
    if hook is None:
        return _age_words(asked, facts.people)
    return Sentence("Was it before or after %(event)s?", event=_cut(hook.words, _MIDDLING))


def hook_of(asked: Asked, facts: Facts) -> Hook | None:
    """The event that is asked about beside the year, where no child's age is: of those that decide something,
    one that is near, and the nearest to the middle of the years."""
    first, last = asked.years
    inside = [
        hook
        for hook in facts.hooks
        if hook.words and (first is None or first < hook.first_year) and (last is None or last > hook.last_year)
    ]
    if not inside or _age_words(asked, facts.people):
        return None
    middle = None if first is None or last is None else (first + last) / 2
    return min(inside, key=lambda hook: (not hook.near, 0 if middle is None else abs(hook.first_year - middle)))


def _age_words(asked: Asked, people: Iterable[Sitter]) -> str:
    """Asks for the age of the youngest child who may be in it."""
    first, last = asked.days
    born = [(each.born, each.name) for each in people if each.born and (last is None or each.born[0] <= last)]
    if not born:
        return ""
    (born_from, born_to), name = max(born)
    youngest = 0 if first is None else max(_age(born_to, first), 0)
    oldest = None if last is None else _age(born_from, last)
    if youngest > _GROWN_UP or youngest == oldest:
        return ""
    if first is None or oldest is None or oldest > _OLDEST or oldest - youngest < 3:
        return Sentence("How old was %(name)s then?", name=_cut(name, _SHORT))
    if not youngest:
        return Sentence("Was %(name)s a baby then, or nearer %(age)s?", name=_cut(name, _SHORT), age=oldest)
    return Sentence(
        "Was %(name)s nearer %(age)s or %(other)s then?", name=_cut(name, _SHORT), age=youngest, other=oldest
    )


def _age(born: int, then: int) -> int:
    """Whole years of age on a day."""
    (year, *birthday), (year_then, *date) = from_day(born), from_day(then)
    return year_then - year - (date < birthday)


def _others_words(others: int) -> str:
    return Sentence("An answer helps to date %(others)s more.", others=Number(others)) if others else ""
