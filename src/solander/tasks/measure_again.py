"""Measures views anew that an older edition of the measuring measured, or none did."""

from __future__ import annotations

from attrs import evolve, frozen

from solander.core.condition import MEASURED, Condition
from solander.core.prints import Print, View
from solander.core.sentence import Sentence
from solander.imaging.compare import fingerprint
from solander.imaging.decode import Unreadable, decode
from solander.imaging.encode import thumbnail
from solander.imaging.measure import UNDER_A_HAND
from solander.imaging.rectify import quarter_turn
from solander.tasks.collection import Collection, Progress, Watch, unwatched
from solander.tasks.condition import condition_of
from solander.tasks.prepare import laid_straight

__all__ = ["MeasuredSide", "measure_again", "sides_of"]


@frozen
class MeasuredSide:
    """A side of a print with its condition."""

    accession: str
    view: View


def sides_of(collection: Collection, accessions: tuple[str, ...] = ()) -> list[MeasuredSide]:
    """Every side of the prints of a collection, or of those named, in their order.

    Raises
    ------
    NotFound
        When no print has a number that was named.
    """
    prints: list[Print] = (
        [collection.catalogue.print(one) for one in accessions] if accessions else collection.catalogue.prints()
    )
    return [MeasuredSide(print_.accession, view) for print_ in prints for view in print_.views]


def measure_again(
    collection: Collection, sides: list[MeasuredSide], *, who: str = "archivist", watch: Watch = unwatched
) -> list[MeasuredSide]:
    """The same sides, those that an older edition measured measured anew, in one act; what can't be read stays."""
    old = [one for one in sides if one.view.condition is None or one.view.condition.measured < MEASURED]
    if not old:
        return sides
    anew: dict[str, Condition] = {}
    for done, one in enumerate(old):
        watch(Progress("measuring", one.accession, done, len(old)))
        condition = _again(collection, one.view)
        if condition is not None:
            anew[one.view.key] = condition
    what = Sentence("measured the condition of %(count)s sides", count=len(anew))
    with collection.catalogue.act(who, what) as act, act.work() as work:
        for key, condition in anew.items():
            work.set_condition(key, condition)
        work.commit()
    watch(Progress("measuring", "", len(old), len(old)))
    return [
        evolve(one, view=evolve(one.view, condition=anew.get(one.view.key, one.view.condition))) for one in sides
    ]


def _again(collection: Collection, view: View) -> Condition | None:
    try:
        rgb = decode(collection.vault.path(view.capture), view.page)
    except (Unreadable, OSError):
        return None
    straight = laid_straight(rgb, view)
    before = view.condition
    code = before.fingerprint if before else fingerprint(quarter_turn(thumbnail(straight), view.turn))
    return condition_of(straight, rgb, view, code, hand=bool(before and UNDER_A_HAND in before.faults))
