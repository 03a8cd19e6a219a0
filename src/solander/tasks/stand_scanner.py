"""A scanner at a station: looked for, set, and run when a person wants a scan."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from itertools import chain
from threading import Event, Thread

from attrs import define, field

from solander.core.errors import InvalidValue, Trouble
from solander.core.orders import Order
from solander.core.sentence import Sentence
from solander.intake.arrivals import Arrival
from solander.intake.scanner import Scanner, scanners
from solander.intake.scanner_options import Wish
from solander.tasks.incoming import LEFT_OVER
from solander.tasks.scan import scanning, set_scan
from solander.tasks.stand_arrivals import SourceBeside
from solander.tasks.stand_told import Taken
from solander.tasks.stand_ways_now import WaysHere

__all__ = ["FEWEST_DPI", "MOST_DPI", "PLACES", "ScannerAtStand"]

FEWEST_DPI, MOST_DPI = 75, 9600

PLACES = ("glass", "feeder", "both")
"""Where prints lie in a scanner: on the glass, in a feeder, in a feeder that sees both sides."""


@define(eq=False)
class ScannerAtStand:
    """The scanner of one station. `order` carries out an order about the next page."""

    here: WaysHere
    order: Callable[[Order], object]
    _source: SourceBeside | None = field(default=None, init=False)

    def look(self) -> None:
        """Asks which scanners answer, beside all else."""
        with self.here.lock:
            if self.here.now.scanner_state not in ("off", "ready"):
                return
            self.here.change(scanner_state="looking")
        Thread(target=self._looked, name="looks for scanners", daemon=True).start()

    def scan(self, device: str = "", dpi: int = 0, place: str = "") -> None:
        """Scans. See `StandWays.scan`."""
        now = self.here.now
        dpi, place, device = dpi or now.dpi, place or now.place, device or now.device
        _refuse_wish(device, dpi, place)
        with self.here.lock:
            if self.here.now.scanner_state not in ("off", "ready"):
                why = Sentence("the scanner is at work")
                raise InvalidValue(_NOT_SCANNED, why, Sentence("Wait until it is done, or stop it"))
            self.here.change(scanner_state="setting", device=device, dpi=dpi, place=place, page=0, done=0)
            source = SourceBeside(
                f"scans with {device}",
                self._scanning,
                self._page(place),
                self.here.told,
                lambda: self._ended(source),
            )
            self._source = source
            source.begin()
        self.here.keep(device=device, dpi=dpi, place=place)

    def stop(self) -> None:
        """Stops the scan; the page that it is at is dropped."""
        if self._source is not None:
            self._source.end()

    def leave(self) -> None:
        """Puts the scanner away: it is no way in any more."""
        self.stop()
        self.here.change(scanner_state="off")

    def _looked(self) -> None:
        there: tuple[Scanner, ...] = ()
        try:
            there = tuple(scanners())
            if not there:
                why, todo = (
                    Sentence("no scanner answers"),
                    Sentence("Switch it on, check its cable, and look again"),
                )
                raise Trouble(Sentence("Nothing can be scanned"), why, todo)
        except Trouble as trouble:
            self.here.told(trouble)
        except Exception as fault:  # of ours: it is told, and one may look again
            self.here.told(Trouble(Sentence("Nothing can be scanned"), f"{type(fault).__name__}: {fault}"))
        names = [one.device for one in there]
        device = self.here.now.device if self.here.now.device in names else next(iter(names), "")
        self.here.change(scanner_state="ready" if there else "off", scanners=there, device=device)

    @contextmanager
    def _scanning(self, stop: Event) -> Iterator[Iterable[Arrival]]:
        now = self.here.now
        scan = set_scan(now.device, Wish(now.dpi, 8, now.place != "glass", now.place == "both"))
        before = self.here.left_over()
        with (
            self.here.incoming(),
            scanning(self.here.collection, scan, watch=self._progress, more=lambda: False, stop=stop) as pages,
        ):
            yield chain(before, pages)

    def _page(self, place: str) -> Callable[[Arrival], object]:
        """Takes a page. A sheet of a feeder fills its page, and is taken whole where no edge is found; of a feeder
        that sees both sides, every second one is the back of the one before it. What another run left behind is
        no sheet of this one."""
        sheets: list[Taken | None] = []

        def taken(arrival: Arrival) -> object:
            if arrival.source == LEFT_OVER:
                return self.here.arrivals(arrival)
            if place != "glass":
                before = sheets[-1] if place == "both" and len(sheets) % 2 else None
                self.order(Order.BACK if before is not None and before.accession else Order.TAKE)
            sheets.append(self.here.arrivals(arrival))
            return sheets[-1]

        return taken

    def _progress(self, page: int, done: float) -> None:
        if (page, int(done)) != (self.here.now.page, self.here.now.done):
            self.here.change(scanner_state="scanning", page=page, done=int(done))

    def _ended(self, source: SourceBeside) -> None:
        if source is self._source:  # one that ends late says nothing of the next
            self.here.change(scanner_state="ready")


_NOT_SCANNED = Sentence("Nothing was scanned")


def _refuse_wish(device: str, dpi: int, place: str) -> None:
    if not device or device.startswith("-"):
        why, todo = Sentence("no scanner was chosen"), Sentence("Look which scanners answer, and choose one")
        raise InvalidValue(_NOT_SCANNED, why, todo)
    if not FEWEST_DPI <= dpi <= MOST_DPI or place not in PLACES:
        why = Sentence("%(dpi)s pixels an inch can't be scanned", dpi=dpi)
        todo = Sentence("Choose a number from %(least)s to %(most)s", least=FEWEST_DPI, most=MOST_DPI)
        raise InvalidValue(_NOT_SCANNED, why, todo)
