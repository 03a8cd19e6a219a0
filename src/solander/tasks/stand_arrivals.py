"""Pictures that come to a station by another way than its camera: each is taken as the slip says, once.

A source runs in a thread of its own beside the station, so that nobody waits for a disk, a scanner or a cable.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from contextlib import AbstractContextManager
from threading import Event, Thread, current_thread

from attrs import define, field

from solander.core.errors import CannotBegin, Trouble
from solander.core.sentence import Sentence
from solander.imaging.decode import Unreadable
from solander.intake.arrivals import Arrival
from solander.intake.shots import is_raw_name, shot_of
from solander.tasks.collection import Collection
from solander.tasks.incoming import lay_apart
from solander.tasks.one_shot import keep_beside
from solander.tasks.prepare import set_aside
from solander.tasks.stand_station import WHO
from solander.tasks.stand_told import Taken
from solander.vault.store import sha256_of

__all__ = ["ArrivalsAtStand", "SourceBeside"]

ENDS_S = 60.0
"""So long the end of a source is waited for: a picture is being taken, a lamp goes back (our choice)."""


@define
class ArrivalsAtStand:
    """Takes arrivals at one station. `take` is given the bytes and the name, and tells itself what went wrong;
    `told` hears what went wrong with all else.

    A file whose bytes are here already is passed over without a word. Of a raw file and a JPEG of one shot the
    first that comes is taken, which is the raw file where both lie there; the other is kept beside it.
    """

    collection: Collection
    take: Callable[[bytes, str], Taken]
    told: Callable[[Trouble], None]
    _shots: dict[str, tuple[str, str]] = field(factory=dict, init=False)

    def __call__(self, arrival: Arrival) -> Taken | None:
        """What was taken; None where nothing was.

        Raises
        ------
        CannotBegin
            When nothing more can be kept.
        """
        try:
            taken = self._taken(arrival)
        except CannotBegin:
            raise
        except Trouble:  # it was told by whoever raised it
            if arrival.passing:
                lay_apart(self.collection, arrival.path)
            return None
        if arrival.passing:
            arrival.path.unlink(missing_ok=True)
        return taken

    def _taken(self, arrival: Arrival) -> Taken | None:
        sha256 = sha256_of(arrival.path)
        if self.collection.catalogue.capture(sha256) is not None and not arrival.passing:
            return None
        name, other = self._shots.get(shot_of(arrival.name), ("", ""))
        if other and is_raw_name(name) != is_raw_name(arrival.name):
            self._kept_beside(arrival, other)
            return None
        taken = self.take(arrival.path.read_bytes(), arrival.name)
        if taken.accession:
            self._shots[shot_of(arrival.name)] = (arrival.name, sha256)
        return taken

    def _kept_beside(self, arrival: Arrival, other: str) -> None:
        what = Sentence("kept %(name)s beside the other file of its shot", name=arrival.name)
        try:
            with self.collection.catalogue.act(WHO, what) as act:
                keep_beside(self.collection, act, arrival, other)
        except Unreadable as reason:
            trouble = set_aside(arrival.name, reason)
            self.told(trouble)
            raise trouble from reason
        except Trouble as trouble:
            self.told(trouble)
            raise


@define(eq=False)
class SourceBeside:
    """A source whose pictures come to a station while it runs, in a thread of its own.

    `source` gives the arrivals for as long as it is not told to stop; `take` gets each, one after the other.
    `told` hears what ended it, `ended` that it ended.
    """

    name: str
    source: Callable[[Event], AbstractContextManager[Iterable[Arrival]]]
    take: Callable[[Arrival], object]
    told: Callable[[Trouble], None]
    ended: Callable[[], None] = lambda: None
    _stop: Event = field(factory=Event, init=False)
    _thread: Thread | None = field(default=None, init=False)

    @property
    def is_running(self) -> bool:
        """Whether pictures may come from it now."""
        return self._thread is not None and self._thread.is_alive()

    def begin(self) -> None:
        """Begins; nothing where it runs already."""
        if not self.is_running:
            self._stop = Event()
            self._thread = Thread(target=self._run, name=self.name, daemon=True)
            self._thread.start()

    def end(self) -> None:
        """Ends it, after the picture that is being taken; waits for that, but not without end."""
        self._stop.set()
        thread = self._thread
        if thread is not None and thread is not current_thread():
            thread.join(ENDS_S)

    def _run(self) -> None:
        try:
            with self.source(self._stop) as arrivals:
                for arrival in arrivals:
                    self._one(arrival)
                    if self._stop.is_set():
                        break
        except Trouble as trouble:
            self.told(trouble)
        except Exception as fault:  # of ours: it is told, and the station goes on
            self.told(Trouble(Sentence("No more pictures come from there"), f"{type(fault).__name__}: {fault}"))
        finally:
            self.ended()  # `end` waits for this, too

    def _one(self, arrival: Arrival) -> None:
        try:
            self.take(arrival)
        except OSError as error:  # it went while it was read
            what = Sentence("%(name)s has not been taken in", name=arrival.name)
            self.told(Trouble(what, (error.strerror or str(error)).lower(), Sentence("Put it there once more")))
