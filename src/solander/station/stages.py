"""The stations of one workbench, each by the name that stands in its address."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from threading import Lock

from attrs import define, field

from solander.core.errors import NotFound, Trouble
from solander.core.orders import Order
from solander.core.sentence import Sentence
from solander.station.ear import Ear
from solander.station.live_stage import LiveStage
from solander.station.stage_parts import Listening, StageWatching, Standing
from solander.station.ways_in import WaysIn
from solander.tasks.stand_ways import StandWays

__all__ = ["Stages", "Station", "station_name"]

MOST_STATIONS = 8
"""Stations at one workbench (our choice): each watches with a thread of its own."""

_NAME = re.compile(r"[A-Za-z0-9]{1,12}")


def station_name(name: str) -> str:
    """The name, which may be one of a station; pages are served by it alone, so that looking makes no station.

    Raises
    ------
    NotFound
        When it is none.
    """
    if not _NAME.fullmatch(name):
        raise NotFound(Sentence("There is no station “%(name)s”", name=name[:40]))
    return name


@define(eq=False)
class Station:
    """One station: its stage, the ear beside it, and the other ways in, where it has any."""

    stage: LiveStage
    ear: Ear = field(init=False)
    listening: Callable[[], Listening]
    ways: WaysIn | None = None

    def __attrs_post_init__(self) -> None:
        self.ear = Ear(self.stage, self.listening, self.order)

    def order(self, order: Order) -> None:
        """Carries out an order. See `LiveStage.order`."""
        if order is Order.DEAF:
            self.ear.mute(True)
        if order is Order.TAKE and self.ways is not None and self.ways.scans_instead():
            return
        self.stage.order(order)
        if order is Order.TAKE_AGAIN and self.ways is not None:
            self.ways.scans_instead()


@define(eq=False)
class Stages:
    """Makes each station when it is first asked for; all are of one collection.

    `watching` makes what watches a stage, `standing` the person at the stand of that name, `listening` an ear.
    `collection` is the identifier of theirs. `ways` makes the other ways in of one, by its name and what they
    bring pictures to. `claim` raises `Trouble` where another program has a station.
    """

    watching: Callable[[], StageWatching]
    standing: Callable[[str], Standing]
    listening: Callable[[], Listening]
    collection: str = ""
    ways: Callable[[str, WaysIn], StandWays] | None = None
    claim: Callable[[str], None] = lambda name: None
    _stations: dict[str, Station] = field(factory=dict, init=False)
    _making: Lock = field(factory=Lock, init=False)

    def at(self, name: str) -> Station:
        """The station of that name.

        Raises
        ------
        NotFound
            When it is no name of a station.
        Trouble
            When there are as many as can be.
        """
        station_name(name)
        with self._making:
            if name not in self._stations:
                self._stations[name] = self._made(name)
            return self._stations[name]

    def _made(self, name: str) -> Station:
        if len(self._stations) >= MOST_STATIONS:
            what = Sentence("Station “%(name)s” was not opened", name=name)
            raise Trouble(
                what, Sentence("%(count)s stations are open", count=MOST_STATIONS), Sentence("Use one of them")
            )
        self.claim(name)
        stage = LiveStage(name, self.watching(), self.standing(name))
        return Station(stage, self.listening, WaysIn(stage, self.ways) if self.ways else None)

    @property
    def open(self) -> Mapping[str, Station]:
        """Those that were asked for."""
        return self._stations

    def close(self) -> None:
        """Ends the watching of all."""
        for station in self._stations.values():
            if station.ways is not None:
                station.ways.close()
            station.stage.close()
