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

from solander.core.errors import CannotBegin, NotFound, Trouble
from solander.core.prints import Corners, Outline, Side, View
from solander.core.sentence import Sentence
from solander.core.stand_profile import StandProfile
from solander.core.upright import Upright, turn_by_faces
from solander.imaging.album import locate_on_page
from solander.imaging.compare import fingerprint
from solander.imaging.conventions import Quad, whole_frame
from solander.imaging.decode import FileFacts, Unreadable, decode, probe
from solander.imaging.encode import encode_jpeg, thumbnail
from solander.imaging.locate import Found, locate_prints
from solander.imaging.points import points_of
from solander.imaging.rectify import paper_mm, quarter_turn, straight_size, straighten
from solander.reading.faces import LONG_SIDE, turn_votes
from solander.tasks.condition import condition_of
from solander.tasks.stand import Stage, empty_stage, lens_of, plane_of, stand_for
from solander.tasks.stand_light import in_true_light, lit

__all__ = [
    "Job",
    "Prepared",
    "corners_of",
    "cut_out",
    "laid_straight",
    "points_path",
    "prepare",
    "read_picture",
    "remake_view",
    "set_aside",
    "view_paths",
    "write_shown",
    "write_whole",
]

Rgb = NDArray[np.uint8]


@frozen
class Job:
    """One capture to prepare: its file, its name for messages, its checksum, the side that it shows, the model
    that finds faces, where it is set up, what is known of the stage, the camera's lens (k1, k2) where the stage
    doesn't tell it, whether it shows the page of an album, and the light of the stand that it was taken at."""

    path: Path
    name: str
    sha256: str
    side: Side
    views_root: Path
    face_model: Path | None = None
    stage: Stage | None = None
    lens: tuple[float, float] | None = None
    album_page: bool = False
    profile: StandProfile | None = None

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
        if job.album_page and facts.pages > 1:
            raise Unreadable(
                Sentence("it holds %(pages)s pictures, and one is a page of the album", pages=facts.pages),
                Sentence("Save each as a file"),
            )
        views = [view for page in range(facts.pages) for view in _views_of_page(job, facts, page)]
    except Unreadable as reason:
        raise set_aside(job.name, reason) from reason
    return Prepared(facts, tuple(views))


def set_aside(name: str, reason: Unreadable) -> Trouble:
    """The sentence for a file that can't be taken in."""
    return Trouble(Sentence("%(name)s was set aside", name=name), reason.why, reason.todo)


def read_picture(path: Path) -> Rgb:
    """The picture in a file that a person names, upright as the file says; a Trouble tells what hinders it."""
    if not path.is_file():
        raise NotFound(
            Sentence("%(path)s could not be read", path=path),
            Sentence("there is no such file"),
            Sentence("Check the name"),
        )
    try:
        return decode(path)
    except Unreadable as reason:
        raise set_aside(str(path), reason) from reason


def remake_view(capture: Path, view: View, views_root: Path) -> None:
    """Writes a view and its small picture again from the capture, as at first."""
    straight = laid_straight(decode(capture, view.page), view)
    _write_view(views_root, view, straight, thumbnail(straight))


def view_paths(views_root: Path, key: str) -> tuple[Path, Path]:
    """The files of a view: the picture and the small picture."""
    folder = views_root / key[:2]
    return folder / f"{key}.jpg", folder / f"{key}.small.jpg"


def points_path(views_root: Path, key: str) -> Path:
    """The file of the points by which a front is known again (`imaging.points`)."""
    return views_root / key[:2] / f"{key}.points"


def _views_of_page(job: Job, facts: FileFacts, page: int) -> Iterator[View]:
    rgb = decode(job.path, page)
    stand = lit(stand_for(job.stage, facts, job.lens), job.profile, facts)
    for found in _found_in(job, facts, rgb) or (_whole_frame(rgb),):
        second = None if found.second is None else corners_of(found.second)
        bows = None if facts.dpi else found.bows  # under a scanner's lid paper lies flat: its cut is what bows
        outline = Outline(corners_of(found.corners), found.confidence, second=second, bows=bows)
        view = View(job.sha256, page, outline, job.side, width=0, height=0, ppi=facts.dpi, stand=stand)
        yield cut_out(rgb, view, job.views_root, hand=found.hand, face_model=job.face_model)


