"""What the order of paper tells: numbered prints, and the frames of a roll."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from solander.core.chronology import Difference
from solander.core.descriptions import Reason
from solander.core.evidence.records import Evidence, Family, rank_of, roll_thing, soft_rank
from solander.core.prints import Print
from solander.core.statements import About, Says, Statement, Sure

__all__ = ["ROLL_DAYS", "ROLL_USUAL_DAYS", "numbered", "rolls", "runs"]

ROLL_DAYS = 400
"""A roll is finished within this at most: from one Christmas to the next, and somewhat more, a film may stay in
a family's camera (our choice, no source)."""

ROLL_USUAL_DAYS = 120
"""A roll is finished within this as a rule; the figure of the worked dating examples, which name no source."""

_USUAL_ROLL_TRUST = 0.7
"""How far that is believed (our choice)."""


def numbered(prints: Iterable[Print], statements: Sequence[Statement]) -> Iterator[Evidence]:
    """Prints that were numbered follow each other in time: by frame on their roll, else in their container.

    The number may stand on the back, be counted in the envelope or be the frame that the laboratory printed.
    """
    for where, row in _rows(prints, statements).items():
        for (number, before), (next_number, after) in pairwise(row):
            if number < next_number:
                yield _follows(where, before, after)


def _rows(prints: Iterable[Print], statements: Sequence[Statement]) -> dict[str, list[tuple[int, Statement]]]:
    """The numbers said of prints in their order, by what they count in: "on roll “film 7”", "in B2/E5"."""
    roll_of = {said.subject: said.value for said in _firsts(statements, Says.ROLL)}
    row_of = {print_.accession: _row_words(roll_of.get(print_.accession), print_.container) for print_ in prints}
    rows: dict[str, list[tuple[int, Statement]]] = defaultdict(list)
    for said in _firsts(statements, Says.ORDER):
        if said.subject in row_of:
            rows[row_of[said.subject]].append((int(said.value), said))
    for row in rows.values():
        row.sort(key=lambda each: each[0])
    return rows


def runs(prints: Iterable[Print], statements: Sequence[Statement]) -> list[list[str]]:
    """The accession numbers of prints that follow each other by their numbers, a list each roll or container."""
    return [[said.subject for _, said in row] for row in _rows(prints, statements).values()]


def _row_words(roll: str | None, container: str | None) -> str:
    if roll is not None:
        return f"on roll “{roll}”"
    return f"in {container}" if container else ""


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
