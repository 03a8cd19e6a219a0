"""Pages of an album: which container each capture of a page is, and the page as it is shown beside its prints."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from attrs import frozen

from solander.core.album import AlbumPage, album_page, page_of_album
from solander.core.errors import CannotBegin
from solander.core.sentence import Sentence
from solander.imaging.encode import thumbnail
from solander.imaging.rectify import quarter_turn
from solander.intake.arrivals import Arrival
from solander.tasks.collection import Collection
from solander.tasks.prepare import write_shown
from solander.tasks.redraw import pixels_of
from solander.vault.store import sha256_of

__all__ = ["Albums", "numbered_pages"]

LARGE_SIDE = 2400
"""Longest side in pixels of the picture of a page: captions stay readable, 200 an inch on a page of 30 cm."""


def numbered_pages(collection: Collection, container: str | None, arrivals: Sequence[Arrival]) -> dict[str, str]:
    """The container of each arrival, every one a page, in their order.

    A code that ends in a page, `B2/A1/P3`, is that of the first; after an album's own code pages are counted on
    from the last that it has, and files that were taken in before keep theirs.

    Raises
    ------
    CannotBegin
        When no container is named: pages belong to an album.
    """
    if not container:
        raise CannotBegin(
            Sentence("No page was taken in"),
            Sentence("it was not said which album they are from"),
            Sentence("Add --container, such as B2/A1"),
        )
    album, first = page_of_album(container)
    start = first or _first_page(collection, album, arrivals)
    return {arrival.name: f"{album}/P{start + place}" for place, arrival in enumerate(arrivals)}


def _first_page(collection: Collection, album: str, arrivals: Sequence[Arrival]) -> int:
    """The page of the first file: told by one that was taken in before, else the one after the album's last."""
    pages: dict[str, int] = {}
    last = 0
    for container in collection.catalogue.containers():
        number = page_of_album(container.code)[1]
        if container.parent == album and number is not None:
            last = max(last, number)
            pages.update(dict.fromkeys(container.captures, number))
    for place, arrival in enumerate(arrivals):
        known = [sha256 for sha256 in collection.catalogue.arrived_as(arrival.name) if sha256 in pages]
        if known and (sha256 := sha256_of(arrival.path)) in known:
            return max(1, pages[sha256] - place)
    return last + 1


@frozen
class Albums:
    """The album pages of a collection, as they are shown beside their prints."""

    collection: Collection

    def page(self, accession: str) -> AlbumPage | None:
        """The album page that the front was cut out of, with all prints on it; None for a print from elsewhere."""
        catalogue = self.collection.catalogue
        print_ = catalogue.print(accession)
        container = catalogue.container(print_.container) if print_.container else None
        if container is None or print_.recto is None or print_.recto.capture not in container.captures:
            return None
        capture = catalogue.capture(print_.recto.capture)
        return album_page(container, capture, catalogue.prints_beside(accession)) if capture else None

    def picture(self, sha256: str, turn: int) -> Path:
        """The JPEG of a whole page, turned; made when it is not there.

        Raises
        ------
        Trouble
            When its capture is missing or can't be read.
        CannotBegin
            When it can't be written.
        """
        path = self.collection.views_root / sha256[:2] / f"{sha256}.{turn % 4}.page.jpg"
        if not path.is_file():
            small = quarter_turn(thumbnail(pixels_of(self.collection, sha256, 0), LARGE_SIDE), turn)
            write_shown(path, small, what="The page")
        return path
