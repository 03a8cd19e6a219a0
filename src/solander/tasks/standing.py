"""Keeps where every print stands, so that pages read it instead of solving the order of all prints anew."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from attrs import asdict

from solander.core.chronology import Guesser
from solander.core.dates import from_day
from solander.core.days import day_of_text
from solander.core.descriptions import DescribedPrint, Reason, When
from solander.core.questions import Asks, Question
from solander.core.sentence import parts, read_parts
from solander.core.standing import LAST, Standing, Whole
from solander.core.statements import Sure
from solander.tasks.chronology import OrderTold, order_told
from solander.tasks.collection import Collection
from solander.tasks.put_in_order import Timeline

__all__ = ["holds", "keep_all", "standing_of", "told_of", "when_of"]


def holds(collection: Collection) -> bool:
    """Whether nothing was changed since that can change the order; else it is to be worked out anew."""
    change = collection.catalogue.standing_whole().change
    return change >= 0 and not collection.catalogue.touched_since(change).order


def keep_all(collection: Collection, line: Timeline | None = None, *, guesser: Guesser | None = None) -> Whole:
    """Works out where every print stands and keeps it; a `line` that was worked out just now is taken as it is."""
    catalogue = collection.catalogue
    change = catalogue.last_change()
    order = order_told(collection, guesser, line=line)
    whole = _whole_of(order, change)
    asks = asks_by_subject(catalogue.questions())
    firsts = _first_ranks(order.prints)
    those = [
        standing_of(
            one, asks.get(one.print.accession, ()), occasion_rank=firsts.get(one.occasion, LAST), change=change
        )
        for one in order.prints
    ]
    told = {one.print.accession: told_of(one.when) for one in order.prints}
    catalogue.keep_standings(those, told, whole=whole)
    return whole


def asks_by_subject(questions: Iterable[Question]) -> dict[str, list[Asks]]:
    """What is asked about each subject."""
    found: dict[str, list[Asks]] = defaultdict(list)
    for question in questions:
        found[question.subject].append(question.asks)
    return found


def _first_ranks(prints: Iterable[DescribedPrint]) -> dict[str, int]:
    found: dict[str, int] = {}
    for one in prints:
        if one.occasion:
            found.setdefault(one.occasion, one.order)
    return found


def _whole_of(order: OrderTold, change: int) -> Whole:
    return Whole(
        change,
        len(order.prints),
        tuple((one.subject, one.sentence) for one in order.contradictions),
        tuple(order.mends),
        tuple((one.subject, one.sentence, one.gain, one.gain_years, one.prints) for one in order.questions),
    )


def standing_of(one: DescribedPrint, asks: Sequence[Asks], *, occasion_rank: int, change: int) -> Standing:
    """Where a described print stands; `asks` is what is asked about it."""
    when = one.when
    guess = _day(when.guess)
    first, last = when.likely or (None, None)
    return Standing(
        accession=one.print.accession,
        rank=one.order,
        container=one.lies_in,
        number=one.print.number,
        occasion=one.occasion,
        occasion_rank=occasion_rank,
        year=None if guess is None else from_day(guess)[0],
        day=guess,
        earliest=_day(when.earliest),
        latest=_day(when.latest),
        likely_first=_day(first),
        likely_last=_day(last),
        undated=not when.stated and not when.printing_edtf,
        nobody=not one.people,
        unsure=_unsure(one),
        again=Asks.CAPTURE_AGAIN in asks,
        contradicts=bool(when.contradicts),
        has_back=one.print.verso is not None,
        waits=len(asks),
        change=change,
    )


def _day(text: str | None) -> int | None:
    return None if text is None else day_of_text(text)


def _unsure(one: DescribedPrint) -> bool:
    said = [person.sure for person in one.people]
    if one.when.stated:
        said.append(one.when.sure)
    if one.place:
        said.append(one.place_sure)
    return Sure.GUESS in said


def told_of(when: When) -> dict[str, Any]:
    """All that is known of a date as plain values; what is empty is left out."""
    told = asdict(when, recurse=False)
    told["reasons"] = [
        [parts(one.sentence), parts(one.source), one.sure, one.bounds_printing] for one in when.reasons
    ]
    told["contradicts"], told["overruled"] = map(_parts, (when.contradicts, when.overruled))
    return {name: value for name, value in told.items() if value not in (None, (), "", [])}


def _parts(sentences: Iterable[str]) -> list[Any]:
    return [parts(one) for one in sentences]


def when_of(told: Mapping[str, Any]) -> When:
    """The date of `told_of`; one that nothing is known of where nothing was told."""
    kept = dict(told)
    reasons = tuple(
        Reason(read_parts(sentence), read_parts(source), Sure(sure), bool(printing))
        for sentence, source, sure, printing in kept.pop("reasons", ())
    )
    likely = kept.pop("likely", None)
    empty = dict.fromkeys(("edtf", "words"), "") | dict.fromkeys(("earliest", "latest", "guess"))
    return When(
        **{
            **empty,
            **kept,
            "sure": Sure(kept.get("sure", Sure.GUESS)),
            "stated": kept.get("stated", False),
            "contradicts": tuple(map(read_parts, kept.get("contradicts", ()))),
            "overruled": tuple(map(read_parts, kept.get("overruled", ()))),
        },
        reasons=reasons,
        likely=tuple(likely) if likely else None,
    )
