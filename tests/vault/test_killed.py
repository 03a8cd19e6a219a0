"""SIGKILL at random moments of a take-in: what was acknowledged is there, nothing half is taken for whole."""

from __future__ import annotations

import random
import subprocess
import sys
import time
from pathlib import Path

import pytest

from solander.vault.store import Vault, sha256_of

ROUNDS = 30

TAKE_IN = """
import sys
from pathlib import Path
from solander.vault.store import Vault
vault = Vault(Path(sys.argv[1]))
print("begun", flush=True)
vault.sweep()
for path in sorted(Path(sys.argv[2]).iterdir()):
    print(vault.put(path, suffix=".jpg").sha256, flush=True)
print("done", flush=True)
"""


@pytest.fixture(scope="module")
def box(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Forty files of 1 byte to 2 MB, by checksum."""
    folder, rng = tmp_path_factory.mktemp("box"), random.Random(1958)
    for number in range(40):
        (folder / f"{number:02}.jpg").write_bytes(rng.randbytes(rng.choice([1, 5_000, 300_000, 2_000_000])))
    return {sha256_of(path): path for path in folder.iterdir()}


def take_in(root: Path, box: dict[str, Path]) -> subprocess.Popen[str]:
    folder = next(iter(box.values())).parent
    return subprocess.Popen(
        [sys.executable, "-c", TAKE_IN, str(root), str(folder)], stdout=subprocess.PIPE, text=True
    )


def kill_after(root: Path, box: dict[str, Path], seconds: float) -> list[str]:
    """What the child had acknowledged when it was killed, `seconds` after it had begun."""
    child = take_in(root, box)
    assert child.stdout is not None
    assert child.stdout.readline() == "begun\n"
    time.sleep(seconds)
    child.kill()
    said, _ = child.communicate(timeout=240)
    return [line for line in said.splitlines() if line != "done"]


def check(vault: Vault, acknowledged: set[str], box: dict[str, Path]) -> None:
    kept = dict(vault.names())
    for sha256, path in kept.items():
        assert sha256_of(path) == sha256, f"{path} is half a capture"
    assert acknowledged <= kept.keys()
    assert kept.keys() <= box.keys()


@pytest.mark.slow
def test_a_kill_at_any_moment_loses_nothing(tmp_path: Path, box: dict[str, Path]) -> None:
    """Each collection is killed again and again until all is in; then the next one begins."""
    rng, lengths, finished = random.Random(7), [], 0
    vault, acknowledged = Vault(tmp_path / "0"), set()
    for _ in range(ROUNDS):
        said = kill_after(vault.root, box, rng.uniform(0, 0.1))
        acknowledged |= set(said)
        lengths.append(len(said))
        check(vault, acknowledged, box)
        if len(acknowledged) == len(box):
            finished += 1
            vault, acknowledged = Vault(tmp_path / str(finished)), set()
    assert sum(0 < length < len(box) for length in lengths) >= ROUNDS // 3, "the kills must fall into the work"

    child = take_in(vault.root, box)
    said, _ = child.communicate(timeout=240)
    assert (child.returncode, said.splitlines()[-1]) == (0, "done")
    check(vault, set(box), box)
    assert list((vault.home / ".arriving").iterdir()) == []
