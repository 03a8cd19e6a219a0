"""All that waits for a person, in one queue: kind by kind, a few at a time, left for later, never forced.

A kind is registered once, in `KINDS`; how it is shown is registered in the station under the same name. What a
kind asks is read a few at a time, so that the queue opens at once however much waits.
"""

from __future__ import annotations

import time
from collections import defaultdict
from collections.abc import Callable, Sequence
from statistics import median

from attrs import define, field, frozen

from solander.core.errors import NotFound
from solander.core.language import marked
from solander.core.questions import Asks
from solander.core.sentence import Sentence
from solander.tasks.collection import Collection
from solander.tasks.face_desk import FaceDesk
from solander.tasks.sitting import Sitting

__all__ = ["KINDS", "Kind", "KindWaiting", "Pace", "Queue", "Waiting"]

_LONGEST_S = 90.0
"""Who takes longer has turned to something else: it does not count into the pace (our choice)."""


@frozen
class Kind:
    """A kind of question: its name in addresses, its words for one and for many, and the seconds that an answer is
    taken to need until it is measured in the sitting (our guess)."""

    name: str
    one: str
    many: str
    seconds: float
    asks: tuple[Asks, ...] = ()
    """The questions of the catalogue that are of this kind."""


KINDS: Sequence[Kind] = (
    Kind("contradiction", marked("contradiction"), marked("contradictions"), 30, (Asks.CONTRADICTION,)),
    Kind("who", marked("name to make out"), marked("names to make out"), 8, (Asks.WHO,)),
    Kind("place", marked("place to make out"), marked("places to make out"), 8, (Asks.PLACE,)),
    Kind("same-person", marked("pair of names"), marked("pairs of names"), 10, (Asks.SAME_PERSON,)),
    Kind("words", marked("note not understood"), marked("notes not understood"), 20, (Asks.WORDS,)),
    Kind("inscription", marked("inscription"), marked("inscriptions"), 12, (Asks.INSCRIPTION,)),
    Kind("told", marked("thing heard in a story"), marked("things heard in stories"), 15, (Asks.TOLD,)),
    Kind("outline", marked("edge to look at"), marked("edges to look at"), 3, (Asks.OUTLINE,)),
    Kind("pair", marked("back without its front"), marked("backs without their fronts"), 8, (Asks.PAIR,)),
    Kind("which-picture", marked("picture to choose"), marked("pictures to choose"), 4, (Asks.WHICH_PICTURE,)),
    Kind("duplicate", marked("picture seen twice"), marked("pictures seen twice"), 6, (Asks.DUPLICATE,)),
    Kind("upright", marked("print to turn upright"), marked("prints to turn upright"), 3, (Asks.UPRIGHT,)),
    Kind("treatment", marked("treatment proposed"), marked("treatments proposed"), 5, (Asks.TREATMENT,)),
    Kind("face", marked("person nobody has named"), marked("people nobody has named"), 8),
    Kind(
        "capture-again",
        marked("print to capture again"),
        marked("prints to capture again"),
        5,
        (Asks.CAPTURE_AGAIN,),
    ),
    Kind("set-aside", marked("file set aside"), marked("files set aside"), 8, (Asks.SET_ASIDE,)),
)
"""What people said comes before what pictures look like: it is fewer, and dates hang on it."""


@frozen
class KindWaiting:
    """A kind with how many of it wait."""

    kind: Kind
    count: int


@frozen
class Waiting:
    """One that waits: its kind and its key, that of a question, of a view for an outline, of a face."""

    kind: str
    key: str

    @property
    def name(self) -> str:
        """Kind and key in one word, for addresses."""
        return f"{self.kind}:{self.key}"

    @classmethod
    def called(cls, name: str) -> Waiting:
        """The one of that name."""
        kind, _, key = name.partition(":")
        return cls(kind, key)


@frozen
class Pace:
    """How far one is in this sitting: how many were answered, how many wait, the minutes that they may take."""

    answered: int
    left: int
    minutes: float


