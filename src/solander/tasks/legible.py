"""Pictures in which the writing on a back is easier to see, and its lines cut out of them.

Made when somebody looks, kept in memory for a while, and never written: the view stays as it is.
"""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable, Mapping
from typing import TypeVar

import numpy as np
from attrs import define, field
from numpy.typing import NDArray

from solander.core.inscriptions import Line
from solander.core.inscriptions.records import Corners
from solander.core.prints import View
from solander.imaging.decode import decode
from solander.imaging.encode import encode_jpeg
from solander.imaging.legibility import LEGIBILITY_VIEWS, mirrored
from solander.imaging.rectify import quarter_turn
from solander.reading.inscriptions.reader import cut_out
from solander.tasks.collection import Collection
from solander.tasks.look_for_faces import picture_of_view

__all__ = ["AS_TAKEN", "WAYS", "Legible"]

Rgb = NDArray[np.uint8]
Key = TypeVar("Key")
Given = TypeVar("Given")

AS_TAKEN = "as-taken"
WAYS: Mapping[str, Callable[[Rgb], Rgb]] = {
    AS_TAKEN: lambda rgb: rgb,
    **{name.replace(" ", "-"): make for name, make in LEGIBILITY_VIEWS.items()},
}
"""The ways to look at a back, by their names in addresses."""

_KEPT, _PIXELS_KEPT = 10, 2
"""So many JPEGs, and arrays of pixels, are kept: two backs in every way, and what is cut into lines now."""

_AROUND = 0.35
"""Shares of a line's height that are shown around it: long letters reach out of their line (our choice)."""


@define
class Legible:
    """The legible pictures of one collection; any number of threads may ask."""

    collection: Collection
    _jpegs: OrderedDict[tuple[str, str, int], bytes] = field(factory=OrderedDict, init=False)
    _pixels: OrderedDict[tuple[str, str], Rgb] = field(factory=OrderedDict, init=False)
    _one_at_a_time: threading.RLock = field(factory=threading.RLock, init=False)

    def picture(self, view: View, way: str, turn: int = 0) -> bytes:
        """The view as a JPEG, in one of the `WAYS` and so many quarter turns clockwise from how it is shown."""

        def make() -> bytes:
            return encode_jpeg(quarter_turn(self._seen(view, way), turn), quality=88)

        with self._one_at_a_time:
            return _remembered(self._jpegs, (view.key, way, turn % 4), _KEPT, make)

    def line(self, view: View, way: str, line: Line) -> bytes:
        """A line of it, upright, as a JPEG; mirrored it is turned over by itself, so that it stays that line."""
        with self._one_at_a_time:
            rgb = self._seen(view, AS_TAKEN if way == "mirrored" else way)
        cut = cut_out(rgb, _widened(line))
        return encode_jpeg(mirrored(cut) if way == "mirrored" else cut, quality=88)

    def _seen(self, view: View, way: str) -> Rgb:
        def make() -> Rgb:
            if way == AS_TAKEN:
                return decode(picture_of_view(self.collection.root, view))
            return WAYS[way](self._seen(view, AS_TAKEN))

        return _remembered(self._pixels, (view.key, way), _PIXELS_KEPT, make)


def _remembered(known: OrderedDict[Key, Given], key: Key, most: int, make: Callable[[], Given]) -> Given:
    if key not in known:
        known[key] = make()
        if len(known) > most:
            known.popitem(last=False)
    known.move_to_end(key)
    return known[key]


def _widened(line: Line) -> Corners:
    """The corners of a line with some paper around."""
    first, second, third, fourth = (np.asarray(corner) for corner in line.corners)
    along = (second - first) / max(line.length, 1.0) * line.height * _AROUND
    down = (fourth - first) * _AROUND
    moved = (first - along - down, second + along - down, third + along + down, fourth - along + down)
    one, two, three, four = ((float(x), float(y)) for x, y in moved)
    return one, two, three, four
