"""How a name sounds that stands in no dictionary, told from its letters by two small tables of rules.

English readers read a foreign name in one of two ways: as if it were English, or with "pure" vowels as on the
Continent. Both are given; the recogniser takes whichever it hears. The tables are our own, from memory, after the
idea of context rules for letters (Elovitz and others, "Letter-to-sound rules for automatic translation of English
text to phonetics", IEEE Transactions on Acoustics, Speech, and Signal Processing 24, 1976).
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from anyascii import anyascii

__all__ = ["can_be_said", "sounds_of_letters"]

Phones = tuple[str, ...]

_ENGLISH = r"""
augh AO | ough OW | tion$ SH AH N | sion$ ZH AH N | tch CH | sch SH | chr K R | ch CH | ck K | sh SH | th TH
ph F | gh(?=[aeiou]) G | gh | wh W | ^wr R | ^kn N | ^gn N | ^ps S | ^mc M AH K | qu K W | x K S | zh ZH
dg(?=e) JH | ng(?=[aou]) NG G | ng(?=[lr]) NG G | ng NG | nk NG K | bb B | cc(?=[ei]) K S | cc K | dd D | ff F
gg G | kk K | ll L | mm M | nn N | pp P | rr R | ss S | tt T | zz Z | vv V | cz CH | sz SH | c(?=[eiy]) S
c K | g(?=[eiy][^r]) G | j JH | y(?=[aeou]) Y | ^y Y | ee IY | ea IY | eigh EY | ei AY | ey$ IY | eu UW
ew UW | eau OW | er$ ER | er(?=[^aeiouy]) ER | ia$ IY AH | ie$ IY | ie IY | iew UW | igh AY
ir(?=[^aeiouy]|$) ER | ir IH R | io IY OW | oa OW | oo UW | ou AW | ow$ OW | ow AW | oi OY | oy OY | oe OW
or AO R | ar AA R | ai EY | ay EY | au AO | aw AO | ae EY | aa AA | ue$ UW | ui UW IH | ur(?=[^aeiouy]|$) ER
ur UH R | uy AY | es$ IH Z | (?<=[^aeiou])le$ AH L | (?<=[aeiouy][^aeiou])e$ | e$ IY | a$ AH | o$ OW | i$ IY
y$ IY | u$ UW | a(?=[^aeiouywrx]e$) EY | e(?=[^aeiouywrx]e$) IY | i(?=[^aeiouywrx]e$) AY
o(?=[^aeiouywrx]e$) OW | u(?=[^aeiouywrx]e$) UW | a AE | e(?=[^aeiouy]{1,2}[aeiouy]) EH | e EH | i IH | o AA
u AH | y IH | b B | d D | f F | g G | h(?=[aeiouy]) HH | h | k K | l L | m M | n N | p P | q K | r R
s(?=$) Z | (?<=[aeiou])s(?=[aeiou]) Z | s S | t T | v V | w(?=[aeiouyr]) W | w | z Z
"""
_CONTINENTAL = r"""
tsch CH | sch SH | sj SH | skj SH | kj CH | tj CH | ch CH | ck K | sh SH | th T | ph F | qu K V | x K S
zh ZH | cz CH | sz SH | rz ZH | dz Z | ng(?=[aeiou]) NG G | ng NG | nk NG K | gn N Y | gl(?=i) L | bb B | cc K
dd D | ff F | gg G | kk K | ll L | mm M | nn N | pp P | rr R | ss S | tt T | zz T S | vv V | c(?=[eiy]) S
c K | j Y | ei AY | ai AY | ay AY | ey AY | ie IY | eu OY | au AW | ou UW | oe ER | ae EH | ue UW | aa AO
oy OY | ow$ OW | ia$ IY AH | er$ ER | er(?=[^aeiouy]) EH R | e$ AH | a$ AH | o$ OW | i$ IY | y$ IY | a AA
e(?=[^aeiouy][aeiouy]) EY | e EH | i(?=[^aeiouy][aeiouy]) IY | i IH | o(?=[^aeiouy][aeiouy]) OW | o AO | u UW
y IY | b B | d D | f F | g G | h(?=[aeiouy]) HH | h | k K | l L | m M | n N | p P | q K | r R
^s(?=[aeiou]) Z | s S | t T | v V | w V | z Z
"""
_SPECIAL = {"ø": "oe", "ö": "oe", "ä": "ae", "ü": "ue", "å": "aa", "æ": "ae", "œ": "oe", "ß": "ss", "ń": "n",
            "ł": "w", "ś": "sz", "ż": "zh", "ź": "zh", "ć": "ch", "č": "ch", "š": "sh", "ž": "zh", "ç": "s",
            "ñ": "gn", "é": "ay", "ó": "oo", "ı": "i"}  # fmt: skip
"""Letters with marks, as they are heard, in letters that the tables know; the rest is written plainly."""


def _split(text: str) -> str:
    """Rules parted by bars; a bar within brackets is part of a pattern."""
    return re.sub(r"\|(?![^(]*\))", "\n", text)


_TABLES = tuple(
    [
        (re.compile(pattern), tuple(phones))
        for pattern, *phones in (line.split() for line in _split(text).splitlines() if line.strip())
    ]
    for text in (_ENGLISH, _CONTINENTAL)
)


def sounds_of_letters(word: str) -> tuple[Phones, ...]:
    """The ways in which a word may sound, in phones of the CMU dictionary; none for a word without letters."""
    plain = "".join(_plain(word.casefold()))
    found = (tuple(_read(plain, table)) for table in _TABLES)
    return tuple(dict.fromkeys(each for each in found if each))


def can_be_said(phrase: str) -> bool:
    """Whether anything of it has a sound."""
    return bool(sounds_of_letters(phrase))


def _plain(word: str) -> Iterator[str]:
    for letter in word:
        spelt = _SPECIAL.get(letter) or anyascii(letter).casefold()
        yield "".join(each for each in spelt if each.isalpha())


def _read(word: str, table: Sequence[tuple[re.Pattern[str], Phones]]) -> Iterator[str]:
    at = 0
    while at < len(word):
        for pattern, phones in table:
            if found := pattern.match(word, at):
                yield from phones
                at = found.end()
                break
        else:
            at += 1
