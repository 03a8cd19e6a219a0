"""A small real collection whose "faces" are coloured squares, found by the scripted reader of tests/tasks."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tasks"))

from scripted_faces import ScriptedReader, draw_print, measure, said_yes
from served import running

from solander.core.people import Person
from solander.station.app import create_app
from solander.station.workbench import Workbench
from solander.tasks.accession import accession
from solander.tasks.collection import Collection
from solander.tasks.face_desk import FaceDesk
from solander.tasks.look_for_faces import look_for_faces
from solander.tasks.outlines import Outlines
from solander.tasks.queue import Queue
from solander.tasks.show import Shown

__all__ = ["app_over", "face_of", "made_box", "served_faces"]

READER = ScriptedReader(blind=("violet",))


def made_box(root: Path) -> Path:
    """Three prints in B2/E5: red and green, blue and red, violet and green; the reader is blind to violet.

    Of Ingrid it is known when she was born.
    """
    for number, people in enumerate((("red", "green"), ("blue", "red"), ("violet", "green"))):
        draw_print(root / "captures" / f"{number}.png", *people, seed=number)
    with Collection.create(root / "collection", title="The Sollihøgda boxes") as collection:
        accession(collection, [root / "captures"], container="B2/E5")
        with collection.catalogue.act("archivist", "people") as act, act.work() as work:
            work.keep_person(Person("Ingrid Åsheim-Wróblewska", born="1927"))
            work.commit()
        look_for_faces(said_yes(collection), reader=READER)
    return root / "collection"


def face_of(collection: Collection, person: int, place: int = 0) -> str:
    """The key of a face of that person."""
    kept = collection.catalogue.face_measures()
    return [face.key for face in collection.catalogue.faces() if kept.get(face.key) == measure(person)][place]


def app_over(collection: Collection):
    """The workbench with its outlines and faces."""
    faces = FaceDesk(Shown(collection))
    queue = Queue(collection, faces.sitting, faces)
    return create_app(Workbench(faces.shown, outlines=Outlines(collection), faces=faces, queue=queue))


@contextmanager
def served_faces(made: Path, root: Path) -> Iterator[tuple[str, Collection]]:
    """A workbench over a copy that can be changed; its address and the collection."""
    shutil.copytree(made, root)
    with Collection.open(root) as collection, running(app_over(collection)) as address:
        yield address, collection
