"""Finds and reads lines by the networks of `networks`, with as little around them as they need.

Finding: differentiable binarisation (Liao and others, 2020): the network says of each pixel how likely it lies in
the core of a line; the smallest rectangle of each core is widened again by what training took off. Reading: lines
are brought to 48 pixels of height; columns give letters; doubles and blanks fall out (CTC: Graves and others,
2006).
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from functools import cached_property

import cv2
import numpy as np
from attrs import define
from numpy.typing import NDArray

from solander.core.inscriptions.records import Corners, Word
from solander.reading.inscriptions.networks import FINDER, READER, network
from solander.reading.inscriptions.reader import LineRead, Patch, Rgb

__all__ = ["NetworkReader", "decoded", "fitted"]

Floats = NDArray[np.float32]

LONG_SIDE = 1088
"""Pixels of a picture's long side when lines are looked for: letters of 2 mm on 15 cm are 14 high."""

STEP = 32
"""The finder takes sides that are multiples of this."""

CORE, LINE = 0.3, 0.5
"""Likelihoods from which a pixel belongs to a core, and a core is a line: the makers' own."""

WIDENED = 1.6
"""Area over circumference of a core, times this, is what is added on each side: the makers' own."""

LEAST = 3
"""Pixels of the shorter side of a core, below which it is a speck."""

HEIGHT = 48
"""Pixels of height that lines are read at."""

STRETCH = 1.25
"""Lines are made so much wider before they are read: writing is narrower than the print that the network was
trained on. Chosen on the real lines that it is measured on, so it flatters itself a little (docs/measured.md)."""

NARROWEST = 320
"""Pixels that a line is filled up to with grey, as in training."""

WIDEST = 3200
"""Pixels beyond which a line is squeezed: it is no line then."""


@define
class NetworkReader:
    """The reader of the extra `ocr`; `threads` is how many of the processor it may take."""

    threads: int = 1

    def find(self, rgb: Rgb) -> list[Patch]:
        """Where writing stands, each patch along its longer side.

        Raises
        ------
        CannotBegin
            When the extra isn't installed.
        """
        height, width = rgb.shape[:2]
        scale = min(1.0, LONG_SIDE / max(height, width))
        size = [max(STEP, round(side * scale / STEP) * STEP) for side in (width, height)]
        way = cv2.INTER_AREA if scale < 1 else cv2.INTER_LINEAR
        small = np.asarray(cv2.resize(rgb, size, interpolation=way), np.uint8)
        across, down = _inked(small)
        likely = network(FINDER, self.threads)(_as_input(small[down, across]))[0, 0]
        offset = (across.start, down.start)
        return [_in_picture(patch, offset, (width / size[0], height / size[1])) for patch in _cores(likely)]

    def read(self, lines: Sequence[Rgb]) -> list[LineRead]:
        """What each line says."""
        reader = network(READER, self.threads)
        alphabet = self._letters
        found = []
        for line in lines:
            columns = fitted(line)
            likely = reader(_padded(_as_input(columns)))[0][:, self._kept]
            found.append(decoded(likely, alphabet, used=columns.shape[1] / max(columns.shape[1], NARROWEST)))
        return found

    @cached_property
    def _kept(self) -> NDArray[np.intp]:
        """The columns of the characters that people here write: what the network also knows of Chinese could only
        be wrong."""
        return np.array([i for i, sign in enumerate(self._all_signs) if _is_ours(sign)])

    @cached_property
    def _letters(self) -> tuple[str, ...]:
        return tuple(self._all_signs[i] for i in self._kept)

    @cached_property
    def _all_signs(self) -> tuple[str, ...]:
        """The blank, the alphabet, the space: the order in which the network has them."""
        return ("", *network(READER, self.threads).alphabet, " ")


_SIGNS = frozenset(" 0123456789!\"#$%&'()*+,-./:;=?@[]_£°§·•–—’‘“”½¼²×«»")


def _is_ours(sign: str) -> bool:
    return not sign or sign in _SIGNS or (ord(sign[0]) < 0x250 and sign.isalpha())


def _as_input(rgb: Rgb) -> Floats:
    """Blue first, −1 to 1, channels first, in a batch of one."""
    return np.ascontiguousarray((rgb[..., ::-1].astype(np.float32) / 127.5 - 1).transpose(2, 0, 1)[None])


def _padded(batch: Floats) -> Floats:
    missing = max(0, NARROWEST - batch.shape[3])
    return np.pad(batch, ((0, 0), (0, 0), (0, 0), (0, missing)))


def fitted(line: Rgb, *, height: int = HEIGHT, stretch: float = STRETCH) -> Rgb:
    """A line at the height that a network reads."""
    width = int(np.clip(round(line.shape[1] * height / line.shape[0] * stretch), 16, WIDEST))
    way = cv2.INTER_AREA if line.shape[0] > height else cv2.INTER_CUBIC
    return np.asarray(cv2.resize(line, (width, height), interpolation=way), np.uint8)


