"""What the paper, its format and what is seen in the picture tell: facts of a table, each with its source."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Literal

from attrs import frozen

from solander.core.birthdays import years_later
from solander.core.chronology import Between, Difference
from solander.core.dates import Dated
from solander.core.descriptions import Reason
from solander.core.evidence.records import Evidence, Family, Weight, printing_of, rank_of, soft_rank
from solander.core.evidence.stated import PRINTED_WITHIN_DAYS
from solander.core.evidence.years import first_day, last_day
from solander.core.language import marked
from solander.core.sentence import Sentence
from solander.core.sources import Source
from solander.core.statements import About, Says, Statement, Sure

__all__ = ["DatingFact", "evidence_of_fact", "paper"]

Confidence = Literal["high", "medium", "low"]


@frozen
class DatingFact:
    """A fact that dates photographs by what they are made of, by their form or by what they show.

    `earliest` … `latest` are EDTF values, the years in which it was in use, mostly between `peak_from` and
    `peak_to`; empty where no source says. `bounds` tells what is dated: the `printing` (paper, mount, stamp,
    format), the `exposure` (film, a thing in the picture), or both where the `original` was in the camera.
    `sizes_mm` are the sizes of paper that it names, shorter side first. `from_memory` is `no`, `partly`, `yes`.
    `disputed` says what other source speaks against its years, empty where none does. `source` names the source in
    full, `cited` shortly, to stand behind a sentence.
    """

    id: str
    group: str
    words: str
    earliest: str
    peak_from: str
    peak_to: str
    latest: str
    region: str
    confidence: Confidence
    source: str
    from_memory: str
    bounds: Literal["printing", "exposure", "original"]
    note: str = ""
    disputed: str = ""
    sizes_mm: tuple[tuple[float, float], ...] = ()
    cited: str = ""

    @property
    def named(self) -> str:
        """Its words with the mount or plate that they are told of: "cabinet card: scalloped edges"."""
        mount = _MOUNTS.get(self.group, "")
        words = Sentence.whole(self.words)
        told = mount and mount not in self.words
        return Sentence("%(mount)s: %(words)s", mount=Sentence(mount), words=words) if told else words

    @property
    def is_open(self) -> bool:
        """Whether no source says when it ended."""
        return not self.latest or (self.latest == _A_CONVENTION and self.bounds == "printing")

    @property
    def usual(self) -> tuple[str, str] | None:
        """The years in which it was mostly in use, where they are known and not simply all of its years."""
        if not (self.peak_from and self.peak_to):
            return None
        repeats = self.peak_from == self.earliest and self.peak_to == self.latest
        return None if repeats else (self.peak_from, self.peak_to)

    @property
    def is_hard(self) -> bool:
        """Whether it binds: only what a source says with high confidence does, and no other one disputes."""
        return self.confidence == "high" and self.from_memory == "no" and not self.disputed

    @property
    def trust(self) -> float:
        """How far it holds, 0 to 1."""
        return _TRUST[self.confidence] * _OF_MEMORY[self.from_memory]


_MOUNTS = {"cdv": marked("carte de visite"), "cabinet": marked("cabinet card"), "tintype": marked("tintype")}
"""Groups whose facts tell of one kind of mount or plate only."""

_TRUST = {"high": 0.9, "medium": 0.7, "low": 0.4}
_OF_MEMORY = {"no": 1.0, "partly": 0.9, "yes": 0.8}
"""Numbers for the words of the table, which has none itself (our choice, no source)."""

_USED_UP_LATE = {
    **dict.fromkeys(("cdv", "cabinet", "tintype", "format"), 3),
    **dict.fromkeys(("stamp", "content"), 0),
}
_USED_UP_LATE_ELSE = 2
"""Years beyond the latest in which old stock was still used: 2 to 3 for mounts, 1 to 2 for dated packages (the
guides behind the table); the larger. A revenue stamp's latest day is that of the last cancel known; a thing in
the picture is no stock."""

_LATER_IN_EUROPE = 2
"""Resin-coated colour paper came in 1968 in North America and in 1970 in Europe (E015, E016; Graphics Atlas): so
long may European papers lag behind what is dated for North America alone. A collection does not tell its
continent, so the end is given that much room and the beginning stays."""

_AMERICAN_ONLY = {"US", "North America"}
_OF_PAPER = {"process", "material", "border", "back", "paper"}

_A_CONVENTION = "2005"
"""As the end of a paper this year stands for "still made" and is no statement of a source: it bounds nothing."""


def paper(statements: Iterable[Statement], facts: Mapping[str, DatingFact]) -> Iterator[Evidence]:
    """What the facts that were seen on prints say of them."""
    for said in statements:
        fact = facts.get(said.value) if said.about is About.PRINT and said.says is Says.EVIDENCE else None
        if fact is not None:
            yield from evidence_of_fact(fact, said)


def evidence_of_fact(
    fact: DatingFact, said: Statement, *, trust: float | None = None, family: int = Family.PAPER
) -> Iterator[Evidence]:
    """What a fact says of the print that `said` is about; with `trust` it is a rule of thumb in any case."""
    is_hard = fact.is_hard and trust is None and said.sure is not Sure.GUESS
    trust = fact.trust if trust is None else trust
    trust = trust / 2 if said.sure is Sure.GUESS else trust
    reason = Reason(
        _sentence(fact),
        Sentence("%(source)s; seen: %(who)s", source=fact.cited or fact.source, who=Source(said.source)),
        _sure(fact, said),
        fact.bounds == "printing",
    )
    rank = rank_of(Sure.LIKELY, family) if is_hard else soft_rank(trust, family)
    thing = printing_of(said.subject) if fact.bounds == "printing" else said.subject
    bound = Between(said.id, thing, first_day(fact.earliest), _end(fact), reason.sentence)
    yield Evidence(bound, reason, rank, soft=not is_hard, weight=_weight(fact, said.subject, trust))
    if fact.bounds == "original":
        yield _made_in_the_camera(said, rank, soft=not is_hard)


def _sure(fact: DatingFact, said: Statement) -> Sure:
    return Sure.LIKELY if fact.confidence == "high" and said.sure is not Sure.GUESS else Sure.GUESS


def _sentence(fact: DatingFact) -> Sentence:
    return Sentence(
        _IN_USE[fact.is_open, fact.is_hard],
        fact=fact.named,
        since=Dated(fact.earliest),
        until=Dated(fact.latest) if fact.latest else "",
        mostly=_mostly_words(fact),
        grace=_grace_words(fact),
    )


_IN_USE = {
    (True, True): marked("%(fact)s: in use from %(since)s%(mostly)s%(grace)s"),
    (True, False): marked("%(fact)s: in use from about %(since)s%(mostly)s%(grace)s"),
    (False, True): marked("%(fact)s: in use from %(since)s to %(until)s%(mostly)s%(grace)s"),
    (False, False): marked("%(fact)s: in use from about %(since)s to about %(until)s%(mostly)s%(grace)s"),
}
"""By whether its end is open and whether a source is sure of it."""


def _mostly_words(fact: DatingFact) -> str:
    if not fact.usual:
        return ""
    return Sentence(", mostly %(first)s to %(last)s", first=Dated(fact.usual[0]), last=Dated(fact.usual[1]))


def _grace_words(fact: DatingFact) -> str:
    """What the bound allows beyond the years told, so that nobody wonders where it comes from."""
    used_up, lag = _grace(fact)
    if fact.is_open or not (used_up or lag):
        return ""
    return Sentence(_GRACE[bool(used_up), bool(lag)], used_up=used_up, lag=lag)


_GRACE = {
    (True, False): marked("; old stock was used up for %(used_up)s years more"),
    (False, True): marked("; other countries may be %(lag)s years behind"),
    (True, True): marked(
        "; old stock was used up for %(used_up)s years more; other countries may be %(lag)s years behind"
    ),
}
"""By what is allowed for: old stock, other countries."""


def _end(fact: DatingFact) -> int | None:
    """The last day with old stock used up and a late start elsewhere allowed for."""
    last = last_day(fact.latest)
    if last is None or fact.is_open:
        return None
    return years_later(last, sum(_grace(fact)))


def _grace(fact: DatingFact) -> tuple[int, int]:
    """Years beyond the latest: for old stock, and for a late start elsewhere."""
    lag = _LATER_IN_EUROPE if fact.region in _AMERICAN_ONLY and fact.group in _OF_PAPER else 0
    return _USED_UP_LATE.get(fact.group, _USED_UP_LATE_ELSE), lag


def _weight(fact: DatingFact, accession: str, trust: float) -> Weight:
    """The weight of the exposure: paper follows the picture by up to a year, as a rule.

    Where a source says how long it was usual and not when it ended, the weight runs out over as long again.
    """
    first, usual_from, usual_to = first_day(fact.earliest), first_day(fact.peak_from), last_day(fact.peak_to)
    end = _end(fact)
    if first is not None and fact.bounds == "printing":
        first -= PRINTED_WITHIN_DAYS
    if end is None and usual_from is not None and usual_to is not None:
        end = 2 * usual_to - usual_from
    if end is not None and usual_to is not None:
        usual_to = min(usual_to, end)
    return Weight(accession, first, usual_from, usual_to, end, trust)


def _made_in_the_camera(said: Statement, rank: int, *, soft: bool) -> Evidence:
    sentence = Sentence("the picture was made in the camera and is no later copy")
    return Evidence(
        Difference(f"{said.id} in-the-camera", said.subject, printing_of(said.subject), 0, 1, sentence),
        Reason(sentence, said.source, Sure.LIKELY if not soft else Sure.GUESS),
        rank,
        soft=soft,
    )
