"""The other ways in at one station: a folder that is watched, a scanner, a camera on a cable.

Whatever they bring goes through the stand, as what its camera takes does: the slip describes it, orders are about
it, undo takes it back. What takes long (scanners that look for each other all over the network, the scan itself)
happens in threads; `now` tells how it stands.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from itertools import chain
from pathlib import Path
from threading import Event, RLock, Thread
from typing import Any

from attrs import define, evolve, field, frozen

from solander.core.errors import InvalidValue, Trouble
from solander.core.orders import Order
from solander.core.sentence import Sentence
from solander.intake.arrivals import Arrival
from solander.intake.scanner import Scanner, scanners
from solander.intake.scanner_options import Wish
from solander.tasks.collection import Collection
from solander.tasks.incoming import LEFT_OVER, left_over
from solander.tasks.kept_ways import KeptWays
from solander.tasks.scan import scanning, set_scan
from solander.tasks.stand_arrivals import ArrivalsAtStand, SourceBeside
from solander.tasks.stand_told import Taken
from solander.tasks.tether import tethered
from solander.tasks.watch_folder import folder_named, refuse_own_folder, watched_folder

__all__ = ["FEWEST_DPI", "MOST_DPI", "SharedWays", "StandWays", "WaysNow"]

FEWEST_DPI, MOST_DPI, USUAL_DPI = 75, 9600, 600

PLACES = ("glass", "feeder", "both")
"""Where prints lie in a scanner: on the glass, in a feeder, in a feeder that sees both sides."""


@frozen
class WaysNow:
    """How the other ways stand.

    `folder` is its path, or the one of last time; `folder_state` is "off", "on", or "away" while its disk is out
    of reach. `scanner_state` is "off", "looking" (for scanners), "ready", "setting" (it is asked what it can) or
    "scanning": `page` so far as `done` (%). `device`, `dpi` and `place` are what was chosen. `cable_state` is
    "off", "looking" or "on": then `camera` is its model.
    """

    folder: str = ""
    only_new: bool = True
    folder_state: str = "off"
    scanner_state: str = "off"
    scanners: tuple[Scanner, ...] = ()
    device: str = ""
    dpi: int = USUAL_DPI
    place: str = "glass"
    page: int = 0
    done: int = 0
    cable_state: str = "off"
    camera: str = ""

    @property
    def feeds(self) -> bool:
        """Whether pictures may come by one of them."""
        return self.folder_state != "off" or self.cable_state == "on" or self.has_scanner

    @property
    def has_scanner(self) -> bool:
        """Whether a scanner is the way in just now."""
        return bool(self.device) and self.scanner_state in ("ready", "setting", "scanning")


@define(eq=False)
class SharedWays:
    """What the stations of one workbench must know of each other: who watches which folder, and how many bring
    pictures into the collection's own folder of what arrives."""

    kept: KeptWays = field(factory=KeptWays)
    folders: dict[Path, str] = field(factory=dict)
    incoming: int = 0
    lock: RLock = field(factory=RLock)


