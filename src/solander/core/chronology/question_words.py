"""The next question as a relative hears it: one or a few plain sentences, at most 200 characters.

People date pictures by what they remember beside them: how old a child was, before or after the war, before or
after the move (common practice in families, no source). Such hooks are offered only from facts passed in.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from attrs import field, frozen

from solander.core.chronology.next_question import Asked

__all__ = ["LONGEST", "Facts", "Hook", "gain_words", "prints_words", "question_words"]

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


def _tidy_people(people: Iterable[tuple[str, int | None]]) -> tuple[tuple[str, int | None], ...]:
    return tuple((_tidy(name), born) for name, born in people if _tidy(name))


@frozen
class Hook:
    """Something that people remember by: `words` as it stands after "before or after" ("the war", "the move to
    Lindenhof"), and the years in which it was."""

    words: str = field(converter=_one_line)
    first_year: int
    last_year: int


@frozen
class Facts:
    """What is known of the thing that is asked about; empty where unknown.

    `occasion` alone (without `accession`) is an occasion as a whole. `where` says where the prints lie, "box B2,
    prints 14 to 31"; `follows` names what comes before it in the album; `people` are those shown, with their
    year of birth where it is known; `hooks` what the family remembers.
    """

    accession: str = field(default="", converter=_tidy)
    occasion: str = field(default="", converter=_tidy)
    caption: str = field(default="", converter=_tidy)
    place: str = field(default="", converter=_tidy)
    where: str = field(default="", converter=_tidy)
    follows: str = field(default="", converter=_tidy)
    people: tuple[tuple[str, int | None], ...] = field(default=(), converter=_tidy_people)
    hooks: tuple[Hook, ...] = ()


def question_words(asked: Asked, facts: Facts) -> str:
    """The question, then as much as there is room for: the years it may be, a hook to remember by, and what
    knowing it would do for other pictures."""
    question = f"Who remembers in which year {_subject(facts)}?"
    # In order of worth; told in the order of a conversation.
    more = {2: _years_words(asked.years), 1: _hook_words(asked.years, facts), 3: _others_words(asked.others)}
    parts = {0: question}
    for place in (1, 2, 3):
        wished = {**parts, place: more[place]}
        if more[place] and len(" ".join(wished.values())) <= LONGEST:
            parts = wished
    return " ".join(parts[place] for place in sorted(parts, key=(0, 2, 1, 3).index))


def gain_words(asked: Asked) -> str:
    """What knowing it would bring, in numbers: "would narrow 17 prints by 63 years altogether"."""
    prints = _counted(asked.prints, "print")
    altogether = " altogether" if asked.prints > 1 else ""
    if asked.gain_years >= 1.5:
        return f"would narrow {prints} by {round(asked.gain_years)} years{altogether}"
    return f"would narrow {prints} by {_counted(round(asked.gain_years * 12), 'month')}{altogether}"


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


def _subject(facts: Facts) -> str:
    if facts.occasion and not facts.accession:
        return f"“{_cut(facts.occasion, _LONG)}”{_bracketed(facts.where, _LONG)} was"
    shows_place = facts.people and facts.place and not (facts.caption or facts.occasion)
    marks = [_cut(facts.place, _SHORT), facts.accession] if shows_place else [facts.accession]
    return f"{_picture(facts)}{_bracketed(', '.join(mark for mark in marks if mark), _MIDDLING)} was taken"


def _picture(facts: Facts) -> str:
    if facts.caption:
        return f"“{_cut(facts.caption, _LONG)}”"
    shown = _listed(_cut(name, _SHORT) for name, _ in facts.people[:2])
    of = f" of {shown}" if shown else ""
    if facts.occasion:
        return f"the picture{of} at “{_cut(facts.occasion, _MIDDLING)}”"
    if facts.place and not of:
        return f"the picture from {_cut(facts.place, _SHORT)}"
    if facts.follows and not of:
        return f"the picture after “{_cut(facts.follows, _LONG)}”"
    return f"the picture{of}"


def _cut(text: str, most: int) -> str:
    """The text, cut at a word when it is longer than `most` characters."""
    if len(text) <= most:
        return text
    cut = text[: most - 1]
    return (cut.rpartition(" ")[0] or cut).rstrip(",;:.–- ") + "…"


def _bracketed(text: str, most: int) -> str:
    return f" ({_cut(text, most)})" if text else ""


# -- what is known, and what may help ------------------------------------------------------------------------


def _years_words(years: Years) -> str:
    first, last = years
    if first is None and last is None:
        return "So far nothing tells when."
    if first is None:
        return f"It was {last} at the latest."
    if last is None:
        return f"It was {first} at the earliest."
    if last - first <= 1:
        return f"It was {first} or {last}." if last > first else f"It was {first}."
    return f"It may be any year from {first} to {last}."


def _hook_words(years: Years, facts: Facts) -> str:
    return _age_words(years, facts.people) or _event_words(years, facts.hooks)


def _age_words(years: Years, people: Iterable[tuple[str, int | None]]) -> str:
    """Asks for the age of the youngest child who may be in it."""
    first, last = years
    born = [(year, name) for name, year in people if year is not None and (last is None or year <= last)]
    if not born:
        return ""
    year, name = max(born)
    youngest = 0 if first is None else max(first - year, 0)
    if youngest > _GROWN_UP:
        return ""
    oldest = None if last is None else last - year
    if first is None or oldest is None or oldest > _OLDEST or oldest - youngest < 3:
        return f"How old was {_cut(name, _SHORT)} then?"
    if not youngest:
        return f"Was {_cut(name, _SHORT)} a baby then, or nearer {oldest}?"
    return f"Was {_cut(name, _SHORT)} nearer {youngest} or {oldest} then?"


def _event_words(years: Years, hooks: Iterable[Hook]) -> str:
    """Asks about the event that lies nearest the middle of the years, if both sides of it are possible."""
    first, last = years
    inside = [
        hook
        for hook in hooks
        if hook.words and (first is None or first < hook.first_year) and (last is None or last > hook.last_year)
    ]
    if not inside:
        return ""
    middle = None if first is None or last is None else (first + last) / 2
    hook = min(inside, key=lambda hook: 0 if middle is None else abs(hook.first_year - middle))
    return f"Was it before or after {_cut(hook.words, _MIDDLING)}?"


def _others_words(others: int) -> str:
    return f"An answer helps to date {others:,} more." if others else ""


def _counted(count: int, noun: str) -> str:
    return f"{count:,} {noun}{'' if count == 1 else 's'}"


def _listed(words: Iterable[str]) -> str:
    *some, last = [*words] or [""]
    return f"{', '.join(some)} and {last}" if some else last
