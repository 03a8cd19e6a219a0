"""Forms of address and titles: what they tell of sex and age. From memory, no source."""

from __future__ import annotations

from collections.abc import Mapping

from attrs import frozen

__all__ = ["Title", "title_of", "without_suffix"]


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