def _found_in(job: Job, facts: FileFacts, rgb: Rgb) -> tuple[Found, ...]:
    """The prints that a capture shows; a detail shows a piece of one, and is taken whole."""
    if job.side is Side.DETAIL:
        return (evolve(_whole_frame(rgb), confidence=1.0),)
    if job.album_page:
        return locate_on_page(rgb)
    return locate_prints(rgb, empty_stage=empty_stage(job.stage, facts, rgb))


def cut_out(rgb: Rgb, view: View, views_root: Path, *, hand: bool = False, face_model: Path | None = None) -> View:
    """The view with the size and the condition that its outline gives in `rgb`, written below `views_root`.

    Its side stays, its scale unless its stand tells it, and its turn unless faces tell a first one; `hand` tells
    that a hand reaches over its edge.
    """
    size, ppi = _size_and_scale(view, (rgb.shape[1], rgb.shape[0]))
    straight = laid_straight(rgb, view, size)
    small = thumbnail(straight)
    turn, upright = _turn(view, straight, face_model)
    code = fingerprint(quarter_turn(small, turn))  # of 32 × 32 pixels in the end: the small one gives them sooner
    condition = condition_of(straight, rgb, evolve(view, ppi=ppi), code, hand=hand)
    lying = evolve(view, turn=0, width=size[0], height=size[1], ppi=ppi, condition=condition)
    cut = lying.turned(turn, upright)
    _write_view(views_root, cut, straight, small)
    return cut


def laid_straight(rgb: Rgb, view: View, size: tuple[int, int] | None = None) -> Rgb:
    """The view's pixels as the print lay: from the view's own record alone, so that they can be made again."""
    straight = straighten(
        rgb,
        view.outline.corners,
        size=size or view.laid_size,
        lens=lens_of(view.stand),
        bows=view.outline.bows,
        focal=view.stand.focal if view.stand else None,
    )
    return in_true_light(straight, view, (rgb.shape[1], rgb.shape[0]))


def _size_and_scale(view: View, frame: tuple[int, int]) -> tuple[tuple[int, int], float | None]:
    """Pixels of the view as the print lies, and pixels per inch on the paper where stage or file tell them."""
    corners, bows, plane = view.outline.corners, view.outline.bows, plane_of(view.stand, frame)
    focal = view.stand.focal if view.stand else None
    size = straight_size(corners, frame=frame, lens=lens_of(view.stand), bows=bows, focal=focal, plane=plane)
    if plane is None:
        return size, view.ppi
    paper = paper_mm(corners, plane, bows=bows, focal=focal)
    return size, round(25.4 * (size[0] * size[1] / (paper[0] * paper[1])) ** 0.5, 2)


def _turn(view: View, straight: Rgb, face_model: Path | None) -> tuple[int, Upright | None]:
    """The turn of a view and what tells it: faces, for a front that nothing has told before."""
    if face_model is not None and view.upright is None and view.side is Side.RECTO:
        turn = turn_by_faces(turn_votes(thumbnail(straight, LONG_SIDE), face_model))
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


def _write_view(views_root: Path, view: View, straight: Rgb, small: Rgb) -> None:
    large_path, small_path = view_paths(views_root, view.key)
    try:
        large_path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(large_path, encode_jpeg(quarter_turn(straight, view.turn), dpi=view.ppi))
        turned = quarter_turn(small, view.turn)
        write_whole(small_path, encode_jpeg(turned, quality=85))
        if view.side is Side.RECTO:
            write_whole(points_path(views_root, view.key), points_of(turned).to_bytes())
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        todo = Sentence("Make room on that disk or check that you may write there, then run the same again")
        raise CannotBegin(
            Sentence("No view can be written in %(views_root)s", views_root=views_root), why, todo
        ) from error


def write_shown(path: Path, rgb: Rgb, *, what: str) -> None:
    """Writes the JPEG that a page of the workbench shows of a capture.

    Raises
    ------
    CannotBegin
        When it can't be written; `what` names in the sentence what can't be shown.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, encode_jpeg(rgb, quality=85))
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        raise CannotBegin(
            Sentence("%(what)s can't be shown", what=what), why, Sentence("Make room on that disk")
        ) from error


def write_whole(path: Path, content: bytes) -> None:
    """A file that is either all there or not there, also when the power goes."""
    descriptor, arriving = tempfile.mkstemp(dir=path.parent, suffix=".part")
    with os.fdopen(descriptor, "wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
    Path(arriving).replace(path)
