"""What a person tells by laying prints in order: this one was taken after that one, or on the same day."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from solander.core.chronology import Difference
from solander.core.descriptions import Reason
from solander.core.evidence.records import Evidence, Family, rank_of
from solander.core.prints import Print
from solander.core.sentence import Sentence
from solander.core.statements import About, Says, Statement

__all__ = ["laid", "lies_after"]


def laid(prints: Iterable[Print], statements: Iterable[Statement]) -> Iterator[Evidence]:
    """Prints that were laid after others; prints that are not there any more bind nothing."""
    known = {print_.accession for print_ in prints}
    for said in statements:
        if said.about is About.PRINT and said.says is Says.AFTER and {said.subject, said.value} <= known:
            sentence = Sentence("%(print)s was laid after %(other)s", print=said.subject, other=said.value)
            yield Evidence(
                Difference(said.id, said.value, said.subject, 0, None, sentence),
                Reason(sentence, said.source, said.sure),
                rank_of(said.sure, Family.ORDER),
            )


def lies_after(pairs: Iterable[tuple[str, str]], earlier: str) -> set[str]:
    """Every print that was laid after `earlier`, directly or after one that was; `pairs` are (later, earlier)."""
    nexts: dict[str, list[str]] = {}
    for later, before in pairs:
        nexts.setdefault(before, []).append(later)
    found: set[str] = set()
    waiting = [earlier]
    while waiting:
        for later in nexts.get(waiting.pop(), ()):
            if later not in found:
                found.add(later)
                waiting.append(later)
    return found
