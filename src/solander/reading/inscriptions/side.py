"""Reads all that is written on one side of a print.

The side is read twice, as it is and with its light flattened. Where both give the same words they are mostly
right, and where not both are kept. Lines may run in any direction: sideways, upside down, aslant.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import cv2
import numpy as np
from attrs import define, evolve, field, frozen

from solander.core.inscriptions.records import Corners, Inscription, Line
from solander.reading.inscriptions.reader import InscriptionReader, LineRead, LineReader, Patch, Rgb, cut_out
from solander.reading.inscriptions.repeated import is_of_print, lies_as_print, set_apart

__all__ = ["MOST", "read_side"]

MOST = 80
"""Stretches of writing that are read on a page: a letter has thirty lines, a maker's print stands there twenty
times. Of a printed page with more the largest are read, and how many were left is told."""

_LONG = 1.5
"""Times its height that a patch must be long before its longer side is surely its direction."""

_TRIED = 3
"""Patches of each direction, the longest, that are read both ways to learn which way round they run."""

_TELL, _ENOUGH = 8, 4
"""Lines, the longest, that are read first, and how many of them must be a maker's print before others that lie so
are taken for it unread: they are read again with the print blotted out (our choice)."""

_DOUBTFUL = 0.7
"""Score below which a line is tried the other way round as well."""

_CLEARLY = 0.1
"""So much better must it be then."""

_NEAR = 0.25
"""Of a line's height, up to which two stretches of writing are the same one."""

_VOTES = 0.8
"""Score from which a line tells which way is up."""


@frozen
class _Way:
    """Whether patches that run across (along x) and down (along y) are read from their other end."""

    across: bool = False
    down: bool = False

    def of(self, patch: Patch) -> bool:
        """Whether this one is."""
        return self.across if _runs_across(patch.corners) else self.down


def read_side(
    rgb: Rgb,
    flat: Rgb,
    reader: InscriptionReader,
    *,
    hand: LineReader | None = None,
) -> Inscription:
    """What stands on a side; `flat` is the same picture with its light flattened.

    `hand`, where given, reads lines that the reader is not sure of, such as a recogniser of handwriting.
    """
    page = _Page(rgb, flat, reader)
    lines = page.lines()
    own, repeated = set_apart(lines)
    if not repeated:
        own, repeated = set_apart([page.turned(line) for line in lines])
    if repeated:
        own, more = _under_the_print(page, own, repeated)
        repeated += more
    if repeated:
        own = [_compared(line, page.said_of(line)) for line in own]
    else:
        own = [_compared(line, _read_one(reader, cut_out(rgb, line.corners))) for line in own]
    own = [_by_hand(flat, line, hand) for line in own] if hand else own
    return Inscription(tuple(_in_order(own)), tuple(_in_order(repeated)), _votes(own), page.left)


