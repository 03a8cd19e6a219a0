"""The grammar of the stand: an order alone, or any parts of a slip in any order."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby

from attrs import define, field, frozen

from solander.reading.speech.dates import Spoken, date_rule, number_rule
from solander.reading.speech.grammar import Any, Kind, Loop, Maybe, Row, Rule, Turns, Word
from solander.reading.speech.pronounce import Pronouncer
from solander.reading.speech.table import Table

__all__ = ["Names", "Sentences", "sentences"]


@frozen
class Names:
    """What a collection calls its people, places and occasions, as they are said; the likeliest first."""

    people: tuple[str, ...] = ()
    places: tuple[str, ...] = ()
    occasions: tuple[str, ...] = ()


@frozen
class Sentences:
    """Everything that may be said at the stand, and of it what tells numbers."""

    rule: Rule
    numbers: Mapping[Kind, Rule]

    def has_numbers(self, words: Sequence[Word]) -> bool:
        """Whether any of the words tells a number."""
        return any(word.kind in self.numbers for word in words)

    def with_other_numbers(self, words: Sequence[Word]) -> Rule:
        """The same words, with any date where they have one and any container where they have one."""
        return Row(tuple(self.numbers[each] if isinstance(each, Kind) else each for each in self._told(words)))

    def but_for_numbers(self, words: Sequence[Word]) -> tuple[Word | Kind, ...]:
        """The words, and of each date and each container only that it is one."""
        return tuple(self._told(words))

    def _told(self, words: Sequence[Word]) -> Iterator[Word | Kind]:
        for kind, run in groupby(words, key=lambda word: word.kind):
            yield from [kind] if kind in self.numbers else run


def sentences(table: Table, names: Names, pronouncer: Pronouncer) -> Sentences:
    """What may be said at the stand in a language, with the names of a collection."""
    leaves = _Leaves(pronouncer)
    order = Any(tuple(_orders(table, leaves)))
    joint = leaves.any_of(f"{table.joints}|{table.hesitations}", Kind.JOINT)
    back = leaves.any_of(table.back, Kind.BACK)
    date = date_rule(table, leaves.spoken(Kind.DATE), lambda said: leaves.any_of(said, Kind.DATE))
    containers = _containers(table, leaves)
    parts = (date, containers, *_named(table, names, leaves))
    rule = Any((order, Row((Maybe(Any((joint, back))), Turns(parts, Maybe(joint), back)))))
    return Sentences(rule, {Kind.DATE: date, Kind.CONTAINER: containers})


_NAMES = (Kind.PEOPLE, Kind.PLACE, Kind.OCCASION)


@define
class _Leaves:
    """Makes the leaves of one grammar, each with a name of its own."""

    pronouncer: Pronouncer
    _made: dict[tuple[Kind, str], Word] = field(factory=dict)

    def word(self, kind: Kind, said: str, written: str = "") -> Word | None:
        """A leaf for what is said as one; None where nobody could say it."""
        key = kind, f"{said}={written}"
        if key not in self._made:
            ways = self.pronouncer.ways(said, is_name=kind in _NAMES)
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
    return Any((Row((one, Maybe(one))), leaves.any_of(table.next_container, Kind.CONTAINER)))


def _named(table: Table, names: Names, leaves: _Leaves) -> Iterator[Rule]:
    yield _people(table, names, leaves)
    for kind, told in ((Kind.PLACE, names.places), (Kind.OCCASION, names.occasions)):
        if words := _some(leaves.word(kind, name) for name in told):
            yield _any(words)


def _people(table: Table, names: Names, leaves: _Leaves) -> Rule:
    relatives = table.relatives.split("|")
    kin = _some(leaves.word(Kind.KIN, f"{whose} {each}") for whose in table.whose.split("|") for each in relatives)
    titles = _some(leaves.word(Kind.KIN, each) for each in table.titles.split("|"))
    whole = _some(leaves.word(Kind.PEOPLE, said, written) for said, written in table.whole_people.items())
    people = _some(leaves.word(Kind.PEOPLE, name) for name in names.people)
    named = (Row((Maybe(_any((*kin, *titles))), _any(people))),) if people else ()
    between = Maybe(leaves.any_of(f"{table.people_leads}|{table.hesitations}", Kind.JOINT))
    return Any((Loop(Any((*named, _any(kin))), between), _any(whole)))


def _some(words: Iterable[Word | None]) -> tuple[Word, ...]:
    return tuple(word for word in words if word)


def _any(rules: Sequence[Rule]) -> Rule:
    return rules[0] if len(rules) == 1 else Any(tuple(rules))


def _row(words: Sequence[Word | None]) -> Rule:
    said = [word for word in words if word]
    return said[0] if len(said) == 1 else Row(tuple(said))
