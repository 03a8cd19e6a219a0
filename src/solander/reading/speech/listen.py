"""Listens to one utterance: what it says as parts of a slip or as an order, and how sure that is."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

from solander.core.orders import Order
from solander.reading.speech.english import ENGLISH
from solander.reading.speech.grammar import Word
from solander.reading.speech.pronounce import Pronouncer, dictionary_in
from solander.reading.speech.said import Part, order_of, parts_of, sentence_of
from solander.reading.speech.sentences import Names, sentences
from solander.reading.speech.sphinx import Guess, Sphinx, english_model
from solander.reading.speech.table import Table

__all__ = ["Certainty", "Listener", "Understood"]

Samples = NDArray[np.int16]


class Certainty(StrEnum):
    """What is to be done with what was heard."""

    SURE = "sure"  # act
    ASK = "ask"  # show it and ask
    NOT = "not"  # keep the sound


_SURE, _ASK = -4.0, -6.0
"""Margins of the base recogniser from which one may act, and ask."""

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
    """Understands what the names of a collection and the phrases of a language allow."""

    def __init__(
        self,
        names: Names,
        *,
        table: Table = ENGLISH,
        sounds_like: dict[str, tuple[str, ...]] | None = None,
        model: Path | None = None,
    ) -> None:
        model = model or english_model()
        self._table = table
        pronouncer = Pronouncer(dictionary_in(model / "cmudict-en-us.dict"), sounds_like or {})
        self._sphinx = Sphinx(sentences(table, names, pronouncer), model)

    def understand(self, samples: Samples) -> Understood:
        """What an utterance at 16 kHz says."""
        guess = self._sphinx.hear(_with_noise(samples))
        if guess is None:
            return Understood(Certainty.NOT)
        return self._told(guess.words, _certainty(guess))

    def _told(self, words: tuple[Word, ...], certainty: Certainty) -> Understood:
        parts, order = parts_of(words, self._table), order_of(words)
        return Understood(certainty, sentence_of(parts), order, parts)


def _certainty(guess: Guess) -> Certainty:
    return Certainty.SURE if guess.margin >= _SURE else Certainty.ASK if guess.margin >= _ASK else Certainty.NOT


def _with_noise(samples: Samples) -> Samples:
    noise = np.random.default_rng(0).normal(0, _NOISE, len(samples))
    return np.clip(samples + noise, -32768, 32767).astype(np.int16)
