"""Dates that laboratories printed in the white border of a print ("JUL . 63"), brought to month and year.

The words are few and the letters tiny, so what was read is snapped to the nearest month and to figures; what is
as near to two months gives no date at all. Form of the words: common practice of American laboratories from the
1950s to the 1970s, no source.
"""

from __future__ import annotations

import re

from attrs import frozen

__all__ = ["BorderDate", "border_date", "print_number"]

_MONTHS = {
    **dict(
        zip(
            ["JAN", "FEB", "MAR", "APR", "MAY", "JUN", "JUL", "AUG", "SEP", "OCT", "NOV", "DEC"],
            range(1, 13),
            strict=True,
        )
    ),
    "JUNE": 6,
    "JULY": 7,
    "SEPT": 9,
    "MRZ": 3,
    "MAI": 5,
    "OKT": 10,
    "DEZ": 12,
}
"""English, and the German ones that differ."""

_AS_LETTER = str.maketrans("0158642", "OISBGAZ")
_AS_FIGURE = {
    **dict(zip("OQDUILJZSGBTA", "0000111256874", strict=True)),
    **{figure: figure for figure in "0123456789"},
    "|": "1",
    "!": "1",
    "/": "1",
}
"""Shapes that are taken for one another in small print (ours)."""

_WORDS = re.compile(
    r"(?<![A-Z0-9])(?P<month>[A-Z0-9]{3,4})[\s.,:·•*°'’‘_-]*(?:19)?(?P<year>[A-Z0-9|!/]{2})(?![A-Z0-9|])"
)
_SPACED = re.compile(r"(?<=\b[A-Z0-9]) (?=[A-Z0-9]\b)")
_EARLIEST, _LATEST = 1935, 1999
"""Years between which a border bears a date of two figures (ours; the table of evidence has no narrower ones)."""


@frozen
class BorderDate:
    """A month and a year; `exact` where every letter and figure was read as it is."""

    year: int
    month: int
    exact: bool

    @property
    def edtf(self) -> str:
        """As `1963-07`."""
        return f"{self.year}-{self.month:02}"


def border_date(text: str) -> BorderDate | None:
    """The date that a border's words give; None where they give none, or might as well give another."""
    plain = _SPACED.sub("", text.upper())
    found = [date for words in _WORDS.finditer(plain) if (date := _snapped(words["month"], words["year"]))]
    return found[0] if found and len({(each.year, each.month) for each in found}) == 1 else None


def _snapped(word: str, figures: str) -> BorderDate | None:
    month, is_month = _month(word)
    year = "".join(_AS_FIGURE.get(sign, "") for sign in figures)
    if month is None or len(year) != 2 or not any(sign.isdigit() for sign in figures):
        return None
    full = 1900 + int(year)
    if not _EARLIEST <= full <= _LATEST:
        return None
    return BorderDate(full, month, is_month and figures.isdigit())


def _month(word: str) -> tuple[int | None, bool]:
    """The one month that differs in one letter at most, and whether in none."""
    if word in _MONTHS:
        return _MONTHS[word], True
    as_letters = word.translate(_AS_LETTER)
    if as_letters in _MONTHS:
        return _MONTHS[as_letters], False
    near = {month for name, month in _MONTHS.items() if len(name) == len(word) and _differs(as_letters, name) <= 1}
    return (near.pop(), False) if len(near) == 1 and not word.isdigit() else (None, False)


def _differs(one: str, other: str) -> int:
    return sum(a != b for a, b in zip(one, other, strict=True))


_NUMBER = re.compile(r"(?:N[Oo°º]?\.?\s*)?(\d{1,4}\s?[A-Z]?)")


def print_number(text: str) -> str:
    """The number that a border or a back bears alone ("23", "23A", "No. 14"); empty where it says more."""
    found = _NUMBER.fullmatch(text.strip(" .·•-–"))
    return found[1].replace(" ", "") if found else ""
