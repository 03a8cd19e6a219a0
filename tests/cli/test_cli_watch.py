"""`solander accession --watch`: a line a picture until Ctrl-C, as a process with real files."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner
from PIL import Image

from solander.cli.main import solander
from solander.imaging.simulate import Paper, Placement, Stage, drawn_picture, simulate_capture
from solander.tasks.collection import Collection

pytestmark = pytest.mark.slow


def draw(path: Path, number: int) -> None:
    paper = Paper(drawn_picture(number, (480, 340)), (96, 68), seed=number)
    seen = simulate_capture([paper], [Placement((360, 270), 2.0, 4.6)], Stage("grey"), size=(720, 540), seed=1)
    Image.fromarray(seen.rgb).save(path)


@pytest.fixture
def box(tmp_path: Path) -> Path:
    Collection.create(tmp_path / "box").close()
    (tmp_path / "hot").mkdir()
    return tmp_path / "box"


@pytest.fixture
def watching(box: Path) -> Iterator[subprocess.Popen[str]]:
    command = [sys.executable, "-m", "solander", "accession", str(box), "--watch", str(box.parent / "hot")]
    quiet = {**os.environ, "SOLANDER_MODELS": str(box.parent / "none"), "PYTHONUNBUFFERED": "1"}
    with subprocess.Popen(
        [*command, "--container", "B1"], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=quiet
    ) as process:
        yield process
        process.kill()


def test_prints_are_told_as_they_come_and_ctrl_c_tells_how_to_go_on(
    watching: subprocess.Popen[str], box: Path
) -> None:
    assert watching.stdout is not None
    assert watching.stdout.readline().startswith("Watching ")
    draw(box.parent / "hot" / "1_r.png", 1)
    assert watching.stdout.readline() == "B1-0001: 1_r.png.\n"
    draw(box.parent / "hot" / "1_v.png", 2)
    assert watching.stdout.readline() == "B1-0001 (back): 1_v.png.\n"
    watching.send_signal(signal.SIGINT)
    out, error = watching.communicate(timeout=120)
    assert watching.returncode == 130
    assert out == "1 print taken in.\n"
    assert error.strip() == "Stopped. All that was taken in so far is safe; run the same command again to go on."
    with Collection.open(box) as collection:
        assert [print_.accession for print_ in collection.catalogue.prints()] == ["B1-0001"]


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ([], "Name files or folders, or a folder to --watch"),
        (["--watch", "hot", "photos"], "leave out paths"),
        (["--watch", "hot", "--pages"], "leave out paths"),
    ],
)
def test_what_does_not_go_together_is_said(box: Path, more: list[str], said: str) -> None:
    result = CliRunner().invoke(solander, ["accession", str(box), *more])
    assert (result.exit_code, said in result.output) == (2, True)
