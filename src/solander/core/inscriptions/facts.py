"""Facts out of the words on a print: when, who, where, which studio, which paper. Each is only proposed.

What a stamp or a printed line of a studio or a laboratory says is about the paper: its date binds the printing
(the exposure from above only), its town is where the studio was, its names are not of the people in the picture.
Nothing is proposed from figures that two looks at a line read differently.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence

from attrs import field, frozen

from solander.core.inscriptions.blocks import blocks_of
from solander.core.inscriptions.borders import print_number
from solander.core.inscriptions.named import is_names, parts_of, people_in
from solander.core.inscriptions.records import Fact, FactKind, Line
from solander.core.inscriptions.studios import address_in, is_of_paper, is_of_studio, is_stamped, paper_words
from solander.core.phrases import DatePhrase, Reading
from solander.core.statements import Sure

__all__ = ["Lookups", "facts_of"]

_READ = 0.75
"""Score from which a line's words are worth a proposal at all: below, one letter in five is wrong
(docs/measured.md)."""

_WELL_READ = 0.9
"""Score from which they are likely without a second reading that agrees."""

_FIRST_YEAR = 1839
"""No photograph is older."""

_ONLY_A_NUMBER = re.compile(
    r"(?:\b(?:no|nr|n[o°º]|num|tel|phone|order|neg|film|bild|photo|print)\b[.:#°]?|#)\s*$", re.I
)
"""What stands before a figure that is no year."""


_A_WEEK = re.compile(r"\bweek (?:of|ending)\W*$", re.IGNORECASE)


def _never(_: str) -> bool:
    return False


@frozen
class Lookups:
    """What is known outside these words.

    `date` reads a date phrase; `is_given_name`, `is_kin` ("Aunt") and `is_place` tell of a word or words; `paper`
    gives the id of the fact that dates paper which bears these words, or nothing.
    """

    date: Callable[[str], DatePhrase]
    is_given_name: Callable[[str], bool] = _never
    is_kin: Callable[[str], bool] = _never
    is_place: Callable[[str], bool] = _never
    paper: Callable[[str], str] = field(default=lambda _: "")


def facts_of(lines: Sequence[Line], known: Lookups, *, repeated: Sequence[Line] = ()) -> tuple[Fact, ...]:
    """The facts that lines propose, in the order of the lines; `repeated` is what the paper's maker printed."""
    found: list[Fact] = []
    for block in blocks_of(lines):
        of_block = [lines[place] for place in block.lines]
        is_paper = is_of_paper([line.text for line in of_block])
        for above, place in zip((None, *block.lines), block.lines, strict=False):
            week = lines[above].text if above is not None and _A_WEEK.search(lines[above].text) else ""
            found += _of_line(lines[place], place, known, of_paper=is_paper, week=week)
    found.sort(key=lambda fact: fact.line)
    return (*found, *_of_makers(repeated, len(lines), known))


def _of_line(line: Line, place: int, known: Lookups, *, of_paper: bool, week: str) -> Iterator[Fact]:
    """`week` is the line above of a stamp, where it says that a week follows: "WEEK ENDING"."""
    sure = _how_sure(line)
    if sure is None:
        return
    phrase = known.date(f"{week} {line.text}".strip())
    yield from _date(line, place, phrase, sure, of_paper=of_paper)
    if number := print_number(line.text):
        if not phrase.readings:
            yield Fact(FactKind.NUMBER, number, line.text, place, Sure.GUESS)
        return
    yield from _of_studio(line, place, sure)
    if paper := known.paper(line.text):
        yield Fact(FactKind.PAPER, paper, line.text, place, sure)
    if not of_paper:
        yield from _who_and_where(line, place, phrase, known, sure)


def _how_sure(line: Line) -> Sure | None:
    if not line.text or line.sure < _READ:
        return None
    return Sure.LIKELY if line.agreed or line.sure >= _WELL_READ else Sure.GUESS


