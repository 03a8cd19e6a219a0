"""Why somebody is meant, in plain words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Protocol

from attrs import frozen

from solander.authorities.naming.matching import How, Likeness
from solander.authorities.naming.names_held import Part
from solander.authorities.naming.said import Said
from solander.core.language import marked
from solander.core.sentence import Sentence

__all__ = ["WordFit", "called_words", "is_doubtful", "kin_reason", "word_fits", "word_reasons"]

_DOUBTFUL = 0.86
"""A word that is heard or spelt wrongly beyond this is nobody's name for sure."""

_LIKE = {
    How.SPELT: marked("%(said)s is another spelling of %(name)s"),
    How.SHORT: marked("%(said)s and %(name)s are forms of one name"),
    How.BEGINS: marked("%(said)s begins %(name)s"),
    How.INITIAL: marked("%(said)s begins %(name)s"),
    How.SOUNDS: marked("%(said)s sounds like %(name)s"),
    How.MISSPELT: marked("%(said)s may be %(name)s, misspelt"),
}
_BORNE = {
    Part.MARRIED: marked("%(name)s is the name by marriage"),
    Part.OF_PARTNER: marked("is married to a %(name)s"),
}


class Names(Protocol):
    """What reasons are made from."""

    def like(self, word: str, *, given: bool = True) -> dict[str, Likeness]:
        """Words like a plain word, short forms among them where it may be a given name."""


@frozen
class WordFit:
    """A word that was said, the word of the name that it fits best (empty: none), its part, and how like it is."""

    said: str
    word: str = ""
    part: Part = Part.GIVEN
    likeness: Likeness | None = None


def word_fits(reading: Said, held: Iterable[tuple[Part, str]], names: Names) -> Iterator[WordFit]:
    """Each word of a reading with the word of the name that it fits best."""
    words = list(held)
    given = reading.names[:-1] if len(reading.names) > 1 or reading.family else reading.names
    for said in (*reading.names, *reading.maiden, *reading.married):
        like = names.like(said, given=said in given)
        found = [(like[word].strength, -part, part, word) for part, word in words if word in like]
        if found:
            _, _, part, word = max(found)
            yield WordFit(said, word, part, like[word])
        else:
            yield WordFit(said)


def is_doubtful(fits: Iterable[WordFit]) -> bool:
    """Whether some word is nobody's name for sure: not known, or too far off by its sound or letters."""
    return any(
        fit.likeness is None
        or (fit.likeness.strength < _DOUBTFUL and fit.likeness.how in (How.SOUNDS, How.MISSPELT, How.SHORT))
        for fit in fits
    )


def word_reasons(reading: Said, fits: Sequence[WordFit], written: dict[str, str]) -> Iterator[str]:
    """For each word what it has to do with the name, unless it is simply that."""
    same = 0
    for fit in fits:
        said, name = (written.get(word, word.capitalize()) for word in (fit.said, fit.word))
        if fit.likeness is None:
            yield Sentence("“%(said)s” is not among the names known", said=said)
        elif fit.likeness.how is not How.SAME:
            yield Sentence(_LIKE[fit.likeness.how], said=said, name=name)
        elif fit.part in _BORNE:
            yield Sentence(_BORNE[fit.part], name=name)
        elif fit.said in reading.maiden and fit.part is Part.BORN:
            yield Sentence("was born %(name)s", name=name)
        else:
            same += 1
    if fits and same == len(fits):
        yield Sentence("is named so")


def called_words(phrase: str) -> str:
    """That somebody is known by just these words."""
    return Sentence("is called “%(name)s”", name=phrase)


def kin_reason(word: str, anchor: str) -> str:
    """What somebody is to whom: "uncle of Anna Weber"."""
    return f"{word} of {anchor}"
