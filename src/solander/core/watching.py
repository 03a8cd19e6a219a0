"""A print's journey over the stage, as the station watches it: when to take a still, and what to say meanwhile.

Two rules. A still is wanted of a print that lies there alone, at rest, seen well, with no hand over it, once. And
no second one of it until it has gone or something else lies there, unless a person orders it.

The journey is in two tables: what a frame shows moves the state (`ON_FRAME`), what a person orders moves it, too
(`ON_ORDER`). All else hangs on how long a thing has lasted, in milliseconds of the frames' own time: nothing here
reads a clock. A still is wanted at the one step from SETTLED to TAKEN; so whoever reads the tables reads when.
"""

from __future__ import annotations

from enum import Enum

from attrs import evolve, frozen

from solander.core.orders import Order

__all__ = ["Kept", "Ordered", "Seen", "Shown", "State", "Step", "Watching", "next_step"]


class State(Enum):
    """Where the print on the stage is on its journey; its value is its name in messages."""

    EMPTY = "empty"
    ARRIVING = "arriving"
    """Something moves."""
    HAND = "hand"
    """A hand is in the picture."""
    SETTLED = "settled"
    """A print lies at rest; a still is wanted as soon as nothing speaks against it."""
    TAKEN = "taken"
    """The print that lies there was taken."""
    LEAVING = "leaving"
    """Something moves at the print that was taken: it goes, is turned over, or is only pushed."""
    RESTING = "resting"
    """Nobody watches."""


class Shown(Enum):
    """What a frame shows; of several things the first."""

    HAND = "hand"
    MOVING = "moving"
    NOTHING = "nothing"
    SEVERAL = "several prints"
    TAKEN = "the print that was taken last and has not gone since"
    KNOWN = "a print that was taken before"
    NEW = "another print"


@frozen
class Seen:
    """What was seen in a frame at `at_ms`: how many `prints`, whether a `hand` is in it, whether anything moves.

    `last` tells that one of the prints looks like the one taken last, `known` that it looks like one of those
    taken lately. `fault` is what would spoil a still ("glare", "not-sharp", "dark"), `where` at which edge.
    """

    at_ms: int
    prints: int = 0
    hand: bool = False
    moving: bool = False
    last: bool = False
    known: bool = False
    fault: str = ""
    where: str = ""


@frozen
class Ordered:
    """A person's order at `at_ms`."""

    order: Order
    at_ms: int


@frozen
class Kept:
    """A still was kept at `at_ms`, and whether it is `good`."""

    at_ms: int
    good: bool


@frozen
class Watching:
    """What is known after an event.

    `since_ms` is when the state began, `good_ms` since when what lies there could be taken (None: it can't),
    `active_ms` when anything last went on. `gone` tells that the print taken last has left since; `again` that
    whatever lies there next is to be taken, known or not; `good` what was told of the last still (None: nothing
    yet); `sent_away` that it rests by order; `told` that a story is being told, during which nothing rests.
    """

    state: State = State.EMPTY
    since_ms: int = 0
    good_ms: int | None = None
    active_ms: int = 0
    gone: bool = True
    again: bool = False
    good: bool | None = None
    sent_away: bool = False
    told: bool = False


@frozen
class Step:
    """What comes of an event: what is known now, whether a still is wanted, and `why` nothing goes on (a key;
    empty when all goes its way), `where`."""

    now: Watching
    wants_still: bool = False
    why: str = ""
    where: str = ""


ON_FRAME: dict[State, dict[Shown, State]] = {
    State.EMPTY: {
        Shown.HAND: State.HAND,
        Shown.MOVING: State.ARRIVING,
        Shown.NOTHING: State.EMPTY,
        Shown.SEVERAL: State.SETTLED,
        Shown.TAKEN: State.TAKEN,
        Shown.KNOWN: State.SETTLED,
        Shown.NEW: State.SETTLED,
    },
    State.TAKEN: {
        Shown.HAND: State.LEAVING,
        Shown.MOVING: State.LEAVING,
        Shown.NOTHING: State.EMPTY,
        # Nothing has moved, so it is the same print in other light, or seen otherwise.
        Shown.SEVERAL: State.TAKEN,
        Shown.TAKEN: State.TAKEN,
        Shown.KNOWN: State.TAKEN,
        Shown.NEW: State.TAKEN,
    },
    State.LEAVING: {
        Shown.HAND: State.LEAVING,
        Shown.MOVING: State.LEAVING,
        Shown.NOTHING: State.EMPTY,
        Shown.SEVERAL: State.SETTLED,
        Shown.TAKEN: State.TAKEN,
        Shown.KNOWN: State.SETTLED,
        Shown.NEW: State.SETTLED,
    },
}
ON_FRAME[State.ARRIVING] = ON_FRAME[State.HAND] = ON_FRAME[State.SETTLED] = ON_FRAME[State.EMPTY]
# What rests by itself wakes when something stirs; a print that lay there all the time does not wake it.
ON_FRAME[State.RESTING] = {
    shown: {Shown.HAND: State.HAND, Shown.MOVING: State.ARRIVING}.get(shown, State.RESTING) for shown in Shown
}

ON_ORDER: dict[Order, State] = {Order.REST: State.RESTING, Order.EMPTY_STAGE: State.EMPTY}
"""Where an order leads from every state; those to take lead to TAKEN by the still that they want, and the others
nowhere, but they wake."""

SETTLE_MS = 250
"""How long a print lies before it is taken: longer than a hand takes from letting go to pushing it straight, and
short enough that with finding out that it lies (two frames and a search) .7 s are kept."""

