"""`solander accession --tethered`, with a program in the place of gphoto2."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from click.testing import CliRunner
from PIL import Image

from solander.cli.main import solander
from solander.core.errors import Trouble
from solander.imaging.simulate import Paper, Placement, Stage, drawn_picture, simulate_capture
from solander.tasks.collection import Collection

pytestmark = pytest.mark.slow


def test_shots_become_prints_and_nothing_is_left_lying(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    program, camera = tmp_path / "bin" / "gphoto2", tmp_path / "camera"
    program.parent.mkdir()
    script = Path(__file__).parents[1] / "intake" / "stand_in_gphoto2.py"
    program.write_text(f"#!{sys.executable}\n{script.read_text('utf-8')}", "utf-8")
    program.chmod(0o755)
    monkeypatch.setenv("PATH", str(program.parent))
    monkeypatch.setenv("SOLANDER_MODELS", str(tmp_path / "none"))
    monkeypatch.setenv("CAMERA", str(camera))
    camera.mkdir()
    for number in (1, 2):
        paper = Paper(drawn_picture(number, (480, 340)), (96, 68), seed=number)
        seen = simulate_capture([paper], [Placement((360, 270), 2.0, 4.6)], Stage("grey"), size=(720, 540), seed=1)
        Image.fromarray(seen.rgb).save(camera / f"DSC_000{number}.JPG")
    (camera / "UNPLUG").touch()
    Collection.create(tmp_path / "box").close()
    command = ["accession", str(tmp_path / "box"), "--tethered", "--sides", "alternate"]
    result = CliRunner().invoke(solander, command, standalone_mode=False)
    assert isinstance(result.exception, Trouble)
    assert "the camera was taken away" in result.exception.sentence
    assert result.stdout.splitlines()[:3] == [
        "Nikon DSC D750 is ready: press its shutter; Ctrl-C ends it.",
        "P-0001: DSC_0001.JPG.",
        "P-0001 (back): DSC_0002.JPG.",
    ]
    assert result.stdout.splitlines()[-1] == "1 print taken in."
    assert not (tmp_path / "box" / "incoming").exists()
