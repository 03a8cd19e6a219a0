"""SIGKILL at random moments of a whole take-in: what was acknowledged stays, nothing half is taken for whole."""

from __future__ import annotations

import multiprocessing
import random
import time
from collections.abc import Iterator
from multiprocessing.context import BaseContext
from pathlib import Path

import pytest
from killed_child import take_in
from small_box import SHARP, capture_of, slip_file

from solander.tasks.accession import accession
from solander.tasks.collection import Collection
from solander.tasks.verify import verify
from solander.vault.store import sha256_of

ROUNDS = 16
PRINTS = 12
LONGEST_S = 0.5
"""Shorter than a take-in of the box, so that nearly every kill falls into one; the test counts them."""


@pytest.fixture(scope="module")
def box(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder `files` of twelve small captures, and what is known of one of them."""
    root = tmp_path_factory.mktemp("box")
    (root / "files").mkdir()
    for number in range(PRINTS):
        capture_of(number, SHARP, 2.0).save(root / "files" / f"p{number:02}.jpg", quality=90)
    slip_file(root, "file,date,container", "p01.jpg,summer 1958,B1")
    return root


@pytest.fixture(scope="module")
def processes() -> Iterator[BaseContext]:
    """Processes forked from one that has imported all that a take-in needs."""
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload(["pytest", "killed_child"])
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("PYTHONPATH", str(Path(__file__).parent))  # it does not take over this process's path
        yield context


def killed(processes: BaseContext, root: Path, box: Path, seconds: float) -> tuple[set[str], bool]:
    """The names that were acknowledged before the kill, and whether the take-in was done by then."""
    heard, told = processes.Pipe(duplex=False)
    child = processes.Process(target=take_in, args=(root, box / "files", box / "slips.csv", told))
    child.start()
    told.close()
    with open(heard.fileno(), encoding="utf-8", closefd=False) as lines:
        assert lines.readline() == "begun\n"
        time.sleep(seconds)
        child.kill()
        said = lines.read()
    heard.close()
    child.join()
    # A line that the kill cut off acknowledges nothing.
    whole = said.splitlines() if said.endswith("\n") else said.splitlines()[:-1]
    return {line for line in whole if line != "done"}, "done" in whole


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
def test_a_kill_at_any_moment_of_a_take_in_loses_nothing(
    tmp_path: Path, box: Path, processes: BaseContext
) -> None:
    """Each collection is killed twice, in a fresh take-in and in one that goes on; three of them are completed."""
    rng, in_the_middle, roots = random.Random(1958), 0, []
    acknowledged: set[str] = set()
    for number in range(ROUNDS):
        if number % 2 == 0:
            roots.append(tmp_path / str(number))
            Collection.create(roots[-1]).close()
            acknowledged = set()
        said, done = killed(processes, roots[-1], box, rng.uniform(0, LONGEST_S))
        in_the_middle += not done
        acknowledged |= said
        check(roots[-1], box, acknowledged)
    print(f"{in_the_middle} of {ROUNDS} kills fell into a take-in")
    assert in_the_middle >= ROUNDS - 2, "the kills must fall into the work"
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
