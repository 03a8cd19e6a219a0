"""What a station has in hand, kept in the collection so that it is there after a restart."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from attrs import asdict, evolve, field, frozen

from solander.core.prints import Side
from solander.core.slips import Slip, slip_of, told_slip
from solander.tasks.collection import Collection

__all__ = ["InHand", "Laid", "Telling", "in_hand_of", "keep_in_hand", "steps_of"]

_KEPT = 30
"""So many of the last prints of a station are remembered (our choice)."""


@frozen
class Laid:
    """A picture that was taken at the station: the print, key and side of the view, and the act by which it came.

    `back_of` is the print of which it looks to be the back, where that waits to be answered.
    """

    accession: str
    key: str
    act: int
    side: Side = Side.RECTO
    back_of: str = ""


@frozen
class Telling:
    """A story that is being told: since when (UTC, RFC 3339), by whom, and about which prints."""

    began: str
    teller: str = ""
    prints: tuple[str, ...] = ()

    def of(self, accessions: Iterable[str]) -> Telling:
        """The same, about these prints as well."""
        return evolve(self, prints=tuple(dict.fromkeys((*self.prints, *accessions))))


@frozen
class InHand:
    """The slip, what was taken last (the newest first), the capture of the empty stage, the story that is being
    told, and those told ones that wait for a print."""

    slip: Slip = field(factory=Slip)
    lately: tuple[Laid, ...] = ()
    stage: str = ""
    telling: Telling | None = None
    stories: tuple[str, ...] = ()

    @property
    def last(self) -> Laid | None:
        """What was taken last."""
        return self.lately[0] if self.lately else None

    def taken(self, *new: Laid) -> InHand:
        """With what was just taken."""
        return evolve(self, lately=(*reversed(new), *self.lately)[:_KEPT])

    def without_act(self, act: int) -> InHand:
        """Without what came by an act that was taken back."""
        return evolve(self, lately=tuple(one for one in self.lately if one.act != act))


def in_hand_of(collection: Collection, station: str) -> InHand:
    """What was kept of a station last; of a new one, nothing."""
    told = collection.catalogue.station(station)
    return _read(told) if told else InHand()


def keep_in_hand(
    collection: Collection, station: str, in_hand: InHand, steps: Sequence[tuple[int | None, Slip]] = ()
) -> None:
    """Keeps it, and of each of the last deeds its act and the slip before it."""
    told = asdict(evolve(in_hand, slip=Slip())) | {"slip": told_slip(in_hand.slip)}
    told["steps"] = [{"act": act, "slip": told_slip(slip)} for act, slip in steps]
    collection.catalogue.keep_station(station, told)


def steps_of(collection: Collection, station: str) -> list[tuple[int | None, Slip]]:
    """The last deeds of a station as they were kept, the oldest first; the slips are those before them."""
    told = collection.catalogue.station(station) or {}
    return [(one["act"], slip_of(one["slip"])) for one in told.get("steps", ())]


def _read(told: Mapping[str, Any]) -> InHand:
    lately = tuple(Laid(**{**one, "side": Side(one["side"])}) for one in told["lately"])
    telling = told["telling"] and Telling(**{**told["telling"], "prints": tuple(told["telling"]["prints"])})
    return InHand(slip_of(told["slip"]), lately, told["stage"], telling, tuple(told["stories"]))
