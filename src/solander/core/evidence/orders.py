"""What the order of paper tells: numbered prints, and the frames of a roll."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby, pairwise, product

from solander.core.chronology import Difference
from solander.core.descriptions import Reason
from solander.core.evidence.records import Evidence, Family, moment_thing, rank_of, roll_thing, soft_rank
from solander.core.language import marked
from solander.core.prints import Print
from solander.core.sentence import Sentence
from solander.core.statements import About, Says, Statement, Sure

__all__ = [
    "ROLL_DAYS",
    "ROLL_TRUST",
    "ROLL_USUAL_DAYS",
    "ROLL_USUAL_TRUST",
    "in_dispute",
    "numbered",
    "rolls",
    "runs",
]

ROLL_DAYS = 400
"""A roll is finished within this at the latest: from one Christmas to the next, and somewhat more, a film may stay
in a family's camera (our choice, no source)."""

ROLL_TRUST = 0.9
"""How far that is believed (our choice)."""

ROLL_USUAL_DAYS = 120
"""A roll is finished within this as a rule; the figure of the worked dating examples, which name no source."""

ROLL_USUAL_TRUST = 0.7
"""How far that is believed (our choice)."""

_MOST_TIES = 16
"""Where two numbers stand on more pairs of prints, each print is tied to one moment between them instead."""


def numbered(prints: Iterable[Print], statements: Sequence[Statement]) -> Iterator[Evidence]:
    """Prints that were numbered follow each other in time: by frame on their roll, else in their container.

    The number may stand on the back, be counted in the envelope or be the frame that the laboratory printed.
    Prints with the same number have no order among themselves, and come all before those of the next number.
    """
    for where, row in _rows(prints, statements).items():
        groups = [[said for _, said in group] for _, group in groupby(row, key=lambda each: each[0])]
        for befores, afters in pairwise(groups):
            if len(befores) * len(afters) <= _MOST_TIES:
                yield from (_follows(where, before, after) for before, after in product(befores, afters))
            else:
                yield from _about_a_moment(where, befores, afters)


def in_dispute(prints: Iterable[Print], statements: Iterable[Statement]) -> Iterator[tuple[Statement, Statement]]:
    """Numbers and rolls that other sources tell of a print than the one that counts: that one, and the other.

    The first that is said of a print counts. The same source may number front and back, which is no dispute.
    """
    known = {print_.accession for print_ in prints}
    kept = [said for said in statements if said.about is About.PRINT and said.subject in known]
    counting = {
        (said.subject, said.says): said for says in (Says.ORDER, Says.ROLL) for said in _firsts(kept, says)
    }
    for said in kept:
        first = counting.get((said.subject, said.says))
        if first is not None and said.value != first.value and said.source != first.source:
            yield first, said


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
        return Sentence("on roll “%(roll)s”", roll=roll)
    return Sentence("in %(container)s", container=container) if container else ""


def _firsts(statements: Iterable[Statement], says: Says) -> Iterable[Statement]:
    """The first that is said of each print: both sides may be numbered, but paper lies in one place."""
    found: dict[str, Statement] = {}
    for said in statements:
        if said.about is About.PRINT and said.says is says:
            found.setdefault(said.subject, said)
    return found.values()


def _follows(where: str, before: Statement, after: Statement) -> Evidence:
    message = marked("%(after)s follows %(before)s %(where)s") if where else marked("%(after)s follows %(before)s")
    sentence = Sentence(message, after=after.subject, before=before.subject, where=where)
    return Evidence(
        Difference(f"{before.id} {after.id}", before.subject, after.subject, 0, None, sentence),
        Reason(sentence, after.source, Sure.LIKELY),
        rank_of(Sure.LIKELY, Family.ORDER),
    )


def _about_a_moment(where: str, befores: Sequence[Statement], afters: Sequence[Statement]) -> Iterator[Evidence]:
    """The same as each after each, with a bound a print: between the two numbers lies one moment."""
    moment = moment_thing(befores[0].value, afters[0].value, where)
    for said, least, most, other, message in (
        *((before, None, 0, afters[0], _PRECEDES) for before in befores),
        *((after, 0, None, befores[0], _FOLLOWS) for after in afters),
    ):
        sentence = Sentence(message[bool(where)], number=said.value, other=other.value, where=where)
        yield Evidence(
            Difference(f"{said.id} {moment}", moment, said.subject, least, most, sentence),
            Reason(sentence, said.source, Sure.LIKELY),
            rank_of(Sure.LIKELY, Family.ORDER),
        )


_PRECEDES = (
    marked("number %(number)s precedes number %(other)s"),
    marked("number %(number)s precedes number %(other)s %(where)s"),
)
_FOLLOWS = (
    marked("number %(number)s follows number %(other)s"),
    marked("number %(number)s follows number %(other)s %(where)s"),
)
"""By whether it is known where."""


def rolls(prints: Iterable[Print], statements: Iterable[Statement]) -> Iterator[Evidence]:
    """The prints of a roll, or of one laboratory order, lie close together."""
    known = {print_.accession for print_ in prints}
    members: dict[str, list[Statement]] = defaultdict(list)
    for said in _firsts(statements, Says.ROLL):
        if said.subject in known:
            members[said.value].append(said)
    for name, row in members.items():
        for said in row if len(row) > 1 else ():
            yield _within(name, said, ROLL_DAYS, trust=ROLL_TRUST)
            yield _within(name, said, ROLL_USUAL_DAYS, trust=ROLL_USUAL_TRUST)


def _within(name: str, said: Statement, days: int, *, trust: float) -> Evidence:
    usual = days == ROLL_USUAL_DAYS
    message = (
        marked("on roll “%(roll)s”, which is finished as a rule within %(days)s days")
        if usual
        else marked("on roll “%(roll)s”, which is finished at the latest within %(days)s days")
    )
    sentence = Sentence(message, roll=name, days=days)
    return Evidence(
        Difference(f"{said.id} usual" if usual else said.id, roll_thing(name), said.subject, 0, days, sentence),
        Reason(sentence, said.source, Sure.GUESS),
        soft_rank(trust / 2 if said.sure is Sure.GUESS else trust, Family.ROLL),
        soft=True,
    )
