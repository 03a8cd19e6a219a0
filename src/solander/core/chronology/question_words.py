"""The next question as a relative hears it: one or a few plain sentences, at most 200 characters.

People date pictures by what they remember beside them: how old a child was, before or after the war, before or
after the move (common practice in families, no source). Such hooks are offered only from facts passed in.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from attrs import field, frozen

from solander.core.chronology.next_question import Asked
from solander.core.days import from_day

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
    return " ".join(text.split())


def _tidy(text: str) -> str:
    return _one_line(text).strip("“”\"' ")


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
    question = f"Who remembers in which year {_subject(facts, asked.years)}?"
    # In order of worth; told in the order of a conversation.
    more = {2: _years_words(asked.years, facts), 1: _hook_words(asked, facts), 3: _others_words(asked.others)}
    parts = {0: question}
    for place in (1, 2, 3):
        wished = {**parts, place: more[place]}
        if more[place] and len(" ".join(wished.values())) <= LONGEST:
            parts = wished
    return " ".join(parts[place] for place in sorted(parts, key=(0, 2, 1, 3).index))


def gain_words(asked: Asked, facts: Facts) -> str:
    """What knowing it would bring: "would date this picture and help with 17 more: 63 years less doubt in all"."""
    own = asked.prints - asked.others
    dated = f"would date its {_counted(own, 'print') if own > 1 else 'print'}"
    dates = dated if facts.is_occasion else "would date this picture"
    helps = f" and help with {asked.others:,} more" if asked.others else ""
    return f"{dates}{helps}: {_doubt(asked.gain_years)} less doubt{' in all' if asked.prints > 1 else ''}"


def _doubt(years: float) -> str:
    return _counted(round(years), "year") if years >= 1.5 else _counted(round(years * 12), "month")


def prints_words(numbers: Sequence[int]) -> str:
    """Numbers of prints as people say them: "print 4", "prints 14 to 31", "18 prints between 3 and 91"."""
    found = sorted(set(numbers))
    if not found:
        return ""
    if len(found) == 1:
        return f"print {found[0]}"
    if len(found) == found[-1] - found[0] + 1 > 2:
        return f"prints {found[0]} to {found[-1]}"
    if len(found) <= 3:
        return f"prints {_listed(str(number) for number in found)}"
    return f"{len(found)} prints between {found[0]} and {found[-1]}"


# -- what is asked about -------------------------------------------------------------------------------------


def _subject(facts: Facts, years: Years) -> str:
    if facts.is_occasion:
        return f"“{_cut(facts.occasion, _LONG)}”{_bracketed(facts.where, _LONG)} was"
    shows_place = facts.people and facts.place and not (facts.caption or facts.occasion)
    marks = [_cut(facts.place, _SHORT), facts.accession] if shows_place else [facts.accession]
    return f"{_picture(facts, years)}{_bracketed(', '.join(mark for mark in marks if mark), _MIDDLING)} was taken"


def _picture(facts: Facts, years: Years) -> str:
    """What is to be seen, else where it lies."""
    if facts.caption:
        return f"“{_cut(facts.caption, _LONG)}”"
    shown = _listed(_cut(person.name, _SHORT) for person in facts.people[:2])
    of = f" of {shown}" if shown else ""
    if facts.occasion:
        return f"the picture{of} at “{_cut(facts.occasion, _MIDDLING)}”"
    if of:
        return f"the picture{of}"
    return f"the picture from {_cut(facts.place, _SHORT)}" if facts.place else _where_it_lies(facts, years)


def _where_it_lies(facts: Facts, years: Years) -> str:
    picture = "undated picture" if years == (None, None) else "picture"
    if facts.follows:
        return f"the {picture} that lies after “{_cut(facts.follows, _MIDDLING)}”"
    return f"the {picture} in {_cut(facts.where, _MIDDLING)}" if facts.where else f"the {picture}"


def _cut(text: str, most: int) -> str:
    """The text, cut at a word when it is longer than `most` characters."""
    if len(text) <= most:
        return text
    cut = text[: most - 1]
    return (cut.rpartition(" ")[0] or cut).rstrip(",;:.–- ") + "…"


def _bracketed(text: str, most: int) -> str:
    return f" ({_cut(text, most)})" if text else ""


# -- what is known, and what may help ------------------------------------------------------------------------


def _years_words(years: Years, facts: Facts) -> str:
    first, last = years
    was = "It was probably" if facts.probably else "It was"
    if first is None and last is None:
        return "So far nothing tells when."
    if first is None:
        return f"{was} {last} at the latest."
    if last is None:
        return f"{was} {first} at the earliest."
    if last - first <= 1:
        return f"{was} {first} or {last}." if last > first else f"{was} {first}."
    return (
        f"{was} between {first} and {last}." if facts.probably else f"It may be any year from {first} to {last}."
    )


def _hook_words(asked: Asked, facts: Facts) -> str:
    hook = hook_of(asked, facts)
    return f"Was it before or after {_cut(hook.words, _MIDDLING)}?" if hook else _age_words(asked, facts.people)


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
        return f"How old was {_cut(name, _SHORT)} then?"
    if not youngest:
        return f"Was {_cut(name, _SHORT)} a baby then, or nearer {oldest}?"
    return f"Was {_cut(name, _SHORT)} nearer {youngest} or {oldest} then?"


def _age(born: int, then: int) -> int:
    """Whole years of age on a day."""
    (year, *birthday), (year_then, *date) = from_day(born), from_day(then)
    return year_then - year - (date < birthday)


def _others_words(others: int) -> str:
    return f"An answer helps to date {others:,} more." if others else ""


def _counted(count: int, noun: str) -> str:
    return f"{count:,} {noun}{'' if count == 1 else 's'}"


def _listed(words: Iterable[str]) -> str:
    *some, last = [*words] or [""]
    return f"{', '.join(some)} and {last}" if some else last
