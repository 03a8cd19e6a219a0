"""The ear of a station: sound in, what was said carried out, asked about, or kept to be typed."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from threading import Lock
from typing import Any

from attrs import define, field

from solander.core.errors import NotFound, Trouble
from solander.core.orders import Order
from solander.core.sentence import Sentence
from solander.station import stage_told as told
from solander.station.live_stage import LiveStage
from solander.station.stage_parts import Listening

__all__ = ["Ear"]

MOST_ASKED = 20
"""So many utterances wait to be said yes to; older ones are forgotten (our choice)."""

_ANSWERS = {"sure": "understood", "ask": "ask", "not": "not"}


@define(eq=False)
class Ear:
    """Listens for one stage. `hear` and `answer` may block.

    `listening` makes what understands speech, when sound first comes; `order` carries orders out. Of several open
    microphones the one that was opened last is heard: two voices in one stream would be a third.
    """

    stage: LiveStage
    listening: Callable[[], Listening]
    order: Callable[[Order], None]
    _hears: Listening | None = field(default=None, init=False)
    _muted: bool = field(default=False, init=False)
    _open: list[int] = field(factory=list, init=False)
    _opened: int = field(default=0, init=False)
    _number: int = field(default=0, init=False)
    _asked: OrderedDict[int, tuple[Any, str | None]] = field(factory=OrderedDict, init=False)
    """What waits for a yes, with the sound that was kept just before it."""
    _kept: str | None = field(default=None, init=False)
    _hearing: Lock = field(factory=Lock, init=False)

    def begin(self) -> int:
        """A microphone was opened, and gets this number; names that were entered meanwhile are heard now."""
        self._opened += 1
        self._open.append(self._opened)
        if self._hears is not None:
            self._hears.forget()
            self._hears.refresh()
        self._tell_state()
        return self._opened

    def end(self, microphone: int) -> None:
        """It was closed; what was begun to be said goes with it."""
        self._open.remove(microphone)
        if self._hears is not None:
            self._hears.forget()
        self._tell_state()

    def mute(self, muted: bool) -> None:
        """Shuts the ear, or opens it."""
        self._muted = muted
        if self._hears is not None:
            self._hears.forget()
            self._hears.mute(muted)
        self._tell_state()

    def own_sound(self, for_ms: int) -> None:
        """Hears nothing for so long: our own sound plays."""
        if self._hears is not None:
            self._hears.own_sound(for_ms)

    def hear(self, pcm: bytes, microphone: int) -> None:
        """The next piece of sound of a microphone: 16-bit samples, one channel, 16 kHz."""
        if self._muted or self._open[-1:] != [microphone]:
            return
        with self._hearing:
            if self._hears is None:
                self._hears = self.listening()
            if self.stage.stand.story is not None:
                self._story(pcm)
            for heard in self._hears.sound(pcm):
                self._heard(heard)

    def _story(self, pcm: bytes) -> None:
        told = self.stage.stand.story_sound(pcm)
        if told is not None:
            self.stage.act(lambda: told)

    def answer(self, number: int, yes: bool) -> None:
        """Whether what was heard and asked about was meant.

        Raises
        ------
        NotFound
            When it does not wait any more.
        """
        heard, kept = self._asked.pop(number, (None, None))
        if heard is None:
            raise NotFound(
                Sentence("Nothing was done"),
                Sentence("what was heard does not wait any more"),
                Sentence("Say it again"),
            )
        if yes:
            self._carry_out(heard, kept)
        else:
            self._keep(heard)

    def _heard(self, heard: Any) -> None:
        if self.stage.stand.story is not None and heard.order is not Order.STORY_ENDS:
            return  # a told story changes nothing
        self._number += 1
        if heard.again:
            self._asked.pop(self._number - 1, None)  # it takes the place of the one just before, and of no other
        self.stage.tell(told.heard(self._number, heard.words, heard.sure, _ANSWERS[heard.sure]))
        try:
            self._do(heard)
        except Trouble as trouble:
            self.stage.tell(told.trouble(trouble))

    def _do(self, heard: Any) -> None:
        kept = self._kept if heard.again else None
        self._kept = None
        if heard.sure == "ask":
            self._asked[self._number] = heard, kept
            while len(self._asked) > MOST_ASKED:
                self._asked.popitem(last=False)
        elif heard.sure == "sure":
            self._carry_out(heard, kept)
        else:
            self._keep(heard)

    def _carry_out(self, heard: Any, kept: str | None) -> None:
        if heard.order is not None:
            self.order(heard.order)
        elif kept is not None:  # the rest of what was kept: together they say this
            self.stage.act(lambda: self.stage.stand.type_sound(kept, heard.words))
        else:
            self.stage.act(lambda: self.stage.stand.say(heard.words))

    def _keep(self, heard: Any) -> None:
        stand = self.stage.stand
        before = {one.id for one in stand.sounds()}
        self.stage.act(lambda: stand.keep_sound(heard.sound))
        self._kept = next((one.id for one in stand.sounds() if one.id not in before), None)

    def _tell_state(self) -> None:
        now = told.as_it_is("microphone", lambda: told.microphone(is_open=bool(self._open), muted=self._muted))
        self.stage.tell(now)
