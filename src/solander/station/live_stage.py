"""A stage that is watched: pictures come in from one camera, go out to every page that looks, and in between it is
seen when a print lies still.

Nobody waits for anybody. Of the pictures that come in only the newest waits to be looked at, in a thread of its
own (`newest`); each page has its own short row of what it was not sent yet (`viewer`). Stills are taken in by
whoever brings them, one at a time.
"""

from __future__ import annotations

import threading
import time
from collections import deque
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any

from attrs import define, field

from solander.core.errors import Trouble
from solander.core.language import ENGLISH, Language, speaking
from solander.core.orders import Order
from solander.core.sentence import Sentence
from solander.station import stage_told as told
from solander.station.newest import Newest
from solander.station.once import Once
from solander.station.stage_parts import CameraSays, SentStill, StageWatching, Standing
from solander.station.viewer import Notice, Viewer

__all__ = ["LiveStage"]

SLOW_MS = 10 * 60 * 1000
"""A stage that rests by itself is looked at once a second for so long, so that laying a print down wakes it; then
the camera stops (our choice)."""

MOST_ASKED = 20
"""So many stills may be under way at once; a phone that was out of reach sends what it took meanwhile."""

MOST_ANSWERED = 500
"""So many of the last asks are known to be answered (our choice)."""


def _now_ms() -> int:
    return int(time.monotonic() * 1000)


