"""The other ways in at one station: a folder that is watched, a scanner, a camera on a cable.

Whatever they bring goes through the stand, as what its camera takes does: the slip describes it, orders are about
it, undo takes it back. What takes long (scanners that look for each other all over the network, the scan itself)
happens in threads; `now` tells how it stands.
"""

from __future__ import annotations

from collections.abc import Callable

from solander.core.errors import Trouble
from solander.core.orders import Order
from solander.tasks.collection import Collection
from solander.tasks.stand_cable import CableAtStand
from solander.tasks.stand_folder import FolderAtStand
from solander.tasks.stand_scanner import ScannerAtStand
from solander.tasks.stand_told import Taken
from solander.tasks.stand_ways_now import SharedWays, WaysHere, WaysNow

__all__ = ["SharedWays", "StandWays", "WaysNow"]


class StandWays:
    """The ways of one station.

    `take` takes a picture at the stand by its bytes and name, `order` carries an order out there; `told` hears
    what went wrong, `changed` that `now` is another.
    """

    def __init__(
        self,
        collection: Collection,
        station: str,
        take: Callable[[bytes, str], Taken],
        order: Callable[[Order], object],
        told: Callable[[Trouble], None],
        changed: Callable[[], None],
        shared: SharedWays | None = None,
    ) -> None:
        self._here = WaysHere(collection, station, take, told, changed, shared or SharedWays())
        self._folder = FolderAtStand(self._here)
        self._scanner = ScannerAtStand(self._here, order)
        self._cable = CableAtStand(self._here)

    @property
    def now(self) -> WaysNow:
        """How they stand."""
        return self._here.now

    def close(self) -> None:
        """Ends all of them."""
        self._folder.leave()
        self._scanner.stop()
        self._cable.end()

    def watch(self, typed: str, *, only_new: bool = True) -> None:
        """Begins to watch a folder; `only_new` leaves alone what lies there already.

        Raises
        ------
        Trouble
            When it can't be watched, or is by another station.
        """
        self._folder.watch(typed, only_new=only_new)

    def leave_folder(self) -> None:
        """Ends the watching."""
        self._folder.leave()

    def look_for_scanners(self) -> None:
        """Asks which scanners answer, beside all else."""
        self._scanner.look()

    def scan(self, device: str = "", dpi: int = 0, place: str = "") -> None:
        """Scans what lies on the glass, or all sheets of the feeder; what is not told is as it was.

        Raises
        ------
        InvalidValue
            When it can't be wished for, or the scanner is at work.
        """
        self._scanner.scan(device, dpi, place)

    def stop_scan(self) -> None:
        """Stops the scan; the page that it is at is dropped."""
        self._scanner.stop()

    def leave_scanner(self) -> None:
        """Puts the scanner away: it is no way in any more."""
        self._scanner.leave()

    def begin_cable(self) -> None:
        """Lets the camera on the cable bring its pictures; it is looked for beside all else."""
        self._cable.begin()

    def end_cable(self) -> None:
        """Lets the camera go."""
        self._cable.end()
