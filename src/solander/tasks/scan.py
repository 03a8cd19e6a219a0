"""Scans: which scanner, and its pages as arrivals in a folder of the collection until they are kept."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from threading import Event

from attrs import define, field, frozen

from solander.core.errors import CannotBegin
from solander.core.sentence import Sentence
from solander.intake.arrivals import Arrival
from solander.intake.scanner import Scanner, ScannerPages, scanners, set_scanner
from solander.intake.scanner_options import Wish
from solander.tasks.collection import Collection
from solander.tasks.incoming import incoming_folder

__all__ = ["OnGlass", "Scan", "only_scanner", "scanning", "set_scan"]


def only_scanner(there: Sequence[Scanner] | None = None) -> str:
    """The name of the one scanner that answers.

    Raises
    ------
    CannotBegin
        When there is none, or several: a person must name one.
    """
    there = scanners() if there is None else there
    if len(there) == 1:
        return there[0].device
    what = Sentence("Nothing was scanned")
    if there:
        named = ", ".join(one.device for one in there)
        raise CannotBegin(
            what, Sentence("several scanners answer (%(them)s)", them=named), Sentence("Name one: --device")
        )
    todo = Sentence(
        "Switch it on and check its cable. A scanner that only its maker's program knows can scan into a folder: "
        "solander accession COLLECTION --watch FOLDER"
    )
    raise CannotBegin(what, Sentence("no scanner answers"), todo)


@frozen
class Scan:
    """What one run of a scanner is: `dpi` is the resolution that it really has."""

    device: str
    options: Sequence[str]
    dpi: float
    feeder: bool


@define
class OnGlass:
    """Pages from one scanner; an iterator of arrivals, all sheets of the feeder or one page of the glass.

    On the glass it goes on as long as `more` says so, which is asked after each page.
    """

    scan: Scan
    folder: Path
    watch: Callable[[int, float], None]
    more: Callable[[], bool]
    stop: Event | None = None
    _first: int = field(default=1, init=False)

    def __iter__(self) -> Iterator[Arrival]:
        """The pages; see `ScannerPages`."""
        if self.scan.feeder:
            yield from self._pages(sheets=None)
            return
        yield from self._pages(sheets=1)
        while self.more():
            yield from self._pages(sheets=1)

    def _pages(self, *, sheets: int | None) -> Iterator[Arrival]:
        pages = iter(
            ScannerPages(
                self.scan.device, self.scan.options, self.folder, self.watch, self._first, sheets, self.stop
            )
        )
        for arrival in pages:
            self._first += 1
            yield arrival


def set_scan(device: str, wish: Wish, more_options: Sequence[str] = ()) -> Scan:
    """A scanner set to what is wished for; `more_options` are `name=value` as `scanimage` calls them.

    Raises
    ------
    CannotBegin
        When it does not answer, or can't.
    """
    options, dpi = set_scanner(device, wish)
    return Scan(device, [*options, *(f"--{option}" for option in more_options)], dpi, wish.feeder)


@contextmanager
def scanning(
    collection: Collection,
    scan: Scan,
    *,
    watch: Callable[[int, float], None],
    more: Callable[[], bool],
    stop: Event | None = None,
) -> Iterator[Iterator[Arrival]]:
    """The pages of a scan; when it is left, the scanner has stopped. Another thread ends it by `stop`."""
    with incoming_folder(collection, "scan") as folder:
        pages = iter(OnGlass(scan, folder, watch, more, stop))
        try:
            yield pages
        finally:
            pages.close()  # type: ignore[attr-defined]  # a generator: it stops the scanner