PATIENCE_MS = 1500
"""How long something may go on before it is told why nothing is taken: less would talk into every laying down."""

STILL_MS = 5000
"""How long a still may take to be kept before it is told that it has not come."""

REST_MS = 180_000
"""How long nothing happens before the station rests."""


def next_step(before: Watching, event: Seen | Ordered | Kept) -> Step:
    """What comes of an event, given what was known `before` it."""
    if isinstance(event, Seen):
        return _seen(before, event)
    if isinstance(event, Kept):
        now = evolve(before, good=event.good, active_ms=event.at_ms)
        return Step(now, why=_of_the_still(now, event.at_ms))
    return _ordered(before, event.order, event.at_ms)


def _seen(before: Watching, seen: Seen) -> Step:
    if before.state is State.RESTING and before.sent_away:
        return Step(before)
    shown = _shown(before, seen)
    state = ON_FRAME[before.state][shown]
    if state is State.RESTING:
        return Step(before)
    now = _moved(before, state, seen.at_ms)
    now = evolve(
        now,
        gone=now.gone or (shown in (Shown.NOTHING, Shown.NEW, Shown.KNOWN) and state is not State.TAKEN),
        active_ms=seen.at_ms if _stirs(before, state, shown) else now.active_ms,
    )
    if state is State.SETTLED:
        return _settled(now, seen, shown)
    if not now.told and seen.at_ms - now.active_ms >= REST_MS:
        return Step(_moved(now, State.RESTING, seen.at_ms))
    return Step(now, False, *_why_not(now, seen))


def _shown(before: Watching, seen: Seen) -> Shown:
    """The one thing that a frame shows."""
    if seen.hand:
        return Shown.HAND
    if seen.moving:
        return Shown.MOVING
    if seen.prints != 1:
        return Shown.SEVERAL if seen.prints else Shown.NOTHING
    if seen.last and not before.gone:
        return Shown.TAKEN
    return Shown.KNOWN if seen.known else Shown.NEW


def _stirs(before: Watching, state: State, shown: Shown) -> bool:
    return state is not before.state or shown in (Shown.HAND, Shown.MOVING)


def _moved(before: Watching, state: State, at_ms: int) -> Watching:
    """In another state, from now on; in the same one as it was."""
    return before if state is before.state else evolve(before, state=state, since_ms=at_ms, good_ms=None)


def _settled(now: Watching, seen: Seen, shown: Shown) -> Step:
    """A print lies at rest: it is taken once it has lain well for a while, or it is told why not."""
    why, where = _against(now, seen, shown)
    if why:
        idle = not now.told and seen.at_ms - now.active_ms >= REST_MS
        resting = _moved(now, State.RESTING, seen.at_ms) if idle else evolve(now, good_ms=None)
        return Step(resting, why="" if idle else why, where="" if idle else where)
    good_ms = seen.at_ms if now.good_ms is None else now.good_ms
    if seen.at_ms - good_ms < SETTLE_MS:
        return Step(evolve(now, good_ms=good_ms))
    return _wanted(now, seen.at_ms)


def _against(now: Watching, seen: Seen, shown: Shown) -> tuple[str, str]:
    """What speaks against taking a print that lies at rest; an order overrules that it is known."""
    if seen.fault:
        return seen.fault, seen.where
    if shown is Shown.SEVERAL:
        return "two-prints", ""
    return ("taken-before", "") if shown is Shown.KNOWN and not now.again else ("", "")


def _wanted(now: Watching, at_ms: int) -> Step:
    """A still is wanted: the only place where one is."""
    taken = _moved(evolve(now, gone=False, again=False, good=None, active_ms=at_ms), State.TAKEN, at_ms)
    return Step(evolve(taken, since_ms=at_ms), wants_still=True)


def _why_not(now: Watching, seen: Seen) -> tuple[str, str]:
    """Why nothing goes on, once it has lasted."""
    lasts = seen.at_ms - now.since_ms >= PATIENCE_MS
    if now.state is State.TAKEN:
        return _of_the_still(now, seen.at_ms), ""
    if not lasts or now.state is State.EMPTY:
        return "", ""
    return ("hand" if seen.hand else "moving"), seen.where


def _of_the_still(now: Watching, at_ms: int) -> str:
    if now.state is not State.TAKEN or now.good:
        return ""
    if now.good is False:
        return "not-good"
    return "no-still" if at_ms - now.since_ms >= STILL_MS else ""


def _ordered(before: Watching, order: Order, at_ms: int) -> Step:
    """An order: it counts as something going on, and all but that to rest wake."""
    awake = evolve(before, active_ms=at_ms, sent_away=order is Order.REST)
    if order in (Order.STORY, Order.STORY_ENDS):
        awake = evolve(awake, told=order is Order.STORY)
    if order is Order.TAKE:
        return _wanted(awake, at_ms)
    if order is Order.TAKE_AGAIN:
        return _again(awake, at_ms)
    waking = State.ARRIVING if before.state is State.RESTING else before.state
    now = _moved(awake, ON_ORDER.get(order, waking), at_ms)
    return Step(evolve(now, gone=True) if order is Order.EMPTY_STAGE else now)


def _again(awake: Watching, at_ms: int) -> Step:
    """To be taken again: at once where it lies at rest, else as soon as it does."""
    if awake.state is State.TAKEN:
        return _wanted(awake, at_ms)
    waking = State.ARRIVING if awake.state in (State.RESTING, State.LEAVING) else awake.state
    return Step(_moved(evolve(awake, again=True, gone=True), waking, at_ms))
