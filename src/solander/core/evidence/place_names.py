"""What a former name of a place tells when it stands in a caption or on a back: when it was written.

A picture is taken before it is written upon, so the end of the name bounds the exposure from above: softly, for
people keep old names. Its beginning bounds nothing: the caption of 1950 under a picture of 1910 says
"Leningrad". It only weighs, since most backs are written on within some years. What somebody enters today as the
place of a print says nothing of its date at all.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache

from attrs import frozen

from solander.core.birthdays import years_later
from solander.core.chronology import Between
from solander.core.descriptions import Reason
from solander.core.evidence.records import Evidence, Family, Weight, soft_rank
from solander.core.evidence.years import first_day, last_day
from solander.core.language import marked
from solander.core.sentence import Sentence
from solander.core.sources import Source
from solander.core.statements import About, Says, Statement, Sure

__all__ = ["HABIT_YEARS", "FormerName", "place_names"]

HABIT_YEARS = 5
"""So long after its end an old name goes on being written by habit (our choice, no source)."""

_WRITTEN_LATER_YEARS = 10
"""So long after a picture it may be written upon and still count for the weight (our choice, no source)."""

_TRUST, _TRUST_STILL_SAID = 0.5, 0.2
"""A name that ended by decree, and one that other languages use to this day: Danzig, Saigon (our choice)."""


@frozen
class FormerName:
    """A name that a place had for some years; `valid_from`, `valid_to` are EDTF years, empty where not known.

    `name` may say more words that must all be there: "Salisbury, Rhodesia". `still_said` is true where other
    languages or people go on using it. `source` is named in full, `cited` shortly, to stand behind a sentence.
    """

    name: str
    now: str
    valid_from: str
    valid_to: str
    still_said: bool
    source: str
    cited: str = ""


def place_names(statements: Iterable[Statement], names: Sequence[FormerName]) -> Iterator[Evidence]:
    """What former names in captions and on backs say of the exposure."""
    written = (Says.TRANSCRIPTION, Says.CAPTION)
    by_word = _by_first_word(tuple(names))
    for said in statements if names else ():
        if said.about is About.PRINT and said.says in written:
            words = dict.fromkeys(_WORD.findall(said.value.casefold()))
            maybe = (name for word in words for name in by_word.get(word, ()))
            yield from (_of_name(said, name) for name in maybe if _has(said.value, name.name))


_WORD = re.compile(r"\w+")


@lru_cache(maxsize=8)
def _by_first_word(names: tuple[FormerName, ...]) -> Mapping[str, Sequence[FormerName]]:
    """Names that ended, by their first word: most captions hold none, and looking words up is quick."""
    found: defaultdict[str, list[FormerName]] = defaultdict(list)
    for name in names:
        if name.valid_to:
            found[_WORD.findall(name.name.casefold())[0]].append(name)
    return dict(found)


@lru_cache(maxsize=1024)
def _word(part: str) -> re.Pattern[str]:
    return re.compile(rf"\b{re.escape(part)}\b", re.IGNORECASE)


def _has(written: str, name: str) -> bool:
    return all(_word(part.strip()).search(written) for part in name.split(","))


def _of_name(said: Statement, name: FormerName) -> Evidence:
    trust = _TRUST_STILL_SAID if name.still_said else _TRUST
    last = last_day(name.valid_to)
    message = (
        marked(
            "“%(words)s”: %(now)s was called %(name)s from %(since)s until %(until)s; old names are written on "
            "for %(years)s years or so"
        )
        if name.valid_from
        else marked(
            "“%(words)s”: %(now)s was called %(name)s until %(until)s; old names are written on "
            "for %(years)s years or so"
        )
    )
    sentence = Sentence(
        message,
        words=said.words,
        now=name.now,
        name=name.name,
        since=name.valid_from,
        until=name.valid_to,
        years=HABIT_YEARS,
    )
    return Evidence(
        Between(f"{said.id} {name.name}", said.subject, None, last and years_later(last, HABIT_YEARS), sentence),
        Reason(
            sentence,
            Sentence("%(source)s; written: %(who)s", source=name.cited or name.source, who=Source(said.source)),
            Sure.GUESS,
        ),
        soft_rank(trust, Family.NAME),
        soft=True,
        weight=_weight(said.subject, name, trust),
    )


def _weight(accession: str, name: FormerName, trust: float) -> Weight:
    """Weight on the years of the name: most pictures are written upon within some years."""
    first, last = first_day(name.valid_from), last_day(name.valid_to)
    return Weight(
        accession,
        None if first is None else years_later(first, -_WRITTEN_LATER_YEARS),
        first,
        last,
        None if last is None else years_later(last, HABIT_YEARS),
        trust,
    )