@define(eq=False)
class StandWays:
    """The ways of one station.

    `take` takes a picture at the stand by its bytes and name, `order` carries an order out there; `told` hears
    what went wrong, `changed` that `now` is another.
    """

    collection: Collection
    station: str
    take: Callable[[bytes, str], Taken]
    order: Callable[[Order], object]
    told: Callable[[Trouble], None]
    changed: Callable[[], None]
    shared: SharedWays = field(factory=SharedWays)
    now: WaysNow = field(init=False)
    _arrivals: ArrivalsAtStand = field(init=False)
    _folder: SourceBeside | None = field(default=None, init=False)
    _scanner: SourceBeside | None = field(default=None, init=False)
    _cable: SourceBeside | None = field(default=None, init=False)
    _lock: RLock = field(factory=RLock, init=False)
    # One of its own: the end of a folder is waited for while it is held, and that end needs the other.
    _changing_folder: RLock = field(factory=RLock, init=False)

    def __attrs_post_init__(self) -> None:
        self._arrivals = ArrivalsAtStand(self.collection, self.take, self.told)
        kept = self.shared.kept.of(self.collection.identifier, self.station)
        kinds = {"folder": str, "only_new": bool, "device": str, "dpi": int, "place": str}
        self.now = WaysNow(**{name: kept[name] for name in kinds if isinstance(kept.get(name), kinds[name])})

    def close(self) -> None:
        """Ends all of them."""
        for way in (self._folder, self._scanner, self._cable):
            if way is not None:
                way.end()

    # A folder

    def watch(self, typed: str, *, only_new: bool = True) -> None:
        """Begins to watch a folder; `only_new` leaves alone what lies there already.

        Raises
        ------
        Trouble
            When it can't be watched, or is by another station.
        """
        folder = folder_named(typed)
        refuse_own_folder(self.collection, folder)
        with self._changing_folder:
            self._refuse_watched(folder)  # before the one that is watched now is left
            self.leave_folder()
            with self.shared.lock:
                self._refuse_watched(folder)
                self.shared.folders[folder.resolve()] = self.station
            self._folder = SourceBeside(
                f"watches {folder}",
                lambda stop: self._watching(folder, only_new, stop),
                self._arrivals,
                self.told,
                lambda: self._folder_ended(folder),
            )
            self._now(folder=str(folder), only_new=only_new, folder_state="on")
            self._folder.begin()
        self._keep(folder=str(folder), only_new=only_new)

    def _refuse_watched(self, folder: Path) -> None:
        with self.shared.lock:
            by = self.shared.folders.get(folder.resolve(), self.station)
        if by != self.station:
            why = Sentence("station “%(name)s” watches it already", name=by)
            raise InvalidValue(Sentence("The folder is not watched"), why, Sentence("Choose another"))

    def leave_folder(self) -> None:
        """Ends the watching."""
        if self._folder is not None:
            self._folder.end()

    @contextmanager
    def _watching(self, folder: Path, only_new: bool, stop: Event) -> Iterator[Iterable[Arrival]]:
        def moved() -> None:
            self._now(folder_state="on" if folder.is_dir() else "away")

        yield watched_folder(folder, self.told, stop=stop, only_new=only_new, moved=moved)

    def _folder_ended(self, folder: Path) -> None:
        with self.shared.lock:
            self.shared.folders.pop(folder.resolve(), None)
        self._now(folder_state="off")

    # A scanner

    def look_for_scanners(self) -> None:
        """Asks which scanners answer, beside all else."""
        with self._lock:
            if self.now.scanner_state not in ("off", "ready"):
                return
            self._now(scanner_state="looking")
        Thread(target=self._looked_for_scanners, name="looks for scanners", daemon=True).start()

    def _looked_for_scanners(self) -> None:
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
            self.told(trouble)
        except Exception as fault:  # of ours: it is told, and one may look again
            self.told(Trouble(Sentence("Nothing can be scanned"), f"{type(fault).__name__}: {fault}"))
        names = [one.device for one in there]
        device = self.now.device if self.now.device in names else next(iter(names), "")
        self._now(scanner_state="ready" if there else "off", scanners=there, device=device)

    def scan(self, device: str = "", dpi: int = 0, place: str = "") -> None:
        """Scans what lies on the glass, or all sheets of the feeder; what is not told is as it was.

        Raises
        ------
        InvalidValue
            When it can't be wished for, or the scanner is at work.
        """
        dpi, place, device = dpi or self.now.dpi, place or self.now.place, device or self.now.device
        _refuse_wish(device, dpi, place)
        with self._lock:
            if self.now.scanner_state not in ("off", "ready"):
                why = Sentence("the scanner is at work")
                raise InvalidValue(_NOT_SCANNED, why, Sentence("Wait until it is done, or stop it"))
            self._now(scanner_state="setting", device=device, dpi=dpi, place=place, page=0, done=0)
            self._scanner = SourceBeside(
                f"scans with {device}", self._scanning, self._page(place), self.told, self._scan_ended
            )
            self._scanner.begin()
        self._keep(device=device, dpi=dpi, place=place)

    def stop_scan(self) -> None:
        """Stops the scan; the page that it is at is dropped."""
        if self._scanner is not None:
            self._scanner.end()

    def leave_scanner(self) -> None:
        """Puts the scanner away: it is no way in any more."""
        self.stop_scan()
        self._now(scanner_state="off")

    @contextmanager
    def _scanning(self, stop: Event) -> Iterator[Iterable[Arrival]]:
        wish = Wish(self.now.dpi, 8, self.now.place != "glass", self.now.place == "both")
        scan = set_scan(self.now.device, wish)
        before = self._left_over()
        with (
            self._incoming(),
            scanning(self.collection, scan, watch=self._progress, more=lambda: False, stop=stop) as pages,
        ):
            yield chain(before, pages)

    def _page(self, place: str) -> Callable[[Arrival], object]:
        """Takes a page. A sheet of a feeder fills its page, and is taken whole where no edge is found; of a feeder
        that sees both sides, every second one is the back of the one before it. What another run left behind is
        no sheet of this one."""
        sheets: list[Taken | None] = []

        def taken(arrival: Arrival) -> object:
            if arrival.source == LEFT_OVER:
                return self._arrivals(arrival)
            if place != "glass":
                before = sheets[-1] if place == "both" and len(sheets) % 2 else None
                self.order(Order.BACK if before is not None and before.accession else Order.TAKE)
            sheets.append(self._arrivals(arrival))
            return sheets[-1]

        return taken

    def _progress(self, page: int, done: float) -> None:
        if (page, int(done)) != (self.now.page, self.now.done):
            self._now(scanner_state="scanning", page=page, done=int(done))

    def _scan_ended(self) -> None:
        self._now(scanner_state="ready")

    # A camera on a cable

    def begin_cable(self) -> None:
        """Lets the camera on the cable bring its pictures; it is looked for beside all else."""
        with self._lock:
            if self.now.cable_state != "off":
                return
            self._now(cable_state="looking")
            self._cable = SourceBeside(
                "camera on a cable", self._on_cable, self._arrivals, self.told, self._let_go
            )
            self._cable.begin()

    def end_cable(self) -> None:
        """Lets the camera go."""
        if self._cable is not None:
            self._cable.end()

    @contextmanager
    def _on_cable(self, stop: Event) -> Iterator[Iterable[Arrival]]:
        before = self._left_over()
        with self._incoming(), tethered(self.collection, self.told, stop=stop) as (model, shots):
            self._now(cable_state="on", camera=model)
            yield chain(before, shots)

    def _let_go(self) -> None:
        self._now(cable_state="off", camera="")

    # How

    def _left_over(self) -> list[Arrival]:
        """What came before and was not kept; nothing while another station may just be bringing it."""
        with self.shared.lock:
            return [] if self.shared.incoming else list(left_over(self.collection))

    @contextmanager
    def _incoming(self) -> Iterator[None]:
        with self.shared.lock:
            self.shared.incoming += 1
        try:
            yield
        finally:
            with self.shared.lock:
                self.shared.incoming -= 1

    def _now(self, **changes: Any) -> None:
        with self._lock:
            before, self.now = self.now, evolve(self.now, **changes)
        if self.now != before:
            self.changed()

    def _keep(self, **chosen: str | int) -> None:
        with suppress(Trouble, OSError):  # of no weight: it is chosen once more next time
            self.shared.kept.keep(self.collection.identifier, self.station, **chosen)


_NOT_SCANNED = Sentence("Nothing was scanned")


def _refuse_wish(device: str, dpi: int, place: str) -> None:
    if not device or device.startswith("-"):
        why, todo = Sentence("no scanner was chosen"), Sentence("Look which scanners answer, and choose one")
        raise InvalidValue(_NOT_SCANNED, why, todo)
    if not FEWEST_DPI <= dpi <= MOST_DPI or place not in PLACES:
        why = Sentence("%(dpi)s pixels an inch can't be scanned", dpi=dpi)
        todo = Sentence("Choose a number from %(least)s to %(most)s", least=FEWEST_DPI, most=MOST_DPI)
        raise InvalidValue(_NOT_SCANNED, why, todo)
