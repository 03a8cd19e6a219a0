"""Looks for faces in the prints of a collection that were not looked at as they are now, and groups like ones."""

from __future__ import annotations

import hashlib
from collections import defaultdict
from collections.abc import Sequence
from pathlib import Path

from attrs import frozen

from solander.catalogue.store import Act
from solander.catalogue.work import Work
from solander.core.errors import CannotBegin, Trouble
from solander.core.faces import Aside, Box, Face, Point
from solander.core.prints import View
from solander.core.sentence import Counted, Sentence
from solander.engine.local import Executor, SerialExecutor
from solander.imaging.decode import Unreadable, decode
from solander.reading.likeness import WIDE_ENOUGH
from solander.tasks.collection import Collection, Progress, Watch, unwatched
from solander.tasks.face_reader import FaceReader, FaceSeen, face_reader
from solander.tasks.face_switch import are_faces_on, refuse_without_yes
from solander.tasks.faces import NOT_SET_UP
from solander.tasks.group_faces import group_new_faces
from solander.tasks.prepare import remake_view, view_paths
from solander.vault.store import Vault

__all__ = ["FacesLooked", "face_key", "face_seen", "look_at_new_prints", "look_for_faces", "picture_of_view"]

SAME = 0.3
"""Overlap (IoU) from which a find is a face that is known already; the finder's own for what overlaps."""

_PRINTS_AT_ONCE = 100
"""Prints of which the finds are written in one go: an interrupted look goes on from there (our own choice)."""


@frozen
class FacesLooked:
    """In how many prints faces were looked for, how many new ones are kept, in how many new groups they are."""

    prints: int
    found: int
    groups: int


@frozen
class _Look:
    """A view of the collection at `root`; `unmeasured` are faces in it that have lost their measure."""

    root: Path
    accession: str
    view: View
    reader: FaceReader
    unmeasured: tuple[tuple[str, Box], ...] = ()

    def __str__(self) -> str:
        return self.accession


@frozen
class _Seen:
    faces: Sequence[FaceSeen]
    measures: dict[str, bytes]


def look_for_faces(
    collection: Collection,
    *,
    act: Act | None = None,
    reader: FaceReader | None = None,
    executor: Executor | None = None,
    watch: Watch = unwatched,
    who: str = "archivist",
) -> FacesLooked:
    """Looks at every front that was not looked at as it is now, as a part of `act` where one is given.

    What a person drew, named or put aside stays as it is, also where the print was turned or cut out anew since.

    Raises
    ------
    CannotBegin
        When the switch is off, or the model that finds faces is not set up.
    """
    refuse_without_yes(collection)
    reader = reader or face_reader()
    if reader is None:
        raise CannotBegin(*NOT_SET_UP)
    if act is not None:
        return _look_with(collection, act, reader, executor or SerialExecutor(), watch)
    with collection.catalogue.act(who, Sentence("looked for faces")) as own:
        return _look_with(collection, own, reader, executor or SerialExecutor(), watch)


def look_at_new_prints(collection: Collection, act: Act, *, executor: Executor, watch: Watch) -> str:
    """Looks for faces in what was just taken in, where a person said yes to it.

    Gives a sentence, empty where there is nothing to say.
    """
    if not are_faces_on(collection):
        return ""
    reader = face_reader()
    if reader is None:
        return Trouble(*NOT_SET_UP).sentence
    looked = _look_with(collection, act, reader, executor, watch)
    if not looked.found:
        return ""
    return Counted("%(num)s face found, for you to name.", "%(num)s faces found, for you to name.", looked.found)


def _look_with(
    collection: Collection, act: Act, reader: FaceReader, executor: Executor, watch: Watch
) -> FacesLooked:
    due, found = _due(collection, reader), 0
    looked = 0
    waiting: list[tuple[_Look, _Seen]] = []
    for done, (job, seen) in enumerate(executor.map(_look, due), start=1):
        if isinstance(seen, _Seen):  # a capture damaged since is verify's to tell
            waiting.append((job, seen))
        if len(waiting) >= _PRINTS_AT_ONCE or done == len(due):
            with act.work() as work:
                if not are_faces_on(collection):  # switched off or erased while we looked: nothing more is kept
                    return FacesLooked(looked, found, 0)
                found += sum(_keep(collection, work, job, seen) for job, seen in waiting)
                work.commit()
            waiting, looked = [], done
        watch(Progress("Looking for faces", job.accession, done, len(due)))
    with act.work() as work:
        if not are_faces_on(collection):
            return FacesLooked(looked, found, 0)
        groups = group_new_faces(work, collection.catalogue.faces(), collection.catalogue.face_measures())
        work.commit()
    return FacesLooked(len(due), found, groups)


