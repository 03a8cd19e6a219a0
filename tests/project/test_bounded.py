"""Nothing that `./test` begins can hang: neither a test, nor all of them together, nor what they leave behind."""

from __future__ import annotations

import os
import subprocess
import sys
import time
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import bounded
import pytest
from bounded import run_shown

ROOT = Path(__file__).parents[2]
POSIX = pytest.mark.skipif(os.name == "nt", reason="Windows has no process groups to end")


def python(program: str) -> list[str]:
    return [sys.executable, "-X", "faulthandler", "-c", program]


def test_what_ends_by_itself_is_shown_with_its_status(tmp_path, capfd):
    shown = run_shown(
        python("import sys; print('one'); print('two', file=sys.stderr); sys.exit(3)"), tmp_path, most_s=99
    )
    assert (shown.status, shown.last_line) == (3, "two")
    assert capfd.readouterr().out == "one\ntwo\n"


def test_what_takes_too_long_is_ended_and_that_is_said(tmp_path, capfd):
    shown = run_shown(python("import time; time.sleep(600)"), tmp_path, most_s=0.5)
    assert shown.status is None
    assert "took more than" in capfd.readouterr().out


@POSIX
def test_what_goes_on_after_the_end_of_its_parent_is_ended(tmp_path, capfd, monkeypatch):
    """It holds the line on which its parent spoke: whoever reads to the end of that would wait for it."""
    monkeypatch.setattr(bounded, "LEAVE_S", 0.5)
    left = tmp_path / "left"
    program = f"import subprocess as s; open({str(left)!r}, 'w').write(str(s.Popen(['sleep', '600']).pid))"
    shown = run_shown(python(program), tmp_path, most_s=99)
    assert shown.status == 0
    assert "goes on after its end" in capfd.readouterr().out
    until = time.monotonic() + 60
    while is_running(left.read_text()):
        assert time.monotonic() < until
        time.sleep(0.05)


def is_running(process: str) -> bool:
    state = subprocess.run(["ps", "-o", "stat=", "-p", process], capture_output=True, text=True, timeout=60)
    return state.stdout.strip()[:1] not in ("", "Z")


HANGING = """
import threading
import pytest

@pytest.fixture
def stuck_at_its_end():
    yield
    threading.Event().wait()

def test_stuck():
    threading.Event().wait()

def test_fails(stuck_at_its_end):
    assert False

def test_well():
    pass
"""


@pytest.mark.slow
def test_a_test_that_hangs_fails_with_a_stack_and_the_rest_goes_on(tmp_path):
    """Also one that fails first and hangs at its end, where pytest itself has stopped its clock."""
    (tmp_path / "test_hanging.py").write_text(HANGING, encoding="utf-8")
    (tmp_path / "conftest.py").write_bytes((ROOT / "tests" / "conftest.py").read_bytes())
    (tmp_path / "pyproject.toml").write_bytes((ROOT / "pyproject.toml").read_bytes())
    run = subprocess.run(
        [
            sys.executable,
            "-m",
            "pytest",
            "-n",
            "2",
            "--dist",
            "worksteal",
            "-o",
            "faulthandler_timeout=1",
            "--junitxml=results.xml",
            ".",
        ],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        timeout=240,
    )
    said = run.stdout
    assert run.returncode == 1, said + run.stderr
    end = said[said.index("= FAILURES =") :]
    kept = [one.text or "" for one in ElementTree.parse(tmp_path / "results.xml").iter("error")]
    for shown in (end, "\n".join(kept)):
        assert "Timeout (0:00:01)!" in shown
        assert "in test_stuck" in shown
        assert "in stuck_at_its_end" in shown
    assert "FAILED test_hanging.py::test_stuck" in said
    assert " 1 passed" in said