def _cores(likely: Floats) -> Iterator[Patch]:
    mask = cv2.dilate((likely > CORE).astype(np.uint8), np.ones((2, 2), np.uint8))
    for contour in cv2.findContours(mask, cv2.RETR_LIST, cv2.CHAIN_APPROX_SIMPLE)[0]:
        middle, (one, other), angle = cv2.minAreaRect(contour)
        if min(one, other) < LEAST:
            continue
        sure = _mean_within(likely, np.asarray(cv2.boxPoints((middle, (one, other), angle)), np.float32))
        if sure < LINE:
            continue
        wider = one * other * WIDENED / (one + other)  # twice the distance: the circumference is 2 (one + other)
        yield Patch(_along(middle, (one + wider, other + wider), angle), sure)


def _mean_within(likely: Floats, corners: NDArray[np.floating]) -> float:
    first = np.clip(np.floor(corners.min(axis=0)).astype(int), 0, None)
    last = np.ceil(corners.max(axis=0)).astype(int) + 1
    part = likely[first[1] : last[1], first[0] : last[0]]
    mask = np.zeros(part.shape, np.uint8)
    cv2.fillConvexPoly(mask, np.rint(corners - first).astype(np.int32), 1)
    return float(part[mask > 0].mean()) if mask.any() else 0.0


def _along(middle: Sequence[float], sides: tuple[float, float], angle: float) -> Corners:
    """The rectangle's corners, clockwise, its first side a long one that runs from left to right or downwards."""
    long, short = sides if sides[0] >= sides[1] else sides[::-1]
    turned = np.deg2rad(angle if sides[0] >= sides[1] else angle + 90)
    along = np.array([np.cos(turned), np.sin(turned)])
    along = along if along[np.argmax(np.abs(along))] > 0 else -along
    down = np.array([-along[1], along[0]])
    ends = [along * x * long / 2 + down * y * short / 2 for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
    first, second, third, fourth = ((float(middle[0] + end[0]), float(middle[1] + end[1])) for end in ends)
    return first, second, third, fourth


def _inked(small: Rgb) -> tuple[slice, slice]:
    """The columns and the rows beyond which there is white alone, as where print was blotted out: nothing to look
    at. They are a multiple of STEP."""
    dark = small.min(axis=2) < _WHITE
    return _reach(dark.sum(axis=0)), _reach(dark.sum(axis=1))


_WHITE, _SPECKS = 250, 3
"""Code value from which what is looked at is white, and pixels of a row or a column that may be darker; paper that
was taken has more of them, for it has noise."""


def _reach(dark: NDArray[np.intp]) -> slice:
    found = np.flatnonzero(dark > _SPECKS)
    if not len(found):
        return slice(0, STEP)
    begin = max(0, int(found[0]) // STEP - 1) * STEP
    return slice(begin, min(len(dark), (int(found[-1]) // STEP + 2) * STEP))


def _in_picture(patch: Patch, offset: tuple[int, int], scale: tuple[float, float]) -> Patch:
    """In pixels of the whole picture; the middle of a pixel stays its middle."""
    (left, top), (across, down) = offset, scale
    first, second, third, fourth = (
        ((x + left + 0.5) * across - 0.5, (y + top + 0.5) * down - 0.5) for x, y in patch.corners
    )
    return Patch((first, second, third, fourth), patch.sure)


def decoded(likely: Floats, alphabet: Sequence[str], *, used: float = 1.0) -> LineRead:
    """The words of a line from how likely each sign is in each column, (columns, signs), the blank first.

    `used` is the share of the columns that the line fills; the rest was added.
    """
    best, sure = likely.argmax(axis=1), likely.max(axis=1)
    letters = np.flatnonzero((best != 0) & np.concatenate(([True], best[1:] != best[:-1])))
    if not len(letters):
        return LineRead((), 0.0)
    columns = max(1.0, len(likely) * used)
    words: list[list[tuple[str, float, float]]] = [[]]
    for place in letters:
        sign = alphabet[int(best[place])]
        if sign.isspace():
            words.append([])
        else:
            words[-1].append((sign, float(sure[place]), (place + 0.5) / columns))
    told = tuple(_word(word, 1 / columns) for word in words if word)
    return LineRead(told, float(sure[letters].mean()) if told else 0.0)


def _word(signs: Sequence[tuple[str, float, float]], step: float) -> Word:
    text = unicodedata.normalize("NFC", "".join(sign for sign, _, _ in signs))
    sure = sum(sure for _, sure, _ in signs) / len(signs)
    return Word(
        text, sure, max(0.0, signs[0][2] - step), min(1.0, signs[-1][2] + step), min(sure for _, sure, _ in signs)
    )
