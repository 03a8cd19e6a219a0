"""Which facts that date photographs are meant by what somebody saw: "cabinet card; deckle edge"."""

from __future__ import annotations

import re
from collections.abc import Iterator

from solander.authorities.dating import dating_facts, facts_like, facts_near
from solander.core.evidence import DatingFact
from solander.core.language import _
from solander.core.questions import Asks
from solander.core.statements import Says
from solander.tasks.claims import Claim, fact_asked_sentence, how_sure
from solander.tasks.seen_on_print import told_by
from solander.tasks.typed import Choice, Line, Meant, Option, Typed
from solander.tasks.understood import Understanding

__all__ = ["facts_meant"]

_MOST_FACTS = 5
"""So many facts are offered for words that mean none, or several (our choice)."""


def facts_meant(understanding: Understanding, typed: Typed) -> Meant:
    """Everything that was seen; parted by semicolons, and by commas where what stands between them is known."""
    claims: list[Claim] = []
    lines: list[Line] = []
    choices: list[Choice] = []
    asks: list[tuple[Asks, str]] = []
    for place, said in enumerate(_parts(typed.words)):
        told, told_sure = how_sure(said)
        sure = typed.surely(told_sure)
        facts = facts_like(told)
        chosen = dating_facts().get(typed.chosen.get(f"means-{place}", ""))
        near = facts[:_MOST_FACTS] or facts_near(told, most=_MOST_FACTS)
        fact = chosen or (facts[0] if len(facts) == 1 else None)
        if fact:
            claims.append(Claim(Says.EVIDENCE, fact.id, said, sure))
            lines.append(Line(fact.named, told_by(fact), sure))
        else:
            lines.append(_not_understood(said, near))
            asks.append((Asks.WORDS, fact_asked_sentence(said, typed.accession, facts or near)))
        if near and len(facts) != 1:
            choices.append(_which_fact(place, said, near, fact))
    if not claims:
        return Meant(typed, lines=tuple(lines), choices=tuple(choices), trouble=lines[0].words)
    return Meant(typed, tuple(claims), tuple(lines), tuple(choices), tuple(asks))


def _parts(words: str) -> Iterator[str]:
    for part in filter(None, (one.strip() for one in re.split(r"[;\n]", words))):
        by_comma = [one.strip() for one in part.split(",") if one.strip()]
        if not facts_like(part) and len(by_comma) > 1 and all(facts_like(one) for one in by_comma):
            yield from by_comma
        else:
            yield part


def _not_understood(said: str, near: tuple[DatingFact, ...]) -> Line:
    if near:
        return Line(_("“%(words)s” is not clear", words=said), _("Choose one below, or look through all of them."))
    what = _("“%(words)s” is not known to tell a date", words=said)
    return Line(what, _("Look through what may be seen."))


def _which_fact(place: int, said: str, near: tuple[DatingFact, ...], taken: DatingFact | None) -> Choice:
    options = tuple(Option(fact.id, fact.named) for fact in near)
    return Choice(f"means-{place}", said, options, taken.id if taken else "")
