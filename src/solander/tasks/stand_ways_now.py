"""How the other ways in at one station stand, and what all of them share."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from threading import RLock
from typing import Any

from attrs import define, evolve, field, frozen

from solander.core.errors import Trouble
from solander.intake.arrivals import Arrival
from solander.intake.scanner import Scanner
from solander.tasks.collection import Collection
from solander.tasks.incoming import left_over
from solander.tasks.kept_ways import KeptWays
from solander.tasks.stand_arrivals import ArrivalsAtStand
from solander.tasks.stand_told import Taken

__all__ = ["SharedWays", "WaysHere", "WaysNow"]

USUAL_DPI = 600


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
class WaysHere:
    """What the ways of one station share: how they stand, what takes their pictures and hears their troubles.

    `told` hears what went wrong, `changed` that `now` is another.
    """

    collection: Collection
    station: str
    take: Callable[[bytes, str], Taken]
    told: Callable[[Trouble], None]
    changed: Callable[[], None]
    shared: SharedWays
    now: WaysNow = field(init=False)
    arrivals: ArrivalsAtStand = field(init=False)
    lock: RLock = field(factory=RLock, init=False)

    def __attrs_post_init__(self) -> None:
        self.arrivals = ArrivalsAtStand(self.collection, self.take, self.told)
        kept = self.shared.kept.of(self.collection.identifier, self.station)
        kinds = {"folder": str, "only_new": bool, "device": str, "dpi": int, "place": str}
        self.now = WaysNow(**{name: kept[name] for name in kinds if isinstance(kept.get(name), kinds[name])})

    def change(self, **changes: Any) -> None:
        """They stand otherwise from now on."""
        with self.lock:
            before, self.now = self.now, evolve(self.now, **changes)
        if self.now != before:
            self.changed()

    def keep(self, **chosen: str | int) -> None:
        """Keeps what was chosen for the next time."""
        with suppress(Trouble, OSError):  # of no weight: it is chosen once more next time
            self.shared.kept.keep(self.collection.identifier, self.station, **chosen)

    def left_over(self) -> list[Arrival]:
        """What came before and was not kept; nothing while another station may just be bringing it."""
        with self.shared.lock:
            return [] if self.shared.incoming else list(left_over(self.collection))

    @contextmanager
    def incoming(self) -> Iterator[None]:
        """While this is open, pictures may come into the collection's own folder of what arrives."""
        with self.shared.lock:
            self.shared.incoming += 1
        try:
            yield
        finally:
            with self.shared.lock:
                self.shared.incoming -= 1
