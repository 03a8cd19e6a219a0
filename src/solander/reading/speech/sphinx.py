"""The base recogniser: pocketsphinx with a grammar, and how much better it fits than any sounds at all."""

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

__all__ = ["Guess", "Sphinx", "english_model"]

_SCALE = 1024
"""Scores of sounds are kept in steps of 2¹⁰ of the logarithms of the engine (SENSCR_SHIFT of its source)."""

_CHANCES = {Kind.DATE: 0.2, Kind.CONTAINER: 0.2}
_CHANCE = 0.02
"""How likely each word is where it may stand. Were it 1, rows of short words would fit any sound so well that what
was said is given up on the way; numbers are short by nature (set on the sentences for tuning)."""

_SEARCH = {"bestpath": False, "compallsen": True, "beam": 1e-60, "wbeam": 1e-40, "pbeam": 1e-60}
"""How much worse than the best a way may be and is still followed: wider than usual, as loops of names need it,
and no wider, since the time grows (set on the sentences for tuning)."""

_SILENCE = ("<sil>", "SIL", "(NULL)")

Samples = NDArray[np.int16]


@frozen
class Guess:
    """What was heard: words of the grammar, and by how much worse they fit than the best row of sounds without a
    grammar, in natural logarithms a frame; mostly below 0."""

    words: tuple[Word, ...]
    margin: float


def english_model() -> Path:
    """The folder of the model that comes with the engine: American English."""
    return Path(pocketsphinx.get_model_path()) / "en-us"


class Sphinx:
    """Hears what a grammar allows."""

    def __init__(self, rule: Rule, model: Path) -> None:
        self._words = {word.name: word for word in words_of_rule(rule)}
        with tempfile.TemporaryDirectory() as folder:
            dictionary = Path(folder) / "words.dict"
            dictionary.write_text("\n".join(_entries(self._words.values())) + "\n", encoding="utf-8")
            self._decoder = pocketsphinx.Decoder(
                hmm=str(model / "en-us"), dict=str(dictionary), lm=None, loglevel="FATAL", **_SEARCH
            )
        self._free = 0.0
        """How well the best row of sounds fits what was heard last."""
        self._add("grammar", rule)
        self._decoder.add_allphone_file("sounds", str(model / "en-us-phone.lm.bin"))

    def hear(self, samples: Samples) -> Guess | None:
        """The words that fit best; None where none do."""
        self._decoder.activate_search("grammar")
        words, score, frames = self._best(samples)
        self._decoder.activate_search("sounds")
        _, self._free, _ = self._best(samples)
        return Guess(words, (score - self._free) / max(frames, 1)) if words else None

    def hear_one_of(self, rule: Rule, samples: Samples) -> Guess | None:
        """The words of a part of the grammar that fit best what was heard last."""
        self._add("part", rule)
        self._decoder.activate_search("part")
        words, score, frames = self._best(samples)
        return Guess(words, (score - self._free) / max(frames, 1)) if words else None

    def _add(self, name: str, rule: Rule) -> None:
        """A search over a rule."""
        with tempfile.TemporaryDirectory() as folder:
            file = Path(folder) / "network.fsg"
            file.write_text("\n".join(_network(name, Drawing.of(rule))) + "\n", encoding="ascii")
            self._decoder.add_fsg(name, self._decoder.read_fsg(str(file)))

    def _best(self, samples: Samples) -> tuple[tuple[Word, ...], float, int]:
        decoder = self._decoder
        decoder.start_utt()
        decoder.process_raw(samples.tobytes(), False, True)
        decoder.end_utt()
        if decoder.hyp() is None:
            return (), 0.0, 0
        segments = [each for each in decoder.seg() if each.end_frame >= 0]
        score = sum(log(each.ascore) for each in segments) * _SCALE
        spoken = [each for each in segments if each.word not in _SILENCE]
        frames = sum(each.end_frame - each.start_frame + 1 for each in spoken)
        names = (each.word.partition("(")[0] for each in spoken)
        return tuple(self._words[name] for name in names if name in self._words), score, frames


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
