"""What one workbench is made of: the desks that its rooms work at, and what every page shows of the collection."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import Any, Protocol

from attrs import frozen
from fastapi.responses import HTMLResponse

from solander.core.descriptions import DescribedPrint
from solander.core.language import marked
from solander.core.questions import Question
from solander.station.pairing import Phones
from solander.station.stages import Stages
from solander.tasks.accounts import AccountDesk
from solander.tasks.album import Albums
from solander.tasks.arrange_desk import ArrangeDesk
from solander.tasks.at_stand import AtStand
from solander.tasks.back_desk import BackDesk
from solander.tasks.collection import Collection
from solander.tasks.face_desk import FaceDesk
from solander.tasks.find import Finder, ready_finder
from solander.tasks.hear import Hearing
from solander.tasks.meanwhile import Meanwhile
from solander.tasks.name_sounds import NameSounds
from solander.tasks.names import Names
from solander.tasks.outlines import Outlines
from solander.tasks.print_desk import PrintDesk
from solander.tasks.queue import Queue
from solander.tasks.redraw import Done
from solander.tasks.show import Shown
from solander.tasks.sitting import Sitting
from solander.tasks.speech_model import Model
from solander.tasks.stand_claim import claim_station
from solander.tasks.stand_ways import SharedWays, StandWays
from solander.tasks.table import Table
from solander.tasks.treatment_desk import TreatmentDesk
from solander.tasks.watch_stage import StageWatch
from solander.tasks.who_is_it import WhoDesk
from solander.tasks.worth_asking import WorthAsking

__all__ = ["NAMES_ROOM", "STATION_ROOM", "Page", "Reading", "Workbench"]

STATION_ROOM = marked("Station")
NAMES_ROOM = marked("Names & places")

_ROOMS = ((marked("Table"), "/"), (marked("Print"), "/print"), (marked("Questions"), "/questions"))
_HAND_OVER = (marked("Hand over"), "/hand-over")

Page = Callable[..., HTMLResponse]
"""Makes a page: the name of its template, then by keyword the values that the template shows and `status`."""


class Reading(Protocol):
    """What the workbench reads of a collection; tasks provide it."""

    @property
    def title(self) -> str:
        """The collection's name."""

    @property
    def second_copy(self) -> bool:
        """Whether a second copy exists."""

    @property
    def made_up(self) -> bool:
        """Whether all of it is invented, as the bundled box is."""

    @property
    def last_change(self) -> int:
        """The number of the last change; it grows with every one."""

    def done_meanwhile(self, change: int, subjects: Iterable[str]) -> Sequence[Meanwhile]:
        """What anybody did to these things (numbers of prints, headings, keys) after that change."""

    @property
    def table(self) -> Table:
        """What lies on the table, some prints at a time."""

    def settle(self) -> None:
        """Puts right what was changed since the last page, before the next one reads it."""

    @property
    def is_settled(self) -> bool:
        """Whether the order of all prints is worked out as of the last change."""

    @property
    def waiting(self) -> int:
        """How many questions wait."""

    @property
    def print_count(self) -> int:
        """How many prints there are."""

    def some(self, accessions: Iterable[str]) -> Sequence[DescribedPrint]:
        """These prints in the order given; those that are not there are left out."""

    def described(self) -> Sequence[DescribedPrint]:
        """All prints in time order; `order` counts from 1 without gaps."""

    def questions(self) -> Sequence[Question]:
        """What waits, the most useful first."""

    def mends(self) -> Sequence[str]:
        """Which single claims, if they were withdrawn, would settle several contradictions; sentences."""

    def worth_asking(self) -> Sequence[WorthAsking]:
        """What relatives are best asked next, the most useful first; none where nothing is to be asked."""

    def view_path(self, key: str) -> Path | None:
        """The JPEG of a view by its key, None where there is none."""

    def thumb_path(self, key: str) -> Path | None:
        """The same in small."""

    def treated_path(self, key: str, treatment: str, *, small: bool) -> Path | None:
        """A view, or its small picture, as the treatment of that key leaves it; None where it has no such one."""

    def turn(self, key: str, quarters: int) -> Done:
        """Turns a view by quarter turns clockwise from how it is shown; 0 says that it is the right way up."""


@frozen
class Workbench:
    """The desks. All but the reading may be missing; their rooms and answers are then missing too."""

    collection: Reading
    outlines: Outlines | None = None
    albums: Albums | None = None
    names: Names | None = None
    faces: FaceDesk | None = None
    who: WhoDesk | None = None
    prints: PrintDesk | None = None
    finder: Finder | None = None
    queue: Queue | None = None
    arranging: ArrangeDesk | None = None
    accounts: AccountDesk | None = None
    stages: Stages | None = None
    phones: Phones | None = None
    sounds: NameSounds | None = None
    treatments: TreatmentDesk | None = None
    backs: BackDesk | None = None

    @classmethod
    def over(cls, collection: Collection, speech: Model | None = None) -> Workbench:
        """All desks over one collection; they share one sitting. `speech` is a model that the user supplies."""
        shown, sitting = Shown(collection), Sitting(collection)
        faces, shared = FaceDesk(shown, sitting), SharedWays()
        prints = PrintDesk(shown, sitting)
        return cls(
            shown,
            outlines=Outlines(collection, sitting),
            albums=Albums(collection),
            names=Names(shown, sitting),
            faces=faces,
            who=WhoDesk(collection, sitting),
            prints=prints,
            backs=BackDesk(prints),
            sounds=NameSounds(collection, sitting),
            treatments=TreatmentDesk(collection, sitting),
            finder=ready_finder(collection),
            queue=Queue(collection, sitting, faces),
            arranging=ArrangeDesk(shown, sitting),
            accounts=AccountDesk(collection, sitting),
            stages=Stages(
                lambda: StageWatch(collection),
                lambda name: AtStand(collection, sitting, name),
                lambda: Hearing(collection, speech),
                collection.identifier,
                lambda name, to: StandWays(collection, name, to.take, to.order, to.told, to.changed, shared),
                lambda name: claim_station(collection, name),
            ),
        )

    @property
    def sittings(self) -> list[Sitting]:
        """Where the acts of the desks are noted; usually one that all of them share."""
        desks = (self.outlines, self.names, self.faces, self.who, self.prints, self.arranging)
        return [desk.sitting for desk in desks if desk is not None]

    def done(self, act: int | None) -> str:
        """The sentence of an act of this sitting that can still be taken back; empty where it can't."""
        return next(filter(None, (sitting.done(act) for sitting in self.sittings)), "")

    @property
    def rooms(self) -> tuple[tuple[str, str], ...]:
        """The rooms as words and addresses."""
        station = ((STATION_ROOM, "/station"),) if self.stages else ()
        names = ((NAMES_ROOM, "/people"),) if self.names else ()
        return (*station, *_ROOMS, *names, _HAND_OVER)

    def room(self, present: str) -> dict[str, Any]:
        """What every page shows; `present` is the room that it belongs to, empty for none."""
        return {
            "title": self.collection.title,
            "made_up": self.collection.made_up,
            "second_copy": self.collection.second_copy,
            "waiting": self.collection.waiting,
            "rooms": self.rooms,
            "present": present,
            "arranging": self.arranging is not None,
            "look": "/static",
        }