def _date(line: Line, place: int, phrase: DatePhrase, sure: Sure, *, of_paper: bool) -> Iterator[Fact]:
    best = _trusted(phrase, line)
    if best is None:
        return
    is_printing = of_paper or best.bounds == "printing" or is_stamped(line.text)
    kind = FactKind.PRINTING if is_printing else FactKind.DATE
    doubt = Sure.GUESS if len(phrase.readings) > 1 or best.sure is Sure.GUESS else sure
    yield Fact(kind, best.edtf, line.text, place, doubt, phrase.unused)


def _trusted(phrase: DatePhrase, line: Line) -> Reading | None:
    """The first reading, where its figures are certain and tell a year."""
    if not phrase.readings or "X" in phrase.readings[0].edtf[:4] or address_in(line.text):
        return None
    if not line.agreed and line.also and _figures(line.also) != _figures(line.text):
        return None
    best = phrase.readings[0]
    year = re.search(r"\d{4}", best.edtf)
    if year is None or int(year[0]) < _FIRST_YEAR or not any(sign.isdigit() for sign in line.text):
        return None
    before = line.text[: re.search(r"\d", line.text).start()]  # type: ignore[union-attr]
    return None if _ONLY_A_NUMBER.search(before) else best


def _figures(text: str) -> str:
    return "".join(sign for sign in text if sign.isdigit())


def _of_studio(line: Line, place: int, sure: Sure) -> Iterator[Fact]:
    if is_of_studio(line.text):
        yield Fact(FactKind.STUDIO, line.text.strip(" .,:;-·•"), line.text, place, sure)
    if address := address_in(line.text):
        ignored = tuple(line.text.replace(address, " ").split())
        yield Fact(FactKind.ADDRESS, address, line.text, place, sure, ignored)


def _who_and_where(line: Line, place: int, phrase: DatePhrase, known: Lookups, sure: Sure) -> Iterator[Fact]:
    if address_in(line.text) or is_of_studio(line.text):
        return
    used: set[str] = set()
    people: list[str] = []
    places: list[str] = []
    for part in parts_of(_undated(line.text, phrase)):
        if is_names(part.text, known) and not part.is_where:
            people.append(part.text)
        elif known.is_place(part.text) and part.text[:1].isupper():
            places.append(part.text)
        else:
            continue
        used |= set(part.text.split())
    ignored = tuple(word.text for word in line.words if word.text.strip(".,;:&") not in used)
    for name in people:
        yield Fact(FactKind.PERSON, name, line.text, place, sure, ignored)
    for together in people_in(_undated(line.text, phrase), people):
        yield Fact(FactKind.TOGETHER, " + ".join(together), line.text, place, sure, ignored, together)
    for name in places:
        yield Fact(FactKind.PLACE, name, line.text, place, sure, ignored)


def _undated(text: str, phrase: DatePhrase) -> str:
    """The text without the words that told the date, their separators kept."""
    if not phrase.readings:
        return text
    left = list(phrase.unused)
    kept = []
    for token in re.findall(r"[^\W_]+|[^\w\s]|_", text):
        if not token[0].isalnum():
            kept.append(token)
        elif token in left:
            left.remove(token)
            kept.append(token)
        else:
            kept.append("\n")
    return re.sub(r" ([.,;:'’-])", r"\1", " ".join(kept))


def _of_makers(repeated: Sequence[Line], place: int, known: Lookups) -> Iterator[Fact]:
    """The paper of a maker who prints its name all over the back."""
    if repeated:
        best = max(repeated, key=lambda line: line.sure)
        words = paper_words([line.text for line in repeated]) or best.text
        yield Fact(FactKind.PAPER, known.paper(REPEATED) or REPEATED, words, place, Sure.LIKELY)


REPEATED = "paper maker's repeated diagonal grey back print"
"""In the words of the table of evidence."""
