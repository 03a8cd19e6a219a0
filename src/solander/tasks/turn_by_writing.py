"""Turns backs as the writing on them stands, and fronts by their backs where the box shows how the two were laid.

A back tells nothing of its front by itself: prints are turned over sideways or upwards, and people write along
either edge. Only where the neighbours of a print, of whose fronts a person or faces told, nearly all lay one way
to their backs, does its own back turn its front.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

from attrs import frozen

from solander.core.prints import Print, View
from solander.core.questions import Asks
from solander.core.sentence import Sentence
from solander.core.upright import Lain, Upright, habit, laid_shape, turn_by_faces
from solander.tasks.ask import settle
from solander.tasks.claims import AT_THE_DESK
from solander.tasks.collection import Collection
from solander.tasks.upright import turned_view

__all__ = ["TurnedByWriting", "turn_by_writing"]

_LEAST = 6.0
"""Letters, sure and read alike twice, that must be upright at least: a word may read as another one upside down
(our choice; on simulated backs none was wrong, docs/measured.md)."""

_AT_ONCE = 500
"""Backs of which what was read lies in memory at once (our choice)."""

_TOLD = (Upright.PERSON, Upright.FACES)


@frozen
class TurnedByWriting:
    """How many backs and how many fronts are known to be the right way up now, that were not."""

    backs: int = 0
    fronts: int = 0


def turn_by_writing(collection: Collection, *, who: str = AT_THE_DESK) -> TurnedByWriting:
    """Turns what nothing told about before, in one act; what a person said is never changed."""
    catalogue = collection.catalogue
    prints = [one for one in catalogue.prints() if one.verso]
    backs = dict(_turned_backs(collection, prints))
    due = [(one, one.verso, backs[one.accession]) for one in prints if one.verso and one.accession in backs]
    fronts = list(_fronts(prints, backs))
    if not due and not fronts:
        return TurnedByWriting()
    with catalogue.act(who, Sentence("turned prints by the writing on their backs")) as act, act.work() as work:
        for one, view, turn in (*due, *fronts):
            work.replace_view(one.accession, view, turned_view(collection, view, turn, Upright.WRITING))
        for one, _, _ in fronts:
            settle(collection, work, Asks.UPRIGHT, one.accession)
        work.commit()
    return TurnedByWriting(len(due), len(fronts))


def _turned_backs(collection: Collection, prints: Sequence[Print]) -> Iterator[tuple[str, int]]:
    """The backs that nothing told about, each with the turn that its writing gives."""
    due = [(one.accession, one.verso) for one in prints if one.verso and one.verso.upright is None]
    for at in range(0, len(due), _AT_ONCE):
        some = due[at : at + _AT_ONCE]
        writings = collection.catalogue.writings_of(back.key for _, back in some)
        for accession, back in some:
            writing = writings.get(back.key)
            more = _told(writing.seen(back.turn).votes) if writing else None
            if more is not None:
                yield accession, (back.turn + more) % 4


def _told(votes: Sequence[float]) -> int | None:
    return turn_by_faces(votes) if max(votes) >= _LEAST else None


def _fronts(prints: Sequence[Print], backs: dict[str, int]) -> Iterator[tuple[Print, View, int]]:
    """The fronts that nothing told about, each with the turn that its back gives by the habit of its container."""
    boxes: defaultdict[str, list[Print]] = defaultdict(list)
    for one in prints:
        if one.recto and (one.accession in backs or (one.verso and one.verso.upright in _BACK_TOLD)):
            boxes[one.container or ""].append(one)
    for box in boxes.values():
        for place, apart in habit([_lain(place, one, backs) for place, one in enumerate(box)]).items():
            front = box[place].recto
            if front is not None and front.upright is None:
                yield box[place], front, (_back_turn(box[place], backs) + apart) % 4


_BACK_TOLD = (Upright.PERSON, Upright.WRITING)


def _lain(place: int, one: Print, backs: dict[str, int]) -> Lain:
    """How far the front lay turned from its back."""
    assert one.recto is not None
    known = one.recto.upright in _TOLD
    return Lain(
        place,
        laid_shape(*one.recto.laid_size),
        (one.recto.turn - _back_turn(one, backs)) % 4 if known else None,
    )


def _back_turn(one: Print, backs: dict[str, int]) -> int:
    assert one.verso is not None
    return backs.get(one.accession, one.verso.turn)