@define
class _Page:
    """A page with its light flattened, and what was read on it: no stretch is read twice the same way.

    `left` is how many stretches of writing were found and not read.
    """

    rgb: Rgb
    flat: Rgb
    reader: InscriptionReader
    left: int = field(default=0, init=False)
    _read: dict[Corners, LineRead] = field(factory=dict, init=False)

    def lines(self) -> list[Line]:
        """Its lines, each the way round that those of its direction are read. The ink's colour is the page's."""
        patches = [_settled(patch) for patch in self._found()]
        way = _Way(
            *(self._is_reversed([p for p in patches if _runs_across(p.corners) is r]) for r in (True, False))
        )
        placed = [_reversed(patch.corners) if way.of(patch) else patch.corners for patch in patches]
        longest = sorted(placed, key=lambda corners: -_sides(corners)[0])[:_TELL]
        _, print_ = set_apart([self._line(corners) for corners in longest])
        return [self._line(corners, print_) for corners in placed]

    def turned(self, line: Line) -> Line:
        """The line read from its other end, where it is doubtful and reads clearly better so."""
        if line.sure >= _DOUBTFUL:
            return line
        other = self._line(_reversed(line.corners))
        better = other.sure > line.sure + _CLEARLY and len(other.text) >= len(line.text)
        return other if better else line

    def said_of(self, line: Line) -> LineRead:
        """What a line of another look says here: as it was read where it stands nearly so, else read."""
        near = (
            corners
            for corners in self._read
            if np.abs(np.subtract(corners, line.corners)).max() < _NEAR * line.height
        )
        return self._said(next(near, line.corners))

    def _found(self) -> list[Patch]:
        """As many as are read, the largest first where there are more."""
        patches = self.reader.find(self.flat)
        self.left = max(0, len(patches) - MOST)
        return sorted(patches, key=lambda patch: -_area(patch.corners))[:MOST] if self.left else patches

    def _is_reversed(self, patches: Sequence[Patch]) -> bool:
        longest = sorted(patches, key=lambda patch: -_sides(patch.corners)[0])[:_TRIED]
        forwards = backwards = 0.0
        for patch in longest:
            one = self._said(patch.corners)
            if _is_plain(one):
                return False
            other = self._said(_reversed(patch.corners))
            if _is_plain(other):
                return True
            forwards, backwards = forwards + _weight(one), backwards + _weight(other)
        return backwards > forwards

    def _line(self, corners: Corners, print_: Sequence[Line] = ()) -> Line:
        """The line there; not read where it lies as the print of a paper maker, of which enough was read."""
        ink = _ink(cut_out(self.rgb, corners), cut_out(self.flat, corners))
        unread = Line((), corners, 0.0, ink=ink)
        if corners not in self._read and len(print_) >= _ENOUGH and lies_as_print(unread, print_):
            return unread
        read = self._said(corners)
        return evolve(unread, words=read.words, sure=read.sure)

    def _said(self, corners: Corners) -> LineRead:
        if corners not in self._read:
            self._read[corners] = _read_one(self.reader, cut_out(self.flat, corners))
        return self._read[corners]


def _under_the_print(page: _Page, seen: Sequence[Line], repeated: Sequence[Line]) -> tuple[list[Line], list[Line]]:
    """What a person wrote, and more of the print, on a page that print runs all over: looked at once more with the
    print blotted out, for it runs through the writing. What only the first look (`seen`) read stays, too."""
    clean = _Page(page.rgb, _without(page.flat, repeated), page.reader)
    own, more = set_apart([clean.turned(line) for line in clean.lines()])
    page.left = max(page.left, clean.left)
    lost = [line for line in seen if line.is_writing and not is_of_print(line, repeated)]
    own += [line for line in lost if not any(_is_over(line, other) for other in (*own, *more))]
    return own, [line for line in more if line.words]


def _is_over(one: Line, other: Line) -> bool:
    """Whether two lines share a place: the middle of one lies in the other."""
    return any(
        cv2.pointPolygonTest(np.asarray(first.corners, np.float32), second.centre, False) >= 0
        for first, second in ((one, other), (other, one))
    )


def _without(flat: Rgb, repeated: Sequence[Line]) -> Rgb:
    """The page with what is as pale as the print, or paler, made paper; what is darker keeps its shape."""
    pale = [_paleness(cut_out(flat, line.corners)) for line in repeated]
    level = float(np.median(pale)) - _DARKER
    spread = np.clip(flat.astype(np.float32) * (255 / max(level, 1.0)), 0, 255)
    return np.asarray(np.rint(spread), np.uint8)


_DARKER = 14.0
"""Code values below the print's level from which ink is not the print (ours, on simulated backs)."""


def _paleness(line: Rgb) -> float:
    """How light the strokes of a flattened line are, 0 to 255."""
    return float(np.percentile(cv2.cvtColor(line, cv2.COLOR_RGB2GRAY), 12))


def _settled(patch: Patch) -> Patch:
    """A patch that is hardly longer than high runs across: single letters and figures mostly do."""
    width, height = _sides(patch.corners)
    if width >= _LONG * height or _runs_across(patch.corners):
        return patch
    first, second, third, fourth = patch.corners
    return evolve(patch, corners=(fourth, first, second, third))


def _is_plain(read: LineRead) -> bool:
    """Whether a reading settles its direction by itself."""
    return read.sure >= _SETTLES and len(_plain(read.text)) >= _SETTLING


_SETTLES, _SETTLING = 0.92, 5
"""Score and letters: of the lines of the simulated backs none is read so from its wrong end (docs/measured.md)."""


def _weight(read: LineRead) -> float:
    """How much a reading speaks for its direction: letters of a wrong one are few and doubtful."""
    return float(read.sure**2 * len(read.text) ** 0.5)


