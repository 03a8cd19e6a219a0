"""The base recogniser: pocketsphinx with a grammar, and how well the grammar fits what is heard."""

from __future__ import annotations

import tempfile
from collections.abc import Iterable, Iterator
from math import log
from pathlib import Path

import numpy as np
import pocketsphinx
from attrs import frozen
from numpy.typing import NDArray

from solander.reading.speech.drawing import Drawing
from solander.reading.speech.grammar import Kind, Rule, Word, words_of_rule
from solander.reading.speech.model import Model

__all__ = ["Guess", "Sphinx"]

_SCALE = 1024
"""Scores of sounds are kept in steps of 2¹⁰ of the logarithms of the engine (SENSCR_SHIFT of its source)."""

_CHANCES = {Kind.DATE: 0.2, Kind.CONTAINER: 0.2}
_CHANCE = 0.02
"""How likely each word is where it may stand. Were it 1, rows of short words would fit any sound so well that what
was said is given up on the way; numbers are short by nature (set on the sentences for tuning)."""

_SEARCH = {"bestpath": False, "compallsen": True, "topn": 2, "beam": 1e-60, "wbeam": 1e-40, "pbeam": 1e-60}
"""How much worse than the best a way may be and is still followed: wider than usual, as loops of names need it,
and no wider, since the time grows. All sounds are scored in every frame, as the scores are by how much each is
worse than the best of those that were scored; by two densities each instead of four, which takes a third of the
time off and hears as well (set on the sentences for tuning)."""

Samples = NDArray[np.int16]


@frozen
class Guess:
    """What was heard: words of the grammar, and by how much worse they fit than the sounds that would fit best
    frame by frame, in natural logarithms a frame; 0 or below. `weakest` is that of the word that fits worst, where
    the recogniser tells it."""

    words: tuple[Word, ...]
    margin: float
    weakest: float = 0.0


class Sphinx:
    """Hears what a grammar allows."""

    def __init__(self, rule: Rule, model: Model) -> None:
        self._words = {word.name: word for word in words_of_rule(rule)}
        with tempfile.TemporaryDirectory() as folder:
            dictionary = Path(folder) / "words.dict"
            dictionary.write_text("\n".join(_entries(self._words.values())) + "\n", encoding="utf-8")
            self._decoder = pocketsphinx.Decoder(
                hmm=str(model.sounds), dict=str(dictionary), lm=None, loglevel="FATAL", **_SEARCH
            )
        self._add("grammar", rule)

    def hear(self, samples: Samples) -> Guess | None:
        """The words that fit best; None where none do."""
        self._decoder.activate_search("grammar")
        return self._best(samples)

    def hear_one_of(self, rule: Rule, samples: Samples) -> Guess | None:
        """The words of a part of the grammar that fit best what was heard last."""
        self._add("part", rule)
        self._decoder.activate_search("part")
        return self._best(samples)

    def _add(self, name: str, rule: Rule) -> None:
        """A search over a rule."""
        with tempfile.TemporaryDirectory() as folder:
            file = Path(folder) / "network.fsg"
            file.write_text("\n".join(_network(name, Drawing.of(rule))) + "\n", encoding="ascii")
            self._decoder.add_fsg(name, self._decoder.read_fsg(str(file)))

    def _best(self, samples: Samples) -> Guess | None:
        decoder = self._decoder
        decoder.start_utt()
        decoder.process_raw(samples.tobytes(), False, True)
        decoder.end_utt()
        if decoder.hyp() is None:
            return None
        segments = [_Segment.of(each) for each in decoder.seg() if each.end_frame >= 0]
        spoken = [each for each in segments if each.name in self._words]
        if not spoken:
            return None
        margin = sum(each.score for each in segments) / sum(each.frames for each in segments)
        weakest = min(each.score / each.frames for each in spoken)
        return Guess(tuple(self._words[each.name] for each in spoken), margin, weakest)


@frozen
class _Segment:
    """A word, or silence, in what was heard: its name in the grammar, its frames (one or more), and by how much
    worse it fits there than what would fit best."""

    name: str
    frames: int
    score: float

    @classmethod
    def of(cls, told: pocketsphinx.Segment) -> _Segment:
        frames = told.end_frame - told.start_frame + 1
        return cls(told.word.partition("(")[0], max(frames, 1), log(told.ascore) * _SCALE)


def _network(name: str, drawing: Drawing) -> Iterator[str]:
    """A network in the engine's own format, which unlike its grammars may lead back to any state."""
    yield from (f"FSG_BEGIN {name}", f"NUM_STATES {drawing.states}", "START_STATE 0", "FINAL_STATE 1")
    for source, target, word in drawing.arcs:
        yield f"TRANSITION {source} {target} {_CHANCES.get(word.kind, _CHANCE)} {word.name}"
    for source, target in drawing.empty:
        yield f"TRANSITION {source} {target} 1.0"
    yield "FSG_END"


def _entries(words: Iterable[Word]) -> Iterator[str]:
    for word in words:
        for number, way in enumerate(word.ways, 1):
            yield f"{word.name if number == 1 else f'{word.name}({number})'} {' '.join(way)}"
