"""Takes own places in from a file: what would change is told first, and taking it in again updates."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from attrs import evolve, frozen

from solander.authorities.place_files.reading import read_place_file
from solander.authorities.place_files.told import ToldPlace
from solander.core.errors import Trouble
from solander.core.places import Place, PlaceName
from solander.core.questions import Asks
from solander.core.sentence import Sentence
from solander.core.statements import Sure
from solander.tasks.ask import settle
from solander.tasks.collection import Collection

__all__ = ["PlaceChange", "PlacesDifference", "place_difference", "take_in_places"]

_TOLD_IN_WORDS = {
    "country": "country",
    "latitude": "latitude",
    "longitude": "longitude",
    "radius_m": "radius in metres",
    "what": "kind",
}


@frozen
class PlaceChange:
    """A place before (None when it is new) and after."""

    before: Place | None
    after: Place

    @property
    def words(self) -> str:
        """What changed, as one line: "radius in metres 30 instead of 200; also called Nordgard"."""
        return "; ".join(_differences(self.before, self.after)) if self.before else ""


@frozen
class PlacesDifference:
    """What taking a file in changes: new places, changed ones, how many are as before, and what was set aside.

    `act` is the number of the act that did it, None while it is only looked at, or where nothing changed.
    """

    source: str
    new: tuple[PlaceChange, ...]
    changed: tuple[PlaceChange, ...]
    as_before: int
    set_aside: tuple[str, ...] = ()
    passed_over: tuple[str, ...] = ()
    act: int | None = None

    @property
    def count(self) -> int:
        """How many places the file tells."""
        return len(self.new) + len(self.changed) + self.as_before


def place_difference(collection: Collection, path: Path) -> PlacesDifference:
    """What taking the file in would change; nothing is written.

    A place of the file is one of the collection's when it has its lasting key, else when it has its name.

    Raises
    ------
    CannotBegin
        When the file can't be read.
    """
    found = read_place_file(path)
    known = collection.catalogue.places()
    by_name = {place.name: place for place in known}
    by_key = {key: place for place in known for key in place.known_as}
    changes = [_change(one, by_key.get(one.key) or by_name.get(one.place.name), path.name) for one in found.told]
    different = [change for change in changes if change.before != change.after]
    return PlacesDifference(
        path.name,
        tuple(change for change in different if change.before is None),
        tuple(change for change in different if change.before is not None),
        len(changes) - len(different),
        found.set_aside,
        found.passed_over,
    )


def _change(told: ToldPlace, before: Place | None, source: str) -> PlaceChange:
    if before is None:
        keys = (told.key,) if told.key else ()
        return PlaceChange(None, evolve(told.place, known_as=keys, source=source if told.place.is_located else ""))
    values = {name: getattr(told.place, name) for name in told.fields - {"name", "names"}}
    names = {name.text: name for name in (*before.names, *told.place.names)}
    if told.place.name != before.name:  # the file renamed it; the collection's heading stays
        names.setdefault(told.place.name, PlaceName(told.place.name))
    lasting = tuple(dict.fromkeys((*before.known_as, *filter(None, [told.key]))))
    after = evolve(before, **values, names=tuple(names.values()), known_as=lasting)
    if (after.latitude, after.longitude, after.radius_m) != (before.latitude, before.longitude, before.radius_m):
        after = evolve(after, source=source if after.is_located else "", sure=Sure.CERTAIN)
    return PlaceChange(before, after)


def take_in_places(
    collection: Collection, path: Path, *, who: str = "archivist", expecting: PlacesDifference | None = None
) -> PlacesDifference:
    """Takes the file in, as one act that undo takes back; gives what it changed.

    Raises
    ------
    CannotBegin
        When the file can't be read.
    Trouble
        When `expecting` is a difference that no longer holds.
    """
    found = place_difference(collection, path)
    if expecting not in (None, found):
        raise Trouble(
            Sentence("No place was taken in from %(path)s", path=path.name),
            Sentence("it or the collection has changed since"),
            Sentence("Look again first"),
        )
    with (
        collection.catalogue.act(who, Sentence("took in places from %(path)s", path=path.name)) as act,
        act.work() as work,
    ):
        for change in (*found.new, *found.changed):
            work.keep_place(change.after)
            if change.after.is_located:
                settle(collection, work, Asks.PLACE, change.after.name)
        work.commit()
    return evolve(found, act=act.number)


def _differences(before: Place, after: Place) -> Iterator[str]:
    for name, words in _TOLD_IN_WORDS.items():
        was, now = getattr(before, name), getattr(after, name)
        if was != now:
            yield Sentence(
                "%(field)s %(now)s instead of %(before)s",
                field=Sentence(words),
                now=_plain(now),
                before=_plain(was),
            )
    added = [name.text for name in after.names if name not in before.names]
    if added:
        yield Sentence("also called %(names)s", names=", ".join(added))
    if set(after.known_as) - set(before.known_as):
        yield Sentence("a lasting key in the file")


def _plain(value: object) -> str:
    return (
        Sentence("nothing") if value in (None, "") else f"{value:.10g}" if isinstance(value, float) else str(value)
    )
