"""What each kind of claim says about time: statements turned into bounds and differences, each with its reason.

Two things in time belong to a print: its exposure (named by the accession number) and its printing
(`printing_of`). A bound on the printing binds the exposure from above only: a picture is taken before it is
printed, and may be printed again decades later.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise

from attrs import frozen

from solander.core.chronology import Between, Difference, Pieces
from solander.core.dates import parse_edtf, words
from solander.core.descriptions import Reason
from solander.core.people import Person
from solander.core.prints import Print
from solander.core.statements import About, Says, Statement, Sure

__all__ = ["OCCASION_DAYS", "Evidence", "evidence_of", "occasion_thing", "printing_of"]

OCCASION_DAYS = 31
"""An occasion lasts at most this long, a long holiday, so its prints lie within it (our choice, no source)."""

_PRINTING = " printing"

Constraint = Between | Difference | Pieces


@frozen
class Evidence:
    """One bound or difference with its reason. `rank` orders what is believed first when two contradict:
    the surer statement, and what is said of a print itself before what follows from its company."""

    constraint: Constraint
    reason: Reason
    rank: int

    @property
    def about(self) -> str:
        """The accession number of the print that it binds."""
        thing = self.constraint.b if isinstance(self.constraint, Difference) else self.constraint.x
        return thing.removesuffix(_PRINTING)


_RANK_OF_SURE = {Sure.CERTAIN: 0, Sure.LIKELY: 10, Sure.GUESS: 20}
_RANK_OWN, _RANK_LIFE, _RANK_OCCASION, _RANK_COMPANY, _RANK_ORDER = range(5)


def printing_of(accession: str) -> str:
    """The name of a print's second thing in time, the making of this paper."""
    return accession + _PRINTING


def occasion_thing(name: str) -> str:
    """The name of an occasion's beginning as a thing in time."""
    return f"occasion {name}"


def evidence_of(
    prints: Sequence[Print],
    statements: Sequence[Statement],
    people: Mapping[str, Person],
    *,
    southern: bool = False,
) -> list[Evidence]:
    """All evidence about the prints, most believed first.

    `statements` are the live ones in order of entry; `people` are found by any name they are called;
    `southern` reads seasons as south of the equator does.
    """
    found = [
        *_own_dates(statements, southern),
        *(_taken_before_printed(print_.accession) for print_ in prints),
        *_lives(statements, people),
        *_occasions(statements, southern),
        *_orders(prints, statements),
    ]
    return sorted(found, key=lambda evidence: evidence.rank)


def _allowed(ident: str, thing: str, edtf: str, why: str, southern: bool) -> Constraint:
    """The days that an EDTF value allows, holes included."""
    pieces = parse_edtf(edtf).pieces(southern=southern)
    if len(pieces) == 1:
        return Between(ident, thing, *pieces[0], why)
    return Pieces(ident, thing, pieces, why)


def _own_dates(statements: Iterable[Statement], southern: bool) -> Iterator[Evidence]:
    for said in statements:
        if said.about is not About.PRINT or said.says not in (Says.EXPOSURE, Says.PRINTING):
            continue
        printing = said.says is Says.PRINTING
        thing = printing_of(said.subject) if printing else said.subject
        sentence = f"this paper was made: “{said.words}”" if printing else f"dated “{said.words}”"
        yield Evidence(
            _allowed(said.id, thing, said.value, sentence, southern),
            Reason(sentence, said.source, said.sure, bounds_printing=printing),
            _RANK_OF_SURE[said.sure] + _RANK_OWN,
        )


def _taken_before_printed(accession: str) -> Evidence:
    sentence = "a picture is taken before it is printed"
    return Evidence(
        Difference(f"taken-before-printed {accession}", accession, printing_of(accession), 0, None, sentence),
        Reason(sentence, "always so", Sure.CERTAIN),
        -1,
    )


def _lives(statements: Iterable[Statement], people: Mapping[str, Person]) -> Iterator[Evidence]:
    """A person is in a picture only while alive."""
    for said in statements:
        person = people.get(said.value)
        if said.about is not About.PRINT or said.says is not Says.PERSON or person is None:
            continue
        born = parse_edtf(person.born).bounds().earliest if person.born else None
        died = parse_edtf(person.died).bounds().latest if person.died else None
        ends_before_it_begins = born is not None and died is not None and died < born
        if (born is None and died is None) or ends_before_it_begins:
            continue
        sentence = f"{person.name} {_life_words(person)}"
        yield Evidence(
            Between(said.id, said.subject, born, died, sentence),
            Reason(sentence, "list of people", said.sure),
            _RANK_OF_SURE[said.sure] + _RANK_LIFE,
        )


def _life_words(person: Person) -> str:
    parts = [
        f"{verb} {words(value)}" for verb, value in (("was born", person.born), ("died", person.died)) if value
    ]
    return " and ".join(parts)


def _occasions(statements: Sequence[Statement], southern: bool) -> Iterator[Evidence]:
    """Prints of an occasion share its date, and lie within its length of each other."""
    dates = defaultdict(list)
    for said in statements:
        if said.about is About.OCCASION and said.says is Says.EXPOSURE:
            dates[said.subject].append(said)
    for said in statements:
        if said.about is not About.PRINT or said.says is not Says.OCCASION:
            continue
        for date in dates[said.value]:
            yield _dated_by_occasion(said, date, southern)
        sentence = f"belongs to “{said.value}”, which lasted {OCCASION_DAYS} days at most"
        yield Evidence(
            Difference(said.id, occasion_thing(said.value), said.subject, 0, OCCASION_DAYS, sentence),
            Reason(sentence, said.source, said.sure),
            _RANK_OF_SURE[said.sure] + _RANK_COMPANY,
        )


def _dated_by_occasion(said: Statement, date: Statement, southern: bool) -> Evidence:
    sentence = f"belongs to “{said.value}”, dated “{date.words}”"
    return Evidence(
        _allowed(f"{said.id} {date.id}", said.subject, date.value, sentence, southern),
        Reason(sentence, date.source, date.sure),
        _RANK_OF_SURE[date.sure] + _RANK_OCCASION,
    )


def _orders(prints: Iterable[Print], statements: Iterable[Statement]) -> Iterator[Evidence]:
    """Prints that were numbered in their container follow each other in time."""
    container_of = {print_.accession: print_.container for print_ in prints}
    sequences: dict[str, list[tuple[int, Statement]]] = defaultdict(list)
    for said in _first_places(statements):
        if said.subject in container_of:
            sequences[container_of[said.subject] or ""].append((int(said.value), said))
    for container, sequence in sequences.items():
        sequence.sort(key=lambda numbered: numbered[0])
        for (number, before), (next_number, after) in pairwise(sequence):
            if number < next_number:
                yield _follows(container, before, after)


def _first_places(statements: Iterable[Statement]) -> Iterable[Statement]:
    """The first place that is said of each print: both sides may be numbered, but paper lies in one place."""
    found: dict[str, Statement] = {}
    for said in statements:
        if said.about is About.PRINT and said.says is Says.ORDER:
            found.setdefault(said.subject, said)
    return found.values()


def _follows(container: str, before: Statement, after: Statement) -> Evidence:
    where = f" in {container}" if container else ""
    sentence = f"{after.subject} follows {before.subject}{where}"
    return Evidence(
        Difference(f"{before.id} {after.id}", before.subject, after.subject, 0, None, sentence),
        Reason(sentence, after.source, Sure.LIKELY),
        _RANK_OF_SURE[Sure.LIKELY] + _RANK_ORDER,
    )
