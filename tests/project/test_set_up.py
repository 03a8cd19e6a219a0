"""`run` and the environment that it makes: once, whole, also when it is interrupted or started twice."""

from __future__ import annotations

import ast
import os
import shutil
import signal
import subprocess
import sys
from pathlib import Path

import environment
import pytest

ROOT = Path(__file__).parents[2]
LONG_S = 240
"""Seconds after which a start is taken to hang, on a machine that does ten other things."""


def start(project, *arguments, **options):
    return subprocess.Popen(
        [sys.executable, str(project / "run"), *arguments],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        **options,
    )


@pytest.fixture
def small_project(tmp_path):
    """The real `run` with a made-up program behind it that needs nothing, so that nothing is fetched."""
    project = tmp_path / "projeçt of mine"
    shutil.copytree(
        ROOT / "tools", project / "tools", ignore=shutil.ignore_patterns("node_modules", "__pycache__")
    )
    shutil.copy(ROOT / "run", project / "run")
    (project / "requirements").mkdir()
    (project / "requirements" / "runtime.txt").write_text("# nothing\n", encoding="utf-8")
    package = project / "src" / "solander"
    package.mkdir(parents=True)
    (package / "__init__.py").write_text("", encoding="utf-8")
    (package / "__main__.py").write_text("import sys\nprint(sys.argv[1:])\nsys.exit(7)\n", encoding="utf-8")
    return project


@pytest.mark.parametrize("script", ["run", "test"])
def test_an_old_python_reads_the_script_and_is_told(script):
    source = (ROOT / script).read_text(encoding="ascii")
    ast.parse(source, feature_version=(3, 4))
    pretend = f"import sys, runpy; sys.version_info = (3, 9, 2); runpy.run_path({script!r}, run_name='__main__')"
    outcome = subprocess.run(
        [sys.executable, "-c", pretend], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert outcome.returncode == 2
    assert "Python 3.11 or newer" in outcome.stderr
    assert "this is Python 3.9" in outcome.stderr


@pytest.mark.skipif(os.name == "nt", reason="Windows has no mode bits")
@pytest.mark.parametrize("script", ["run", "test", ".ci/run"])
def test_the_scripts_may_be_started(script):
    assert os.access(ROOT / script, os.X_OK)


@pytest.mark.slow
def test_two_starts_at_once_both_work(small_project):
    both = [start(small_project, "one"), start(small_project, "two")]
    said = [process.communicate(timeout=LONG_S) for process in both]
    assert [process.returncode for process in both] == [7, 7]
    assert [out.strip() for out, _ in said] == ["['one']", "['two']"]
    assert sum("for the first time" in err for _, err in said) == 1


@pytest.mark.slow
@pytest.mark.skipif(os.name == "nt", reason="Windows has no process groups to kill")
def test_what_a_killed_start_left_is_made_anew(small_project):
    def begun():
        return (small_project / ".venv" / "pyvenv.cfg").exists()

    first = start(small_project, start_new_session=True)
    while not begun():
        assert first.poll() is None
    os.killpg(first.pid, signal.SIGKILL)  # as a power cut would: its children too
    first.communicate(timeout=LONG_S)
    again = start(small_project, "go")
    out, err = again.communicate(timeout=LONG_S)
    assert (again.returncode, out.strip()) == (7, "['go']"), err
    assert "for the first time" in err


@pytest.mark.slow
def test_a_second_start_is_silent_and_without_arguments_the_demo_runs(small_project):
    start(small_project).communicate(timeout=LONG_S)
    out, err = start(small_project).communicate(timeout=LONG_S)
    assert out.strip() == "['demo', 'solander-demo']"
    assert err == ""


@pytest.mark.slow
def test_a_moved_project_goes_on_working(small_project):
    start(small_project).communicate(timeout=LONG_S)
    moved = small_project.rename(small_project.with_name("moved"))
    process = start(moved, "here")
    out, err = process.communicate(timeout=LONG_S)
    assert (process.returncode, out.strip()) == (7, "['here']"), err


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ("ERROR: THESE PACKAGES DO NOT MATCH THE HASHES FROM", "not the one this version was made with"),
        ("WARNING: Retrying … NameResolutionError …", "the package index can't be reached"),
        ("ERROR: Could not find … (from versions: none)", "can't be reached, or does not hold"),
        ("OSError: [Errno 28] No space left on device", "the disk is full"),
        ("ERROR: No matching distribution found for numpy==2.4.6", "no ready-made part was found"),
        ("something new\n\n", "something new"),
    ],
)
def test_a_failed_set_up_gives_one_sentence_and_keeps_the_log(tmp_path, said, why):
    (tmp_path / ".venv").mkdir()
    sentence = environment._failure(said, tmp_path)
    assert sentence.startswith("Solander could not be set up: ")
    assert why in sentence
    assert "\n" not in sentence
    assert (tmp_path / ".venv" / "solander-setup.log").read_text(encoding="utf-8") == said


def test_the_stamp_changes_with_the_lock(small_project):
    before = environment._state(small_project, "runtime")
    (small_project / "requirements" / "runtime.txt").write_text("# something else\n", encoding="utf-8")
    assert environment._state(small_project, "runtime") != before


def test_progress_counts_parts_from_wherever_they_come(capsys):
    lines = [
        "Collecting numpy==2.4.6 (from -r requirements/runtime.txt (line 3))\n",
        "Processing /some/folder/pillow_heif-1.8.1-cp311-cp311-manylinux.whl (from -r x)\n",
        "Requirement already satisfied: attrs==26.1.0 in /somewhere\n",
        *[f"Collecting part{n}==1 (from -r x)\n" for n in range(7)],
    ]
    assert list(environment._watched(iter(lines), 12)) == lines
    assert capsys.readouterr().err == "  10 of 12\n"


@pytest.mark.skipif(os.name == "nt", reason="Windows starts it by python run")
def test_what_is_told_to_type_next_works_from_the_same_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "my prints").mkdir()
    monkeypatch.chdir(tmp_path)
    assert environment._started_as(tmp_path, "./run") == "./run"
    assert environment._started_as(tmp_path, "run") == "./run", "as python run"
    monkeypatch.chdir(tmp_path / "my prints")
    assert environment._started_as(tmp_path, "../run") == "../run"
    assert environment._started_as(tmp_path, "/my tools/run") == "'/my tools/run'"