@define(eq=False)
class LiveStage:
    """One station by its name. `take`, `order`, `camera_goes` and `act` may block; all else never does.

    `language` is the one that acts are done in: that of the page that opened last. `other_ways` tells how the ways
    in besides the camera stand, `is_fed` whether pictures may come by one of them.
    """

    name: str
    watch: StageWatching
    stand: Standing
    now_ms: Callable[[], int] = _now_ms
    language: Language = ENGLISH
    other_ways: Callable[[], Notice | None] = lambda: None
    is_fed: Callable[[], bool] = lambda: False
    _viewers: set[Viewer] = field(factory=set, init=False)
    _camera: Viewer | None = field(default=None, init=False)
    _says: CameraSays = field(factory=CameraSays, init=False)
    _scales: dict[str, float] = field(factory=dict, init=False)
    _outline: Sequence[tuple[float, float]] = field(default=(), init=False)
    _frames: Newest = field(init=False)
    _stills: Once[Mapping[str, Any]] = field(factory=Once, init=False)
    _watching: threading.RLock = field(factory=threading.RLock, init=False)
    _watched: Notice | None = field(default=None, init=False)
    # They begin at the time of day: a still that was asked for before a restart answers no ask of now.
    _asks: int = field(factory=lambda: int(time.time()), init=False)
    _open_asks: list[int] = field(factory=list, init=False)
    _answered: deque[int] = field(factory=lambda: deque(maxlen=MOST_ANSWERED), init=False)
    _taking: threading.Lock = field(factory=threading.Lock, init=False)
    _state: str = field(default="", init=False)
    _missed: bool = field(default=False, init=False)
    _pace: str = field(default="", init=False)
    _rests_since: int | None = field(default=None, init=False)

    def __attrs_post_init__(self) -> None:
        self._frames = Newest(self._look, f"stage {self.name}")

    def close(self) -> None:
        """Ends the looking."""
        self._frames.close()

    # Pages

    @contextmanager
    def viewer(self) -> Iterator[Viewer]:
        """A page that looks, for as long as it does; it is told at once how things stand."""
        one = Viewer()
        self._viewers.add(one)
        one.tell_all(self._how_things_stand())
        self._tell_how_many()
        try:
            yield one
        finally:
            self._viewers.discard(one)
            self._tell_how_many()

    @contextmanager
    def camera(self) -> Iterator[Viewer]:
        """The camera, for as long as it is there. One that comes sends the one before it away."""
        one = Viewer(pictures=False)
        if self._camera is not None:
            self._camera.tell(told.do("leave"))
        # It watches unasked: telling it could cross with its own button.
        self._camera, self._pace = one, "watch"
        one.tell_all(self._how_things_stand())
        if self._open_asks and self._state == "taken":  # the line broke while a still was waited for
            one.tell(told.do("still", ask=self._open_asks[-1]))
        try:
            yield one
        finally:
            if self._camera is one:
                self._camera = None
                self.camera_says(CameraSays())

    @property
    def has_camera(self) -> bool:
        """Whether a camera looks at the stage."""
        return self._camera is not None

    def camera_says(self, says: CameraSays) -> None:
        """The camera told what it can."""
        self._says = says
        self._tell(self._of_the_camera())

    def camera_goes(self, pace: str) -> None:
        """The camera goes at another pace: as it was told to, or by its own button, which is then an order."""
        with self._watching:  # or a picture that is looked at meanwhile would send it on
            if pace != self._pace:
                self._pace = pace
                self.order(Order.REST if pace == "rest" else Order.WAKE)

    def tell(self, notice: Notice) -> None:
        """Tells every page, and the camera."""
        self._tell(notice)

    def _how_things_stand(self) -> list[Notice]:
        notices = [self._of_the_camera(), *told.standing(self.stand), *filter(None, [self.other_ways()])]
        return [*notices, told.as_it_is("watched", self._watched_now)] if self._watched else notices

    def _of_the_camera(self) -> Notice:
        return told.as_it_is("camera", self._camera_now)

    def _camera_now(self) -> Notice:
        return told.camera(self._says if self._camera else None, dict(self._scales), self._outline)

    def _watched_now(self) -> Notice:
        assert self._watched is not None
        return self._watched

    def _tell_how_many(self) -> None:
        for one in tuple(self._viewers):
            one.tell(told.others(len(self._viewers) - 1))

    def _tell(self, *notices: Notice) -> None:
        for one in (*self._viewers, self._camera):
            if one is not None:
                one.tell_all(notices)

    # Pictures of the stage

    def frame(self, jpeg: bytes) -> None:
        """The newest picture of the stage."""
        for one in tuple(self._viewers):
            one.show(jpeg)
        self._frames.put(jpeg, self.now_ms())

    def _look(self, jpeg: bytes, at_ms: int) -> None:
        try:
            with self._watching:
                self._seen(self.watch.frame(jpeg, at_ms))
        except Trouble as trouble:
            self._tell(told.trouble(trouble))
        except Exception as fault:  # a picture that nobody foresaw must not end the watching; it is told
            what = Sentence("A picture of the stage was passed over")
            self._tell(told.trouble(Trouble(what, f"{type(fault).__name__}: {fault}")))

    def _seen(self, watched: Any) -> None:
        self._keep_pace(watched.state.value)  # first: a camera that rests is woken before a still is asked of it
        if watched.wants_still:
            self._outline = watched.outlines[0][0] if watched.outlines else self._outline
            self._ask_for_still()
        self._state = watched.state.value
        self._watched = told.watched(watched, waits=bool(self._open_asks))
        self._tell(told.as_it_is("watched", self._watched_now))

    def _ask_for_still(self) -> None:
        self._asks += 1
        self._open_asks = [*self._open_asks, self._asks][-MOST_ASKED:]
        if self._camera is not None:
            self._camera.tell(told.do("still", ask=self._asks))

    def _keep_pace(self, state: str) -> None:
        """How often the camera sends: as usual, slowly while it rests by itself, not at all when that lasts."""
        now = self.now_ms()
        if state != "resting":
            self._rests_since = None
            self._go_at("watch")
            return
        self._rests_since = now if self._rests_since is None else self._rests_since
        if self._pace != "rest":
            self._go_at("slow" if now - self._rests_since < SLOW_MS else "rest")

    def _go_at(self, pace: str) -> None:
        if pace != self._pace and self._camera is not None:
            self._pace = pace
            self._camera.tell(told.do(pace))

    # Stills

    def take(self, still: SentStill) -> Mapping[str, Any]:
        """Takes a still in, once however often it is sent; gives what was taken as a message.

        Raises
        ------
        Trouble
            When it could not be taken in.
        """
        return self._stills.do(still.sent, lambda: self._take(still))

    def _take(self, still: SentStill) -> Mapping[str, Any]:
        with self._taking:
            if still.ask and still.ask in self._answered:
                return {"known": True}  # asked twice over a bad line: the first answer was taken
            try:
                taken = self._entered(still)
            except Trouble as trouble:
                self._was_taken(still, good=False, missed=True)
                self._tell(told.trouble(trouble))
                raise
            self._answered.append(still.ask)
        if taken.ppi:
            self._scales[still.route] = taken.ppi
        self._was_taken(still, good=taken.tone != "again", missed=not taken.accession)
        self._tell(told.taken(taken), *told.standing(self.stand), self._of_the_camera())
        return told.taken(taken).told()

    def take_file(self, picture: bytes, name: str) -> Any:
        """Takes a picture that came by another way in: what is watched on the stage has no part in it. What was
        taken, as the stand tells it.

        Raises
        ------
        Trouble
            When it could not be taken in; pages were told.
        """
        with self._taking:
            try:
                taken = self._entered(SentStill(picture, name, "file"))
            except Trouble as trouble:
                self._tell(told.trouble(trouble))
                raise
        self._tell(told.taken(taken), *told.standing(self.stand))
        return taken

    def _entered(self, still: SentStill) -> Any:
        try:
            with speaking(self.language):
                return self.stand.take(still.picture, still.name, route=still.route)
        except Trouble:
            raise
        except Exception as fault:  # of ours: the station is told, and the camera keeps the picture
            trouble = Trouble(Sentence("The picture was not taken in"), f"{type(fault).__name__}: {fault}")
            trouble.status = 500
            raise trouble from fault

    def _was_taken(self, still: SentStill, *, good: bool, missed: bool) -> None:
        self._missed = missed
        with self._watching:
            if still.ask in self._open_asks:
                self._open_asks.remove(still.ask)
            self._seen(self.watch.taken(self.now_ms(), good, missed))

    # What a person wants

    def order(self, order: Order) -> None:
        """Carries out an order.

        When the last still showed no print, taking again is taking that print at last, and no second try of the
        one before it.

        Raises
        ------
        Trouble
            When it could not be done.
        """
        if order in _WANT_A_CAMERA and self._camera is None and self.is_fed():
            self.act(lambda: self.stand.order(order))  # it is about the next picture that comes
            return
        if order in _WANT_A_CAMERA and self._camera is None:
            why = Sentence("there is no camera at this station")
            raise Trouble(Sentence("Nothing was taken"), why, Sentence("Open its camera page"))
        if order not in _OF_THE_CAMERA and not (order is Order.TAKE_AGAIN and self._missed):
            self.act(lambda: self.stand.order(order))
        with self._watching:
            watched = self.watch.order(order, self.now_ms())
            if order is Order.REST:
                self._go_at("rest")
            elif order is Order.EMPTY_STAGE:
                self._ask_for_still()
            self._seen(watched)

    def act(self, doing: Callable[[], Any]) -> Any:
        """Does something at the stand, in the language of the station, and tells how things stand then."""
        with speaking(self.language):
            given = doing()
        self._tell(*told.done(given), *told.standing(self.stand))
        return given


_OF_THE_CAMERA: Sequence[Order] = (Order.REST, Order.WAKE, Order.DEAF)
"""Orders that the stand itself has nothing to do with."""

_WANT_A_CAMERA: Sequence[Order] = (Order.TAKE, Order.TAKE_AGAIN, Order.EMPTY_STAGE)
