"""Small simulated captures and collections that are taken in within this process."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from small_box import SHARP, Draw, capture_of

from solander.imaging.simulate import Camera
from solander.tasks.collection import Collection


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


@pytest.fixture
def collection(tmp_path: Path) -> Iterator[Collection]:
    """An empty one."""
    with Collection.create(tmp_path / "collection", title="Nine prints") as created:
        yield created
