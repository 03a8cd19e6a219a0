"""Small simulated captures and collections that are taken in within this process.

What a run needs again and again is made once: the empty collection, and the views of each drawn capture.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from small_box import SHARP, Draw, capture_of, prepared_once

from solander.core.people import Person
from solander.core.places import Place
from solander.imaging.simulate import Camera
from solander.tasks import accession as taking_in
from solander.tasks import stand_after
from solander.tasks.at_stand import AtStand
from solander.tasks.collection import Collection


@pytest.fixture(autouse=True)
def same_on_every_machine(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The models that may be set up on this machine look at nothing here, and no capture is prepared twice."""
    monkeypatch.setenv("SOLANDER_MODELS", str(tmp_path / "no models"))
    monkeypatch.setattr(taking_in, "prepare", prepared_once)
    # What waits until hands are off the print waits here until a test wants it: no test may hang on the clock.
    monkeypatch.setattr(stand_after, "QUIET_S", 3600.0)


@pytest.fixture
def draw(tmp_path: Path) -> Draw:
    """Draws a capture into `files/NAME`, in the form that the name says."""

    def drawn(name: str, number: int, *, camera: Camera = SHARP, angle_deg: float = 2.0) -> Path:
        path = tmp_path / "files" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        how = {"quality": 90} if path.suffix == ".jpg" else {}
        capture_of(number, camera, angle_deg).save(path, **how)
        return path

    return drawn


@pytest.fixture(scope="session")
def empty_box(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An empty collection, to be copied."""
    root = tmp_path_factory.mktemp("empty") / "collection"
    Collection.create(root, title="Nine prints").close()
    return root


@pytest.fixture
def collection(empty_box: Path, tmp_path: Path) -> Iterator[Collection]:
    """An empty one."""
    shutil.copytree(empty_box, tmp_path / "collection")
    with Collection.open(tmp_path / "collection") as opened:
        yield opened


@pytest.fixture
def people(collection: Collection) -> Collection:
    """A collection that knows two people and a place."""
    with collection.catalogue.act("test", "began") as act, act.work() as work:
        work.keep_person(Person("Ingrid Sollihøgda", (), "1927-04-02"))
        work.keep_person(Person("Nils Sollihøgda", (), "1930"))
        work.keep_place(Place("Vessholm", "NO", 60.4, 5.3, 9000.0))
        work.commit()
    return collection


@pytest.fixture
def stand(people: Collection) -> AtStand:
    """A station of it."""
    return AtStand(people, station="1")
