"""A station as its parts share it: what it has in hand, what it did itself, and how that is taken back."""

from __future__ import annotations

import threading
from collections.abc import Callable

from attrs import Factory, define, evolve, field, frozen

from solander.core.errors import Trouble
from solander.core.orders import Order
from solander.core.sentence import Sentence
from solander.core.slips import Slip
from solander.tasks.collection import Collection
from solander.tasks.sitting import Sitting
from solander.tasks.stand_after import Afterwards
from solander.tasks.stand_state import InHand, in_hand_of, keep_in_hand, steps_of
from solander.tasks.understood import Understanding

__all__ = ["WHO", "Station", "Step"]

WHO = "archivist"
"""In whose name a station acts."""

_MOST_STEPS = 200
"""So many deeds can be taken back, one after the other (our choice)."""


_KEPT_STEPS = 10
"""So many can be, after the program was started anew."""


@frozen
class Step:
    """One deed: what was in hand before it, and its act, None where only the slip changed. Of one that was `kept`
    from an earlier sitting only the slip before it is known. Where the deed itself took another back, `anew` does
    that one anew: it is given what is in hand, and gives what is then."""

    before: InHand
    act: int | None = None
    kept: bool = False
    anew: Callable[[InHand], InHand] | None = None


@define
class Station:
    """One station of a collection. `expects` is what was ordered for the next picture."""

    collection: Collection
    name: str
    sitting: Sitting
    after: Afterwards = field(default=Factory(lambda self: Afterwards(self.collection), takes_self=True))
    lock: threading.RLock = field(factory=threading.RLock, init=False)
    understanding: Understanding = field(init=False)
    in_hand: InHand = field(init=False)
    expects: Order | None = field(default=None, init=False)
    _steps: list[Step] = field(factory=list, init=False)

    def __attrs_post_init__(self) -> None:
        self.understanding = Understanding(self.collection)
        self._steps = [Step(InHand(slip), act, kept=True) for act, slip in steps_of(self.collection, self.name)]
        self.in_hand = self.without_erased(in_hand_of(self.collection, self.name))

    @property
    def slip(self) -> Slip:
        """What holds just now."""
        return self.in_hand.slip

    def keep(self, in_hand: InHand) -> None:
        """Keeps what is in hand now, where it is another."""
        if in_hand != self.in_hand:
            self.in_hand = in_hand
            self._keep()

    def _keep(self) -> None:
        steps = [(one.act, one.before.slip) for one in self._steps[-_KEPT_STEPS:]]
        keep_in_hand(self.collection, self.name, self.in_hand, steps)

    def keep_slip(self, slip: Slip) -> None:
        """Keeps another slip."""
        self.keep(evolve(self.in_hand, slip=slip))

    def without_erased(self, in_hand: InHand) -> InHand:
        """The same without recordings that were erased for good."""
        sound = self.collection.catalogue.sound
        gone = [one.sha256 for one in in_hand.slip.not_understood if sound(one.sha256) is None]
        slip = in_hand.slip
        for sha256 in gone:
            slip = slip.without_sound(sha256)
        return evolve(in_hand, slip=slip, stories=tuple(one for one in in_hand.stories if sound(one) is not None))

    def did(
        self, before: InHand, act: int | None = None, *, anew: Callable[[InHand], InHand] | None = None
    ) -> None:
        """Remembers a deed, so that it can be taken back."""
        self.sitting.noted(act)
        self._steps = [*self._steps, Step(before, act, anew=anew)][-_MOST_STEPS:]

    def forget(self, act: int) -> Step | None:
        """The deed of that act, which is taken back by no order any more."""
        found = next((one for one in self._steps if one.act == act), None)
        self._steps = [one for one in self._steps if one is not found]
        return found

    @property
    def last_step(self) -> Step | None:
        """The last deed that can be taken back."""
        return self._steps[-1] if self._steps else None

    def undo(self) -> str:
        """Takes this station's own last deed back; the sentence of its act, empty where only the slip changed.

        Raises
        ------
        Trouble
            When there is none, or what was done since stands in the way; a deed that somebody else took back
            already is forgotten.
        """
        if not self._steps:
            why = Sentence("nothing was done at this station, or not lately")
            raise Trouble(Sentence("Nothing was taken back"), why)
        step = self._steps[-1]
        sentence = self.take_back(step.act) if step.act is not None else ""
        self._steps.pop()
        before = evolve(step.before, stage=self.in_hand.stage, telling=self.in_hand.telling)
        if step.kept:
            now = self.in_hand if step.act is None else self.in_hand.without_act(step.act)
            before = evolve(now, slip=step.before.slip)
        self.in_hand = self.without_erased(step.anew(before) if step.anew else before)
        self._keep()
        return sentence

    def take_back(self, act: int) -> str:
        """Takes an act of this station back, and forgets it where somebody else did."""
        self.after.forget(act)
        try:
            return self.collection.catalogue.take_back(WHO, act)
        except Trouble:
            kept = self.collection.catalogue.act_kept(act)
            if kept is None or not kept.stands:
                self._steps = [one for one in self._steps if one.act != act]
                self.keep(self.in_hand.without_act(act))
            raise
