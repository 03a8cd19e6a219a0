"""The other ways in at a station, as its pages see them: a watched folder, a scanner, a camera on a cable."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import suppress
from typing import Any

from attrs import define, field

from solander.core.errors import Trouble
from solander.core.language import _
from solander.core.orders import Order
from solander.station import stage_told
from solander.station.live_stage import LiveStage
from solander.station.viewer import Notice
from solander.tasks.stand_ways import StandWays, WaysNow

__all__ = ["WaysIn", "ways_message"]


@define(eq=False)
class WaysIn:
    """What they bring is taken at the stage, and its pages are told how they stand. `made` makes them."""

    stage: LiveStage
    made: Callable[[str, WaysIn], StandWays]
    ways: StandWays = field(init=False)

    def __attrs_post_init__(self) -> None:
        self.ways = self.made(self.stage.name, self)
        self.stage.other_ways = self.notice
        self.stage.is_fed = lambda: self.ways.now.feeds

    def take(self, picture: bytes, name: str) -> Any:
        """Takes a picture that came. See `LiveStage.take_file`."""
        return self.stage.take_file(picture, name)

    def order(self, order: Order) -> object:
        """Carries out an order about the next picture, without a word: it is about a page of a feeder."""
        return self.stage.stand.order(order)

    def told(self, trouble: Trouble) -> None:
        """Tells every page what went wrong."""
        self.stage.tell(stage_told.trouble(trouble))

    def changed(self) -> None:
        """Tells every page how they stand now."""
        self.stage.tell(self.notice())

    def notice(self) -> Notice:
        """How they stand."""
        return Notice("ways", lambda: {"ways": ways_message(self.ways.now)}, stands=True)

    def scans_instead(self) -> bool:
        """Whether a scanner is the way in here, which then scans: taking what lies on the glass is just that."""
        if self.stage.has_camera or not self.ways.now.has_scanner:
            return False
        self.ways.scan()
        return True

    def close(self) -> None:
        """Ends all of them."""
        with suppress(Trouble):
            self.ways.close()


def ways_message(now: WaysNow) -> Mapping[str, Any]:
    """How they stand, as a message: states, and a sentence for each."""
    return {
        "feeds": now.feeds,
        "words": _state_words(now),
        "folder": {
            "state": now.folder_state,
            "path": now.folder,
            "all": not now.only_new,
            "words": _folder_words(now),
        },
        "scanner": {
            "state": now.scanner_state,
            "scanners": [
                {"device": one.device, "name": f"{one.maker} {one.model}".strip()} for one in now.scanners
            ],
            "device": now.device,
            "dpi": now.dpi,
            "place": now.place,
            "words": _scanner_words(now),
        },
        "cable": {"state": now.cable_state, "words": _cable_words(now)},
    }


def _state_words(now: WaysNow) -> str:
    """What is so, or what to do next, while no camera looks at a stage; empty where no other way is open."""
    if now.scanner_state in ("setting", "scanning"):
        return _scanner_words(now)
    if now.folder_state == "away":
        return _folder_words(now)
    if now.has_scanner and now.place == "glass":
        return _("Lay prints on the glass, a finger apart. Then press Space.")
    if now.has_scanner:
        return _("Lay the sheets into the feeder. Then press Space.")
    if now.cable_state == "on":
        return _("Press the camera’s shutter.")
    return _("Save a picture into the folder.") if now.folder_state == "on" else ""


def _folder_words(now: WaysNow) -> str:
    if now.folder_state == "away":
        return _("The folder is out of reach: %(folder)s. It is waited for.", folder=now.folder)
    if now.folder_state == "on":
        return _("This folder is watched: %(folder)s", folder=now.folder)
    return _("No folder is watched.")


def _scanner_words(now: WaysNow) -> str:
    match now.scanner_state:
        case "looking":
            return _("Scanners are looked for. That may take a minute.")
        case "setting":
            return _("The scanner is set. One moment.")
        case "scanning":
            return _("Page %(page)s is scanned: %(done)s %%.", page=now.page, done=now.done)
        case "ready":
            return _("The scanner waits.")
        case _:
            return _("No scanner is used.")


def _cable_words(now: WaysNow) -> str:
    if now.cable_state == "on":
        return _("%(camera)s is ready: press its shutter.", camera=now.camera)
    if now.cable_state == "looking":
        return _("The camera on the cable is looked for.")
    return _("No camera on a cable is used.")
