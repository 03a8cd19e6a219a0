"""Listens to one utterance: what it says as parts of a slip or as an order, and how sure that is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from enum import StrEnum
from math import inf
from threading import Event
from time import sleep

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

from solander.core.orders import Order
from solander.reading.speech.grammar import Kind, Row, Word
from solander.reading.speech.learnt import learnt_letters
from solander.reading.speech.letters import sounds_of_letters
from solander.reading.speech.model import Model, english_model, table_for
from solander.reading.speech.pronounce import Pronouncer, dictionary_in
from solander.reading.speech.said import Part, order_of, parts_of, sentence_of
from solander.reading.speech.second import Second, has_second
from solander.reading.speech.sentences import Names, sentences
from solander.reading.speech.sphinx import Guess, Sphinx

__all__ = ["Certainty", "Listener", "Understood", "pronouncer"]

Samples = NDArray[np.int16]


class Certainty(StrEnum):
    """What is to be done with what was heard."""

    SURE = "sure"  # act
    ASK = "ask"  # show it and ask
    NOT = "not"  # keep the sound


_SECOND_COUNTS = 1.0
"""How much the margin of the second opinion counts beside that of the base recogniser."""

_SURE, _ASK = -5.7, -7.5
"""Margins of both together from which one may act, and ask."""

_LEAD = 0.3
"""By so much the best reading must go before every other, if one is to act."""

_SURE_ALONE, _ASK_ALONE, _WEAKEST_ALONE = -3.5, -5.2, -5.0
"""Margins of the base recogniser alone, the last of the word that fits worst: what it takes for another is near in
sound, and one word of a sentence. All six were set on the sentences and voices for tuning (benchmarks/hear.py) and
are judged on others (docs/measured.md)."""

_BEGINS_S, _HEAD_START_S = 0.5, 0.005
"""So long the base recogniser waits for the second to begin, and then until it is in its own program; both take a
thousandth of a second on a machine that is not busy."""

_NOISE = 8.0
"""Standard deviation of the faint noise that is laid under every utterance: the features of digital silence are
minus infinity, which spoils the mean of all that follows."""


@frozen
class Understood:
    """What was understood of an utterance: an order, or parts of a slip; `words` as a person would type them."""

    certainty: Certainty
    words: str = ""
    order: Order | None = None
    parts: tuple[Part, ...] = field(default=())


class Listener:
    """Understands what the names of a collection and the phrases of a language allow.

    With `second` a second recogniser hears the same sound. Where both hear the same, their margins tell how sure
    that is. Where they differ, each reading is weighed by both, and so are the words of the second with the
    numbers that the base recogniser hears in them: it is the better one at numbers. The second hears the sounds of
    English alone: with a `model` that the user supplies there is none.
    """

    def __init__(
        self,
        names: Names,
        *,
        sounds_like: Mapping[str, tuple[str, ...]] | None = None,
        model: Model | None = None,
        second: bool | None = None,
    ) -> None:
        model = model or english_model()
        self._table = table_for(model)
        self._sentences = sentences(self._table, names, pronouncer(model, sounds_like or {}))
        self._base = Sphinx(self._sentences.rule, model)
        both = model.is_english and (has_second() if second is None else second)
        self._second = Second(self._sentences.rule) if both else None

    def understand(self, samples: Samples) -> Understood:
        """What an utterance at 16 kHz says."""
        samples = _with_noise(samples)
        if self._second is None:
            guess = self._base.hear(samples)
            return self._told(guess.words, _certainty_alone(guess)) if guess else Understood(Certainty.NOT)
        base, second = self._by_both(self._second, samples)
        if base is None or second is None:
            return Understood(Certainty.NOT)
        if base.margin + _SECOND_COUNTS * second.margin < _ASK:  # each is the best that one of them finds
            return self._told(base.words, Certainty.NOT)
        weighed: dict[str, tuple[float, tuple[Word, ...]]] = {}
        for words, margin in self._weighed(base, second, samples):
            key = self._key(words)
            weighed[key] = max(weighed.get(key, (-inf, words)), (margin, words), key=lambda each: each[0])
        (margin, words), *others = sorted(weighed.values(), key=lambda each: -each[0])
        return self._told(words, _certainty(margin, margin - others[0][0] if others else inf))

    def _by_both(self, second: Second, samples: Samples) -> tuple[Guess | None, Guess | None]:
        """What each recogniser hears, both at the same time.

        The base recogniser lets no other thread of Python run while it searches, and the second needs a few turns
        before it is in its own program, which runs beside: so it goes first. Else it mostly came after the base.
        """
        begun = Event()

        def hear() -> Guess | None:
            begun.set()
            return second.hear(samples)

        with ThreadPoolExecutor(1) as beside:
            asked = beside.submit(hear)
            begun.wait(_BEGINS_S)
            sleep(_HEAD_START_S)
            return self._base.hear(samples), asked.result()

    def _weighed(self, base: Guess, second: Guess, samples: Samples) -> Iterator[tuple[tuple[Word, ...], float]]:
        """Every reading with the margin of both recognisers together."""
        assert self._second is not None
        if self._key(base.words) == self._key(second.words):
            yield base.words, base.margin + _SECOND_COUNTS * second.margin
            return
        yield base.words, base.margin + _SECOND_COUNTS * self._second.fits(base.words)
        # Where they differ in numbers alone, the base recogniser has said already which it hears.
        if self._sentences.has_numbers(second.words) and not self._differ_in_numbers(base.words, second.words):
            other = self._base.hear_one_of(self._sentences.with_other_numbers(second.words), samples)
            if other is not None:
                yield other.words, other.margin + _SECOND_COUNTS * self._second.fits(other.words)
                if self._key(other.words) == self._key(second.words):
                    return
        if (same := self._base.hear_one_of(Row(second.words), samples)) is not None:
            yield second.words, same.margin + _SECOND_COUNTS * second.margin

    def _differ_in_numbers(self, one: Sequence[Word], other: Sequence[Word]) -> bool:
        """Whether one would be the other with other numbers."""
        return self._sentences.but_for_numbers(one) == self._sentences.but_for_numbers(other)

    def _key(self, words: Sequence[Word]) -> str:
        """The same for whatever means the same."""
        order = order_of(words)
        return order.value if order else sentence_of(parts_of(words, self._table))

    def _told(self, words: tuple[Word, ...], certainty: Certainty) -> Understood:
        parts, order = parts_of(words, self._table), order_of(words)
        return Understood(certainty, sentence_of(parts), order, parts)


def pronouncer(model: Model, sounds_like: Mapping[str, tuple[str, ...]]) -> Pronouncer:
    """How words sound in the language of a model."""
    dictionary = dictionary_in(model.dictionary)
    if model.is_english:
        return Pronouncer(dictionary, sounds_like, sounds_of_letters)
    letters = learnt_letters(dictionary)
    return Pronouncer(dictionary, sounds_like, lambda word: (letters.read(word),))


def _certainty(margin: float, lead: float) -> Certainty:
    if margin >= _SURE and lead >= _LEAD:
        return Certainty.SURE
    return Certainty.ASK if margin >= _ASK else Certainty.NOT


def _certainty_alone(guess: Guess) -> Certainty:
    """How sure the base recogniser alone may be; it never takes back by itself what was said before."""
    takes_back = any(word.kind is Kind.BACK for word in guess.words)
    if guess.margin >= _SURE_ALONE and guess.weakest >= _WEAKEST_ALONE and not takes_back:
        return Certainty.SURE
    return Certainty.ASK if guess.margin >= _ASK_ALONE else Certainty.NOT


def _with_noise(samples: Samples) -> Samples:
    noise = np.random.default_rng(0).normal(0, _NOISE, len(samples))
    return np.clip(samples + noise, -32768, 32767).astype(np.int16)
