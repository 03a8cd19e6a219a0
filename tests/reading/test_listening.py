"""How two recognisers are weighed, and when one alone may act; recognisers by a script, without sound."""

from __future__ import annotations

from collections.abc import Callable
from threading import Event
from typing import Any

import numpy as np
import pytest

from solander.reading.speech import listen
from solander.reading.speech.grammar import Kind, Rule, Word
from solander.reading.speech.listen import Certainty, Listener
from solander.reading.speech.sentences import Names
from solander.reading.speech.sphinx import Guess

SOUND = np.zeros(16_000, np.int16)
GOOD = -2.0


def word(kind: Kind, written: str) -> Word:
    return Word(f"{kind}_{written}", kind, written, (("AH",),))


SUMMER, FIFTY, SIXTY = (word(Kind.DATE, each) for each in ("summer", "nineteen fifty", "nineteen sixty"))
BERGEN, LINDAU = word(Kind.PLACE, "Bergen"), word(Kind.PLACE, "Lindau")
NO = word(Kind.BACK, "no")


class Base:
    """The base recogniser, that hears `words`; it counts what it is asked besides."""

    def __init__(self, *words: Word, weakest: float = GOOD) -> None:
        self.guess, self.asked = Guess(words, GOOD, weakest), 0
        self.begins: Callable[[], object] = lambda: None

    def hear(self, samples: object) -> Guess:
        self.begins()
        return self.guess

    def hear_one_of(self, rule: Rule, samples: object) -> Guess:
        self.asked += 1
        return Guess(self.guess.words, GOOD - 0.5)


class Second:
    """The second, that hears `words`."""

    def __init__(self, *words: Word) -> None:
        self.guess, self.begun = Guess(words, GOOD), Event()

    def hear(self, samples: object) -> Guess:
        self.begun.set()
        return self.guess

    def fits(self, words: object) -> float:
        return GOOD - 1.0


def listener(base: Base, second: Second | None) -> Listener:
    one: Any = Listener.__new__(Listener)
    made = listen.sentences(listen.table_for(listen.english_model()), Names(), ways_of)
    one._table, one._sentences, one._base, one._second = (
        listen.table_for(listen.english_model()),
        made,
        base,
        second,
    )
    return one


class _Ways:
    def ways(self, said: str, is_name: bool = False) -> tuple[tuple[str, ...], ...]:
        return (("AH",),)


ways_of: Any = _Ways()


def test_where_only_numbers_differ_the_base_is_asked_once_more_and_not_twice() -> None:
    """It has said already which numbers it hears."""
    base = Base(BERGEN, SUMMER, FIFTY)
    listener(base, Second(BERGEN, SUMMER, SIXTY)).understand(SOUND)
    assert base.asked == 1
    base = Base(LINDAU, SUMMER, FIFTY)
    listener(base, Second(BERGEN, SUMMER, SIXTY)).understand(SOUND)
    assert base.asked == 2


def test_where_both_hear_the_same_nothing_more_is_searched() -> None:
    base = Base(BERGEN)
    understood = listener(base, Second(BERGEN)).understand(SOUND)
    assert (understood.words, understood.certainty, base.asked) == ("Bergen", Certainty.SURE, 0)


def test_the_second_recogniser_goes_first_since_the_base_lets_nobody_run() -> None:
    base, second = Base(BERGEN), Second(BERGEN)
    seen: list[bool] = []
    base.begins = lambda: seen.append(second.begun.is_set())
    listener(base, second).understand(SOUND)
    assert seen == [True]


@pytest.mark.parametrize(
    ("base", "certainty"),
    [
        (Base(BERGEN, SUMMER, FIFTY), Certainty.SURE),
        (Base(BERGEN, SUMMER, FIFTY, weakest=-5.5), Certainty.ASK),  # one word of it fits badly
        (Base(SUMMER, FIFTY, NO, SIXTY), Certainty.ASK),  # what was said before is taken back by nobody alone
    ],
)
def test_the_base_recogniser_alone_asks_where_a_word_is_weak_or_something_is_taken_back(
    base: Base, certainty: Certainty
) -> None:
    assert listener(base, None).understand(SOUND).certainty is certainty
