"""A recogniser of handwriting that the user supplies: a folder with a network and its alphabet.

The folder holds `model.onnx` and `alphabet.txt`, and may hold `model.json`:

`alphabet.txt`
    UTF-8, one character a line, in the order of the network's columns after the blank; a line with one space (or
    an empty last line) is the space.
`model.json`
    `{"height": 48, "stretch": 1.0, "colours": 3, "blank": 0, "scaled": "-1..1", "probabilities": true}`; these are
    the values where a key is missing. `scaled` may be `"0..1"`; `probabilities` is false where the network gives
    logits; `blank` is 0 or −1 (last).

The network takes (1, colours, height, width) float32, red first, and gives (1, columns, characters + 1) or
(columns, 1, characters + 1): a line recogniser trained by connectionist temporal classification. It is run by ONNX
Runtime on this computer, never fetched, and its readings are suggestions like all others.
"""

from __future__ import annotations

import importlib.util
import json
from collections.abc import Sequence
from pathlib import Path

import numpy as np
from attrs import Factory, frozen
from numpy.typing import NDArray

from solander.core.errors import CannotBegin
from solander.core.sentence import Sentence
from solander.reading.inscriptions.engine import decoded, fitted
from solander.reading.inscriptions.networks import Network
from solander.reading.inscriptions.reader import LineRead, Rgb

__all__ = ["HandwritingReader", "handwriting_reader"]

Floats = NDArray[np.float32]


@frozen
class _Form:
    """How the network wants its lines, and gives its answer."""

    height: int = 48
    stretch: float = 1.0
    colours: int = 3
    blank: int = 0
    scaled: str = "-1..1"
    probabilities: bool = True


@frozen
class HandwritingReader:
    """Reads lines by a network of the user's."""

    network: Network
    alphabet: tuple[str, ...]
    form: _Form = Factory(_Form)

    def read(self, lines: Sequence[Rgb]) -> list[LineRead]:
        """What each upright line says."""
        return [self._one(line) for line in lines]

    def _one(self, line: Rgb) -> LineRead:
        likely = self.network(self._input(fitted(line, height=self.form.height, stretch=self.form.stretch)))
        likely = likely[:, 0] if likely.shape[0] != 1 else likely[0]
        if likely.shape[1] != len(self.alphabet) + 1:
            raise CannotBegin(
                Sentence("Handwriting can't be read by this model"),
                Sentence(
                    "it tells %(columns)s characters apart and alphabet.txt has %(letters)s",
                    columns=likely.shape[1] - 1,
                    letters=len(self.alphabet),
                ),
                Sentence("Put the alphabet into the folder that the model was trained with"),
            )
        likely = likely if self.form.probabilities else _softmax(likely)
        blank_first = np.roll(likely, 1, axis=1) if self.form.blank else likely
        return decoded(blank_first, ("", *self.alphabet))

    def _input(self, line: Rgb) -> Floats:
        grey = line.mean(axis=2, keepdims=True) if self.form.colours == 1 else line
        scaled = grey.astype(np.float32) / (255 if self.form.scaled == "0..1" else 127.5)
        scaled = scaled if self.form.scaled == "0..1" else scaled - 1
        return np.ascontiguousarray(scaled.transpose(2, 0, 1)[None], np.float32)


def _softmax(logits: Floats) -> Floats:
    raised = np.exp(logits - logits.max(axis=1, keepdims=True))
    return np.asarray(raised / raised.sum(axis=1, keepdims=True), np.float32)


def handwriting_reader(folder: Path, *, threads: int = 1) -> HandwritingReader:
    """The recogniser in a folder.

    Raises
    ------
    CannotBegin
        When a file of it is missing or can't be used, or ONNX Runtime isn't installed.
    """
    if importlib.util.find_spec("onnxruntime") is None:
        raise _refusal(
            Sentence("ONNX Runtime is not installed"), Sentence('Install it with: pip install "solander[ocr]"')
        )
    for name in ("model.onnx", "alphabet.txt"):
        if not (folder / name).is_file():
            raise _refusal(
                Sentence("there is no %(name)s in %(folder)s", name=name, folder=folder),
                Sentence("Name the folder that holds both model.onnx and alphabet.txt"),
            )
    network = Network(folder / "model.onnx", threads=threads)
    return HandwritingReader(network, _alphabet(folder / "alphabet.txt"), _form(folder / "model.json"))


def _alphabet(path: Path) -> tuple[str, ...]:
    try:
        lines = path.read_text(encoding="utf-8-sig").split("\n")
    except UnicodeDecodeError as error:
        raise _refusal(
            Sentence("alphabet.txt is not UTF-8"),
            Sentence("See docs/reading-backs.md for what it may say"),
        ) from error
    return tuple(
        line.rstrip("\r") or " " for line in (lines[:-1] if lines[-1] == "" and len(lines) > 1 else lines)
    )


def _form(path: Path) -> _Form:
    if not path.is_file():
        return _Form()
    try:
        told = json.loads(path.read_text(encoding="utf-8"))
        return _Form(**told)
    except (ValueError, TypeError) as error:
        raise _refusal(
            Sentence("model.json is not as it must be"),
            Sentence("See docs/reading-backs.md for what it may say"),
        ) from error


def _refusal(why: str, todo: str) -> CannotBegin:
    return CannotBegin(Sentence("The recogniser of handwriting can't be used"), why, todo)
