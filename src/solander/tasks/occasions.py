"""Occasions: named, dated and placed once for many prints; made, renamed, parted, joined.

That a print belongs to an occasion is a statement about the print; date and place are statements about the
occasion. So a print that is moved takes the date and the place of where it comes to, while the people on it, and
whatever else is said of the print itself, stay with it. Each function is one act that can be taken back whole.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence, Sized

from attrs import evolve, frozen

from solander.catalogue.work import Work
from solander.core.errors import InvalidValue, NotFound
from solander.core.language import marked
from solander.core.occasions import Occasion
from solander.core.sentence import Counted, Sentence
from solander.core.statements import About, Says, Statement, Sure
from solander.tasks.act_in_time import act_in_time
from solander.tasks.collection import Collection
from solander.tasks.occasion_said import date_claim, enter_claims, place_claim, read_dates_again
from solander.tasks.said_anew import say_all, say_instead

__all__ = [
    "Arranged",
    "join_occasions",
    "make_occasion",
    "move_prints",
    "name_of_occasion",
    "part_occasion",
    "remove_from_occasion",
    "rename_occasion",
    "say_of_occasion",
    "take_back_of_occasion",
]


@frozen
class Arranged:
    """What was done: the act's number, None where nothing changed; the occasion's name; how many prints."""

    act: int | None
    occasion: str
    prints: int = 0


def name_of_occasion(said: str) -> str:
    """The name as it is kept.

    Raises
    ------
    InvalidValue
        When it is empty.
    """
    name = " ".join(said.split())
    if not name:
        raise InvalidValue(
            Sentence("The occasion has no name yet"),
            Sentence("the field is empty"),
            Sentence("Say what it was: School outing"),
        )
    return name


def make_occasion(
    collection: Collection,
    name: str,
    accessions: Iterable[str],
    *,
    date: str = "",
    place: str = "",
    sure: Sure | None = None,
    source: str = "",
    who: str = "archivist",
) -> Arranged:
    """Makes an occasion of these prints; `date` and `place` in words. Those that belonged to another leave it.

    Raises
    ------
    InvalidValue
        When the name is empty or taken, or the date is not understood.
    NotFound
        When one of the prints is not there.
    """
    name = name_of_occasion(name)
    _refuse_taken(
        collection,
        name,
        Sentence("The occasion was not made"),
        Sentence("Put the prints into it, or choose another name"),
    )
    prints = list(dict.fromkeys(accessions))
    claims = [date_claim(collection, date, sure)] if date.strip() else []
    claims += [place_claim(place, sure)] if place.strip() else []
    what = Sentence("made the occasion “%(name)s” of %(prints)s", name=name, prints=_several(prints))
    with act_in_time(collection, who, what) as (act, work):
        work.keep_occasion(Occasion(name))
        _put(collection, work, prints, name, source or who)
        enter_claims(collection, work, name, claims, source or who)
    return Arranged(act.number, name, len(prints))


def say_of_occasion(
    collection: Collection,
    name: str,
    *,
    date: str = "",
    place: str = "",
    sure: Sure | None = None,
    source: str = "",
    who: str = "archivist",
) -> Arranged:
    """Says when and where an occasion was, in words; what the same source said before gives way, and what others
    say stands beside it. Without `sure` it is as sure as the words are.

    Raises
    ------
    InvalidValue
        When neither is said, or the date is not understood.
    NotFound
        When there is no such occasion.
    """
    _there(collection, name)
    if not (date.strip() or place.strip()):
        raise InvalidValue(
            Sentence("Nothing was said of “%(name)s”", name=name),
            Sentence("the fields are empty"),
            Sentence("Say when or where it was"),
        )
    claims = [date_claim(collection, date, sure)] if date.strip() else []
    claims += [place_claim(place, sure)] if place.strip() else []
    told = ", ".join(claim.words for claim in claims)
    with act_in_time(collection, who, Sentence("said of “%(name)s”: %(told)s", name=name, told=told)) as (
        act,
        work,
    ):
        enter_claims(collection, work, name, claims, source or who)
    return Arranged(act.number, name)


def take_back_of_occasion(
    collection: Collection, name: str, statement: str, *, who: str = "archivist"
) -> Arranged:
    """Takes back one thing that is said of an occasion; it stays readable.

    Raises
    ------
    NotFound
        When that is not said of it, or no longer.
    """
    said = next((one for one in collection.catalogue.said_of_occasion(name) if one.id == statement), None)
    if said is None:
        raise NotFound(
            Sentence("This is no longer said"),
            Sentence("it was taken back since"),
            Sentence("Load the page again"),
        )
    what = Sentence("took back what was said of “%(name)s”: %(said)s", name=name, said=said.words)
    with act_in_time(collection, who, what) as (act, work):
        work.withdraw(statement)
        left = [one for one in collection.catalogue.said_of_occasion(name) if one.id != statement]
        read_dates_again(collection, work, name, left)
    return Arranged(act.number, name)


def rename_occasion(
    collection: Collection, name: str, new: str, *, source: str = "", who: str = "archivist"
) -> Arranged:
    """Calls an occasion otherwise. The words of those who called it as before stay as they were said, and slips
    that are entered again find it under its new name.

    Raises
    ------
    InvalidValue
        When the new name is empty or taken.
    NotFound
        When there is no such occasion.
    """
    new = name_of_occasion(new)
    _there(collection, name)
    if new == name:
        return Arranged(None, name)
    _refuse_taken(
        collection,
        new,
        Sentence("“%(name)s” was not renamed", name=name),
        Sentence("Choose another name, or join the two"),
    )
    with (
        collection.catalogue.act(who, Sentence("called “%(name)s” “%(new)s”", name=name, new=new)) as act,
        act.work() as work,
    ):
        work.keep_occasion(Occasion(new))
        prints = _become(collection, work, name, new, source or who)
        work.commit()
    return Arranged(act.number, new, prints)


def join_occasions(
    collection: Collection, keep: str, other: str, *, source: str = "", who: str = "archivist"
) -> Arranged:
    """Makes one occasion of two that were the same: its name is `keep`, and all prints belong to it.

    What is said of both is kept: dates and places that differ stand side by side, each with who says so.

    Raises
    ------
    InvalidValue
        When they are one already.
    NotFound
        When one of them is not there.
    """
    _there(collection, keep)
    _there(collection, other)
    if keep == other:
        raise InvalidValue(
            Sentence("Nothing was joined"), Sentence("it is one occasion already"), Sentence("Choose another one")
        )
    with act_in_time(collection, who, Sentence("joined “%(other)s” to “%(keep)s”", other=other, keep=keep)) as (
        act,
        work,
    ):
        prints = _become(collection, work, other, keep, source or who)
    return Arranged(act.number, keep, prints)


def part_occasion(
    collection: Collection,
    name: str,
    accessions: Iterable[str],
    new: str,
    *,
    source: str = "",
    who: str = "archivist",
) -> Arranged:
    """Makes an occasion of its own of some prints of another: what was said of the one was said of both, so date
    and place go along, and can then be changed.

    Raises
    ------
    InvalidValue
        When the new name is empty or taken, or none of the prints belongs to the occasion.
    NotFound
        When there is no such occasion.
    """
    new, catalogue = name_of_occasion(new), collection.catalogue
    _there(collection, name)
    _refuse_taken(
        collection,
        new,
        Sentence("“%(name)s” was not parted", name=name),
        Sentence("Move the prints there, or choose another name"),
    )
    members = {one.subject for one in catalogue.belongings(to=name)}
    prints = [one for one in dict.fromkeys(accessions) if one in members]
    if not prints:
        raise InvalidValue(
            Sentence("“%(name)s” was not parted", name=name),
            Sentence("none of its prints was taken up"),
            Sentence("Take some up first"),
        )
    said = [one for one in catalogue.said_of_occasion(name) if one.says is not Says.OCCASION]
    what = Sentence(
        "parted %(prints)s from “%(name)s” as “%(new)s”",
        prints=_several(prints),
        name=name,
        new=new,
    )
    with act_in_time(collection, who, what) as (act, work):
        work.keep_occasion(Occasion(new))
        _put(collection, work, prints, new, source or who)
        say_all(catalogue, work, [evolve(one, subject=new) for one in said])
    return Arranged(act.number, new, len(prints))


def move_prints(
    collection: Collection, accessions: Iterable[str], name: str, *, source: str = "", who: str = "archivist"
) -> Arranged:
    """Puts prints into an occasion that there is; they take its date and place, and keep their people.

    Raises
    ------
    NotFound
        When there is no such occasion, or one of the prints is not there.
    """
    _there(collection, name)
    prints = list(dict.fromkeys(accessions))
    with act_in_time(
        collection,
        who,
        Sentence("put %(prints)s into “%(name)s”", prints=_several(prints), name=name),
    ) as (act, work):
        _put(collection, work, prints, name, source or who)
    return Arranged(act.number, name, len(prints))


def remove_from_occasion(collection: Collection, accessions: Iterable[str], *, who: str = "archivist") -> Arranged:
    """Takes prints out of whatever occasion they belong to."""
    said = collection.catalogue.said_of_prints(Says.OCCASION, accessions)
    names = list(dict.fromkeys(one.value for one in said))
    prints = len({one.subject for one in said})
    message = (
        marked("took %(prints)s out of “%(name)s”")
        if len(names) == 1
        else marked("took %(prints)s out of their occasions")
    )
    with act_in_time(
        collection,
        who,
        Sentence(message, prints=Counted("%(num)s print", "%(num)s prints", prints), name=names[0]),
    ) as (act, work):
        work.withdraw_all(one.id for one in said)
    return Arranged(act.number, names[0] if len(names) == 1 else "", prints)


def _there(collection: Collection, name: str) -> None:
    if not collection.catalogue.has_occasion(name):
        now = collection.catalogue.occasion_now(name)
        why = Sentence("it is called “%(now)s” now", now=now) if now != name else ""
        raise NotFound(
            Sentence("There is no occasion “%(name)s”", name=name), why, Sentence("Look at the list of occasions")
        )


def _refuse_taken(collection: Collection, name: str, what: str, todo: str) -> None:
    if collection.catalogue.has_occasion(name):
        raise InvalidValue(what, Sentence("there is an occasion “%(name)s” already", name=name), todo)


def _put(collection: Collection, work: Work, prints: Sequence[str], name: str, source: str) -> None:
    """Says of prints that they belong to an occasion, in the place of what was said before; those that do stay."""
    before = collection.catalogue.said_of_prints(Says.OCCASION, prints)
    inside = {one.subject for one in before if one.value == name}
    gone = [one for one in before if one.value != name]
    new = (
        Statement("", About.PRINT, one, Says.OCCASION, name, name, Sure.CERTAIN, source, "")
        for one in prints
        if one not in inside
    )
    say_instead(collection.catalogue, work, gone, new)


def _become(collection: Collection, work: Work, name: str, new: str, source: str) -> int:
    """Says of the occasion `new` what was said of `name`, which is no more; gives how many prints follow.

    What both say alike, by the same source, is said once.
    """
    catalogue = collection.catalogue
    members = catalogue.belongings(to=name)
    already = {one.subject for one in catalogue.belongings(to=new)}
    follow = [evolve(one, value=new) for one in members if one.subject not in already]
    said = catalogue.said_of_occasion(name)
    known = {_claim(one) for one in catalogue.said_of_occasion(new)}
    moved = [evolve(one, subject=new) for one in said if _claim(one) not in known]
    called = Statement("", About.OCCASION, name, Says.OCCASION, new, new, Sure.CERTAIN, source, "")
    say_instead(catalogue, work, [*members, *said], [*follow, *moved, called])
    read_dates_again(collection, work, new, [*catalogue.said_of_occasion(new), *moved])
    work.remove_occasion(name)
    return len(members)


def _claim(said: Statement) -> tuple[str, str, str, str, str]:
    return said.says, said.value, said.words, said.sure, said.source


def _several(prints: Sized) -> str:
    return Counted("%(num)s print", "%(num)s prints", len(prints))
