"""What is stated about a print's own dates, and what is always so: a picture is taken before it is printed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from solander.core.chronology import Between, Difference, Months, Pieces
from solander.core.dates import Edtf, Moment, parse_edtf
from solander.core.dates.stretches import MONTHS, PARTS_OF_YEAR
from solander.core.descriptions import Reason
from solander.core.evidence.records import Constraint, Evidence, Family, Weight, printing_of, rank_of
from solander.core.language import marked
from solander.core.sentence import Sentence
from solander.core.statements import About, Says, Statement, Sure

__all__ = ["PRINTED_WITHIN_DAYS", "allowed", "own_dates", "taken_before_printed"]

PRINTED_WITHIN_DAYS = 365
"""Laboratory dates follow the picture by 0 to 12 months, "sometimes more": so the guides on dating say that
dating-evidence.csv is drawn from. It weighs the guess and bounds nothing, for a negative may be printed again
decades later."""

PRINTED_SOON_TRUST = 0.7
"""How far that is believed (our choice, no source)."""


def allowed(ident: str, thing: str, edtf: str, why: str) -> Constraint | None:
    """The days that an EDTF value allows, holes included; None when it tells neither year nor month.

    Where the year is unknown the months count: a 25 December is a day in December, for without any bound on
    the year its days would be ten thousand.
    """
    value = parse_edtf(edtf)
    if all(moment.year.strip("X") == "" for moment in value.moments) and value.moments:
        months: Any = _months_of(value)  # the checker does not see through the converter of `Months`
        return Months(ident, thing, months, why) if months else None
    pieces = value.pieces()
    if pieces == ((None, None),):
        return None
    if len(pieces) == 1:
        return Between(ident, thing, *pieces[0], why)
    return Pieces(ident, thing, pieces, why)


def _months_of(value: Edtf) -> frozenset[int]:
    """The months that a value without any year allows; none when it allows them all."""
    found: set[int] = set()
    for member in value.members:
        if not isinstance(member, Moment):
            return frozenset()
        found |= _months_of_moment(member)
    return frozenset(found) if len(found) < 12 else frozenset()


def _months_of_moment(moment: Moment) -> set[int]:
    code = moment.month
    if code in PARTS_OF_YEAR:
        first, count = PARTS_OF_YEAR[code]
        return {(first + step - 1) % 12 + 1 for step in range(count)}
    return set(MONTHS.get(code, range(1, 13)))


def own_dates(statements: Iterable[Statement]) -> Iterator[Evidence]:
    """Dates said of a print: an inscription, a relative's memory ("not before 1948"), a laboratory's stamp."""
    for said in statements:
        if said.about is not About.PRINT or said.says not in (Says.EXPOSURE, Says.PRINTING):
            continue
        printing = said.says is Says.PRINTING
        thing = printing_of(said.subject) if printing else said.subject
        message = marked("this paper was made: “%(words)s”") if printing else marked("dated “%(words)s”")
        sentence = Sentence(message, words=said.words)
        constraint = allowed(said.id, thing, said.value, sentence)
        if constraint is None:
            continue
        yield Evidence(
            constraint,
            Reason(sentence, said.source, said.sure, bounds_printing=printing),
            rank_of(said.sure, Family.OWN),
            weight=_taken_shortly_before(said.subject, constraint) if printing else None,
        )


def _taken_shortly_before(accession: str, printed: Constraint) -> Weight | None:
    """Weight on the year before the last day of printing, and on all of a longer time in which it may lie."""
    if not isinstance(printed, Between) or printed.latest is None or printed.earliest is None:
        return None
    since = printed.earliest - PRINTED_WITHIN_DAYS
    half_a_year_before = printed.earliest - PRINTED_WITHIN_DAYS // 2
    return Weight(accession, since, half_a_year_before, printed.latest, printed.latest, PRINTED_SOON_TRUST)


def taken_before_printed(accession: str) -> Evidence:
    """The picture was taken on the day of printing or before."""
    return Evidence(
        Difference(
            f"taken-before-printed {accession}", accession, printing_of(accession), 0, None, _ALWAYS_SO.sentence
        ),
        _ALWAYS_SO,
        Family.ALWAYS,
    )


_ALWAYS_SO = Reason(Sentence("a picture is taken before it is printed"), Sentence("always so"), Sure.CERTAIN)