def _due(collection: Collection, reader: FaceReader) -> list[_Look]:
    catalogue = collection.catalogue
    looked, unmeasured = catalogue.looked_at_for_faces(), _unmeasured(collection)
    fronts = [(print_.accession, print_.recto) for print_ in catalogue.prints() if print_.recto]
    jobs = [
        _Look(collection.root, accession, view, reader, _measurable(unmeasured[view.key], view))
        for accession, view in fronts
    ]
    return [job for job in jobs if job.view.key not in looked or job.unmeasured]


def _unmeasured(collection: Collection) -> defaultdict[str, list[Face]]:
    """The faces that wait and have no measure (any more), by view."""
    measured = collection.catalogue.face_measures().keys()
    found: defaultdict[str, list[Face]] = defaultdict(list)
    for face in collection.catalogue.faces():
        if face.points and face.key not in measured and face.aside in (None, Aside.LATER):
            found[face.view].append(face)
    return found


def _measurable(faces: Sequence[Face], view: View) -> tuple[tuple[str, Box], ...]:
    """Those that are wide enough to be measured, by their keys."""
    boxes = ((face.key, face.box) for face in faces)
    return tuple((key, box) for key, box in boxes if box.turned(view.turn).width * view.width >= WIDE_ENOUGH)


def _look(job: _Look) -> _Seen:
    try:
        rgb = decode(picture_of_view(job.root, job.view))
    except Unreadable as reason:
        raise Trouble(
            Sentence("No faces were looked for in %(accession)s", accession=job.accession), reason.why, reason.todo
        ) from reason
    turn, measures = job.view.turn, {}
    for key, box in job.unmeasured:
        again = job.reader.face_here(rgb, box.turned(turn))
        if again and again.measure:
            measures[key] = again.measure
    return _Seen(job.reader.faces_in(rgb), measures)


def picture_of_view(root: Path, view: View) -> Path:
    """The picture of a view, made again when it was deleted."""
    picture = view_paths(root / "views", view.key)[0]
    if not picture.is_file():
        remake_view(Vault(root).path(view.capture), view, root / "views")
    return picture


def _keep(collection: Collection, work: Work, job: _Look, seen: _Seen) -> int:
    """Enters what is new; gives how many faces are."""
    known = [face.box for face in collection.catalogue.faces(view=job.view.key)]
    work.keep_measures(seen.measures)
    work.looked_for_faces(job.view.key)
    new = 0
    for one in seen.faces:
        box = one.box.turned(-job.view.turn)
        if any(box.overlap(other) > SAME for other in known):
            continue
        known.append(box)
        face = face_seen(one, job.view)
        work.keep_face(face)
        if one.measure:
            work.keep_measures({face.key: one.measure})
        new += 1
    return new


def face_seen(seen: FaceSeen, view: View) -> Face:
    """What was seen in the picture of a view, as a face on the paper as it lay."""
    box = seen.box.turned(-view.turn)
    points = tuple(laid_point(point, view.turn) for point in seen.points)
    return Face(face_key(view, box), view.key, box, points, seen.score)


def laid_point(point: Point, turn: int) -> Point:
    """A place in a picture shown after so many quarter turns clockwise, on the paper as it lay."""
    for _ in range(-turn % 4):
        point = (1 - point[1], point[0])
    return point


def face_key(view: View, box: Box) -> str:
    """The name of a face: made from where it was first seen."""
    told = f"{view.key} {box.left:.5f} {box.top:.5f} {box.width:.5f} {box.height:.5f}"
    return hashlib.sha256(told.encode()).hexdigest()[:16]
