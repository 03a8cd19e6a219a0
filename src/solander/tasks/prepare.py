"""From a capture to its views: decode, find the outlines, straighten, measure, write what can be made again.

This is the work that runs in batches: a job names files, never carries pixels; the answer is small; writing a
view twice writes the same file.
"""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from attrs import evolve, frozen
from numpy.typing import NDArray

from solander.core.errors import CannotBegin, Trouble
from solander.core.prints import Condition, Corners, Outline, Side, View
from solander.core.upright import Upright, turn_by_faces
from solander.imaging.compare import fingerprint
from solander.imaging.conventions import Quad, whole_frame
from solander.imaging.decode import FileFacts, Unreadable, decode, probe
from solander.imaging.encode import encode_jpeg, thumbnail
from solander.imaging.locate import Found, locate_prints
from solander.imaging.measure import edge_rise, faults, measure_view
from solander.imaging.rectify import quarter_turn, straighten
from solander.reading.faces import turn_votes

__all__ = [
    "Job",
    "Prepared",
    "corners_of",
    "cut_out",
    "prepare",
    "remake_view",
    "set_aside",
    "view_paths",
    "write_whole",
]

Rgb = NDArray[np.uint8]


@frozen
class Job:
    """One capture to prepare: its file, its name for messages, its checksum, the side that it shows, and the model
    that finds faces, where it is set up."""

    path: Path
    name: str
    sha256: str
    side: Side
    views_root: Path
    face_model: Path | None = None

    def __str__(self) -> str:
        return self.name


@frozen
class Prepared:
    """What the file says of itself, and the views found in it, page by page in reading order."""

    facts: FileFacts
    views: tuple[View, ...]


def prepare(job: Job) -> Prepared:
    """The views of a capture, each written below `views_root` with its small picture.

    Raises
    ------
    Trouble
        When the file can't be read; the sentence says what, why and what to do.
    """
    try:
        facts = probe(job.path)
        views = [view for page in range(facts.pages) for view in _views_of_page(job, facts, page)]
    except Unreadable as reason:
        raise set_aside(job.name, reason) from reason
    return Prepared(facts, tuple(views))


def set_aside(name: str, reason: Unreadable) -> Trouble:
    """The sentence for a file that can't be taken in."""
    return Trouble(f"{name} was set aside", reason.why, reason.todo)


def remake_view(capture: Path, view: View, views_root: Path) -> None:
    """Writes a view and its small picture again from the capture, as at first."""
    straight = straighten(decode(capture, view.page), np.array(view.outline.corners))
    _write_view(views_root, view, straight, thumbnail(straight))


def view_paths(views_root: Path, key: str) -> tuple[Path, Path]:
    """The files of a view: the picture and the small picture."""
    folder = views_root / key[:2]
    return folder / f"{key}.jpg", folder / f"{key}.small.jpg"


def _views_of_page(job: Job, facts: FileFacts, page: int) -> Iterator[View]:
    rgb = decode(job.path, page)
    for found in locate_prints(rgb) or (_whole_frame(rgb),):
        second = None if found.second is None else corners_of(found.second)
        outline = Outline(corners_of(found.corners), found.confidence, second=second)
        view = View(job.sha256, page, outline, job.side, width=0, height=0, ppi=facts.dpi)
        yield cut_out(rgb, view, job.views_root, hand=found.hand, face_model=job.face_model)


def cut_out(rgb: Rgb, view: View, views_root: Path, *, hand: bool = False, face_model: Path | None = None) -> View:
    """The view with the size and the condition that its outline gives in `rgb`, written below `views_root`.

    Its side and scale stay, and its turn unless faces tell a first one; `hand` tells that a hand reaches over its
    edge.
    """
    straight = straighten(rgb, np.array(view.outline.corners))
    small = thumbnail(straight)
    turn, upright = _turn(view, straight, face_model)
    condition = _condition(rgb, straight, quarter_turn(small, turn), view.outline, hand=hand)
    lying = evolve(view, turn=0, width=straight.shape[1], height=straight.shape[0], condition=condition)
    cut = lying.turned(turn, upright)
    _write_view(views_root, cut, straight, small)
    return cut


def _turn(view: View, straight: Rgb, face_model: Path | None) -> tuple[int, Upright | None]:
    """The turn of a view and what tells it: faces, for a front that nothing has told before."""
    if face_model is not None and view.upright is None and view.side is Side.RECTO:
        turn = turn_by_faces(turn_votes(straight, face_model))
        if turn is not None:
            return turn, Upright.FACES
    return view.turn, view.upright


def _whole_frame(rgb: Rgb) -> Found:
    """A capture without a find is a print whose outline is not yet checked."""
    height, width = rgb.shape[:2]
    return Found(whole_frame(width, height), 0.0)


def corners_of(quad: Quad) -> Corners:
    """The corners of an array (4, 2) as the catalogue keeps them."""
    top_left, top_right, bottom_right, bottom_left = ((float(x), float(y)) for x, y in quad)
    return top_left, top_right, bottom_right, bottom_left


def _condition(rgb: Rgb, straight: Rgb, small: Rgb, outline: Outline, *, hand: bool) -> Condition:
    measured = measure_view(straight)
    return Condition(
        sharpness=measured.sharpness,
        clipped_dark=measured.clipped_dark,
        clipped_light=measured.clipped_light,
        fingerprint=fingerprint(small),  # of 32 × 32 pixels in the end: the small picture gives them sooner
        faults=faults(measured, edge_rise(rgb, outline.corners), hand=hand),
    )


def _write_view(views_root: Path, view: View, straight: Rgb, small: Rgb) -> None:
    large_path, small_path = view_paths(views_root, view.key)
    try:
        large_path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(large_path, encode_jpeg(quarter_turn(straight, view.turn), dpi=view.ppi))
        write_whole(small_path, encode_jpeg(quarter_turn(small, view.turn), quality=85))
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        todo = "Make room on that disk or check that you may write there, then run the same again"
        raise CannotBegin(f"No view can be written in {views_root}", why, todo) from error


def write_whole(path: Path, content: bytes) -> None:
    """A file that is either all there or not there, also when the power goes."""
    descriptor, arriving = tempfile.mkstemp(dir=path.parent, suffix=".part")
    with os.fdopen(descriptor, "wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
    Path(arriving).replace(path)
