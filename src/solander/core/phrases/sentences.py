"""The sentences by which a language tells of lives, and how they are found in a phrase.

A sentence of a table is a row of words and slots. Words parted by `/` stand for each other, a word that ends
with `?` may be missing. Slots:

{who}    a known person's name, as it is or in a case of the language
{whose}  a name that owns what follows: Ingrid's
{age}    a number, in figures or words, also "about six", "six years", "five or six"
{years}  the same with its unit
{alone}  a number with nothing behind it that it may count or number: "at seventeen"
{nth}    "sixth", "6th", "6."
{tens}   "twenties", also "early twenties"
{year}   the number of a year
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache

from attrs import evolve, frozen

from solander.core.people import Person
from solander.core.phrases.language import Language
from solander.core.phrases.lexicon import Lexicon, told_apart
from solander.core.phrases.names import Named
from solander.core.phrases.terms import UNITS, Kind, Term
from solander.core.phrases.tokens import Token, folded, tokens_of

__all__ = ["Said", "sentences_in"]

_OLDEST = 120


@frozen
class Said:
    """What a sentence says: of whom, which age or ages and in what unit; it ends before the token `last`.

    `least` and `most` are the number of years (or another `unit`) told, or the number of a year; `meaning` is
    its key in the language's table.
    """

    meaning: str
    last: int
    people: tuple[Person, ...] = ()
    least: int = 0
    most: int = 0
    unit: str = "year"
    about: bool = False


@frozen
class _Element:
    """Words that stand for each other, or a slot."""

    words: tuple[tuple[str, ...], ...]
    slot: str
    optional: bool


_Sentence = tuple[str, tuple[_Element, ...]]


@frozen
class _Phrase:
    """A phrase, its language, and the names in it by their places."""

    tokens: list[Token]
    lexicon: Lexicon
    names: Mapping[int, tuple[Named[Person], ...]]

    def term(self, place: int) -> Term:
        if place >= len(self.tokens):
            return Term(Kind.WORD, None, place, place)
        return self.lexicon.term(self.tokens, place)


def sentences_in(
    tokens: list[Token], lexicon: Lexicon, names: Mapping[int, tuple[Named[Person], ...]]
) -> Iterator[tuple[int, Said]]:
    """The longest sentence about a known person at each place, and the place; `names` are those of the phrase."""
    if not names:
        return
    here = _Phrase(tokens, lexicon, names)
    index = _sentences(lexicon.language)
    words = dict.fromkeys(["", *(token.folded for token in tokens)])
    sentences = dict.fromkeys(sentence for word in words for sentence in index.get(word, ()))
    for place in range(len(tokens)):
        found = [said for meaning, row in sentences for said in _matches(here, row, Said(meaning, place))]
        if found:
            yield place, max(found, key=lambda said: said.last)


def _matches(here: _Phrase, elements: tuple[_Element, ...], said: Said) -> Iterator[Said]:
    if not elements:
        yield said
        return
    element, rest = elements[0], elements[1:]
    if element.optional:
        yield from _matches(here, rest, said)
    place = _past_signs(here.tokens, said.last)
    for after in _SLOTS[element.slot](here, place, said) if element.slot else _words(here, element, place, said):
        yield from _matches(here, rest, after)


def _past_signs(tokens: list[Token], place: int) -> int:
    while place < len(tokens) and tokens[place].kind == "sign" and tokens[place].text not in "?&+/":
        place += 1
    return place


def _words(here: _Phrase, element: _Element, place: int, said: Said) -> Iterator[Said]:
    for words in element.words:
        last = place + len(words)
        if words == tuple(token.folded for token in here.tokens[place:last]):
            yield evolve(said, last=last)


# -- slots ---------------------------------------------------------------------------------------------------


def _who(here: _Phrase, place: int, said: Said) -> Iterator[Said]:
    for named in here.names.get(place, ()):
        yield evolve(said, people=named.bearers, last=named.last)


def _whose(here: _Phrase, place: int, said: Said) -> Iterator[Said]:
    for named in here.names.get(place, ()):
        if named.owns:
            yield evolve(said, people=named.bearers, last=named.last)


def _age(here: _Phrase, place: int, said: Said) -> Iterator[Said]:
    for found, told in _ages(here, place, said):
        # "aged 6 June 1950" may be a day of June.
        if told or here.term(found.last).kind is not Kind.MONTH:
            yield found


def _years(here: _Phrase, place: int, said: Said) -> Iterator[Said]:
    yield from (found for found, told in _ages(here, place, said) if told)


def _alone(here: _Phrase, place: int, said: Said) -> Iterator[Said]:
    """ "Dad at seventeen", but neither "at 17 Acacia Avenue" nor "at six June"."""
    number = _number(here.term(place))
    term = here.term(place)
    if number is None or (term.kind is Kind.NUMBER and term.last < len(here.tokens)):
        return
    after = here.tokens[term.last] if term.last < len(here.tokens) else None
    if after is None or after.kind == "sign" or (after.kind == "word" and after.text[0].islower()):
        yield from _age(here, place, said)


def _ages(here: _Phrase, place: int, said: Said) -> Iterator[tuple[Said, bool]]:
    """An age, and whether its unit was told."""
    while _is_about(here, term := here.term(place)):
        said, place = evolve(said, about=True), _past_signs(here.tokens, term.last)
    if place < len(here.tokens) and here.tokens[place].kind == "ended":
        yield from _ended(here, place, said)
        return
    ages = _from_to(here, term)
    if ages is None or _is_a_list(here, ages[2]):
        return
    least, most, last = ages
    told = here.term(_past_signs(here.tokens, last))
    unit = str(told.value).removesuffix("s") if told.value and told.kind in UNITS else None
    found = evolve(said, least=least, most=most, last=told.last if unit else last, unit=unit or "year")
    yield _about_after(here, found), unit is not None


def _is_about(here: _Phrase, term: Term) -> bool:
    """Words such as "about"; before a number also "unos", which alone means some."""
    return term.kind is Kind.ABOUT or (term.kind is Kind.FEW and _number(here.term(term.last)) is not None)


def _from_to(here: _Phrase, term: Term) -> tuple[int, int, int] | None:
    """The least and the most of "six", "5-6", "five or six", "between five and seven", and the next place."""
    if term.kind is Kind.NUMBERS:
        return _from_to_in_figures(term)
    between = term.kind is Kind.BETWEEN
    term = here.term(term.last) if between else term
    number = _number(term)
    if number is None:
        return None
    joint = here.term(term.last)
    other = here.term(joint.last)
    more = _number(other) if joint.kind in ((Kind.BOTH,) if between else (Kind.EITHER, Kind.TO)) else None
    if more is not None and more > number:
        return number, more, other.last
    return None if between else (number, number, term.last)


def _from_to_in_figures(term: Term) -> tuple[int, int, int] | None:
    numbers, _ = term.value
    if len(numbers) != 2 or not all(number.isdigit() and len(number) <= 2 for number in numbers):
        return None
    least, most = (int(number) for number in numbers)
    return (least, most, term.last) if least < most else None


def _is_a_list(here: _Phrase, last: int) -> bool:
    """ "Nan and Ingrid, aged 6 and 4" tells an age of each, in an order that is not read."""
    joint = here.term(last)
    return joint.kind is Kind.BOTH and _number(here.term(joint.last)) is not None


def _about_after(here: _Phrase, said: Said) -> Said:
    after = here.term(said.last)
    if after.kind is Kind.ABOUT_AFTER:
        return evolve(said, about=True, last=after.last)
    return said


def _ended(here: _Phrase, place: int, said: Said) -> Iterator[tuple[Said, bool]]:
    """ "6yrs", "6-year"."""
    text = here.tokens[place].folded
    digits = "".join(letter for letter in text if letter.isdigit())
    unit = here.lexicon.unit(text.removeprefix(digits).lstrip("-'"))
    if unit and int(digits) <= _OLDEST:
        yield evolve(said, least=int(digits), most=int(digits), last=place + 1, unit=unit), True


def _number(term: Term) -> int | None:
    if term.kind is Kind.NUMBER and len(term.value) <= 3 and int(term.value) <= _OLDEST:
        return int(term.value)
    if term.kind is Kind.SPOKEN and term.value <= _OLDEST:
        return int(term.value)
    return None


def _nth(here: _Phrase, place: int, said: Said) -> Iterator[Said]:
    term = here.term(place)
    number = term.value if term.kind is Kind.ORDINAL else _number(term)
    if number is not None:
        yield evolve(said, least=number, most=number, last=term.last)


def _tens(here: _Phrase, place: int, said: Said) -> Iterator[Said]:
    term = here.term(place)
    first, last = 0, 9
    if term.kind is Kind.PART and term.value < 3:
        first, last = ((0, 3), (4, 6), (7, 9))[term.value]
        term = here.term(_past_signs(here.tokens, term.last))
    if term.kind is Kind.DECADE and term.value < 100:
        yield evolve(said, least=term.value + first, most=term.value + last, last=term.last)


def _year(here: _Phrase, place: int, said: Said) -> Iterator[Said]:
    term = here.term(place)
    if term.kind is Kind.NUMBER and len(term.value) == 4:
        yield evolve(said, least=int(term.value), most=int(term.value), last=term.last)


_SLOTS = {
    "who": _who,
    "whose": _whose,
    "age": _age,
    "years": _years,
    "alone": _alone,
    "nth": _nth,
    "tens": _tens,
    "year": _year,
}


# -- tables --------------------------------------------------------------------------------------------------


@cache
def _sentences(language: Language) -> dict[str, list[_Sentence]]:
    """The sentences by words without which they cannot stand; those that are all slots by none."""
    found: dict[str, list[_Sentence]] = {}
    for meaning, sentences in language.lives.items():
        for sentence in told_apart(sentences):
            row = tuple(_element(word) for word in sentence.split())
            needed = [element.words for element in row if element.words and not element.optional]
            for word in dict.fromkeys(words[0] for words in (needed[-1] if needed else [("",)])):
                found.setdefault(word, []).append((meaning, row))
    return found


def _element(word: str) -> _Element:
    optional, word = word.endswith("?"), word.removesuffix("?")
    if word.startswith("{"):
        return _Element((), word.strip("{}"), optional)
    return _Element(tuple(_key(each) for each in word.split("/")), "", optional)


def _key(word: str) -> tuple[str, ...]:
    """An elided word ("d'") stands by itself before a name."""
    return (folded(word),) if word.endswith("'") else tuple(token.folded for token in tokens_of(word))
