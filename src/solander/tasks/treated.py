"""The picture of a view as it is treated: made from the untreated one when it is asked for, and kept beside it.

A treated picture is named by the key of its view and the key of its treatment, so that it is never another one's
and can be deleted at any time. Capture and untreated view are only read.
"""

from __future__ import annotations

from pathlib import Path

from solander.core.errors import CannotBegin, Trouble
from solander.core.prints import View
from solander.core.sentence import Sentence
from solander.core.treatment_size import treated_ppi
from solander.core.treatments import Treatment
from solander.imaging.conventions import Rgb, WrongPicture
from solander.imaging.decode import Unreadable, decode
from solander.imaging.encode import encode_jpeg, thumbnail
from solander.imaging.treatment.treat import Treated, treat
from solander.tasks.collection import Collection
from solander.tasks.pictures_named import pictures_named
from solander.tasks.prepare import remake_view, view_paths, write_whole

__all__ = ["treated", "treated_files", "treated_paths", "untreated_paths", "untreated_pixels"]


def treated_files(views_root: Path, key: str, treatment: str) -> tuple[Path, Path]:
    """Where the picture and the small picture of a view lie, by its key and that of a treatment ("" for none)."""
    large, small = view_paths(views_root, key)
    if not treatment:
        return large, small
    return large.with_name(f"{key}.{treatment}.jpg"), large.with_name(f"{key}.{treatment}.small.jpg")


def treated_paths(collection: Collection, view: View) -> tuple[Path, Path]:
    """The files of a view as it is to be shown, the picture and the small picture, made where they are missing.

    A view of whose treatment no step is on is shown untreated.

    Raises
    ------
    Trouble
        When the capture can't be read, or a step can't be done.
    """
    paths = treated_files(collection.views_root, view.key, view.treatment.key)
    if not view.treatment.key:
        return untreated_paths(collection, view)
    if not all(path.is_file() for path in paths):
        _write(paths, view, treated(collection, view, view.treatment))
    return paths


def untreated_paths(collection: Collection, view: View) -> tuple[Path, Path]:
    """The files of a view as it was captured, made where they are missing.

    Raises
    ------
    Trouble
        When the capture can't be read.
    """
    paths = view_paths(collection.views_root, view.key)
    if not all(path.is_file() for path in paths):
        try:
            remake_view(collection.vault.path(view.capture), view, collection.views_root)
        except Unreadable as reason:
            raise Trouble(
                Sentence("A view can't be made again from its capture"), reason.why, reason.todo
            ) from reason
    return paths


def untreated_pixels(collection: Collection, view: View) -> Rgb:
    """The pixels of a view as it was captured."""
    return decode(untreated_paths(collection, view)[0])


def treated(collection: Collection, view: View, treatment: Treatment) -> Treated:
    """The view with a treatment, whether or not it is its own; nothing is written.

    Raises
    ------
    Trouble
        When the capture can't be read, or a step can't be done.
    """
    others = pictures_named(collection, view, treatment.applied)
    try:
        return treat(untreated_pixels(collection, view), treatment.applied, others=others)
    except WrongPicture as reason:
        raise Trouble(
            Sentence("A treatment can't be done"), str(reason), Sentence("Change or withdraw its last step")
        ) from reason


def _write(paths: tuple[Path, Path], view: View, done: Treated) -> None:
    try:
        paths[0].parent.mkdir(parents=True, exist_ok=True)
        write_whole(paths[0], encode_jpeg(done.picture, dpi=_ppi(view)))
        write_whole(paths[1], encode_jpeg(thumbnail(done.picture), quality=85))
    except OSError as error:
        raise CannotBegin(
            Sentence("No view can be written in %(views_root)s", views_root=paths[0].parent.parent),
            (error.strerror or str(error)).lower(),
            Sentence("Make room on that disk or check that you may write there, then run the same again"),
        ) from error


def _ppi(view: View) -> float | None:
    return treated_ppi(view.treatment, (view.width, view.height), view.ppi) if view.ppi else None
