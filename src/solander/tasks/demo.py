"""The whole job on the bundled made-up box: rendered, taken in, described, ordered, released, verified."""

from __future__ import annotations

import time
from importlib.resources import as_file
from pathlib import Path

from attrs import frozen

from solander.core.errors import CannotBegin
from solander.core.sentence import Sentence
from solander.demo.box import box_files, write_captures
from solander.engine.local import Executor
from solander.tasks.accession import Accessioned, accession
from solander.tasks.collection import Collection, Watch, unwatched
from solander.tasks.people import take_in_people
from solander.tasks.release import Released, release
from solander.tasks.show import Shown
from solander.tasks.take_in_places import take_in_places
from solander.tasks.verify import Verified, verify

__all__ = ["Demonstrated", "demonstrate"]

TITLE = "Ternholm, a made-up box"
CREDITS = (
    "The pictures are not what they are said to be. Five are by Aitzol Berasategi (CC BY 4.0, changed); others "
    "were shared by the Getty's Open Content Program, Stéfan van der Walt and Clemens Engelhardt (CC0), or drawn."
)


@frozen
class Demonstrated:
    """What the demo did; `seconds` is all of it, drawing the captures included (`drawing_s` of them)."""

    root: Path
    taken_in: Accessioned
    undated: int
    first: str
    last: str
    questions: tuple[str, ...]
    releases: tuple[Released, ...]
    verified: tuple[Verified, ...]
    drawing_s: float
    seconds: float


def demonstrate(root: Path, *, executor: Executor | None = None, watch: Watch = unwatched) -> Demonstrated:
    """Runs the whole job into `root`: `captures-as-files`, `collection`, `releases`.

    Raises
    ------
    CannotBegin
        When an earlier demo, or anything else, is in `root` already.
    """
    if root.exists() and any(root.iterdir()):
        raise CannotBegin(
            Sentence("The demo was not run in %(root)s", root=root),
            Sentence("the folder is not empty"),
            Sentence("What an earlier demo made is there to be opened; for a new one name another folder"),
        )
    began = time.monotonic()
    files = root / "captures-as-files"
    write_captures(files)
    drawing_s = time.monotonic() - began
    with Collection.create(root / "collection", title=TITLE) as collection:
        taken_in = _describe(collection, files, executor, watch)
        releases = tuple(
            release(collection, root / "releases" / audience, audience=audience, watch=watch)
            for audience in ("archive", "family")
        )
        shown = Shown(collection)
        described, questions = shown.described(), shown.questions()
        dated = [one for one in described if one.when.words]
    verified = tuple(verify(path, watch=watch) for path in (root / "collection", *(one.root for one in releases)))
    return Demonstrated(
        root=root,
        taken_in=taken_in,
        undated=sum(not one.when.stated for one in described),
        first=dated[0].when.words,
        last=dated[-1].when.words,
        questions=tuple(question.sentence for question in questions),
        releases=releases,
        verified=verified,
        drawing_s=drawing_s,
        seconds=time.monotonic() - began,
    )


def _describe(collection: Collection, files: Path, executor: Executor | None, watch: Watch) -> Accessioned:
    with collection.catalogue.act("demo", Sentence("began the made-up box")) as act, act.work() as work:
        work.set("made_up", "yes")
        work.set("credits", CREDITS)
        work.commit()
    with as_file(box_files()) as box:
        take_in_people(collection, box / "people.csv", who="demo")
        take_in_places(collection, box / "places.csv", who="demo")
        return accession(collection, [files], slips=box / "slips.csv", executor=executor, watch=watch, who="demo")
