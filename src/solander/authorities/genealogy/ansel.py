"""ANSEL, the letters of older family-tree files, as Unicode.

Source: ANSI/NISO Z39.47 as appendix C of GEDCOM 5.5.1 takes it over (from memory; checked against the package
`ansel` in the tests). A mark stands before the letter that bears it.
"""

from __future__ import annotations

import re
import unicodedata

__all__ = ["from_ansel"]

_LETTERS = dict(
    zip(
        (*range(0xA1, 0xAF), *range(0xB0, 0xBB), 0xBC, 0xBD, *range(0xC0, 0xC7), 0xC7, 0xC8, 0xCF),
        "ŁØĐÞÆŒʹ·♭®±ƠƯʼʻłøđþæœʺı£ðơư°ℓ℗©♯¿¡ß€ß",
        strict=True,
    )
)
_MARKS = {
    0xE0: 0x0309,  # hook above
    0xE1: 0x0300,  # grave
    0xE2: 0x0301,  # acute
    0xE3: 0x0302,  # circumflex
    0xE4: 0x0303,  # tilde
    0xE5: 0x0304,  # macron
    0xE6: 0x0306,  # breve
    0xE7: 0x0307,  # dot above
    0xE8: 0x0308,  # two dots
    0xE9: 0x030C,  # caron
    0xEA: 0x030A,  # ring
    0xEB: 0xFE20,  # ligature, left half
    0xEC: 0xFE21,  # ligature, right half
    0xED: 0x0315,  # comma above right
    0xEE: 0x030B,  # two acutes
    0xEF: 0x0310,  # candrabindu
    0xF0: 0x0327,  # cedilla
    0xF1: 0x0328,  # ogonek
    0xF2: 0x0323,  # dot below
    0xF3: 0x0324,  # two dots below
    0xF4: 0x0325,  # ring below
    0xF5: 0x0333,  # two lines below
    0xF6: 0x0332,  # line below
    0xF7: 0x0326,  # comma below
    0xF8: 0x031C,  # half ring below, left
    0xF9: 0x032E,  # breve below
    0xFA: 0xFE22,  # double tilde, left half
    0xFB: 0xFE23,  # double tilde, right half
    0xFE: 0x0313,  # comma above
}
_TABLE = {byte: chr(mark) for byte, mark in _MARKS.items()} | _LETTERS
_MARKED = re.compile(f"([{''.join(map(chr, _MARKS.values()))}]+)([^\\r\\n])")


def from_ansel(data: bytes) -> str:
    """The text; bytes that ANSEL does not know become U+FFFD."""
    if data.isascii():
        return data.decode("ascii")
    plain = data.decode("latin-1").translate(
        {byte: _TABLE.get(byte, "\N{REPLACEMENT CHARACTER}") for byte in range(0x80, 0x100)}
    )
    return unicodedata.normalize("NFC", _MARKED.sub(lambda found: found[2] + found[1], plain))
