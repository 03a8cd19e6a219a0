"""Forms of address and titles: what they tell of sex and age. From memory, no source."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum

from attrs import frozen

__all__ = ["Generation", "Title", "generation_behind", "generation_of", "title_of", "without_suffix"]


class Generation(StrEnum):
    """Which of two who are called alike is meant."""

    ELDER = "elder"
    YOUNGER = "younger"


@frozen
class Title:
    """What a title tells: `sex` or empty; whether the surname follows it, and whether she is not married."""

    sex: str = ""
    surname_follows: bool = False
    unmarried: bool = False


_MAN = """
mr mister herr hr hrn monsieur m senor sr signor sig signore don pan gospodin meneer mijnheer dhr heer sir
"""
_WOMAN = (
    "mrs missus missis frau fr fru madame mme senora sra signora sigra dona pani gospozha mevrouw mevr mw ms lady "
    "witwe wwe widow veuve viuda"
)
_MISS = "miss fraulein frl mademoiselle mlle senorita srta signorina froken frk juffrouw mej panna"
_TRADE = """
dr doctor doktor prof professor rev reverend revd pastor pfarrer vicar canon bishop capt captain kapitan sgt
sergeant lt lieutenant leutnant col colonel oberst major general cpl pvt gen hauptmann ing dipl lehrer teacher
"""
_BEHIND = "jr jun junior jnr sr sen senior snr fils pere ii iii iv esq"

_SUFFIXES = frozenset(_BEHIND.split())
_ELDER = """
old older elder big alt alte alter alten gross grosse grosser vieux vieil vieille viejo vieja vecchio vecchia velho
velha oude gamle gamla stary stara staryi staraya sr sen senior snr pere
"""
_YOUNGER = """
young younger little small wee baby jung junge junger klein kleine kleiner kleinen petit petite jeune pequeno
pequena joven piccolo piccola pequenino jonge lille lilla unge unga maly mala mlody mloda malenkiy
malenkaya jr jun junior jnr fils
"""
_GENERATIONS: Mapping[str, Generation] = {
    **dict.fromkeys(_ELDER.split(), Generation.ELDER),
    **dict.fromkeys(_YOUNGER.split(), Generation.YOUNGER),
}
_TITLES: Mapping[str, Title] = {
    **dict.fromkeys(_TRADE.split(), Title()),
    **dict.fromkeys(_MAN.split(), Title("male", True)),
    **dict.fromkeys(_WOMAN.split(), Title("female", True)),
    **dict.fromkeys(_MISS.split(), Title("female", True, True)),
}


def title_of(word: str) -> Title | None:
    """What a plain word is as a title, None for any other word."""
    return _TITLES.get(word)


def without_suffix(words: list[str]) -> list[str]:
    """Plain words without "junior" and the like at the end."""
    while len(words) > 1 and words[-1] in _SUFFIXES:
        words = words[:-1]
    return words


def generation_of(word: str) -> Generation | None:
    """Which of two called alike a plain word before a name means: "old" Tom, "little" Anna."""
    return _GENERATIONS.get(word)


def generation_behind(words: list[str]) -> Generation | None:
    """The same by what stands behind a name: "Thomas Harding jun."."""
    return _GENERATIONS.get(words[-1]) if len(words) > 1 and words[-1] in _SUFFIXES else None
