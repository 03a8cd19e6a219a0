"""A camera on a cable at a station: each press of its shutter brings a picture."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from itertools import chain
from threading import Event

from attrs import define, field

from solander.intake.arrivals import Arrival
from solander.tasks.stand_arrivals import SourceBeside
from solander.tasks.stand_ways_now import WaysHere
from solander.tasks.tether import tethered

__all__ = ["CableAtStand"]


@define(eq=False)
class CableAtStand:
    """The camera on the cable of one station."""

    here: WaysHere
    _source: SourceBeside | None = field(default=None, init=False)

    def begin(self) -> None:
        """Lets the camera bring its pictures; it is looked for beside all else."""
        with self.here.lock:
            if self.here.now.cable_state != "off":
                return
            self.here.change(cable_state="looking")
            self._source = SourceBeside(
                "camera on a cable", self._on_cable, self.here.arrivals, self.here.told, self._let_go
            )
            self._source.begin()

    def end(self) -> None:
        """Lets the camera go."""
        if self._source is not None:
            self._source.end()

    @contextmanager
    def _on_cable(self, stop: Event) -> Iterator[Iterable[Arrival]]:
        before = self.here.left_over()
        with self.here.incoming(), tethered(self.here.collection, self.here.told, stop=stop) as (model, shots):
            self.here.change(cable_state="on", camera=model)
            yield chain(before, shots)

    def _let_go(self) -> None:
        self.here.change(cable_state="off", camera="")
