"""Facts out of the words on a print: when, who, where, which studio, which paper. Each is only proposed.

What a stamp or a printed line of a studio or a laboratory says is about the paper: its date binds the printing
(the exposure from above only), its town is where the studio was, its names are not of the people in the picture.
Nothing is proposed from figures that two looks at a line read differently.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence

from attrs import evolve, field, frozen

from solander.core.inscriptions.blocks import blocks_of
from solander.core.inscriptions.borders import print_number
from solander.core.inscriptions.named import is_names, parts_of, people_in
from solander.core.inscriptions.records import Fact, FactKind, Line
from solander.core.inscriptions.studios import address_in, is_of_paper, is_of_studio, is_stamped, paper_words
from solander.core.phrases import DatePhrase, Reading
from solander.core.statements import Sure

__all__ = ["Lookups", "facts_of"]

_READ = 0.75
"""Score from which a line's words are worth a proposal at all: below, one letter in three is wrong
(docs/measured.md)."""

_WELL_READ = 0.9
"""Score from which they are likely, where a second reading agrees: of real lines so read one letter in eighteen is
wrong, of those that only agree one in three, of those that only have the score one in seven (docs/measured.md)."""

_LEAST = 0.7
"""Score that the most doubtful letter of a word must have; chosen on simulated stamps (docs/measured.md)."""

_FIRST_YEAR = 1839
"""No photograph is older."""

_ONLY_A_NUMBER = re.compile(
    r"(?:\b(?:no|nr|n[o°º]|num|tel|phone|order|neg|film|bild|photo|print)\b[.:#°]?|#)\s*$", re.I
)
"""What stands before a figure that is no year."""

_WHOLE_YEAR = re.compile(r"\b(?:18|19|20)\d\d\b")

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
            told = _of_line(lines[place], place, known, of_paper=is_paper, week=week)
            found += (fact for fact in told if not _is_doubtful(fact, lines[place]))
    found.sort(key=lambda fact: fact.line)
    return (*found, *_of_makers(repeated, len(lines), known))


_RUN_TOGETHER = re.compile(r"(?<=[^\W\d_]{3})(?=(?:1[89]|20)\d\d\b)")
"""Where a reader lost the space before a year: "Ada1965"."""


_A_YEAR = re.compile(
    r"(?:(?<=[^\W\d_]{3})|(?<!\w))(?:1[89gq][0-9gqOoIlSB]{2}|20[0-9Oo][0-9gqOoIlSB])(?!\w)",
)
_MEANT = str.maketrans("gqOoIlSB", "99001158")
"""Letters that a reader takes figures for, in what can only be a year: "1g16"."""


@frozen
class _Read:
    """A line that is read well enough: its place, its text with lost spaces put back, its date, how sure."""

    line: Line
    place: int
    text: str
    phrase: DatePhrase
    sure: Sure

    def tells(
        self, kind: FactKind, value: str, *, ignored: tuple[str, ...] = (), sure: Sure | None = None
    ) -> Fact:
        """A fact out of it."""
        return Fact(kind, value, self.line.text, self.place, sure or self.sure, ignored)


def _of_line(line: Line, place: int, known: Lookups, *, of_paper: bool, week: str) -> Iterator[Fact]:
    """`week` is the line above of a stamp, where it says that a week follows: "WEEK ENDING"."""
    sure = _how_sure(line)
    if sure is None:
        return
    mended = _A_YEAR.sub(lambda found: found[0].translate(_MEANT), line.text)
    sure = sure if mended == line.text else Sure.GUESS
    text = _RUN_TOGETHER.sub(" ", mended)
    read = _Read(line, place, text, known.date(f"{week} {text}".strip()), sure)
    yield from _date(read, of_paper=of_paper)
    if number := print_number(text):
        if not read.phrase.readings:
            yield read.tells(FactKind.NUMBER, number, sure=Sure.GUESS)
        return
    yield from _of_studio(read)
    if paper := known.paper(text):
        yield read.tells(FactKind.PAPER, paper)
    if not of_paper:
        yield from _who_and_where(read, known)


def _is_doubtful(fact: Fact, line: Line) -> bool:
    """Whether it rests on a word with a letter that may be another: two looks at worn ink agree on that."""
    doubtful = {word.text for word in line.words if word.least < _LEAST}
    return bool(doubtful - {word + sign for word in fact.ignored for sign in ("", ",", ".")})


def _how_sure(line: Line) -> Sure | None:
    if not line.text or line.sure < _READ:
        return None
    return Sure.LIKELY if line.agreed and line.sure >= _WELL_READ else Sure.GUESS


def _date(read: _Read, *, of_paper: bool) -> Iterator[Fact]:
    best = _trusted(read)
    if best is None:
        return
    is_printing = of_paper or best.bounds == "printing" or is_stamped(read.text)
    several = len(read.phrase.readings) > 1 or best.sure is Sure.GUESS
    kind = FactKind.PRINTING if is_printing else FactKind.DATE
    yield read.tells(kind, best.edtf, ignored=read.phrase.unused, sure=Sure.GUESS if several else None)


def _trusted(read: _Read) -> Reading | None:
    """The first reading, where its figures are certain and tell a year."""
    best = next(iter(read.phrase.readings), None)
    figure, year = re.search(r"\d", read.text), re.search(r"\d{4}", best.edtf if best else "")
    if best is None or figure is None or year is None or int(year[0]) < _FIRST_YEAR or address_in(read.text):
        return None
    if not read.line.agreed and read.line.also and _figures(read.line.also) != _figures(read.text):
        return None
    written = set(_WHOLE_YEAR.findall(read.text))
    if written and written.isdisjoint(re.findall(r"\d{4}", best.edtf)):  # it reads other figures as the year
        return None
    return None if _ONLY_A_NUMBER.search(read.text[: figure.start()]) else best


def _figures(text: str) -> str:
    return "".join(sign for sign in text if sign.isdigit())


def _of_studio(read: _Read) -> Iterator[Fact]:
    if is_of_studio(read.text):
        yield read.tells(FactKind.STUDIO, read.text.strip(" .,:;-·•"))
    if address := address_in(read.text):
        yield read.tells(FactKind.ADDRESS, address, ignored=tuple(read.text.replace(address, " ").split()))


def _who_and_where(read: _Read, known: Lookups) -> Iterator[Fact]:
    if address_in(read.text) or is_of_studio(read.text):
        return
    undated = _undated(read.text, read.phrase)
    parts = parts_of(undated)
    people = [part.text for part in parts if not part.is_where and is_names(part.text, known)]
    places = [part.text for part in parts if part.text not in people and _is_place(part.text, known)]
    used = {word for name in (*people, *places) for word in name.split()}
    ignored = tuple(word for word in read.text.split() if word.strip(".,;:&") not in used)
    for name in people:
        yield read.tells(FactKind.PERSON, name, ignored=ignored)
    for together in people_in(undated, people):
        told = read.tells(FactKind.TOGETHER, " + ".join(together), ignored=ignored)
        yield evolve(told, values=together)
    for name in places:
        yield read.tells(FactKind.PLACE, name, ignored=ignored)


def _is_place(text: str, known: Lookups) -> bool:
    return text[:1].isupper() and not _figures(text) and known.is_place(text)


_PIECE = re.compile(r"[^\W_]+(?:['’][^\W_]+)*")
"""A word as a date phrase tells it unused: "O'Brien" is one, "Ada-May" are two."""


def _undated(text: str, phrase: DatePhrase) -> str:
    """The text with the end of a line in the place of each word that told the date, all else as it stands."""
    if not phrase.readings:
        return text
    left = list(phrase.unused)
    kept, end = "", 0
    for word in _PIECE.finditer(text):
        if word[0] in left:
            left.remove(word[0])
        else:
            kept, end = kept + text[end : word.start()] + "\n", word.end()
    return kept + text[end:]


def _of_makers(repeated: Sequence[Line], place: int, known: Lookups) -> Iterator[Fact]:
    """The paper of a maker who prints its name all over the back."""
    if repeated:
        best = max(repeated, key=lambda line: line.sure)
        words = paper_words([line.text for line in repeated]) or best.text
        yield Fact(FactKind.PAPER, known.paper(REPEATED) or REPEATED, words, place, Sure.LIKELY)


REPEATED = "paper maker's repeated diagonal grey back print"
"""In the words of the table of evidence."""
