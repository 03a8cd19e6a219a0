"""The locks: whole, hashed, free of addresses, in step with what the project asks for."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[2]
LOCKS = sorted((ROOT / "requirements").glob("*.txt"))
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))

_PIN = re.compile(
    r"^([\w.-]+)==(\S+)(?: ; (.+?))? \\\n((?: +--hash=sha256:[0-9a-f]{64}(?: \\)?\n)+)", re.MULTILINE
)


def pins(lock: Path) -> dict[str, set[str]]:
    """Names with the versions that are pinned, one for each kind of Python where they differ."""
    found: dict[str, set[str]] = {}
    for name, version, _, _ in _PIN.findall(lock.read_text(encoding="utf-8")):
        found.setdefault(canonicalize_name(name), set()).add(version)
    return found


RUNTIME, TEST = (pins(ROOT / "requirements" / f"{name}.txt") for name in ("runtime", "test"))


def test_both_locks_are_there():
    assert [lock.name for lock in LOCKS] == ["runtime.txt", "test.txt"]
    assert not (ROOT / "uv.lock").exists(), "it would hold addresses"


@pytest.mark.parametrize("lock", LOCKS, ids=lambda lock: lock.name)
def test_no_lock_holds_an_address(lock):
    assert "://" not in lock.read_text(encoding="utf-8")


@pytest.mark.parametrize("lock", LOCKS, ids=lambda lock: lock.name)
def test_every_pin_has_its_hashes(lock):
    pinned = re.findall(r"^[^\s#].*", lock.read_text(encoding="utf-8"), re.MULTILINE)
    assert len(pinned) == len(_PIN.findall(lock.read_text(encoding="utf-8"))) > 0


def test_there_is_one_opencv():
    assert [name for name in {**RUNTIME, **TEST} if "opencv" in name] == ["opencv-python-headless"]


def test_tests_run_on_the_runtime_versions():
    differing = {name for name in RUNTIME.keys() & TEST.keys() if RUNTIME[name] != TEST[name]}
    assert differing == set()


@pytest.mark.parametrize(
    ("lock", "asked"),
    [(RUNTIME, PROJECT["project"]["dependencies"]), (TEST, PROJECT["dependency-groups"]["test"])],
    ids=["runtime", "test"],
)
def test_the_lock_is_in_step_with_the_project(lock, asked):
    for requirement in map(Requirement, asked):
        versions = lock.get(canonicalize_name(requirement.name), set())
        assert versions, f"{requirement.name} is not in the lock: compile it again (CONTRIBUTING.md, Locks)"
        assert all(requirement.specifier.contains(version) for version in versions)