@define
class Queue:
    """The queue of one workbench: what was left for later, and the pace, are those of its sitting."""

    collection: Collection
    sitting: Sitting
    faces: FaceDesk | None = None
    now: Callable[[], float] = time.monotonic
    _later: dict[str, None] = field(factory=dict, init=False)
    _answered: dict[int, str] = field(factory=dict, init=False)
    _took: dict[str, list[float]] = field(factory=lambda: defaultdict(list), init=False)
    _last: float | None = field(default=None, init=False)

    def kinds(self, within: str = "") -> list[KindWaiting]:
        """The kinds of which any wait, with how many."""
        asked = self.collection.catalogue.questions_counted(within)
        counted = (KindWaiting(kind, self._count(kind, within, asked)) for kind in KINDS)
        return [one for one in counted if one.count]

    def following(self, kind: str = "", within: str = "", *, at: str = "") -> list[Waiting]:
        """The one to ask next and the one after it, of a kind or of all; beginning with the one named `at`.

        Those left for later come when nothing else waits, in the order in which they were left.
        """
        first = [Waiting.called(at)] if at else []
        wanted = [one for one in KINDS if kind in ("", one.name)]
        for one in wanted:
            if len(first) < 2:
                passed = {name.partition(":")[2] for name in self._later if name.startswith(f"{one.name}:")}
                passed |= {waiting.key for waiting in first}
                first += self._first(one, within, passed)
        if len(first) < 2:
            names = {one.name for one in wanted}
            left = (Waiting.called(name) for name in self._later)
            first += [one for one in left if one.kind in names and one not in first and self._waits(one, within)]
        return first[:2]

    def leave(self, name: str) -> None:
        """Leaves one for later."""
        self._later.pop(name, None)
        self._later[name] = None

    def note_answer(self, act: int, kind: str) -> None:
        """Takes note of an answer by its act; of the same only once."""
        if act in self._answered:
            return
        self._answered[act] = kind
        now, before = self.now(), self._last
        self._last = now
        if before is not None and now - before <= _LONGEST_S:
            self._took[kind].append(now - before)

    def note_undone(self, act: int) -> None:
        """An answer that was taken back is none."""
        self._answered.pop(act, None)

    def pace(self, kind: str = "", within: str = "") -> Pace:
        """How far one is with a kind, or with all."""
        waiting = [one for one in self.kinds(within) if kind in ("", one.kind.name)]
        seconds = sum(one.count * self._seconds(one.kind) for one in waiting)
        answered = sum(1 for one in self._answered.values() if kind in ("", one))
        return Pace(answered, sum(one.count for one in waiting), seconds / 60)

    def settle(self, key: str) -> int | None:
        """Takes a question out by a person's word that nothing is to be done; the act's number.

        Raises
        ------
        NotFound
            When it waits no more.
        """
        catalogue = self.collection.catalogue
        question = catalogue.question(key)
        if question is None:
            raise NotFound(
                Sentence("This question does not wait any more"),
                Sentence("it was answered meanwhile"),
                Sentence("Go on to the next"),
            )
        with (
            catalogue.act(
                "archivist", Sentence("nothing is to be done: %(question)s", question=question.sentence)
            ) as act,
            act.work() as work,
        ):
            work.settle(key)
            work.commit()
        return self.sitting.noted(act.number)

    def _count(self, kind: Kind, within: str, asked: dict[Asks, int]) -> int:
        count = sum(asked.get(one, 0) for one in kind.asks)
        if kind.name == "outline":
            count += self.collection.catalogue.unsure_count(within)
        if kind.name == "face" and self.faces is not None:
            count += len(self.faces.waiting(within))
        return count

    def _first(self, kind: Kind, within: str, passed: set[str]) -> list[Waiting]:
        catalogue = self.collection.catalogue
        keys: list[str] = []
        if kind.name == "outline":
            keys += catalogue.first_unsure(within, without=passed)
        if kind.name == "face" and self.faces is not None:
            keys += [face.key for face in self.faces.waiting(within) if face.key not in passed][:2]
        if kind.asks and len(keys) < 2:
            keys += [one.key for one in catalogue.first_questions(kind.asks, within, without=passed)]
        return [Waiting(kind.name, key) for key in keys]

    def _waits(self, one: Waiting, within: str) -> bool:
        """Whether one that was left for later still waits."""
        kind = next(kind for kind in KINDS if kind.name == one.kind)
        others = {name.partition(":")[2] for name in self._later} - {one.key}
        return one in self._first(kind, within, others)

    def _seconds(self, kind: Kind) -> float:
        took = self._took.get(kind.name, ())
        return median(took[-20:]) if len(took) >= 3 else kind.seconds
