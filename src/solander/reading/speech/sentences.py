"""The grammar of the stand: an order alone, or any parts of a slip in any order."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from attrs import define, field, frozen

from solander.reading.speech.dates import Spoken, date_rule, number_rule
from solander.reading.speech.grammar import Any, Kind, Loop, Maybe, Row, Rule, Word
from solander.reading.speech.pronounce import Pronouncer
from solander.reading.speech.table import Table

__all__ = ["Names", "sentences"]


@frozen
class Names:
    """What a collection calls its people, places and occasions, as they are said; the likeliest first."""

    people: tuple[str, ...] = ()
    places: tuple[str, ...] = ()
    occasions: tuple[str, ...] = ()


def sentences(table: Table, names: Names, pronouncer: Pronouncer) -> Rule:
    """Everything that may be said at the stand."""
    leaves = _Leaves(pronouncer)
    order = Any(tuple(_orders(table, leaves)))
    parts = [date_rule(table, leaves.spoken(Kind.DATE)), _containers(table, leaves), *_named(table, names, leaves)]
    between = Maybe(Any((leaves.any_of(table.joints, Kind.JOINT), leaves.any_of(table.back, Kind.BACK))))
    slip = Row((Maybe(leaves.any_of(table.joints, Kind.JOINT)), Loop(Any(tuple(parts)), between)))
    return Any((order, slip))


def only_order(table: Table, orders: Iterable[str], pronouncer: Pronouncer) -> Rule:
    """Nothing but some phrases of orders."""
    leaves = _Leaves(pronouncer)
    return Any(tuple(_orders(table, leaves)))


@define
class _Leaves:
    """Makes the leaves of one grammar, each with a name of its own."""

    pronouncer: Pronouncer
    _made: dict[tuple[Kind, str], Word] = field(factory=dict)

    def word(self, kind: Kind, said: str, written: str = "") -> Word | None:
        """A leaf for what is said as one; None where nobody could say it."""
        key = kind, f"{said}={written}"
        if key not in self._made:
            ways = self.pronouncer.ways(said)
            if not ways:
                return None
            self._made[key] = Word(f"{kind.value}_{len(self._made)}", kind, written or said, ways)
        return self._made[key]

    def any_of(self, said: str, kind: Kind) -> Rule:
        """One of the phrases parted by bars, each said as one."""
        words = [self.word(kind, each) for each in said.split("|")]
        return _any([word for word in words if word])

    def spoken(self, kind: Kind) -> Spoken:
        """Makes rules whose words are said one by one, so that one may pause between them."""

        def rule(said: str) -> Rule:
            return _any([_row([self.word(kind, word) for word in each.split()]) for each in said.split("|")])

        return rule


def _orders(table: Table, leaves: _Leaves) -> Iterator[Rule]:
    for order, phrases in table.orders.items():
        for phrase in phrases.split("|"):
            if word := leaves.word(Kind.ORDER, phrase, order.value):
                yield word


def _containers(table: Table, leaves: _Leaves) -> Rule:
    spoken = leaves.spoken(Kind.CONTAINER)
    one = Row((spoken("|".join(table.kinds_of_container)), number_rule(table, spoken)))
    return Row((one, Maybe(one)))


def _named(table: Table, names: Names, leaves: _Leaves) -> Iterator[Rule]:
    relatives = table.relatives.split("|")
    kin = [leaves.word(Kind.KIN, f"{whose} {each}") for whose in table.whose.split("|") for each in relatives]
    titles = [leaves.word(Kind.KIN, each) for each in table.titles.split("|")]
    people = [word for name in names.people if (word := leaves.word(Kind.PEOPLE, name))]
    if people:
        yield Row((Maybe(_any([word for word in (*kin, *titles) if word])), _any(people)))
    yield _any([word for word in kin if word])
    for kind, told in ((Kind.PLACE, names.places), (Kind.OCCASION, names.occasions)):
        if words := [word for name in told if (word := leaves.word(kind, name))]:
            yield _any(words)


def _any(rules: Sequence[Rule]) -> Rule:
    return rules[0] if len(rules) == 1 else Any(tuple(rules))


def _row(words: Sequence[Word | None]) -> Rule:
    said = [word for word in words if word]
    return said[0] if len(said) == 1 else Row(tuple(said))
