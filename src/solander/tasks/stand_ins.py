"""People without a name on prints: their stand-ins stay what they are until somebody is named, then follow."""

from __future__ import annotations

from attrs import evolve

from solander.catalogue.history import utc_now
from solander.catalogue.store import Catalogue
from solander.catalogue.work import Work
from solander.core.ages import age_value, read_age_value
from solander.core.stand_ins import stand_in_name, stand_in_number
from solander.core.statements import About, Says, Statement
from solander.tasks.collection import Collection
from solander.tasks.identity import statement_identity

__all__ = ["name_stand_in", "who_stands_in"]


def who_stands_in(catalogue: Catalogue, name: str) -> str:
    """The heading of the one whom a stand-in has turned out to be, else the stand-in in its own spelling; empty
    for what is no stand-in."""
    number = stand_in_number(name)
    if number is None:
        return ""
    named = {face.person for face in catalogue.faces() if face.group == number and face.person}
    return named.pop() if len(named) == 1 else stand_in_name(number)


def name_stand_in(collection: Collection, work: Work, number: int, heading: str) -> int:
    """Says of a person what was said of the stand-in of that number; gives of how many prints."""
    stand_in = stand_in_name(number)
    changed = [(old, new) for old in collection.catalogue.statements() if (new := _of(old, stand_in, heading))]
    known = {one.id for one in collection.catalogue.statements(withdrawn=True)} if changed else set()
    for old, new in changed:
        work.withdraw(old.id)
        work.state(evolve(new, id=statement_identity(new, taken=known), entered=utc_now()))
    return len({old.subject for old, _ in changed})


def _of(said: Statement, stand_in: str, heading: str) -> Statement | None:
    """The statement of the person instead of the stand-in; None for a statement of anybody else."""
    if said.about is not About.PRINT:
        return None
    if said.says is Says.PERSON and said.value == stand_in:
        return evolve(said, value=heading)
    if said.says is Says.AGE:
        name, age = read_age_value(said.value)
        return evolve(said, value=age_value(heading, age)) if name == stand_in else None
    return None
