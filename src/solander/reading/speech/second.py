"""The second opinion: the phoneme recogniser `hama` (extra `voice`), searched over the same grammar."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from importlib import import_module
from importlib.util import find_spec
from math import inf

import numpy as np
from numpy.typing import NDArray

from solander.reading.speech.grammar import Kind, Row, Rule, Word
from solander.reading.speech.network import Network
from solander.reading.speech.phones import IPA
from solander.reading.speech.sphinx import Guess

__all__ = ["Second", "has_second", "phones_heard"]

Samples = NDArray[np.int16]

_COSTS = {Kind.DATE: 0.0, Kind.CONTAINER: 0.0}
_COST = 1.0
"""What a word costs, so that noise is not read as many short ones; numbers are short by nature (set on the
sentences for tuning)."""

_FLOOR = -8.0
"""The least score of a sound in a frame: one sound that was missed is no reason to give a whole sentence up."""


def has_second() -> bool:
    """Whether the extra is installed and works on this computer."""
    return find_spec("hama") is not None and import_module("hama._engine").available()


def phones_heard(samples: Samples) -> list[str]:
    """The sounds in an utterance at 16 kHz, in the letters of the IPA, without any word in mind."""
    model = import_module("hama").ASRModel()
    heard: list[str] = model.transcribe_waveform(samples, 16_000).phonemes
    return heard


class Second:
    """Hears what a grammar allows, by the chances of phonemes in time."""

    def __init__(self, rule: Rule) -> None:
        self._scored, tokens, self._blanks = _model()
        self._labels = {phone: tokens.index(ways[0]) for phone, ways in IPA.items()}
        self._network = Network(rule, self._labels, _cost_of)
        self._last = np.zeros((0, len(tokens)), np.float32)

    def hear(self, samples: Samples) -> Guess | None:
        """The words that fit best; None where none do."""
        self._last = self._scored(samples)
        return self._guess(self._network)

    def fits(self, words: Sequence[Word]) -> float:
        """The margin of these words for what was heard last."""
        guess = self._guess(Network(Row(tuple(words)), self._labels, _cost_of))
        return guess.margin if guess else -inf

    def _guess(self, network: Network) -> Guess | None:
        scores = self._last
        blank = np.logaddexp.reduce(scores[:, self._blanks], axis=1)
        way = network.search(np.maximum(scores, _FLOOR), np.maximum(blank, _FLOOR))
        if way is None or not way.words:
            return None
        best = float(np.maximum(scores.max(axis=1), blank).sum())
        sounds = sum(len(word.ways[0]) for word in way.words)
        return Guess(way.words, (way.score + sum(map(_cost_of, way.words)) - best) / max(sounds, 1))


def _cost_of(word: Word) -> float:
    return _COSTS.get(word.kind, _COST)


def _model() -> tuple[Callable[[Samples], NDArray[np.float32]], list[str], list[int]]:
    model = import_module("hama").ASRModel()
    tokens: list[str] = model.decoder_tokens

    def scored(samples: Samples) -> NDArray[np.float32]:
        wave = samples.astype(np.float32).reshape(1, -1) / 32768
        feeds = {"waveform": wave, "waveform_lengths": np.array([wave.shape[1]])}
        scores, lengths = model.session.run(["log_probs", "out_lengths"], feeds)
        frames: NDArray[np.float32] = scores[0, : int(lengths[0])]
        return frames

    return scored, tokens, [tokens.index(each) for each in ("<blank>", "<wb>", " ")]