def _read_one(reader: LineReader, line: Rgb) -> LineRead:
    return reader.read([line])[0]


def _compared(line: Line, other: LineRead) -> Line:
    """The line beside what another picture of it says; the surer reading stands, the other beside it."""
    if line.text and _plain(other.text) == _plain(line.text):
        words = other.words if other.sure > line.sure else line.words
        return evolve(line, words=words, sure=max(line.sure, other.sure), agreed=True)
    if other.sure > line.sure:
        return evolve(line, words=other.words, sure=other.sure, also=line.text)
    return evolve(line, also=other.text)


def _by_hand(flat: Rgb, line: Line, hand: LineReader) -> Line:
    """The line by the recogniser of handwriting, where it is surer; the first reading stays beside it."""
    if line.agreed and line.sure >= _VOTES:
        return line
    (read,) = hand.read([cut_out(flat, line.corners)])
    if not read.text or read.sure <= line.sure:
        return line
    agreed = _plain(read.text) == _plain(line.text)
    return evolve(line, words=read.words, sure=read.sure, also="" if agreed else line.text, agreed=agreed)


def _plain(text: str) -> str:
    return "".join(sign for sign in text.casefold() if sign.isalnum())


def _ink(raw: Rgb, even: Rgb) -> tuple[int, int, int]:
    """The colour of the strokes: the median of what is darker than Otsu's threshold of the flattened line."""
    grey = cv2.cvtColor(even, cv2.COLOR_RGB2GRAY)
    limit, _ = cv2.threshold(grey, 0, 255, cv2.THRESH_BINARY + cv2.THRESH_OTSU)
    strokes = raw[grey <= limit]
    red, green, blue = np.median(strokes, axis=0) if len(strokes) else (0, 0, 0)
    return int(red), int(green), int(blue)


def _reversed(corners: Corners) -> Corners:
    first, second, third, fourth = corners
    return third, fourth, first, second


def _sides(corners: Corners) -> tuple[float, float]:
    quad = np.asarray(corners)
    return float(np.linalg.norm(quad[1] - quad[0])), float(np.linalg.norm(quad[3] - quad[0]))


def _area(corners: Corners) -> float:
    long, short = _sides(corners)
    return long * short


def _runs_across(corners: Corners) -> bool:
    (x, y), (right, low) = corners[0], corners[1]
    return abs(right - x) >= abs(low - y)


def _in_order(lines: Sequence[Line]) -> Iterator[Line]:
    """As they are read: each direction for itself, the one with most writing first, from its top to its foot."""
    turns = {line.turn for line in lines}
    most_first = sorted(turns, key=lambda turn: -sum(line.length for line in lines if line.turn == turn))
    for turn in most_first:
        yield from _rows([line for line in lines if line.turn == turn], turn)


def _rows(lines: Sequence[Line], turn: int) -> Iterator[Line]:
    """From the top, and from the left where two stand on one height; as seen upright."""
    seen = sorted((_upright(line.centre, turn)[::-1], place) for place, line in enumerate(lines))
    rows: list[list[int]] = []
    for (down, _), place in seen:
        row_down = _upright(lines[rows[-1][0]].centre, turn)[1] if rows else 0.0
        if rows and down - row_down < lines[place].height / 2:
            rows[-1].append(place)
        else:
            rows.append([place])
    for row in rows:
        yield from (lines[place] for place in sorted(row, key=lambda at: _upright(lines[at].centre, turn)[0]))


def _upright(point: tuple[float, float], turn: int) -> tuple[float, float]:
    """A point after so many quarter turns clockwise, about the origin."""
    x, y = point
    return ((x, y), (-y, x), (-x, -y), (y, -x))[turn]


def _votes(lines: Sequence[Line]) -> tuple[float, float, float, float]:
    """For each turn, the letters of sure lines that are upright after it."""
    sure = [line for line in lines if line.sure >= _VOTES and len(_plain(line.text)) > 2]
    first, second, third, fourth = (
        sum(
            line.sure * len(_plain(line.text)) * (1.0 if line.agreed else 0.5)
            for line in sure
            if line.turn == turn
        )
        for turn in range(4)
    )
    return first, second, third, fourth
