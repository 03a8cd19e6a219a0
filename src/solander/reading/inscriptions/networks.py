"""The two trained networks that find and read lines: PP-OCRv6 small (PaddleOCR, Apache-2.0), run by ONNX Runtime.

Both files come inside the registry's package `rapidocr`, which the extra `ocr` installs: only its files are used,
none of its code, so that threads, memory and what counts as a letter are decided here. Models are loaded once in a
process, when the first picture comes.
"""

from __future__ import annotations

import importlib
import importlib.util
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from solander.core.errors import CannotBegin
from solander.core.sentence import Sentence

__all__ = ["FINDER", "READER", "Network", "carried", "is_installed", "network"]

FINDER, READER = "PP-OCRv6_det_small.onnx", "PP-OCRv6_rec_small.onnx"

_CARRIER, _RUNTIME = "rapidocr", "onnxruntime"
Floats = NDArray[np.float32]


class Network:
    """One network, for one thread at a time; `alphabet` are the characters that it tells apart, if it says."""

    def __init__(self, path: Path, *, threads: int = 1) -> None:
        runtime = importlib.import_module(_RUNTIME)
        options = runtime.SessionOptions()
        options.intra_op_num_threads, options.inter_op_num_threads = threads, 1
        options.enable_cpu_mem_arena = False  # pictures come in all sizes, and the arena would keep the largest
        options.enable_mem_pattern = False  # a plan of memory is made for each new size, and would be kept
        options.log_severity_level = 3
        try:
            self._session: Any = runtime.InferenceSession(str(path), options, providers=["CPUExecutionProvider"])
        except Exception as error:  # the runtime's own errors have no common kind
            raise CannotBegin(
                Sentence("%(path)s could not be loaded", path=path),
                Sentence("it is no model that ONNX Runtime reads"),
                Sentence("Get it again"),
            ) from error
        self._input = self._session.get_inputs()[0].name
        self.alphabet: tuple[str, ...] = tuple(
            self._session.get_modelmeta().custom_metadata_map.get("character", "").splitlines()
        )

    def __call__(self, batch: Floats) -> Floats:
        """Its first output."""
        return np.asarray(self._session.run(None, {self._input: batch})[0], np.float32)


def is_installed() -> bool:
    """Whether the models and the program that runs them are there."""
    return importlib.util.find_spec(_RUNTIME) is not None and carried(FINDER) is not None


def carried(name: str) -> Path | None:
    """The file of a model inside the installed package; the package itself isn't imported."""
    spec = importlib.util.find_spec(_CARRIER)
    places = spec.submodule_search_locations if spec else None
    path = Path(next(iter(places))) / "models" / name if places else None
    return path if path and path.is_file() else None


@cache
def network(name: str, threads: int = 1) -> Network:
    """One a process.

    Raises
    ------
    CannotBegin
        When the extra isn't installed.
    """
    path = carried(name) if is_installed() else None
    if path is None:
        raise CannotBegin(
            Sentence("Writing can't be read"),
            Sentence("the recogniser is not installed"),
            Sentence('Install it with: pip install "solander[ocr]"'),
        )
    return Network(path, threads=threads)
