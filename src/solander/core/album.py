"""The page of an album as it was found: one capture of the whole page, and the prints that lie on it."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence

from attrs import frozen

from solander.core.prints import Capture, Container, Corners, Print, View

__all__ = ["AlbumPage", "Mounted", "album_page", "page_number", "page_of_album"]

_PAGE = re.compile(r"(?P<album>.+/)?P(?P<number>[0-9]+)")


def page_number(code: str) -> int | None:
    """3 for `B2/A1/P3`: pages are containers whose last level is a P with its number; None for others."""
    found = _PAGE.fullmatch(code)
    return int(found["number"]) if found else None


def page_of_album(code: str) -> tuple[str, int | None]:
    """The album and the page that a code names: `B2/A1` and 3 for `B2/A1/P3`, `B2/A1` and None for `B2/A1`."""
    number = page_number(code)
    return (code, None) if number is None else (code.rpartition("/")[0], number)


@frozen
class Mounted:
    """A print where it lies on its page; `number` is its place in reading order, by which slips call it (`#2`);
    `corners` are in pixels of the page as it is shown."""

    accession: str
    number: int
    corners: Corners


@frozen
class AlbumPage:
    """One page as it was found; `width` and `height` in pixels after `turn` quarter turns clockwise from how the
    capture shows it: the page stands as most of its prints do."""

    container: str
    capture: str
    name: str
    turn: int
    width: int
    height: int
    prints: tuple[Mounted, ...]


def album_page(container: Container, capture: Capture, prints: Sequence[Print]) -> AlbumPage | None:
    """The page that `capture` shows whole; `prints` are those of its container, in the order of their numbers.

    None where the capture was not taken as a page, or no print lies on it.
    """
    lying = [(one.accession, view) for one in prints for view in one.views if view.capture == capture.sha256]
    if capture.sha256 not in container.captures or not lying:
        return None
    turn = _most_common_turn([view for _, view in lying])
    size = (capture.width, capture.height)
    mounted = tuple(
        Mounted(accession, number, _turned(view.outline.corners, size, turn))
        for number, (accession, view) in enumerate(lying, start=1)
    )
    width, height = size[::-1] if turn % 2 else size
    return AlbumPage(container.code, capture.sha256, capture.name, turn, width, height, mounted)


def _most_common_turn(views: Sequence[View]) -> int:
    turns = Counter(view.turn for view in views if view.upright is not None)
    return turns.most_common(1)[0][0] if turns else 0


def _turned(corners: Corners, size: tuple[int, int], turn: int) -> Corners:
    """The corners after quarter turns clockwise of a picture of that width and height."""
    (width, height), first = size, corners
    for _ in range(turn % 4):
        first = tuple((height - 1 - y, x) for x, y in first)  # type: ignore[assignment]
        width, height = height, width
    return first
