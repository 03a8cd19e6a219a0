"""What the workbench shows and does where outlines are checked by hand."""

from __future__ import annotations

import threading
from collections.abc import Sequence
from pathlib import Path

from attrs import Factory, define, field, frozen

from solander.core.errors import NotFound
from solander.core.outlines import sound_outline
from solander.core.prints import Corners, View
from solander.core.sentence import Sentence
from solander.imaging.encode import encode_png, thumbnail
from solander.imaging.fit import fit_to_paper
from solander.tasks.add_print import add_print
from solander.tasks.collection import Collection
from solander.tasks.enter_print import edge_sentence
from solander.tasks.prepare import Rgb, corners_of, write_shown
from solander.tasks.redraw import Done, check_outline, pixels_of, redraw, take_second
from solander.tasks.sitting import Sitting
from solander.tasks.take_out import take_out

__all__ = ["LARGE_SIDE", "TILE", "CaptureEdge", "FittedOutline", "Outlines"]

LARGE_SIDE = 2400
"""Longest side in pixels of the picture of a whole capture: it fills a desk's screen and not a telephone's memory;
the magnifier shows the capture's own pixels (our choice, not measured)."""

TILE = 256
"""Width and height in pixels of the pieces in which the magnifier gets the capture's own pixels."""


@frozen
class CaptureEdge:
    """An outline to look at: of which print, in a capture of which name and size, beside which others.

    `sentence` is what is asked about it, empty where nothing is.
    """

    accession: str
    view: View
    capture_name: str
    width: int
    height: int
    others: tuple[Corners, ...]
    sentence: str


@frozen
class FittedOutline:
    """Corners beside the paper's edge, and how many of the four sides had an edge beside them."""

    corners: Corners
    sides: int


@define
class Outlines:
    """The outlines of a collection for one workbench; the capture looked at last is kept at hand."""

    collection: Collection
    sitting: Sitting = field(default=Factory(lambda desk: Sitting(desk.collection), takes_self=True))
    _pixels: tuple[tuple[str, int], Rgb] | None = field(default=None, init=False)
    _one_at_a_time: threading.Lock = field(factory=threading.Lock, init=False)

    def waiting(self) -> Sequence[tuple[str, View]]:
        """Accession number and view of each outline that is not sure, the least sure first."""
        return self.collection.catalogue.unsure_views()

    def edge(self, key: str) -> CaptureEdge:
        """The outline of a view in use.

        Raises
        ------
        NotFound
            When no view in use has that key.
        """
        accession, view = self.collection.catalogue.view(key)
        capture = self.collection.catalogue.capture(view.capture)
        if capture is None:
            raise NotFound(Sentence("The capture of %(accession)s is not in the catalogue", accession=accession))
        width, height = capture.width, capture.height
        if view.page:  # the record speaks of the first page
            height, width = self._rgb(view.capture, view.page).shape[:2]
        beside = self.collection.catalogue.views_of_capture(view.capture)
        others = [other.outline.corners for _, other in beside if other.page == view.page and other.key != key]
        sentence = "" if view.outline.is_sure else edge_sentence(accession, view)
        return CaptureEdge(accession, view, capture.name, width, height, tuple(others), sentence)

    def large_path(self, sha256: str, page: int) -> Path:
        """The JPEG of a whole page of a capture, at most `LARGE_SIDE` pixels long; made when it is not there."""
        path = self.collection.views_root / sha256[:2] / f"{sha256}.{page}.capture.jpg"
        if not path.is_file():
            small = thumbnail(self._rgb(sha256, page), LARGE_SIDE)
            write_shown(path, small, what="The capture")
        return path

    def tile(self, sha256: str, page: int, column: int, row: int) -> bytes:
        """A PNG of the capture's own pixels: `TILE` to each side, fewer at the right and lower edge.

        Raises
        ------
        NotFound
            When the capture does not reach there.
        """
        rgb = self._rgb(sha256, page)
        piece = (
            rgb[row * TILE : (row + 1) * TILE, column * TILE : (column + 1) * TILE]
            if row >= 0 <= column
            else rgb[:0]
        )
        if not piece.size:
            raise NotFound(Sentence("The capture does not reach there"))
        return encode_png(piece)

    def fit(self, sha256: str, page: int, corners: Sequence[Sequence[float]]) -> FittedOutline:
        """A drawn outline brought to the paper's edge beside it.

        Raises
        ------
        InvalidValue
            When the corners bound no print.
        """
        rgb = self._rgb(sha256, page)
        height, width = rgb.shape[:2]
        fitted = fit_to_paper(rgb, sound_outline(corners, width, height))
        inside = fitted.corners.clip([-0.5, -0.5], [width - 0.5, height - 0.5])
        return FittedOutline(corners_of(inside), sum(fitted.sides))

    def check(self, key: str) -> Done:
        """Accepts an outline as it is."""
        return self.sitting.kept(check_outline(self.collection, key))

    def take_second(self, key: str) -> Done:
        """Takes the second-best outline."""
        return self.sitting.kept(take_second(self.collection, key))

    def redraw(self, key: str, corners: Sequence[Sequence[float]]) -> Done:
        """Takes corners that a person set."""
        return self.sitting.kept(redraw(self.collection, key, corners))

    def add(self, beside: str, corners: Sequence[Sequence[float]]) -> Done:
        """Adds a print that was missed in the capture of a view."""
        return self.sitting.kept(add_print(self.collection, beside, corners))

    def take_out(self, key: str) -> Done:
        """Takes out what is no print."""
        return self.sitting.kept(take_out(self.collection, key))

    def _rgb(self, sha256: str, page: int) -> Rgb:
        with self._one_at_a_time:
            if self._pixels is None or self._pixels[0] != (sha256, page):
                self._pixels = None  # two large scans at once would fill a small machine's memory
                self._pixels = (sha256, page), pixels_of(self.collection, sha256, page)
            return self._pixels[1]
