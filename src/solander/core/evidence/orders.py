"""What the order of paper tells: numbered prints, the frames of a roll, the pages of an album."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from solander.core.chronology import Difference
from solander.core.descriptions import Reason
from solander.core.evidence.records import Evidence, Family, page_thing, rank_of, roll_thing, soft_rank
from solander.core.prints import Print
from solander.core.statements import About, Says, Statement, Sure

__all__ = ["ROLL_DAYS", "ROLL_USUAL_DAYS", "numbered", "pages", "rolls"]

ROLL_DAYS = 400
"""A roll is finished within this at most: from one Christmas to the next, and somewhat more, a film may stay in
a family's camera (our choice, no source)."""

ROLL_USUAL_DAYS = 120
"""A roll is finished within this as a rule; the figure of the worked dating examples, which name no source."""

_USUAL_ROLL_TRUST = 0.7
_PAGES_TRUST = 0.5
"""How far these are believed: most albums were filled from front to back, and many are mixed (our choice)."""

_PAGE = re.compile(r"(?P<album>.+)/P(?P<page>[0-9]+)")


def numbered(prints: Iterable[Print], statements: Sequence[Statement]) -> Iterator[Evidence]:
    """Prints that were numbered follow each other in time: by frame on their roll, else in their container.

    The number may stand on the back, be counted in the envelope or be the frame that the laboratory printed.
    """
    roll_of = {said.subject: said for said in _firsts(statements, Says.ROLL)}
    row_of = {
        print_.accession: f"on roll “{roll_of[print_.accession].value}”"
        if print_.accession in roll_of
        else f"in {print_.container}"
        if print_.container
        else ""
        for print_ in prints
    }
    rows: dict[str, list[tuple[int, Statement]]] = defaultdict(list)
    for said in _firsts(statements, Says.ORDER):
        if said.subject in row_of:
            rows[row_of[said.subject]].append((int(said.value), said))
    for where, row in rows.items():
        row.sort(key=lambda each: each[0])
        for (number, before), (next_number, after) in pairwise(row):
            if number < next_number:
                yield _follows(where, before, after)


def _firsts(statements: Iterable[Statement], says: Says) -> Iterable[Statement]:
    """The first that is said of each print: both sides may be numbered, but paper lies in one place."""
    found: dict[str, Statement] = {}
    for said in statements:
        if said.about is About.PRINT and said.says is says:
            found.setdefault(said.subject, said)
    return found.values()


def _follows(where: str, before: Statement, after: Statement) -> Evidence:
    sentence = f"{after.subject} follows {before.subject} {where}".strip()
    return Evidence(
        Difference(f"{before.id} {after.id}", before.subject, after.subject, 0, None, sentence),
        Reason(sentence, after.source, Sure.LIKELY),
        rank_of(Sure.LIKELY, Family.ORDER),
    )


def rolls(prints: Iterable[Print], statements: Iterable[Statement]) -> Iterator[Evidence]:
    """The prints of a roll, or of one laboratory order, lie close together."""
    known = {print_.accession for print_ in prints}
    members: dict[str, list[Statement]] = defaultdict(list)
    for said in _firsts(statements, Says.ROLL):
        if said.subject in known:
            members[said.value].append(said)
    for name, row in members.items():
        for said in row if len(row) > 1 else ():
            yield _within(name, said, ROLL_DAYS)
            yield _within(name, said, ROLL_USUAL_DAYS, soft=True)


def _within(name: str, said: Statement, days: int, *, soft: bool = False) -> Evidence:
    how = "is finished as a rule" if soft else "is finished at the latest"
    sentence = f"on roll “{name}”, which {how} within {days} days"
    ident = f"{said.id} usual" if soft else said.id
    sure = Sure.GUESS if soft else max(said.sure, Sure.LIKELY, key=list(Sure).index)
    return Evidence(
        Difference(ident, roll_thing(name), said.subject, 0, days, sentence),
        Reason(sentence, said.source, sure),
        soft_rank(_USUAL_ROLL_TRUST, Family.ROLL) if soft else rank_of(sure, Family.ROLL),
        soft=soft,
    )


def pages(prints: Iterable[Print]) -> Iterator[Evidence]:
    """Prints of an earlier page of an album are not later than those of the pages after it; a rule of thumb.

    Pages are containers whose last level is a P with its number: A1/P2 comes before A1/P3. Between two pages
    that hold prints stands one moment, when the earlier was full, so that an album needs two bounds a print.
    """
    albums: dict[str, dict[int, list[str]]] = defaultdict(lambda: defaultdict(list))
    for print_ in prints:
        if found := _PAGE.fullmatch(print_.container or ""):
            albums[found["album"]][int(found["page"])].append(print_.accession)
    for album, filled in albums.items():
        for page, following in pairwise(sorted(filled)):
            yield from _between(f"{album}/P{page}", f"{album}/P{following}", filled[page], filled[following])


def _between(page: str, following: str, on_page: list[str], after: list[str]) -> Iterator[Evidence]:
    full = page_thing(page)
    for accession in on_page:
        yield _page_evidence(Difference(f"{accession} until {full}", full, accession, None, 0), page, following)
    for accession in after:
        yield _page_evidence(Difference(f"{accession} since {full}", full, accession, 0, None), page, following)


def _page_evidence(difference: Difference, page: str, following: str) -> Evidence:
    sentence = f"page {page} comes before page {following}, and albums are mostly filled in order"
    return Evidence(
        Difference(difference.id, difference.a, difference.b, difference.min_days, difference.max_days, sentence),
        Reason(sentence, "common practice, no source", Sure.GUESS),
        soft_rank(_PAGES_TRUST, Family.ORDER),
        soft=True,
    )
