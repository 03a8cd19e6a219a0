"""Numbers up to 99 in Polish and Russian: years and days are told by ordinals, in the case of the sentence."""

from __future__ import annotations

from collections.abc import Callable

from solander.core.phrases.numerals.told import told

__all__ = ["polish", "polish_days", "russian", "russian_days"]

_Forms = dict[int, list[str]]
_Cases = Callable[[str], list[str]]


def _forms(words: str, start: int = 1, step: int = 1) -> _Forms:
    return {start + step * place: each.split("/") for place, each in enumerate(words.split())}


def _counted(units: _Forms, tens: _Forms) -> _Forms:
    """Cardinals and ordinals alike: the tens, then the units."""
    found = units | tens
    for ten, words in tens.items():
        for number in range(1, 10):
            found[ten + number] = [f"{word} {unit}" for word in words for unit in units[number]]
    return found


def _ordinals(units: str, tens: str, cases: _Cases) -> _Forms:
    """Ordinals up to 99; tens and units stand in the same case."""
    first, later = _forms(units), _forms(tens, 20, 10)
    found = {number: cases(words[0]) for number, words in (first | later).items()}
    for ten, words in later.items():
        for number in range(1, 10):
            pairs = zip(cases(words[0]), cases(first[number][0]), strict=True)
            found[ten + number] = [f"{left} {right}" for left, right in pairs]
    return found


# -- Polish --------------------------------------------------------------------------------------------------

_POLISH_UNITS = (
    "pierwszy drugi trzeci czwarty piąty szósty siódmy ósmy dziewiąty dziesiąty jedenasty dwunasty trzynasty"
    " czternasty piętnasty szesnasty siedemnasty osiemnasty dziewiętnasty"
)
_POLISH_TENS = (
    "dwudziesty trzydziesty czterdziesty pięćdziesiąty sześćdziesiąty siedemdziesiąty"
    " osiemdziesiąty dziewięćdziesiąty"
)


def _polish_cases(word: str) -> list[str]:
    """ "drugi", "drugiego", "drugim": rok drugi, roku drugiego, w roku drugim; and drugie, drugich urodziny."""
    stem, vowel = (word, "") if word.endswith("i") else (word[:-1], "y")
    return [word, f"{stem}ego", f"{stem}{vowel}m", f"{stem}e", f"{stem}{vowel}ch"]


def polish() -> dict[str, int]:
    """Cardinals, and from 32 on, where no day of a month is meant, ordinals too."""
    units = "jeden/jedna/jedno dwa/dwie/dwóch trzy/trzech cztery/czterech pięć/pięciu"
    units += (
        " sześć/sześciu siedem/siedmiu osiem/ośmiu dziewięć/dziewięciu dziesięć/dziesięciu jedenaście/jedenastu"
    )
    units += " dwanaście/dwunastu"
    units += " trzynaście czternaście piętnaście szesnaście siedemnaście osiemnaście dziewiętnaście"
    tens = "dwadzieścia trzydzieści czterdzieści pięćdziesiąt sześćdziesiąt siedemdziesiąt osiemdziesiąt"
    tens += " dziewięćdziesiąt"
    cardinals = _counted(_forms(units), _forms(tens, 20, 10))
    ordinals = _ordinals(_POLISH_UNITS, _POLISH_TENS, _polish_cases)
    later = {number: ordinals[number] + cardinals[number] for number in range(32, 100)}
    return told({number: cardinals[number] for number in range(1, 32)} | later)


def polish_days() -> dict[str, int]:
    """ "pierwszy" to "trzydziestego pierwszego"."""
    ordinals = _ordinals(_POLISH_UNITS, _POLISH_TENS, _polish_cases)
    return told({number: ordinals[number] for number in range(1, 32)})


# -- Russian -------------------------------------------------------------------------------------------------

_RUSSIAN_UNITS = (
    "первый второй третий четвёртый пятый шестой седьмой восьмой девятый десятый одиннадцатый двенадцатый"
    " тринадцатый четырнадцатый пятнадцатый шестнадцатый семнадцатый восемнадцатый девятнадцатый"
)
_RUSSIAN_TENS = "двадцатый тридцатый сороковой пятидесятый шестидесятый семидесятый восьмидесятый девяностый"


def _russian_cases(word: str) -> list[str]:
    """Nominative (год, число), genitive, locative: второй, второе, второго, втором."""
    stem = word[:-2]
    if word == "третий":
        return [word, "третье", "третьего", "третьем"]
    return [word, f"{stem}ое", f"{stem}ого", f"{stem}ом"]


def _russian_ordinals() -> _Forms:
    """Only the last word of a Russian ordinal is one: "двадцать первый"."""
    found = _ordinals(_RUSSIAN_UNITS, _RUSSIAN_TENS, _russian_cases)
    tens = _russian_tens()
    for ten in range(20, 100, 10):
        for number in range(1, 10):
            found[ten + number] = [f"{tens[ten][0]} {word}" for word in found[number]]
    return found


def _russian_tens() -> _Forms:
    return _forms("двадцать тридцать сорок пятьдесят шестьдесят семьдесят восемьдесят девяносто", 20, 10)


def russian() -> dict[str, int]:
    """Cardinals, and from 32 on, where no day of a month is meant, ordinals too."""
    units = "один/одна/одно два/две/двух три/трех четыре/четырех пять/пяти шесть/шести"
    units += " семь/семи восемь/восьми девять/девяти десять/десяти одиннадцать/одиннадцати двенадцать/двенадцати"
    units += " тринадцать четырнадцать пятнадцать шестнадцать семнадцать восемнадцать девятнадцать"
    cardinals = _counted(_forms(units), _russian_tens())
    ordinals = _russian_ordinals()
    later = {number: ordinals[number] + cardinals[number] for number in range(32, 100)}
    return told({number: cardinals[number] for number in range(1, 32)} | later)


def russian_days() -> dict[str, int]:
    """ "первое" to "тридцать первого"."""
    ordinals = _russian_ordinals()
    return told({number: ordinals[number] for number in range(1, 32)})
