"""Numbers, years, decades and ordinals in English."""

from __future__ import annotations

__all__ = ["english", "english_decades", "english_ordinals"]

_UNITS = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine"]
_TEENS = [
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
]
_TENS = dict(
    zip(
        range(20, 100, 10),
        ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"],
        strict=True,
    )
)
_ORDINALS = [
    "first",
    "second",
    "third",
    "fourth",
    "fifth",
    "sixth",
    "seventh",
    "eighth",
    "ninth",
    "tenth",
    "eleventh",
    "twelfth",
    "thirteenth",
    "fourteenth",
    "fifteenth",
    "sixteenth",
    "seventeenth",
    "eighteenth",
    "nineteenth",
    "twentieth",
]


def _numbers() -> dict[str, int]:
    found = {word: number for number, word in enumerate(_UNITS + _TEENS, 1)}
    for ten, word in _TENS.items():
        found[word] = ten
        found |= {f"{word}-{unit}|{word} {unit}": ten + number for number, unit in enumerate(_UNITS, 1)}
    return found


def _years() -> dict[str, int]:
    """ "nineteen fifty-two", "nineteen oh five", "nineteen hundred"."""
    found = {}
    for century, said in ((18, "eighteen"), (19, "nineteen"), (20, "twenty")):
        found[f"{said} hundred"] = century * 100
        for words, number in _numbers().items():
            found["|".join(f"{said} hundred and {each}" for each in words.split("|"))] = century * 100 + number
        for words, number in _numbers().items():
            zeros = ("oh", "o", "nought", "ought")
            spoken = words.split("|") if number > 9 else [f"{oh}{j}{words}" for oh in zeros for j in " -"]
            found["|".join(f"{said}{j}{each}" for each in spoken for j in " -")] = century * 100 + number
    found |= {f"two thousand and {words}|two thousand {words}": 2000 + n for n, words in enumerate(_UNITS, 1)}
    return found | {"two thousand": 2000}


def english_ordinals() -> dict[str, int]:
    """ "first" to "thirty-first", and the tens up to "ninetieth" for birthdays."""
    found = {word: number for number, word in enumerate(_ORDINALS, 1)} | {
        f"{word[:-1]}ieth": ten for ten, word in _TENS.items()
    }
    for ten in (20, 30):
        for number, word in enumerate(_ORDINALS[:9], 1):
            if ten + number <= 31:
                found[f"{_TENS[ten]}-{word}|{_TENS[ten]} {word}"] = ten + number
    return found


def english_decades() -> dict[int, str]:
    """ "fifties", "nineteen-fifties"."""
    names = {ten: f"{word[:-1]}ies" for ten, word in _TENS.items()}
    whole = {1900 + ten: f"nineteen {name}|nineteen-{name}" for ten, name in names.items()}
    return names | whole | {1800 + ten: f"eighteen {name}|eighteen-{name}" for ten, name in names.items()}


def english() -> dict[str, int]:
    """Numbers up to 99, and years."""
    return {**_numbers(), **_years()}
