"""The right way up: the habit of a batch turns what faces did not tell, a person answers for the rest.

A batch is a container, or one sitting where prints have none. What a person said is never changed here.
"""

from __future__ import annotations

from collections.abc import Collection as Several
from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime, timedelta
from pathlib import Path

from attrs import evolve, frozen

from solander.catalogue.store import Act
from solander.catalogue.work import Work
from solander.core.errors import Trouble
from solander.core.prints import Print, Side, View
from solander.core.questions import Asks
from solander.core.sentence import Sentence
from solander.core.upright import ENOUGH, Lain, Upright, habit, laid_shape
from solander.engine.local import Executor
from solander.imaging.compare import fingerprint
from solander.imaging.decode import Unreadable, decode
from solander.imaging.rectify import quarter_turn
from solander.look.words import side_of
from solander.tasks.ask import ask, settle_others
from solander.tasks.carry_treatment import turned_with_treatment
from solander.tasks.collection import Collection, Progress, Watch, unwatched
from solander.tasks.prepare import points_path, remake_view, view_paths
from solander.tasks.redraw import Done
from solander.vault.store import Vault

__all__ = ["turn_as_neighbours", "turn_by_hand", "turned_view"]

A_PAUSE = timedelta(hours=1)
"""Between two arrivals: what comes after it is another sitting (our own choice, no source)."""

_TELLS = (Upright.PERSON, Upright.FACES)
"""What a habit is made from; a turn by habit is no evidence for the next."""


@frozen
class _Turning:
    """A view that gives way to itself turned."""

    accession: str
    old: View
    new: View


def turn_by_hand(collection: Collection, key: str, quarters: int, *, who: str = "archivist") -> Done:
    """Turns a view by quarter turns clockwise from how it is shown now; 0 says that it is the right way up.

    The description stays, and so does the outline. Neighbours that nothing had told about follow, where with this
    answer they have a habit.

    Raises
    ------
    NotFound
        When no view in use has that key.
    """
    accession, view = collection.catalogue.view(key)
    side = side_of(view.side, accession)
    what = (
        Sentence("turned %(side)s", side=side)
        if quarters % 4
        else Sentence("said that %(side)s is the right way up", side=side)
    )
    turned = turned_view(collection, view, view.turn + quarters, Upright.PERSON)
    with collection.catalogue.act(who, what) as act:
        if turned != view:
            with act.work() as work:
                work.replace_view(accession, view, turned)
                work.commit()
        if view.side is Side.RECTO:
            turn_as_neighbours(collection, act, [accession])
    return Done(act.number, accession, turned.key)


def turn_as_neighbours(
    collection: Collection,
    act: Act,
    accessions: Several[str],
    *,
    executor: Executor | None = None,
    watch: Watch = unwatched,
) -> None:
    """Turns the fronts in the batches of these prints as their neighbours lay, and asks about those that nothing
    tells.

    With an `executor` the turned pictures are made at once; else when they are looked at.
    """
    for batch in _batches(collection, set(accessions)):
        turnings = _by_habit(collection, batch)
        if executor is not None:
            _make(collection, turnings, executor, watch)
        with act.work() as work:
            for turning in turnings:
                work.replace_view(turning.accession, turning.old, turning.new)
            told = {turning.accession for turning in turnings}
            _ask(collection, work, batch, [print_ for print_ in batch if print_.accession not in told])
            work.commit()


def _batches(collection: Collection, accessions: Several[str]) -> Iterator[Sequence[Print]]:
    """The batches with one of these prints; their prints with a front, in the order of arrival."""
    catalogue = collection.catalogue
    near = catalogue.prints_beside(*accessions) if len(accessions) == 1 else catalogue.prints()
    prints = [print_ for print_ in near if print_.recto]
    boxes: dict[str, list[Print]] = {}
    for print_ in prints:
        if print_.container:
            boxes.setdefault(print_.container, []).append(print_)
    loose = [print_ for print_ in prints if not print_.container]
    for batch in (*boxes.values(), *_sittings(collection, loose)):
        if any(print_.accession in accessions for print_ in batch):
            yield batch


