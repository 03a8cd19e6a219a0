"""Looks for faces in the prints of a collection that was taken in before the model was set up, and turns them."""

from __future__ import annotations

from pathlib import Path

from attrs import frozen

from solander.core.errors import CannotBegin, Trouble
from solander.core.prints import View
from solander.core.sentence import Sentence
from solander.core.upright import Upright, turn_by_faces
from solander.engine.local import Executor, SerialExecutor
from solander.imaging.decode import Unreadable, decode
from solander.reading.faces import turn_votes
from solander.tasks.collection import Collection, Progress, Watch, unwatched
from solander.tasks.faces import NOT_SET_UP, face_model
from solander.tasks.prepare import remake_view, view_paths
from solander.tasks.upright import turn_as_neighbours, turned_view
from solander.vault.store import Vault

__all__ = ["Looked", "turn_collection_by_faces"]


@frozen
class Looked:
    """In how many fronts faces were looked for, in how many they told which way is up, how many were turned."""

    fronts: int
    told: int
    turned: int


@frozen
class _Look:
    """A view of the collection at `root` to be looked at."""

    root: Path
    accession: str
    view: View
    model: Path

    def __str__(self) -> str:
        return self.accession


def turn_collection_by_faces(
    collection: Collection,
    *,
    executor: Executor | None = None,
    watch: Watch = unwatched,
    who: str = "archivist",
) -> Looked:
    """Turns every front as the faces in it tell, but for those that a person or faces told about before.

    Raises
    ------
    CannotBegin
        When the model is not set up.
    """
    model = face_model()
    if model is None:
        raise CannotBegin(*NOT_SET_UP)
    due = [
        _Look(collection.root, print_.accession, print_.recto, model)
        for print_ in collection.catalogue.prints()
        if print_.recto and print_.recto.upright in (None, Upright.HABIT, Upright.WRITING)
    ]
    told = turned = 0
    executor = executor or SerialExecutor()
    with collection.catalogue.act(who, Sentence("turned prints by the faces in them")) as act:
        for done, (job, turn) in enumerate(executor.map(_look, due), start=1):
            if isinstance(turn, int):
                new = turned_view(collection, job.view, turn, Upright.FACES)
                with act.work() as work:
                    work.replace_view(job.accession, job.view, new)
                    work.commit()
                told, turned = told + 1, turned + (turn != job.view.turn)
            watch(Progress("Looking for faces", job.accession, done, len(due)))
        turn_as_neighbours(collection, act, {job.accession for job in due}, executor=executor, watch=watch)
    return Looked(len(due), told, turned)


def _look(job: _Look) -> int | None:
    """The turn from how the print lay; the picture of a new one is made when it is looked at."""
    views_root = job.root / "views"
    picture = view_paths(views_root, job.view.key)[0]
    try:
        if not picture.is_file():
            remake_view(Vault(job.root).path(job.view.capture), job.view, views_root)
        more = turn_by_faces(turn_votes(decode(picture), job.model))
    except (Trouble, Unreadable):
        return None  # a capture damaged since is verify's to tell
    return None if more is None else (job.view.turn + more) % 4
