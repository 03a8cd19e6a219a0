"""Reads all that is written on one side of a print.

The side is read twice, as it is and with its light flattened. Where both give the same words they are mostly
right, and where not both are kept. Lines may run in any direction: sideways, upside down, aslant.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import cv2
import numpy as np
from attrs import evolve, frozen

from solander.core.inscriptions.records import Corners, Inscription, Line
from solander.reading.inscriptions.reader import InscriptionReader, LineRead, LineReader, Patch, Rgb, cut_out
from solander.reading.inscriptions.repeated import set_apart

__all__ = ["read_side"]

_LONG = 1.5
"""Times its height that a patch must be long before its longer side is surely its direction."""

_TRIED = 3
"""Patches of each direction, the longest, that are read both ways to learn which way round they run."""

_DOUBTFUL = 0.7
"""Score below which a line is tried the other way round as well."""

_CLEARLY = 0.1
"""So much better must it be then."""

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
    own, repeated = set_apart(_looked_at(rgb, flat, reader))
    seen = rgb
    if repeated:
        # Print all over a back runs through what is written on it: looked at once more with that blotted out.
        seen = _without(flat, repeated)
        own, more = set_apart(_looked_at(rgb, seen, reader))
        repeated += [line for line in more if line.words]
    own = [_second_look(flat if repeated else seen, line, reader) for line in own]
    own = [_by_hand(flat, line, hand) for line in own] if hand else own
    return Inscription(tuple(_in_order(own)), tuple(_in_order(repeated)), _votes(own))


def _looked_at(rgb: Rgb, flat: Rgb, reader: InscriptionReader) -> list[Line]:
    """The lines of the flattened page, each the way round that it is read. The ink's colour is the page's."""
    patches = [_settled(patch) for patch in reader.find(flat)]
    way = _way_round(flat, patches, reader)
    placed = [_reversed(patch.corners) if way.of(patch) else patch.corners for patch in patches]
    return [_first_look(rgb, flat, corners, reader) for corners in placed]


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


def _way_round(flat: Rgb, patches: Sequence[Patch], reader: LineReader) -> _Way:
    return _Way(
        *(
            _is_reversed(flat, [p for p in patches if _runs_across(p.corners) is runs], reader)
            for runs in (True, False)
        )
    )


def _is_reversed(flat: Rgb, patches: Sequence[Patch], reader: LineReader) -> bool:
    longest = sorted(patches, key=lambda patch: -_sides(patch.corners)[0])[:_TRIED]
    lines = [cut_out(flat, patch.corners) for patch in longest]
    forwards = reader.read(lines)
    backwards = reader.read([np.ascontiguousarray(line[::-1, ::-1]) for line in lines])
    return sum(map(_weight, backwards)) > sum(map(_weight, forwards))


def _weight(read: LineRead) -> float:
    """How much a reading speaks for its direction: letters of a wrong one are few and doubtful."""
    return float(read.sure**2 * len(read.text) ** 0.5)


def _first_look(rgb: Rgb, flat: Rgb, corners: Corners, reader: LineReader) -> Line:
    even = cut_out(flat, corners)
    (read,) = reader.read([even])
    if read.sure < _DOUBTFUL:
        (other,) = reader.read([np.ascontiguousarray(even[::-1, ::-1])])
        if other.sure > read.sure + _CLEARLY and len(other.text) >= len(read.text):
            read, corners = other, _reversed(corners)
    return Line(read.words, corners, read.sure, ink=_ink(cut_out(rgb, corners), cut_out(flat, corners)))


def _second_look(rgb: Rgb, line: Line, reader: LineReader) -> Line:
    """The line as it is read from another picture of it, too; the surer reading stands, the other beside it."""
    (other,) = reader.read([cut_out(rgb, line.corners)])
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
