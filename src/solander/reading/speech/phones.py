"""The sounds of English as the CMU pronouncing dictionary names them, and the same in the letters of the IPA."""

from __future__ import annotations

__all__ = ["IPA", "PHONES", "VOWELS"]

IPA: dict[str, tuple[str, ...]] = {
    "AA": ("ɑ",), "AE": ("æ",), "AH": ("ʌ",), "AO": ("ɔ",), "AW": ("aʊ",), "AY": ("aɪ",),
    "B": ("b",), "CH": ("t͡ʃ",), "D": ("d",), "DH": ("ð",), "EH": ("ɛ",), "ER": ("ɝ",), "EY": ("eɪ",),
    "F": ("f",), "G": ("g",), "HH": ("h",), "IH": ("ɪ",), "IY": ("i",), "JH": ("d͡ʒ",), "K": ("k",),
    "L": ("l",), "M": ("m",), "N": ("n",), "NG": ("ŋ",), "OW": ("oʊ",), "OY": ("ɔɪ",), "P": ("p",),
    "R": ("ɹ",), "S": ("s",), "SH": ("ʃ",), "T": ("t",), "TH": ("θ",), "UH": ("ʊ",), "UW": ("u",),
    "V": ("v",), "W": ("w",), "Y": ("j",), "Z": ("z",), "ZH": ("ʒ",),
}  # fmt: skip
"""Each phone of the dictionary in the International Phonetic Alphabet, as American English is commonly written."""

PHONES = tuple(IPA)
VOWELS = frozenset(phone for phone in PHONES if phone[0] in "AEIOU")
