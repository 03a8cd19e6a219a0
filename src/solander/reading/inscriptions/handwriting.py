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
from typing import Any

import numpy as np
from attrs import Factory, field, frozen, validators
from numpy.typing import NDArray

from solander.core.errors import CannotBegin
from solander.core.sentence import Sentence
from solander.reading.inscriptions.engine import decoded, fitted
from solander.reading.inscriptions.networks import Network
from solander.reading.inscriptions.reader import LineRead, Rgb

__all__ = ["HandwritingReader", "handwriting_reader"]

Floats = NDArray[np.float32]


def _whole(least: int, most: int) -> Any:
    return [_of_kind(int), validators.ge(least), validators.le(most)]


def _of_kind(kind: type) -> Any:
    def check(_: object, __: object, value: object) -> None:
        if type(value) is not kind:  # true and false are whole numbers, too, for Python
            raise TypeError(value)

    return check


def _as_number(value: object) -> object:
    return float(value) if type(value) is int else value


@frozen
class _Form:
    """How the network wants its lines, and gives its answer."""

    height: int = field(default=48, validator=_whole(8, 512))
    stretch: float = field(
        default=1.0, converter=_as_number, validator=[_of_kind(float), validators.ge(0.1), validators.le(10.0)]
    )
    colours: int = field(default=3, validator=[_of_kind(int), validators.in_((1, 3))])
    blank: int = field(default=0, validator=[_of_kind(int), validators.in_((0, -1))])
    scaled: str = field(default="-1..1", validator=validators.in_(("-1..1", "0..1")))
    probabilities: bool = field(default=True, validator=_of_kind(bool))


_MAY_BE = {
    "height": Sentence("a whole number of pixels from 8 to 512"),
    "stretch": Sentence("a number from 0.1 to 10"),
    "colours": Sentence("1 or 3"),
    "blank": Sentence("0 (first) or -1 (last)"),
    "scaled": Sentence("“-1..1” or “0..1”"),
    "probabilities": Sentence("true or false"),
}
"""What each key of model.json may say."""


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
        likely = self._columns(self._input(fitted(line, height=self.form.height, stretch=self.form.stretch)))
        likely = likely if self.form.probabilities else _softmax(likely)
        if not np.isfinite(likely).all():  # it broke down on this line: nothing was read there
            return LineRead((), 0.0)
        if likely.min() < -_ROUNDING or likely.max() > 1 + _ROUNDING:
            raise _not_by_this(
                Sentence("it gives no probabilities"), Sentence("Write “probabilities”: false into its model.json")
            )
        blank_first = np.roll(likely, 1, axis=1) if self.form.blank else likely
        return decoded(blank_first, ("", *self.alphabet))

    def _columns(self, batch: Floats) -> Floats:
        """What the network gives, (columns, characters + 1)."""
        try:
            likely = self.network(batch)
        except Exception as error:  # the runtime's own errors have no common kind
            raise _not_by_this(Sentence("it does not take lines of the form in its model.json"), _SEE) from error
        if likely.ndim != _AXES or 1 not in likely.shape[:2]:
            raise _not_by_this(Sentence("it does not give what a recogniser of lines gives"), _SEE)
        likely = likely[:, 0] if likely.shape[0] != 1 else likely[0]
        if likely.shape[1] != len(self.alphabet) + 1:
            raise _not_by_this(
                Sentence(
                    "it tells %(columns)s characters apart and alphabet.txt has %(letters)s",
                    columns=likely.shape[1] - 1,
                    letters=len(self.alphabet),
                ),
                Sentence("Put the alphabet into the folder that the model was trained with"),
            )
        return likely

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
            _SEE,
        ) from error
    return tuple(
        line.rstrip("\r") or " " for line in (lines[:-1] if lines[-1] == "" and len(lines) > 1 else lines)
    )


def _form(path: Path) -> _Form:
    if not path.is_file():
        return _Form()
    try:
        told = json.loads(path.read_text(encoding="utf-8-sig"))
    except (ValueError, RecursionError) as error:
        raise _refusal(Sentence("model.json is no JSON in UTF-8"), _SEE) from error
    if not isinstance(told, dict):
        raise _refusal(Sentence("model.json holds no keys with values in { }"), _SEE)
    for key, value in told.items():
        _check(key, value)
    return _Form(**told)


def _check(key: str, value: Any) -> None:
    if key not in _MAY_BE:
        known = ", ".join(_MAY_BE)
        raise _refusal(
            Sentence("model.json says “%(key)s”, which means nothing here", key=key),
            Sentence("It may say: %(known)s", known=known),
        )
    try:
        _Form(**{key: value})
    except (ValueError, TypeError) as error:
        raise _refusal(
            Sentence("model.json says %(value)s for “%(key)s”", value=json.dumps(value)[:_SHORT], key=key),
            Sentence("Give %(may_be)s", may_be=_MAY_BE[key]),
        ) from error


_SHORT = 40
_AXES = 3
_ROUNDING = 0.01
"""So far beyond 0 and 1 may a probability lie that was worked out in 16 bits."""

_SEE = Sentence("See docs/reading-backs.md for what it may say")


def _not_by_this(why: str, todo: str) -> CannotBegin:
    return CannotBegin(Sentence("Handwriting can't be read by this model"), why, todo)


def _refusal(why: str, todo: str) -> CannotBegin:
    return CannotBegin(Sentence("The recogniser of handwriting can't be used"), why, todo)
