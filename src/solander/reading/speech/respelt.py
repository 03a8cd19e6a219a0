"""Sounds spelt in plain letters, so that a person can read them and `letters` reads the same sounds again."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from solander.reading.speech.phones import VOWELS

__all__ = ["respelt"]

Phones = Sequence[str]

_SPELT = {
    "AA": "aa", "AE": "a", "AH": "u", "AO": "au", "AW": "ou", "AY": "igh", "EH": "e", "ER": "er", "EY": "ay",
    "IH": "i", "IY": "ee", "OW": "oa", "OY": "oi", "UH": "oo", "UW": "oo",
    "B": "b", "CH": "ch", "D": "d", "DH": "th", "F": "f", "G": "gg", "HH": "h", "JH": "j", "K": "k", "L": "l",
    "M": "m", "N": "n", "NG": "ng", "P": "p", "R": "r", "S": "ss", "SH": "sh", "T": "t", "TH": "th", "V": "v",
    "W": "w", "Y": "y", "Z": "z", "ZH": "zh",
}  # fmt: skip
"""Each phone in letters that the English rules read as it; two pairs of sounds share one spelling each."""

_OPEN = {"AE": "ah", "AH": "a", "EH": "eh", "IH": "ih"}
"""The same where the vowel ends a syllable."""
_FIRST = {"S": "s"}
"""The same where the phone begins one."""


def respelt(phones: Iterable[str]) -> str:
    """A row of phones of the CMU dictionary in syllables: "sh-i-v-au-n" is "shi-vaun"."""
    return "-".join(_spelt(syllable) for syllable in _syllables(list(phones)))


def _spelt(syllable: Phones) -> str:
    spelt = [_SPELT[phone] for phone in syllable]
    spelt[0] = _FIRST.get(syllable[0], spelt[0])
    spelt[-1] = _OPEN.get(syllable[-1], spelt[-1])
    text = "".join(spelt)
    return text if any(soft in text for soft in ("gge", "ggi", "ggy")) else text.replace("gg", "g")


def _syllables(phones: Phones) -> list[list[str]]:
    """A vowel with what stands before it; of several consonants between two vowels the last begins the next."""
    found: list[list[str]] = [[]]
    for at, phone in enumerate(phones):
        goes_on = any(one in VOWELS for one in found[-1])
        begins = phone in VOWELS or (at + 1 < len(phones) and phones[at + 1] in VOWELS)
        if goes_on and begins and not (phone in VOWELS and found[-1][-1] not in VOWELS):
            found.append([])
        found[-1].append(phone)
    return [each for each in found if each]
