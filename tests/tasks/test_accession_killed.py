"""SIGKILL at random moments of a whole take-in: what was acknowledged stays, nothing half is taken for whole."""

from __future__ import annotations

import random
import subprocess
import sys
import time
from pathlib import Path

import pytest
from small_box import SHARP, capture_of, slip_file

from solander.tasks.accession import accession
from solander.tasks.collection import Collection
from solander.tasks.verify import verify
from solander.vault.store import sha256_of

ROUNDS = 56
PRINTS = 12
LONGEST_S = 0.5
"""Shorter than a take-in of the box, so that nearly every kill falls into one; the test counts them."""

TAKE_IN = """
import sys
from pathlib import Path
from solander.tasks.accession import accession
from solander.tasks.collection import Collection
with Collection.open(Path(sys.argv[1])) as collection:
    print("begun", flush=True)
    accession(collection, [Path(sys.argv[2])], slips=Path(sys.argv[3]),
              watch=lambda progress: print(progress.subject, flush=True))
    print("done", flush=True)
"""


@pytest.fixture(scope="module")
def box(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder `files` of twelve small captures, and what is known of one of them."""
    root = tmp_path_factory.mktemp("box")
    (root / "files").mkdir()
    for number in range(PRINTS):
        capture_of(number, SHARP, 2.0).save(root / "files" / f"p{number:02}.jpg", quality=90)
    slip_file(root, "file,date,container", "p01.jpg,summer 1958,B1")
    return root


def started(root: Path, box: Path) -> subprocess.Popen[str]:
    arguments = [str(root), str(box / "files"), str(box / "slips.csv")]
    child = subprocess.Popen([sys.executable, "-c", TAKE_IN, *arguments], stdout=subprocess.PIPE, text=True)
    assert child.stdout is not None
    assert child.stdout.readline() == "begun\n"
    return child


def killed(root: Path, box: Path, seconds: float) -> tuple[set[str], bool]:
    """The names that were acknowledged before the kill, and whether the take-in was done by then."""
    child = started(root, box)
    time.sleep(seconds)
    child.kill()
    said, _ = child.communicate()
    # A line that the kill cut off acknowledges nothing.
    lines = said.splitlines() if said.endswith("\n") else said.splitlines()[:-1]
    return {line for line in lines if line != "done"}, "done" in lines


def check(root: Path, box: Path, acknowledged: set[str]) -> None:
    with Collection.open(root) as collection:
        for sha256, path in collection.vault.names():
            assert sha256_of(path) == sha256, f"{path} is half a capture"
        for name in acknowledged:
            sha256 = sha256_of(box / "files" / name)
            assert collection.vault.path(sha256).is_file()
            assert collection.catalogue.arrived_as(name) == [sha256]
            assert len(collection.catalogue.prints_of_capture(sha256)) == 1
        catalogued = len(collection.catalogue.captures())
        assert len(collection.catalogue.prints()) == catalogued, "a capture enters with its print or not at all"
    faults = verify(root).faults
    assert [fault for fault in faults if "take the same files in again" not in fault] == []


@pytest.mark.slow
def test_a_kill_at_any_moment_of_a_take_in_loses_nothing(tmp_path: Path, box: Path) -> None:
    """Each collection is killed twice, in a fresh take-in and in one that goes on; three of them are completed."""
    rng, in_the_middle, roots = random.Random(1958), 0, []
    acknowledged: set[str] = set()
    for number in range(ROUNDS):
        if number % 2 == 0:
            roots.append(tmp_path / str(number))
            Collection.create(roots[-1]).close()
            acknowledged = set()
        said, done = killed(roots[-1], box, rng.uniform(0, LONGEST_S))
        in_the_middle += not done
        acknowledged |= said
        check(roots[-1], box, acknowledged)
    print(f"{in_the_middle} of {ROUNDS} kills fell into a take-in")
    assert in_the_middle >= 50, "the kills must fall into the work"
    for root in roots[:3]:
        assert_running_again_completes(root, box)


def assert_running_again_completes(root: Path, box: Path) -> None:
    with Collection.open(root) as collection:
        accession(collection, [box / "files"], slips=box / "slips.csv")
        assert len(collection.catalogue.captures()) == PRINTS
        assert len(collection.catalogue.prints()) == PRINTS
        assert [one.value for one in collection.catalogue.statements()] == ["1958-22"]
        assert collection.catalogue.prints()[-1].accession == "B1-0001"
        assert list((collection.vault.home / ".arriving").iterdir()) == []
    assert verify(root).faults == ()
