"""The wheel that `pip install .` makes: everything in it, and it runs without the checkout."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from zipfile import ZipFile

import pytest

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src"

pytestmark = pytest.mark.slow


def pip(*arguments):
    subprocess.run([sys.executable, "-m", "pip", "--disable-pip-version-check", *arguments], check=True)


@pytest.fixture(scope="module")
def wheel(tmp_path_factory) -> Path:
    """Built with the hatchling of the test lock, so that nothing is fetched."""
    folder = tmp_path_factory.mktemp("wheel")
    pip(
        "wheel",
        "--quiet",
        "--no-index",
        "--no-deps",
        "--no-build-isolation",
        "--wheel-dir",
        str(folder),
        str(ROOT),
    )
    (built,) = folder.glob("solander-*-py3-none-any.whl")
    return built


@pytest.fixture(scope="module")
def installed(wheel, tmp_path_factory) -> Path:
    """The wheel's files in a folder of their own."""
    folder = tmp_path_factory.mktemp("installed")
    pip("install", "--quiet", "--no-index", "--no-deps", "--no-user", "--target", str(folder), str(wheel))
    return folder


def run(installed, *command):
    """Runs with the wheel's files before anything else that Python could import."""
    return subprocess.run(
        [sys.executable, *command],
        env={**os.environ, "PYTHONPATH": str(installed)},
        cwd=installed,
        capture_output=True,
        text=True,
        check=False,
    )


def test_every_file_of_the_package_is_in_the_wheel(wheel):
    own = {
        path.relative_to(SOURCE).as_posix()
        for path in (SOURCE / "solander").rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    assert own - set(ZipFile(wheel).namelist()) == set()


def test_the_licence_is_in_the_wheel(wheel):
    assert any(name.endswith("dist-info/licenses/LICENSE") for name in ZipFile(wheel).namelist())


def test_nothing_of_the_checkout_beyond_the_package_is_in_the_wheel(wheel):
    tops = {name.split("/")[0] for name in ZipFile(wheel).namelist()}
    assert {top for top in tops if not top.endswith(".dist-info")} == {"solander"}


def test_the_installed_package_is_the_one_that_runs(installed):
    outcome = run(installed, "-c", "import solander; print(solander.__file__)")
    assert Path(outcome.stdout.strip()).is_relative_to(installed.resolve())


def test_the_command_says_what_it_can_do(installed):
    script = installed / ("Scripts" if os.name == "nt" else "bin") / "solander"
    outcome = run(installed, str(script), "--help")
    assert outcome.returncode == 0, outcome.stderr
    assert "accession" in outcome.stdout
