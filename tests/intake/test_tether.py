"""A camera on a cable: what is asked of gphoto2, what becomes of its pictures and of its troubles.

No camera is here; `stand_in_gphoto2` says in which words it stands for one.
"""

from __future__ import annotations

import shutil
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from solander.core.errors import CannotBegin, Trouble
from solander.intake.arrivals import Arrival
from solander.intake.hot_folder import HotFolder
from solander.intake.tether import Tethered, camera_there, gives_pairs

pytestmark = pytest.mark.slow


@pytest.fixture
def camera(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder that stands for a camera that is connected."""
    program = tmp_path / "bin" / "gphoto2"
    program.parent.mkdir()
    script = Path(__file__).with_name("stand_in_gphoto2.py").read_text("utf-8")
    program.write_text(f"#!{sys.executable}\n{script}", "utf-8")
    program.chmod(0o755)
    monkeypatch.setenv("PATH", str(program.parent))
    monkeypatch.setenv("CAMERA", str(tmp_path / "camera"))
    (tmp_path / "camera").mkdir()
    (tmp_path / "incoming").mkdir()
    return tmp_path / "camera"


def shots(camera: Path, told: list[Trouble] | None = None, *, pairs: bool = False) -> Iterator[Arrival]:
    hot = HotFolder(camera.parent / "incoming", lambda path: "", (told or []).append, pairs=pairs, passing=True)
    return iter(Tethered(hot))


def put(camera: Path, name: str, content: bytes = b"picture") -> None:
    (camera.parent / "made").write_bytes(content)
    (camera.parent / "made").rename(camera / name)


def test_each_shot_arrives_and_the_camera_is_let_go_in_the_end(camera: Path) -> None:
    assert camera_there() == "Nikon DSC D750"
    assert not gives_pairs()
    pictures = shots(camera)
    for name in ("DSC_0001.JPG", "DSC_0002.JPG"):
        put(camera, name)
        arrival = next(pictures)
        assert (arrival.name, arrival.passing, arrival.path.read_bytes()) == (name, True, b"picture")
    pictures.close()


def test_raw_file_and_jpeg_come_together_the_raw_file_first(camera: Path) -> None:
    (camera / "PAIRS").touch()
    assert gives_pairs()
    pictures = shots(camera, pairs=True)
    put(camera, "DSC_0001.JPG")
    put(camera, "DSC_0001.NEF")
    assert [next(pictures).name, next(pictures).name] == ["DSC_0001.NEF", "DSC_0001.JPG"]
    pictures.close()


def test_a_camera_that_goes_away_ends_it_after_what_it_gave(camera: Path) -> None:
    put(camera, "DSC_0001.JPG")
    put(camera, "UNPLUG")
    pictures = shots(camera)
    assert next(pictures).name == "DSC_0001.JPG"
    with pytest.raises(Trouble, match="the camera was taken away or switched itself off") as caught:
        next(pictures)
    assert "its card has what is missing" in caught.value.todo


def test_a_camera_that_another_program_holds(camera: Path) -> None:
    (camera / "BUSY").touch()
    with pytest.raises(Trouble, match="another program holds the camera"):
        next(shots(camera))


def test_no_camera(camera: Path) -> None:
    camera.rmdir()
    with pytest.raises(CannotBegin, match="no camera answers on the cable") as caught:
        camera_there()
    assert "switch it on" in caught.value.todo


def test_no_gphoto2(camera: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", str(camera))
    with pytest.raises(CannotBegin, match="gphoto2 is not installed") as caught:
        camera_there()
    assert "apt install gphoto2" in caught.value.todo


@pytest.mark.skipif(shutil.which("gphoto2") is None, reason="gphoto2 is not installed")
def test_the_real_program_without_a_camera(tmp_path: Path) -> None:
    """Where a camera happens to be connected, nothing is asked of it."""
    try:
        model = camera_there()
    except CannotBegin as trouble:
        assert trouble.why == "no camera answers on the cable"  # noqa: PT017
    else:
        pytest.skip(f"{model} is connected")
    with pytest.raises(CannotBegin, match="no camera answers on the cable"):
        next(iter(Tethered(HotFolder(tmp_path, lambda path: "", print))))
