"""Takes people in from files: shows first what would change, updates who is known, and asks who may be one."""

from __future__ import annotations

import gc
import hashlib
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

from attrs import evolve, frozen

from solander.authorities.people_files import read_people
from solander.catalogue.history import utc_now
from solander.catalogue.people_queries import ReadingPeople
from solander.catalogue.work import Work
from solander.core.errors import Trouble
from solander.core.sentence import Sentence
from solander.core.taking_in import Kept, Known, Plan, list_key, plan_of
from solander.core.told import Telling
from solander.tasks.collection import Collection
from solander.tasks.date import DateReader, date_reader
from solander.tasks.put_in_order import ask_about_contradictions
from solander.tasks.read_again import read_again
from solander.tasks.same_person import ask_who_is_one
from solander.tasks.who_is_it import ask_about_names

__all__ = ["Difference", "PeopleTakenIn", "difference", "take_in_people"]

_FEW = 400
"""Up to so many people of a source are looked up one by one; our choice, not measured."""


@frozen
class Difference:
    """What taking a file in would do, to be shown before it is done.

    `told` is how many people the file tells of. `mark` stands for the file and the catalogue as they were looked
    at: given to `take_in_people`, it makes sure that what is done is what was shown.
    """

    plan: Plan
    told: int
    mark: str

    @property
    def as_before(self) -> int:
        """How many of the people told of are known just so."""
        return len(self.plan.headings) - len(self.plan.new) - len(self.plan.changed)


@frozen
class PeopleTakenIn:
    """What was done: how many people the file told of, a sentence for each entry that was set aside, one for each
    date that is read otherwise now, the difference that it made, how many questions were raised, and the number of
    the act, None when nothing changed."""

    count: int
    set_aside: tuple[str, ...]
    changed: tuple[str, ...]
    difference: Difference
    questions: int = 0
    act: int | None = None


def difference(collection: Collection, path: Path, *, known_as: str = "") -> Difference:
    """What taking the file in would change; nothing is written.

    Parameters
    ----------
    collection
        Where the people would go.
    path
        A family tree, an address book, a table or a typed list; see `read_people`.
    known_as
        The name under which an earlier copy of the file was taken in, where it has another now.

    Raises
    ------
    CannotBegin
        When the file can't be read or tells of nobody.
    """
    with _collector_paused():
        telling = read_people(path, today=datetime.now(UTC).date())
        if known_as:
            telling = _under(telling, known_as)
        plan = plan_of(telling, _known(collection.catalogue, telling), now=utc_now())
    return Difference(plan, len(telling.people) + len(telling.set_aside), _mark(collection, path))


def take_in_people(
    collection: Collection, path: Path, *, who: str = "archivist", known_as: str = "", expecting: str = ""
) -> PeopleTakenIn:
    """Takes people in; dates that were told by their lives are read again. See `difference` for what is taken.

    Raises
    ------
    CannotBegin
        When the file can't be read or tells of nobody.
    Trouble
        When `expecting` is the mark of a difference that no longer holds.
    """
    found = difference(collection, path, known_as=known_as)
    if expecting not in ("", found.mark):
        raise Trouble(
            Sentence("Nobody was taken in from %(path)s", path=path.name),
            Sentence("it or the collection has changed since"),
            Sentence("Look again first"),
        )
    plan = found.plan
    before = date_reader(collection.catalogue)
    with (
        collection.catalogue.act(who, Sentence("took in people from %(path)s", path=path.name)) as act,
        _collector_paused(),
    ):
        with act.work() as work:
            _write(work, plan)
            # Dates such as “when Nan was six” follow her birth, and lives bound the prints that show them.
            changed = read_again(collection, work, before=before, now=_knowing(before, plan))
            questions = ask_who_is_one(collection, work, plan)
            work.commit()
        with act.work() as work:
            questions += ask_about_names(collection, work)
            work.commit()
        ask_about_contradictions(collection, act)
    count = len(plan.headings)
    return PeopleTakenIn(count, (*plan.remarks, *plan.set_aside), tuple(changed), found, questions, act.number)


def _knowing(before: DateReader, plan: Plan) -> DateReader:
    """The reader that also knows what is taken in now."""
    changes = (*plan.new, *plan.changed)
    formerly = (change.before.person for change in changes if change.before)
    return before.knowing((change.after.person for change in changes), formerly=formerly)


def _write(work: Work, plan: Plan) -> None:
    work.enter_people((change.after.person, change.after.said) for change in plan.new)
    for change in plan.changed:
        work.keep_person(change.after.person, change.after.said)
    work.withdraw_kin(*plan.kin_gone)
    work.keep_kin(*plan.kin_new)


def _known(catalogue: ReadingPeople, telling: Telling) -> Known:
    """What is known of those whom a source may mean."""
    keys = catalogue.lasting_keys()
    meant = {heading for one in telling.people for key in one.lasting if (heading := keys.get(key))}
    meant |= {keys.get(list_key(one.name), one.name) for one in telling.people if not one.lasting}
    told_before = {heading for key, heading in keys.items() if key.startswith(f"{telling.source}#")}
    by_list = any(not one.lasting for one in telling.people)
    return Known(
        _kept(catalogue, meant | told_before),
        keys,
        catalogue.headings(),
        frozenset(catalogue.kin(source=telling.source)),
        frozenset(told_before | (catalogue.told_by(telling.source) if by_list else set())),
    )


def _kept(catalogue: ReadingPeople, headings: set[str]) -> dict[str, Kept]:
    some = headings if len(headings) <= _FEW else None
    people = catalogue.people() if some is None else catalogue.people_of(some)
    said = catalogue.said_of_people(some, withdrawn=True)
    return {one.name: Kept(one, said.get(one.name, ())) for one in people if one.name in headings}


def _under(telling: Telling, name: str) -> Telling:
    """The same, told by the source of another name."""
    old, new = f"{telling.source}#", f"{name}#"
    people = (
        evolve(one, lasting=tuple(key.replace(old, new, 1) if key.startswith(old) else key for key in one.lasting))
        for one in telling.people
    )
    return evolve(telling, source=name, people=tuple(people))


def _mark(collection: Collection, path: Path) -> str:
    told = hashlib.sha256(path.read_bytes())
    told.update(str(collection.catalogue.last_change()).encode())
    return told.hexdigest()[:16]


@contextmanager
def _collector_paused() -> Iterator[None]:
    # Records form no cycles, yet the collector goes through them again and again while hundreds of thousands are
    # made; see `catalogue.queries`.
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
