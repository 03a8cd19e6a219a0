"""`solander scan` with SANE's own test driver: from the scanner to prints of a known size."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from solander.cli.main import solander
from solander.core.errors import Trouble
from solander.tasks.collection import Collection

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(shutil.which("scanimage") is None, reason="scanimage is not installed"),
]


@pytest.fixture
def box(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("SOLANDER_MODELS", str(tmp_path / "none"))
    Collection.create(tmp_path / "box").close()
    return tmp_path / "box"


def scanned(box: Path, *more: str) -> Result:
    command = ["scan", str(box), "--device", "test", "--dpi", "75", *more]
    return CliRunner().invoke(solander, command, standalone_mode=False)


def test_a_page_becomes_prints_in_true_size(box: Path) -> None:
    result = scanned(box, "--container", "B1", "--set", "test-picture=Color pattern", "--bits", "16")
    assert result.exception is None, result.output
    assert result.output.splitlines()[0].startswith("B1-0001")
    with Collection.open(box) as collection:
        (capture,) = collection.catalogue.captures()
        assert (capture.dpi, capture.suffix, capture.width // 10) == (75.0, ".tif", 59)  # 200 mm
        assert all(view.ppi == 75.0 for one in collection.catalogue.prints() for view in one.views)
    assert not (box / "incoming").exists()


def test_a_feeder_of_fronts_and_backs(box: Path) -> None:
    """All pages of the test driver are alike, so the first is taken and the others are known."""
    result = scanned(box, "--feeder", "--sides", "alternate", "--set", "test-picture=Solid white")
    assert result.exception is None, result.output
    assert "Here already and left alone: 9 files." in result.output


def test_what_goes_wrong_is_said_and_how_to_go_on(box: Path) -> None:
    result = scanned(box, "--set", "read-return-value=SANE_STATUS_COVER_OPEN")
    assert isinstance(result.exception, Trouble)
    assert result.exception.sentence == (
        "Nothing was scanned: the scanner's cover is open. Close it, and run the same again."
    )
    assert not (box / "incoming").exists()


def test_without_a_collection_it_asks_for_one() -> None:
    assert "Name the collection" in CliRunner().invoke(solander, ["scan"]).output
