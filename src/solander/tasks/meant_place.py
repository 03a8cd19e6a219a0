"""Which place, or which occasion, is meant by words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from solander.core.dates import Dated
from solander.core.errors import CannotBegin, InvalidValue
from solander.core.language import _, told
from solander.core.place_finds import PlaceFound
from solander.core.places import Place
from solander.core.questions import Asks
from solander.core.statements import About, Says, Sure
from solander.tasks.claims import Claim, how_sure
from solander.tasks.places import meant, place_in_words, question_about, taken_for
from solander.tasks.typed import Choice, Line, Meant, Option, Typed
from solander.tasks.understood import Understanding

__all__ = ["occasion_meant", "place_meant"]

_MOST_PLACES, _MOST_OCCASIONS = 4, 4
"""So many are offered to choose from (our choice)."""


def place_meant(understanding: Understanding, typed: Typed) -> Meant:
    """A place: one of the collection's own before all others, else the one of the world that is clearly meant."""
    name, told_sure = how_sure(typed.words)
    if not name:
        return Meant(typed, trouble=_("No place is named in this"))
    sure = typed.surely(told_sure)
    claim = Claim(Says.PLACE, name, typed.words, sure)
    understood = understanding.place(name)
    if not understood.new:
        own = understood.meant
        why = (
            _("a place of this collection")
            if own.is_located
            else _("a place of this collection; nobody has said where it is")
        )
        return Meant(typed, (claim,), (Line(own.name, why, sure),), place=own)
    found = _found(understanding, name)
    choice = _which_place(typed, found)
    chosen = next((one for one in found if one.known_as == typed.chosen.get("means-0", " ")), None)
    place = meant(name, chosen) if chosen else taken_for(name, found) or Place(name)
    question = "" if place.is_located else question_about(name, found)
    taken = chosen or (found[0] if place.is_located else None)
    return Meant(
        typed,
        (claim,),
        (_line(name, taken, question, sure),),
        (choice,) if choice else (),
        ((Asks.PLACE, question),) if question else (),
        place=place,
        is_new_place=True,
    )


def _found(understanding: Understanding, name: str) -> tuple[PlaceFound, ...]:
    try:
        return understanding.places(name)
    except (CannotBegin, InvalidValue):
        return ()


def _which_place(typed: Typed, found: Sequence[PlaceFound]) -> Choice | None:
    towns = [one for one in found if one.known_as.startswith("geonames:")][:_MOST_PLACES]
    if len(towns) < 2:
        return None
    options = tuple(Option(one.known_as, place_in_words(one)) for one in towns)
    taken = taken_for(how_sure(typed.words)[0], tuple(found))
    return Choice(
        "means-0", typed.words, options, typed.chosen.get("means-0") or (towns[0].known_as if taken else "")
    )


def _line(name: str, taken: PlaceFound | None, question: str, sure: Sure) -> Line:
    if taken is not None:
        place = place_in_words(taken)
        return Line(name if place == name else f"{name}: {place}", ", ".join(map(told, taken.reasons)), sure)
    why = (
        _("which of them is asked, unless you choose")
        if question
        else _("new; its own page lets you say where it is")
    )
    return Line(name, why, sure)


def occasion_meant(understanding: Understanding, typed: Typed) -> Meant:
    """An occasion by its name; with it come its date and its place. A name that is not there yet is a new one."""
    name = " ".join(typed.words.split())
    there = [one.name for one in understanding.collection.catalogue.occasions()]
    taken = typed.chosen.get("means-0") or next((one for one in there if one.casefold() == name.casefold()), name)
    alike = [one for one in there if name.casefold() in one.casefold() and one.casefold() != name.casefold()]
    options = tuple(Option(one, one) for one in (*alike[:_MOST_OCCASIONS], name))
    choice = Choice("means-0", name, options, taken) if alike else None
    sure = typed.surely(how_sure(typed.words)[1])
    why = (
        ", ".join(_told_of(understanding, taken))
        if taken in there
        else _("new: an occasion of this name begins here")
    )
    claim = Claim(Says.OCCASION, taken, typed.words, sure)
    return Meant(typed, (claim,), (Line(taken, why, sure),), (choice,) if choice else ())


def _told_of(understanding: Understanding, occasion: str) -> Iterator[str]:
    """What an occasion brings along."""
    for said in understanding.collection.catalogue.statements(subject=occasion):
        if said.about is About.OCCASION and said.says is Says.EXPOSURE:
            yield told(Dated(said.value))
        elif said.about is About.OCCASION and said.says is Says.PLACE:
            yield said.value
