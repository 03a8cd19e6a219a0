"""The search for the best way through a grammar by the scores of sounds in time.

The scores are those of a recogniser that was trained with a blank between sounds (connectionist temporal
classification: Graves and others, ICML 2006): each sound of a way lasts for one or more frames, and blanks may
stand between two sounds, and must where both are the same. Every way is followed to its end: nothing is pruned.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import numpy as np
from attrs import define, frozen
from numpy.typing import NDArray

from solander.reading.speech.drawing import Drawing
from solander.reading.speech.grammar import Rule, Word

__all__ = ["Network", "Way"]

Scores = NDArray[np.float32]
Places = NDArray[np.intp]

_NEVER = np.float32(-1e30)
_START, _END = 0, 1
_NO_ARC = -1


@frozen
class Way:
    """The best way through a network: its words, and the sum of its scores."""

    words: tuple[Word, ...]
    score: float


class Network:
    """All ways of a grammar through the sounds `labels`: the columns in the scores for each phone.

    A node is one sound of one way to say one word; the nodes of a word stand one after the other. `cost` is what
    is taken off for a word, so that one long word goes before several short ones.
    """

    def __init__(self, rule: Rule, labels: Mapping[str, int], cost: Callable[[Word], float]) -> None:
        drawing = Drawing.of(rule)
        said = [(source, target, word, way) for source, target, word in drawing.arcs for way in word.ways]
        said.sort(key=lambda arc: arc[1])  # by the state they end in, so that the best of each is one pass
        lengths = np.array([len(way) for *_, way in said])
        self._words: Sequence[Word] = [word for _, _, word, _ in said]
        self._from = np.array([source for source, *_ in said], np.intp)
        self._label: Places = np.array([labels[phone] for *_, way in said for phone in way], np.intp)
        self._last: Places = np.cumsum(lengths) - 1
        self._first: Places = self._last - lengths + 1
        self._same = np.concatenate(([False], self._label[1:] == self._label[:-1]))
        self._targets, self._begin = np.unique([target for _, target, *_ in said], return_index=True)
        self._counts = np.diff(np.append(self._begin, len(said)))
        self._reached = [np.array(each, np.intp) for each in drawing.reached_from()]
        self._flat = np.concatenate(self._reached)
        self._bounds = np.cumsum([0, *(len(each) for each in self._reached[:-1])])
        self._cost = np.array([cost(word) for word in self._words], np.float32)

    def search(self, scores: Scores, blank: Scores) -> Way | None:
        """The best way from start to end; `scores` (frames, labels) and `blank` (frames) are natural
        logarithms."""
        run = _Run.of(len(self._label), len(scores), len(self._reached))
        silence = np.float32(0)
        run.score[0, _START] = 0
        for frame in range(len(scores)):
            open_ = np.maximum.reduceat(run.score[frame][self._flat], self._bounds)
            self._step(run, frame, open_, scores[frame][self._label], blank[frame])
            self._arrive(run, frame + 1)
            silence += blank[frame]
            if silence > run.score[frame + 1, _START]:
                run.score[frame + 1, _START], run.arc[frame + 1, _START] = silence, _NO_ARC
        return self._traced(run, len(scores))

    def _step(self, run: _Run, frame: int, open_: Scores, heard: Scores, blank: np.float32) -> None:
        """One frame further in every node."""
        resting = run.rest >= run.sound
        best = np.where(resting, run.rest, run.sound)
        since = np.where(resting, run.rest_since, run.since)
        enter, enter_since = np.empty_like(best), np.empty_like(since)
        enter[1:] = np.where(self._same[1:], run.rest[:-1], best[:-1])
        enter_since[1:] = np.where(self._same[1:], run.rest_since[:-1], since[:-1])
        enter[self._first] = open_[self._from] - self._cost
        enter_since[self._first] = frame
        stays = run.sound >= enter
        run.rest, run.rest_since = best + blank, since
        run.sound = np.where(stays, run.sound, enter) + heard
        run.since = np.where(stays, run.since, enter_since)

    def _arrive(self, run: _Run, frame: int) -> None:
        """The best word that ends in each state now."""
        sound, rest = run.sound[self._last], run.rest[self._last]
        score = np.maximum(sound, rest)
        best = np.maximum.reduceat(score, self._begin)
        winners = np.flatnonzero(score == np.repeat(best, self._counts))[::-1]
        states = np.repeat(self._targets, self._counts)[winners]
        run.score[frame, self._targets] = best
        run.arc[frame, states] = winners
        begun = np.where(rest >= sound, run.rest_since[self._last], run.since[self._last])
        run.began[frame, states] = begun[winners]

    def _traced(self, run: _Run, frame: int) -> Way | None:
        words: list[Word] = []
        state = self._best_before(run, frame, _END)
        score = float(run.score[frame, state])
        if score <= _NEVER / 2:
            return None
        while (arc := int(run.arc[frame, state])) != _NO_ARC:
            words.append(self._words[arc])
            frame = int(run.began[frame, state])
            state = self._best_before(run, frame, int(self._from[arc]))
        return Way(tuple(reversed(words)), score)

    def _best_before(self, run: _Run, frame: int, state: int) -> int:
        before = self._reached[state]
        return int(before[np.argmax(run.score[frame, before])])


@define
class _Run:
    """One search: what is best in each node, sounding or at rest behind its sound, and in each state by frame.

    `since` are the frames in which the word of a node began, `arc` and `began` tell of the word that ended best.
    """

    sound: Scores
    rest: Scores
    since: NDArray[np.int32]
    rest_since: NDArray[np.int32]
    score: Scores
    arc: NDArray[np.int32]
    began: NDArray[np.int32]

    @classmethod
    def of(cls, nodes: int, frames: int, states: int) -> _Run:
        never, none = np.full(nodes, _NEVER, np.float32), np.zeros(nodes, np.int32)
        by_frame = (frames + 1, states)
        score = np.full(by_frame, _NEVER, np.float32)
        return cls(
            never, never, none, none, score, np.full(by_frame, _NO_ARC, np.int32), np.zeros(by_frame, np.int32)
        )
