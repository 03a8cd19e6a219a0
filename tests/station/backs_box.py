"""A small collection with written backs behind a workbench, read by the reader of bars of tests/tasks."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tasks"))

from attrs import frozen
from written_box import BLUE, GREEN, RED, a_back, add_written, bar_readers

from solander.core.statements import Says
from solander.engine.local import SerialExecutor
from solander.station.app import create_app
from solander.station.workbench import Workbench
from solander.tasks.back_desk import BackDesk
from solander.tasks.collection import Collection
from solander.tasks.print_desk import PrintDesk
from solander.tasks.queue import Queue
from solander.tasks.read_collection import read_collection
from solander.tasks.show import Shown
from solander.tasks.sitting import Sitting

__all__ = ["Backs", "made_backs", "opened_backs"]


@frozen
class Backs:
    """The collection with its workbench."""

    collection: Collection
    desk: BackDesk
    app: object

    def transcribed(self, accession: str) -> list[tuple[str, str]]:
        """What is written down of a back: as it stands there, and the free reading."""
        said = self.collection.catalogue.statements(subject=accession)
        return [(one.words, one.value) for one in said if one.says is Says.TRANSCRIPTION]


def made_backs(root: Path, *, read: bool = True) -> Path:
    """The folder of a new collection: B1-0001 has two lines, B1-0002 one that nobody can read, B1-0003 nothing on
    it, B1-0004 two lines upside down; where they were `read`, by a machine."""
    with Collection.create(root / "box", title="The Sollihøgda boxes") as collection:
        upside_down = a_back(RED, BLUE)[::-1, ::-1]
        add_written(collection, root / "scans", a_back(RED, BLUE), a_back(GREEN), a_back(), upside_down)
        if read:
            read_collection(collection, who=bar_readers)
    return root / "box"


@contextmanager
def opened_backs(folder: Path) -> Iterator[Backs]:
    """A workbench over it."""
    with Collection.open(folder) as collection:
        shown, sitting = Shown(collection), Sitting(collection)
        prints = PrintDesk(shown, sitting)
        desk = BackDesk(prints, who=bar_readers, executor=SerialExecutor, can_read=lambda: True)
        bench = Workbench(shown, prints=prints, backs=desk, queue=Queue(collection, sitting))
        yield Backs(collection, desk, create_app(bench))