def _sittings(collection: Collection, prints: Sequence[Print]) -> list[list[Print]]:
    if not prints:
        return []
    arrived = collection.catalogue.first_arrivals()
    sittings: list[list[Print]] = []
    before: datetime | None = None
    for print_ in prints:
        at = datetime.fromisoformat(arrived[_front(print_).capture])
        if before is None or abs(at - before) > A_PAUSE:
            sittings.append([])
        sittings[-1].append(print_)
        before = at
    return sittings


def _by_habit(collection: Collection, batch: Sequence[Print]) -> list[_Turning]:
    likely = habit([_lain(place, print_) for place, print_ in enumerate(batch)])
    return [
        _turning(collection, batch[place], turn)
        for place, turn in likely.items()
        if _front(batch[place]).upright is None
    ]


def _lain(place: int, print_: Print) -> Lain:
    view = _front(print_)
    return Lain(place, laid_shape(*view.laid_size), view.turn if view.upright in _TELLS else None)


def _turning(collection: Collection, print_: Print, turn: int) -> _Turning:
    old = _front(print_)
    new = turned_view(collection, old, turn, Upright.HABIT)
    return _Turning(print_.accession, old, new)


def turned_view(collection: Collection, view: View, turn: int, upright: Upright) -> View:
    """The view turned, with the fingerprint of the turned picture, so that a second capture of it is noticed;
    where its small picture was deleted, the fingerprint stays what it was."""
    new = turned_with_treatment(view, view.turned(turn, upright))
    small = view_paths(collection.views_root, view.key)[1]
    if view.condition is None or new.turn == view.turn or not small.is_file():
        return new
    code = fingerprint(quarter_turn(decode(small), new.turn - view.turn))
    return evolve(new, condition=evolve(view.condition, fingerprint=code))


def _make(collection: Collection, turnings: Sequence[_Turning], executor: Executor, watch: Watch) -> None:
    due = [turning for turning in turnings if turning.new.key != turning.old.key]
    jobs = [_Remake(collection.root, turning.old, turning.new) for turning in due]
    for done, _ in enumerate(executor.map(_remake, jobs), start=1):
        watch(Progress("Turning as its neighbours", due[done - 1].accession, done, len(due)))


@frozen
class _Remake:
    """A view of the collection at `root` to be made in the place of another."""

    root: Path
    old: View
    new: View


def _remake(job: _Remake) -> None:
    # The picture as it lay goes, so that a turned box does not take twice the room; undo makes it again.
    views_root = job.root / "views"
    try:
        remake_view(Vault(job.root).path(job.new.capture), job.new, views_root)
    except (Trouble, Unreadable):
        return  # a capture damaged since is verify's to tell; its picture is tried again when it is looked at
    for path in (*view_paths(views_root, job.old.key), points_path(views_root, job.old.key)):
        path.unlink(missing_ok=True)


def _ask(collection: Collection, work: Work, batch: Sequence[Print], undecided: Sequence[Print]) -> None:
    """Asks about a few prints of each shape, spread over the batch: with their answers the rest has a habit."""
    unknown = [print_ for print_ in undecided if _front(print_).upright is None]
    by_shape: dict[str, list[Print]] = {}
    for print_ in unknown:
        by_shape.setdefault(laid_shape(*_front(print_).laid_size), []).append(print_)
    waiting = _waiting(collection)
    chosen = [print_ for alike in by_shape.values() for print_ in _few(alike, waiting)]
    asked = {ask(work, Asks.UPRIGHT, print_.accession, _sentence(print_)) for print_ in chosen}
    here = {print_.accession for print_ in batch}
    settle_others(collection, work, (Asks.UPRIGHT,), asked=asked, about=here.__contains__)


def _few(alike: Sequence[Print], waiting: Several[str]) -> list[Print]:
    """`ENOUGH` of the prints: those that are asked about already, then others at even distances."""
    asked = [print_ for print_ in alike if print_.accession in waiting][:ENOUGH]
    others = [print_ for print_ in alike if print_.accession not in waiting]
    wanted = min(ENOUGH - len(asked), len(others))
    return [*asked, *(others[number * len(others) // wanted] for number in range(wanted))]


def _waiting(collection: Collection) -> Mapping[str, str]:
    return {
        question.subject: question.key
        for question in collection.catalogue.questions()
        if question.asks is Asks.UPRIGHT
    }


def _sentence(print_: Print) -> str:
    return Sentence("Which way is up in %(print)s?", print=print_.accession)


def _front(print_: Print) -> View:
    assert print_.recto is not None
    return print_.recto
