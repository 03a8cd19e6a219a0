"""Corrects what a slip said, for the prints that have it from there too: "no, nineteen sixty"."""

from __future__ import annotations

from collections.abc import Iterable

from attrs import evolve

from solander.core.sentence import Counted, Listed, Sentence
from solander.core.slips import PART_OF, Entry, Part, Slip
from solander.core.statements import About, Statement
from solander.tasks.act_in_time import act_in_time
from solander.tasks.collection import Collection
from solander.tasks.said_anew import say_instead
from solander.tasks.stand_enter import AT_THE_STAND, enter_names
from solander.tasks.stand_words import PART_WORDS
from solander.tasks.understood import Understanding

__all__ = ["amend"]

_OF_OCCASION = (Part.DATE, Part.PLACE)


def amend(
    collection: Collection, understanding: Understanding, before: Slip, after: Slip, *, who: str
) -> tuple[int | None, Slip]:
    """Withdraws from each print what the slip no longer says and says what it says now, in one act.

    What others said of those prints, and what was taken back there meanwhile, stays as it is. Gives the act's
    number, None where no print had it, and the slip, which remembers whom its new entries serve.
    """
    gone = [one for one in before.entries if all(one.claim != other.claim for other in after.entries)]
    new = [one for one in after.entries if all(one.claim != other.claim for other in before.entries)]
    parts = {PART_OF[one.says] for one in new} & {PART_OF[one.says] for one in gone}
    gone = [one for one in gone if PART_OF[one.says] in parts]
    new = [one for one in new if PART_OF[one.says] in parts]
    old = _said(collection, before, gone)
    if not old:
        return None, after
    prints = list(dict.fromkeys(one.subject for one in old if one.about is About.PRINT))
    named = Listed(Sentence(PART_WORDS[part]) for part in Part if part in parts)
    what = Sentence("corrected %(parts)s of %(whom)s", parts=named, whom=_whom(prints, before))
    with act_in_time(collection, who, what) as (act, work):
        enter_names(collection, understanding, work, evolve(after, entries=tuple(new)))
        say_instead(collection.catalogue, work, old, list(_instead(old, new)))
    served = {part: _served(gone, part) for part in parts}
    return act.number, _serving(after, new, served)


def _said(collection: Collection, before: Slip, gone: Iterable[Entry]) -> list[Statement]:
    """The statements in force that came of these entries."""
    catalogue, found = collection.catalogue, []
    for entry in gone:
        subjects = [*entry.served]
        if before.occasion and PART_OF[entry.says] in _OF_OCCASION and entry.served:
            subjects.append(before.occasion)
        for one in catalogue.statements_about(subjects) if subjects else ():
            if one.source == AT_THE_STAND and (one.says, one.value) == (entry.says, entry.value):
                found.append(one)
    return found


def _instead(old: Iterable[Statement], new: Iterable[Entry]) -> Iterable[Statement]:
    """What is said now of each thing of which something was withdrawn, part by part."""
    new = list(new)
    told = dict.fromkeys((one.about, one.subject, PART_OF[one.says]) for one in old)
    for about, subject, part in told:
        for entry in new:
            if PART_OF[entry.says] is part:
                claim = entry.says, entry.value, entry.words, entry.sure
                yield Statement("", about, subject, *claim, AT_THE_STAND, "")


def _served(gone: Iterable[Entry], part: Part) -> tuple[str, ...]:
    return tuple(dict.fromkeys(name for one in gone if PART_OF[one.says] is part for name in one.served))


def _serving(after: Slip, new: Iterable[Entry], served: dict[Part, tuple[str, ...]]) -> Slip:
    fresh = {one.claim for one in new}
    entries = tuple(
        evolve(one, served=served[PART_OF[one.says]], new=False) if one.claim in fresh else one
        for one in after.entries
    )
    return evolve(after, entries=entries)


def _whom(prints: list[str], before: Slip) -> str:
    if not prints:
        return f"“{before.occasion}”"
    return prints[0] if len(prints) == 1 else Counted("%(num)s print", "%(num)s prints", len(prints))
